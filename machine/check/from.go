package check

import (
	"math"

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
		Findings: []Finding{}, Closest: []Finding{}, Pairs: []Pair{},
		LeftToMaker: []string{}, Stated: []string{}, Assumed: []string{},
		Warnings: append([]string{}, s.Warnings...),
		Caution:  Caution,
	}
	for k := range s.Axes {
		r.Axes = append(r.Axes, axisOf(&s.Axes[k]))
	}
	for _, p := range s.Presence {
		r.Presence = append(r.Presence, Presence{What: p.What, State: p.State, Bodies: p.Bodies})
	}
	return r
}

func axisOf(a *machine.Axis) Axis {
	out := Axis{
		Letter: a.Letter, CarriedBy: a.Unit, Words: a.Words,
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
	return Range{Axis: a.Letter, From: from * scale, To: to * scale, Unit: name}
}

// PositionOf returns an axis position in print units.
func PositionOf(a *machine.Axis, value float64) Position {
	scale, name := unit(a)
	return Position{Axis: a.Letter, Value: value * scale, Unit: name}
}
