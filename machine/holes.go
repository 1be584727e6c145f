package machine

import (
	"fmt"
	"slices"

	"gridswing/geom"
	"gridswing/geom/shape"
	"gridswing/machine/screws"

	"github.com/golang/geo/r3"
)

// pattern reads where the holes of a grid are: in columns and rows, or on rings.
// It reports whether their number is one that can be.
func (s *source) pattern(g *grid, t *gridTable, unit scale) bool {
	if !s.states(t.Path + ".rings") {
		for _, key := range []string{"centre", "per_ring"} {
			if s.states(t.Path + "." + key) {
				s.fault(t.Path+"."+key, key+" without rings", "rings = [40, 80], the radii of a polar pattern")
			}
		}
		ok := true
		for _, key := range []string{"columns", "rows", "pitch"} {
			if !s.states(t.Path + "." + key) {
				s.fault(t.Path, "no "+key, "%s", examples["grid."+key])
				ok = false
			}
		}
		if !ok {
			return false
		}
		counted := s.holeCount(t.Path+".columns", t.Columns) && s.holeCount(t.Path+".rows", t.Rows)
		s.positive(t.Path+".pitch", min(t.Pitch[0], t.Pitch[1]))
		return counted
	}
	for _, key := range []string{"columns", "rows", "pitch"} {
		if s.states(t.Path + "." + key) {
			s.fault(t.Path+"."+key, key+" and rings", "one pattern, rectangular or polar")
			return false
		}
	}
	last := 0.0
	for i, r := range t.Rings {
		if r <= last {
			s.fault(fmt.Sprintf("%s.rings[%d]", t.Path, i), fmt.Sprint(r), "radii from the inside out, more than 0")
			return false
		}
		last = r
		g.rings = append(g.rings, unit.mm(r))
	}
	g.perRing = t.PerRing
	g.centre = s.diameter(t.Path+".centre", t.Centre, unit, true)
	return s.holeCount(t.Path+".rings", len(t.Rings)) && s.holeCount(t.Path+".per_ring", t.PerRing)
}

// holeSizes reads how large and how deep the holes are.
func (s *source) holeSizes(g *grid, t *gridTable, unit scale) {
	depth := func(key string, v *float64) float64 {
		if v == nil {
			return 0
		}
		return unit.mm(s.positive(t.Path+"."+key, *v))
	}
	g.bore = s.diameter(t.Path+".bore", t.Bore, unit, true)
	g.boreDepth, g.threadDepth = depth("bore_depth", t.BoreDepth), depth("thread_depth", t.ThreadDepth)
	g.through = depth("through", t.Through)
	if t.ThreadFrom != nil {
		g.threadFrom = unit.mm(s.notNegative(t.Path+".thread_from", *t.ThreadFrom))
	}
	if g.thread = t.Thread; g.thread != "" {
		s.thread(t.Path, t.Thread)
	}
	if g.threadDepth > 0 && g.threadDepth <= g.threadFrom {
		s.fault(t.Path+".thread_depth", fmt.Sprint(*t.ThreadDepth), "more than thread_from: from the face to where the thread ends")
	}
}

// retractable reads the pins that are built into the holes of a grid.
func (s *source) retractable(g *grid, t *retractableTable, unit scale) {
	r := &retractable{
		path: t.Path, pin: s.diameter(t.Path+".fit", t.Fit, unit, false),
		height: unit.mm(s.positive(t.Path+".height", t.Height)), at: t.At,
	}
	if r.pin.limits == nil {
		if r.pin.nominal > 0 {
			s.fault(t.Path+".fit", r.pin.String(), `a tolerance class with it, such as "16 g6"`)
		}
		return
	}
	if !s.states(t.Path + ".at") {
		r.at = g.names()
	}
	for i, name := range t.At {
		switch _, ok := g.hole(name); {
		case !ok:
			s.fault(fmt.Sprintf("%s.at[%d]", t.Path, i), "hole "+quoted(name), "%s", g.expected(name))
		case slices.Index(t.At, name) < i:
			s.fault(fmt.Sprintf("%s.at[%d]", t.Path, i), quoted(name)+" a second time", "each hole once")
		}
	}
	if len(r.at) > mostPins {
		s.fault(t.Path, count(len(r.at), "pin", "pins"), "at most %d: at = the holes that have one", mostPins)
	}
	g.retractable = r
}

// mostPins bounds the retractable pins of a grid: each becomes a cylinder.
const mostPins = 1000

// pinRound is how far a pin's polygon may lie outside of the pin, mm.
const pinRound = 0.02

// pinSolid returns pins standing out of a face, as one solid in the assembly's frame.
func (g *grid) pinSolid(holes []string) *Solid {
	var all shape.Surface
	upright := geom.Pose{R: columns(g.u, g.v, g.normal())}
	for _, name := range holes {
		at, _ := g.hole(name) // those that have a pin
		one := shape.Cylinder(g.retractable.pin.nominal/2, 0, g.retractable.height,
			shape.Round{Chord: pinRound, Side: shape.Circumscribed})
		all = shape.Join(all, one.Moved(geom.Shift(at).Mul(upright)))
	}
	mesh := all.Mesh()
	audit := geom.AuditOf(mesh)
	return &Solid{Mesh: mesh, Audit: audit, ChordError: float32Error(audit.Bounds)}
}

// float32Error is more than half the last digit of the largest coordinate of a
// solid as it is stored.
func float32Error(b geom.Box) float64 {
	return max(b.Max.X, b.Max.Y, b.Max.Z, -b.Min.X, -b.Min.Y, -b.Min.Z) / (1 << 23)
}

// slots is a set of parallel T-slots. Assembly's frame, mm.
type slots struct {
	path, name string
	solid      int
	origin     r3.Vector // on the middle line of slot 1, on the face
	u, v       r3.Vector // along the slots, from one to the next; unit, square
	count      int
	pitch      float64
	width      diameter
	thread     string // of the nuts that go in: stated, or by ISO 299; "" where it has none
}

// normal points away from the face.
func (g *slots) normal() r3.Vector { return g.u.Cross(g.v) }

// pose is where the slots' own frame stands in the assembly's: on slot 1, X along u, Y along
// v, Z away from the face.
func (g *slots) pose() geom.Pose { return geom.Pose{R: columns(g.u, g.v, g.normal()), T: g.origin} }

// at returns a point of the middle line of a slot, counted from 1.
func (g *slots) at(slot int, along float64) r3.Vector {
	return g.origin.Add(g.v.Mul(float64(slot-1) * g.pitch)).Add(g.u.Mul(along))
}

// slots reads one table of T-slots.
func (s *source) slots(t *slotsTable, unit scale, solids []*part) *slots {
	g := &slots{
		path: t.Path, name: t.Name, origin: unit.point(t.Origin), u: r3.Vector{X: 1}, v: r3.Vector{Y: 1},
		count: t.Count, width: s.diameter(t.Path+".width", t.Width, unit, true), thread: t.Thread,
	}
	s.checkName(t.Path, t.Name)
	g.solid = s.part(t.Path+".solid", t.Solid, solids)
	g.u, g.v = s.squareDirections(t.Path, t.U, t.V)
	s.holeCount(t.Path+".count", t.Count)
	if t.Pitch != nil {
		g.pitch = unit.mm(s.positive(t.Path+".pitch", *t.Pitch))
	} else if t.Count > 1 {
		s.fault(t.Path, "no pitch", "pitch = 63, from slot to slot")
	}
	if t.Thread != "" {
		s.thread(t.Path, t.Thread)
	} else if size, err := screws.SlotOf(g.width.nominal); err == nil {
		g.thread = size.Thread
	}
	return g
}
