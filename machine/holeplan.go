package machine

import (
	"fmt"
	"math"
	"slices"

	"gridswing/geom"

	"github.com/golang/geo/r3"
)

// HolePlan is a grid of holes, or a set of T-slots, as one sees it who looks at its face:
// X along its columns' letters (of slots along them) and Y along its rows' numbers (from
// slot to slot), in mm from hole A1, from the centre of rings, or from slot 1.
type HolePlan struct {
	Name       string // "plate/top", "riser/top"
	Unit, Grid string // "plate", "top"; of the machine "machine"
	Body       int    // the body that it is in, an index into Setup.Bodies
	Places     []PlannedHole
	// Columns and Rows are empty for rings and slots, Rings (radii) for all else.
	Columns, Rows []Mark
	Pitch         [2]float64 // along X and Y; of slots the second
	Rings         []float64
	Slots         []PlannedSlot
	frame         geom.Pose // of the plan in the bed frame, every axis at zero
}

// PlannedHole is a hole that is there.
type PlannedHole struct {
	Name    string
	X, Y    float64
	Bore    float64 // diameter for a locator, mm; 0: not stated
	Thread  string  // "": none
	Through float64 // diameter of a clearance hole, mm; 0: none
}

// PlannedSlot is a T-slot along X.
type PlannedSlot struct {
	Name   string // its number
	Y      float64
	Width  float64 // of its throat, mm; 0: not stated
	Thread string  // of the nuts that go in; "": not known
}

// Mark is the name of a column or of a row, and where it is along the other direction.
type Mark struct {
	Name string
	At   float64
}

// HolePlan returns the grid in which a component of the setup stands. It is an error if
// it stands in no holes.
func (d *Draft) HolePlan(place string) (*HolePlan, error) {
	if _, err := d.read.pinned(place); err != nil {
		return nil, err
	}
	tr := d.trial(d.built.tables[place])
	return tr.grid.plan(tr.under, tr.frame), nil
}

// plan returns a grid of an assembly that stands in a frame.
func (g *grid) plan(on *placed, frame geom.Pose) *HolePlan {
	own := g.pose()
	p := &HolePlan{
		Name: on.unit + "/" + g.name, Unit: on.unit, Grid: g.name, Body: on.bodies[g.solid],
		Pitch: g.pitch, Rings: g.rings, frame: frame.Mul(own),
	}
	back := own.Inverse()
	for _, name := range g.allNames() {
		at, _ := g.hole(name) // all of them are there
		at = back.Point(at)
		h := PlannedHole{Name: name, X: at.X, Y: at.Y, Bore: g.boreAt(name).nominal}
		if name != centreHole {
			h.Thread, h.Through = g.thread, g.through
		}
		p.Places = append(p.Places, h)
	}
	if len(g.rings) > 0 {
		p.Pitch = [2]float64{}
		return p
	}
	for c := range g.columns {
		p.Columns = append(p.Columns, Mark{columnLetters(c), float64(c) * g.pitch[0]})
	}
	for r := range g.rows {
		p.Rows = append(p.Rows, Mark{fmt.Sprint(r + 1), float64(r) * g.pitch[1]})
	}
	return p
}

// plan returns T-slots of an assembly that stands in a frame.
func (g *slots) plan(on *placed, frame geom.Pose) *HolePlan {
	p := &HolePlan{
		Name: on.unit + "/" + g.name, Unit: on.unit, Grid: g.name, Body: on.bodies[g.solid],
		Pitch: [2]float64{0, g.pitch}, frame: frame.Mul(g.pose()),
	}
	for i := range g.count {
		p.Slots = append(p.Slots, PlannedSlot{
			Name: fmt.Sprint(i + 1), Y: float64(i) * g.pitch, Width: g.width.nominal, Thread: g.thread,
		})
	}
	return p
}

// pattern is a grid or a set of slots in its place.
type pattern struct {
	on    *placed
	grid  *grid // nil: slots
	slots *slots
	frame geom.Pose // of the solid it is in, bed frame with every axis at zero
}

// addPatterns lists the grids and slots of all that is placed, the machine's first.
func (b *builder) addPatterns() {
	for _, p := range b.inOrder() {
		for _, g := range p.grids {
			b.setup.patterns = append(b.setup.patterns, pattern{on: p, grid: g, frame: p.carrierFrame(g.solid).home})
		}
		for _, g := range p.slots {
			b.setup.patterns = append(b.setup.patterns, pattern{on: p, slots: g, frame: p.carrierFrame(g.solid).home})
		}
	}
}

// Plans returns the grids and the slots that something stands on: that locate or hold it, or
// whose face it stands on without being located elsewhere. The machine's come first, then
// those of the components in file order.
func (s *Setup) Plans() []*HolePlan {
	return slices.DeleteFunc(s.AllPlans(), func(p *HolePlan) bool {
		return !slices.ContainsFunc(s.Seats, func(seat Seat) bool { return p.Carries(&seat) })
	})
}

// AllPlans returns all grids and slots, in the same order.
func (s *Setup) AllPlans() (list []*HolePlan) {
	for _, q := range s.patterns {
		if q.grid != nil {
			list = append(list, q.grid.plan(q.on, q.frame))
		} else {
			list = append(list, q.slots.plan(q.on, q.frame))
		}
	}
	return list
}

// Carries reports whether the plan's holes locate or hold a component, or it stands on
// their face and is located nowhere else.
func (p *HolePlan) Carries(s *Seat) bool {
	if s.On != p.Unit {
		return false
	}
	for i := range s.Fasteners {
		if u := s.Fasteners[i].Under; u != nil && u.Unit == p.Unit && u.Grid == p.Grid {
			return true
		}
	}
	if s.Grid != "" {
		return s.Grid == p.Grid
	}
	return p.OnFace(s)
}

// OnFace reports whether a component stands on the face of the plan.
func (p *HolePlan) OnFace(s *Seat) bool {
	back := p.frame.Inverse()
	return s.Under == p.Body && math.Abs(back.Point(s.Chain.Home.T).Z) <= onFace
}

// Pose is where the plan stands in the bed frame, every axis at zero: X and Y as in the plan,
// Z away from the face.
func (p *HolePlan) Pose() geom.Pose { return p.frame }

// At returns where a point of the bed frame, every axis at zero, is on the plan.
func (p *HolePlan) At(point r3.Vector) (x, y float64) {
	back := p.frame.Inverse()
	at := back.Point(point)
	return at.X, at.Y
}
