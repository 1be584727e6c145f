package pictures

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"gridswing/geom"
	"gridswing/machine"
	"gridswing/render/drafting"

	"github.com/golang/geo/r3"
)

// mostSpots is how many points tell which way round a component stands.
const mostSpots = 3

// spots name what tells which way round a component stands: a corner of its own grid, jaws, and those of its
// solids that are least in the middle.
func (q *planner) spots(s *machine.Seat) (list []drafting.Spot) {
	for _, p := range q.setup.AllPlans() {
		if p.Unit == s.Unit && len(p.Places) > 0 && !q.led(p.Body, s.Unit) {
			h := &p.Places[0]
			pose := p.Pose()
			list = append(list, drafting.Spot{At: q.at(pose.Point(r3.Vector{X: h.X, Y: h.Y})), Words: h.Name + " of " + s.Unit})
			break
		}
	}
	type off struct {
		grips bool
		spot  drafting.Spot
		far   float64
	}
	var bodies []off
	middle := q.middleOf(s.Unit)
	for i := range q.setup.Bodies {
		b := &q.setup.Bodies[i]
		pins := slices.ContainsFunc(q.setup.Pins, func(p machine.Pin) bool { return p.Body == i })
		if b.Unit != s.Unit || b.Name == s.Unit || pins || q.led(i, s.Unit) || len(q.linesOf(i)) > 0 {
			continue // what lies on the face, or moves, tells nothing
		}
		at := q.outermost(i, middle)
		bodies = append(bodies, off{q.grips(i), drafting.Spot{At: at, Words: strings.TrimPrefix(b.Name, b.Unit+"/")}, math.Hypot(at.X-middle.X, at.Y-middle.Y)})
	}
	slices.SortStableFunc(bodies, func(a, b off) int {
		if a.grips != b.grips {
			if a.grips {
				return -1
			}
			return 1
		}
		return cmp.Compare(b.far, a.far)
	})
	for _, b := range bodies {
		if len(list) < mostSpots && (b.grips || b.far > 20 && !bodies[0].grips) {
			list = append(list, b.spot)
		}
	}
	return list
}

// led reports whether an axis of the component that a body is part of moves it: such a body tells nothing of how
// the component stands.
func (q *planner) led(body int, unit string) bool {
	for _, j := range q.setup.Bodies[body].Chain.Joints {
		for k := range q.setup.Axes {
			if q.setup.Axes[k].Unit == unit && j.Gain[k] != 0 {
				return true
			}
		}
	}
	return false
}

// outermost is the middle of that side of a body that is farthest out from a point of the plan.
func (q *planner) outermost(body int, from drafting.Point) drafting.Point {
	box := geom.EmptyBox()
	pose := q.in(body)
	for _, c := range q.setup.Bodies[body].Solid.Audit.Bounds.Corners() {
		box = box.Include(pose.Point(c))
	}
	c := box.Center()
	at, dx, dy := drafting.Point{X: c.X, Y: c.Y}, c.X-from.X, c.Y-from.Y
	switch {
	case math.Abs(dx) < 1 && math.Abs(dy) < 1: // it is in the middle
	case math.Abs(dx) >= math.Abs(dy) && dx > 0:
		at.X = box.Max.X
	case math.Abs(dx) >= math.Abs(dy):
		at.X = box.Min.X
	case dy > 0:
		at.Y = box.Max.Y
	default:
		at.Y = box.Min.Y
	}
	return at
}

// grips reports whether a body is one that grips something.
func (q *planner) grips(body int) bool {
	return slices.ContainsFunc(q.setup.Standing, func(s machine.Standing) bool { return slices.Contains(s.Grips, body) })
}

// middleOf is the middle of a component on the plan.
func (q *planner) middleOf(unit string) drafting.Point {
	box := geom.EmptyBox()
	for i := range q.setup.Bodies {
		if b := &q.setup.Bodies[i]; b.Unit == unit {
			pose := q.in(i)
			for _, c := range b.Solid.Audit.Bounds.Corners() {
				box = box.Include(pose.Point(c))
			}
		}
	}
	c := box.Center()
	return drafting.Point{X: c.X, Y: c.Y}
}
