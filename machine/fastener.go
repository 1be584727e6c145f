package machine

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"

	"gridswing/machine/screws"

	"github.com/golang/geo/r3"
)

// fastener is a screw of a component, in the component's frame, mm.
type fastener struct {
	name            string
	at              r3.Vector
	thread, class   string
	fromBelow       bool
	optional        bool
	length, clamped float64 // 0: not stated
	own             float64 // depth of the component's own thread; 0: not stated
	head, bore      *[2]float64
}

// property classes of steel screws, ISO 898-1.
var classes = regexp.MustCompile(`^(4\.6|4\.8|5\.6|5\.8|6\.8|8\.8|9\.8|10\.9|12\.9)$`)

// readFasteners reads the screws of a component.
func (a *assembly) readFasteners(tables []fastenerTable) {
	s := a.src
	seen := make(map[string]bool)
	for i := range tables {
		t := &tables[i]
		f := &fastener{
			name: t.Name, at: a.unit.point(t.At), thread: t.Thread, class: t.Class,
			fromBelow: t.From == "below", optional: t.Optional,
		}
		if t.Name == "" {
			f.name = strconv.Itoa(i + 1)
		} else {
			s.checkName(t.Path, t.Name)
		}
		if seen[f.name] {
			s.fault(t.Path+".name", quoted(f.name)+" a second time", "each fastener under its own name; those without are numbered")
		}
		seen[f.name] = true
		s.thread(t.Path, t.Thread)
		if s.states(t.Path+".from") && t.From != "above" && t.From != "below" {
			s.fault(t.Path+".from", quoted(t.From), `"above" or "below": where its head is`)
		}
		if t.Class != "" && !classes.MatchString(t.Class) {
			s.fault(t.Path+".class", quoted(t.Class), `a property class such as "8.8" or "12.9"`)
		}
		length := func(key string, v *float64) float64 {
			if v == nil {
				return 0
			}
			return a.unit.mm(s.positive(t.Path+"."+key, *v))
		}
		f.length, f.clamped, f.own = length("length", t.Length), length("clamped", t.Clamped), length("thread_depth", t.ThreadDepth)
		if t.ThreadDepth != nil && !f.fromBelow {
			s.fault(t.Path+".thread_depth", "thread_depth of a fastener from above", "thread_depth of the grid under it")
		}
		f.head, f.bore = a.sizePair(t.Path+".head", t.Head), a.sizePair(t.Path+".counterbore", t.Counterbore)
		a.screws = append(a.screws, f)
	}
}

// sizePair reads a diameter and a height or depth.
func (a *assembly) sizePair(path string, p *pair) *[2]float64 {
	if p == nil {
		return nil
	}
	if p[0] <= 0 || p[1] <= 0 {
		a.src.fault(path, fmt.Sprintf("[%g, %g]", p[0], p[1]), "a diameter and a length, both more than 0")
	}
	return &[2]float64{a.unit.mm(p[0]), a.unit.mm(p[1])}
}

// fasteners returns the screws of a placed component with what is under each.
// Normal is that of the seat, bed frame; nothing is under those on the bed.
func (b *builder) fasteners(p *placed, under *support, normal r3.Vector) (list []Fastener) {
	material := p.materialOf(0)
	if p.seat != nil && len(p.seat.solids) > 0 {
		material = p.materialOf(p.seat.solids[0])
	}
	for _, f := range p.screws {
		one := Fastener{
			Name: f.name, At: p.base.home.Point(f.at), Toward: normal.Mul(-1), Thread: f.thread,
			FromBelow: f.fromBelow, Optional: f.optional, Length: f.length, Clamped: f.clamped, Own: f.own,
			Head: f.head, Counterbore: f.bore, Class: f.class, Material: material,
		}
		if f.fromBelow {
			one.Toward = normal
		}
		if !under.bed {
			one.Under = under.on.holeAt(one.At, normal, looseness(f.thread))
		}
		list = append(list, one)
	}
	return list
}

// looseness is how far a screw can be off the axis of its hole, mm: what the medium
// series of ISO 273 leaves, or a twentieth of the thread where the tables have none.
func looseness(thread string) float64 {
	if size, err := screws.Find(thread); err == nil {
		return (size.Hole.Medium - size.Diameter) / 2
	}
	d := 0.0
	_, _ = fmt.Sscanf(thread, "M%f", &d) // a thread begins so; 0 where it does not
	return d / 20
}

// onFace is how far, in mm, a seating plane can be from the face of a hole for a screw
// to go into the hole: as near as a solid must be to what it stands on.
const onFace = touching

// holeAt returns the hole or slot of an assembly whose axis a screw is on, within so
// many mm; the nearest of several, nil if there is none.
func (p *placed) holeAt(at, normal r3.Vector, within float64) (best *ScrewHole) {
	take := func(h ScrewHole, part int, hole, out r3.Vector, lateral func(r3.Vector) float64) {
		f := p.carrierFrame(part)
		if f.home.Dir(out).Dot(normal) < 1-1e-6 {
			return // a face that looks elsewhere
		}
		d := at.Sub(f.home.Point(hole))
		if math.Abs(d.Dot(normal)) > onFace {
			return
		}
		back := f.home.Inverse()
		h.Off = lateral(back.Dir(d.Sub(normal.Mul(d.Dot(normal)))))
		// Of holes at one place, the threaded one counts.
		if h.Off > within || best != nil && (h.Off > best.Off+1e-9 || h.Off > best.Off-1e-9 && best.Thread != "") {
			return
		}
		h.Unit, h.Material = p.unit, p.materialOf(part)
		best = &h
	}
	for _, g := range p.grids {
		for _, name := range g.near(p, at) {
			hole, _ := g.hole(name)
			take(ScrewHole{
				Grid: g.name, Hole: name, Thread: g.thread, From: g.threadFrom, Depth: g.threadDepth, Through: g.through,
			}, g.solid, hole, g.normal(), r3.Vector.Norm)
		}
	}
	for _, g := range p.slots {
		f := p.carrierFrame(g.solid)
		back := f.home.Inverse()
		local := back.Point(at).Sub(g.origin)
		slot := 1
		if g.pitch > 0 {
			slot = int(math.Round(local.Dot(g.v)/g.pitch)) + 1
		}
		if slot >= 1 && slot <= g.count {
			take(ScrewHole{Grid: g.name, Hole: strconv.Itoa(slot), Slot: true, Thread: g.thread},
				g.solid, g.at(slot, local.Dot(g.u)), g.normal(), func(d r3.Vector) float64 { return math.Abs(d.Dot(g.v)) })
		}
	}
	return best
}

// near lists the holes of a grid that could be at a point of the bed frame: of a
// rectangular pattern the nearest one.
func (g *grid) near(p *placed, at r3.Vector) []string {
	if len(g.rings) > 0 {
		return g.names()
	}
	f := p.carrierFrame(g.solid)
	back := f.home.Inverse()
	local := back.Point(at).Sub(g.origin)
	column, row := math.Round(local.Dot(g.u)/g.pitch[0]), math.Round(local.Dot(g.v)/g.pitch[1])
	if column < 0 || row < 0 || column >= float64(g.columns) || row >= float64(g.rows) {
		return nil
	}
	name := columnLetters(int(column)) + strconv.Itoa(int(row)+1)
	if g.omit[name] {
		return nil
	}
	return []string{name}
}

// takesScrews reports whether an assembly states anything that a screw goes into.
func (p *placed) takesScrews() bool {
	return len(p.slots) > 0 || slices.ContainsFunc(p.grids, func(g *grid) bool { return g.thread != "" || g.through > 0 })
}
