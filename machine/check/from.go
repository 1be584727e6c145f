package check

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gridswing/geom"
	"gridswing/geom/motion"
	"gridswing/machine"
)

// NotModelled is the state of something that could be hit but is neither in the
// model nor declared absent.
const NotModelled = machine.NotModelled

// NewReport returns a report that says what the setup is, and nothing yet of
// whether it works.
func NewReport(s *machine.Setup) *Report {
	r := &Report{
		Format: Format, Setup: s.Name, File: s.File, Machine: s.Machine,
		Checks: []string{}, Findings: []Finding{}, Closest: []Finding{}, Pairs: []Pair{},
		SpindleSide: []string{}, LeftToMaker: []string{}, Stated: []string{}, Assumed: []string{},
		Warnings: append([]string{}, s.Warnings...),
		Caution:  Caution,
	}
	r.unused(s.Unused)
	for k := range s.Axes {
		r.Axes = append(r.Axes, axisOf(&s.Axes[k]))
	}
	for i := range s.Bodies {
		if s.Bodies[i].OnTool {
			r.SpindleSide = append(r.SpindleSide, s.Bodies[i].Name)
		}
	}
	if len(r.SpindleSide) > 0 {
		for k := range s.Axes {
			spindleAt(&r.Axes[k], &s.Axes[k])
		}
	}
	for i := range s.Parts {
		if p := &s.Parts[i]; p.Drawn != nil {
			r.Assumed = append(r.Assumed, fmt.Sprintf("part %s stands where probing found it, and so do the solids of %s and what stands on them; whether the setup goes together is judged as drawn", p.Name, p.Unit))
		}
	}
	r.Placed = placed(s)
	for _, p := range s.Presence {
		r.Presence = append(r.Presence, Presence{What: p.What, State: p.State, Bodies: p.Bodies})
	}
	return r
}

// unused tells what is wrong with tools that no operation uses, and warns of them in one line.
func (r *Report) unused(list []machine.UnusedTool) {
	var tools []string
	for _, u := range list {
		name := fmt.Sprintf("T%d", u.Number)
		if !slices.Contains(tools, name) {
			tools = append(tools, name)
		}
		r.UnusedTools = append(r.UnusedTools, name+": "+u.Fault)
	}
	switch len(tools) {
	case 0:
	case 1:
		r.Warnings = append(r.Warnings, "a tool that no operation uses is wrong in its file: "+tools[0])
	default:
		r.Warnings = append(r.Warnings, fmt.Sprintf("%d tools that no operation uses are wrong in their files: %s", len(tools), strings.Join(tools, ", ")))
	}
}

// placed measures what stands on the machine, in the order of the setup file.
func placed(s *machine.Setup) []Placed {
	list, boxes := []Placed{}, map[string]*geom.Box{}
	for i := range s.Bodies {
		b := &s.Bodies[i]
		if b.Unit == "machine" || b.OnTool {
			continue
		}
		box := boxes[b.Unit]
		if box == nil {
			empty := geom.EmptyBox()
			box = &empty
			boxes[b.Unit] = box
			list = append(list, Placed{Name: b.Unit})
		}
		*box = box.Union(b.Solid.Audit.Bounds)
	}
	for i := range list {
		size := boxes[list[i].Name].Size()
		list[i].Size = [3]float64{round(size.X), round(size.Y), round(size.Z)}
	}
	return list
}

// SpindleAt returns between which parameter values an axis may stand while the
// spindle side is looked at, and why: a linear axis at its stated index position;
// without one Z at home and the others anywhere; rotary axes wherever they are
// commanded.
func SpindleAt(a *machine.Axis) (lo, hi float64, why string) {
	switch {
	case a.Kind != motion.Linear:
	case a.Index != nil:
		return *a.Index, *a.Index, AtIndex
	case a.Letter == "Z":
		return a.Home, a.Home, AtHome
	}
	return a.Commanded[0], a.Commanded[1], AtCommanded
}

// spindleAt adds where the axis stood for the spindle side.
func spindleAt(out *Axis, a *machine.Axis) {
	lo, hi, why := SpindleAt(a)
	at := RangeOf(a, lo, hi)
	out.SpindleAt, out.SpindleWhy = &at, why
}

func axisOf(a *machine.Axis) Axis {
	out := Axis{
		Letter: a.Letter, CarriedBy: a.Unit, Words: a.Words, CarriesTool: a.OnTool,
		Commanded: RangeOf(a, a.Commanded[0], a.Commanded[1]),
	}
	if out.CarriedBy == "" {
		out.CarriedBy = "machine"
	}
	if a.Unlimited {
		// Less than a full turn leaves positions out that the axis can take.
		out.Narrower = a.Commanded[1]-a.Commanded[0] < 2*math.Pi*(1-1e-12)
		return out
	}
	travel := RangeOf(a, a.Travel[0], a.Travel[1])
	out.Travel = &travel
	out.Narrower = a.Commanded[0] > a.Travel[0] || a.Commanded[1] < a.Travel[1]
	return out
}

// unit returns how many of the axis' print units a parameter is, and their name.
func unit(a *machine.Axis) (scale float64, name string) {
	if a.Kind == motion.Rotary {
		return 180 / math.Pi, "deg"
	}
	return 1, "mm"
}

// RangeOf returns the stretch between two parameter values in print units.
func RangeOf(a *machine.Axis, from, to float64) Range {
	scale, name := unit(a)
	return Range{Axis: a.Letter, From: round(from * scale), To: round(to * scale), Unit: name, Turn: turnOf(a)}
}

// PositionOf returns an axis position in print units.
func PositionOf(a *machine.Axis, value float64) Position {
	scale, name := unit(a)
	return Position{Axis: a.Letter, Value: round(value * scale), Unit: name, Turn: turnOf(a)}
}

// round takes off what float64 arithmetic leaves of a round number: to 1e-9 mm or
// degrees, far below anything that matters. It never returns -0.
func round(x float64) float64 { return math.Round(x*1e9)/1e9 + 0 }
