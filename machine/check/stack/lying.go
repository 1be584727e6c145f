package stack

import (
	"math"

	"gridswing/collide"
	"gridswing/geom"
	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"

	"github.com/golang/geo/r3"
)

// balance is how far outside of its support, in mm, a centre of mass may be for that to
// be rounding of the solids.
const balance = 1e-3

// lying looks whether a component that nothing holds, but its weight, stays where it is:
// its centre of mass must stand over what carries it. The support is the box around where
// the boxes of touching bodies overlap, seen along the seat's normal: no smaller than
// it is, so that what is told does tip. Every axis is at zero, what stands on it is not in it,
// and friction on a slope is not looked at.
func (c *checker) lying(s *machine.Seat) {
	held := len(s.Locators) > 0 && s.Locators[0].Kind != machine.Stops
	if held || s.Gripped != nil || len(s.Fasteners) > 0 {
		return
	}
	frame := s.Chain.Pose(motion.Params{})
	back := frame.Inverse()
	support, carriers := c.support(s, &back)
	if carriers == 0 {
		return
	}
	if support.Empty() {
		c.find(check.Unproven, s.On, "%s lies on nothing: no solid that it is said to stand on touches it as drawn", s.Unit)
		return
	}
	centre, ok := c.centre(s.Unit)
	if !ok {
		c.note("whether it tips cannot be told: a solid of it is not closed")
		return
	}
	at := back.Point(centre)
	x := max(0, support.Min.X-at.X, at.X-support.Max.X)
	y := max(0, support.Min.Y-at.Y, at.Y-support.Max.Y)
	if out := math.Hypot(x, y); out > balance {
		c.find(check.Unproven, s.On, "%s tips: its centre of mass stands %s mm outside of what carries it, and no pin, jaw or screw that is stated holds it", s.Unit, mm(out))
	}
}

// support is a box around where a component lies on what carries it, in the frame that a
// pose leads to; carriers is how many bodies could.
func (c *checker) support(s *machine.Seat, to *geom.Pose) (box geom.Box, carriers int) {
	box = geom.EmptyBox()
	for _, st := range c.setup.Standing {
		if st.Unit != s.Unit {
			continue
		}
		under := st.Bodies
		if len(under) == 0 {
			under = c.bodies(st.On)
		}
		carriers += len(under)
		for _, j := range under {
			for _, i := range c.bodies(s.Unit) {
				if !c.touch(i, j) {
					continue
				}
				a, b := c.extent([]int{i}, to), c.extent([]int{j}, to)
				low := r3.Vector{X: max(a.Min.X, b.Min.X), Y: max(a.Min.Y, b.Min.Y)}
				high := r3.Vector{X: min(a.Max.X, b.Max.X), Y: min(a.Max.Y, b.Max.Y)}
				box = box.Include(low).Include(high)
			}
		}
	}
	return box, carriers
}

// touch reports whether two bodies touch as drawn, every axis at zero.
func (c *checker) touch(i, j int) bool {
	a, b := &c.setup.Bodies[i], &c.setup.Bodies[j]
	pose := c.setup.Pose(i, motion.Params{})
	back := pose.Inverse()
	most := touching + a.Solid.ChordError + b.Solid.ChordError
	near := collide.Distance(c.trees.Of(a.Solid), c.trees.Of(b.Solid), back.Mul(c.setup.Pose(j, motion.Params{})))
	return near.Distance <= most
}

// centre is the centre of mass of a unit, bed frame with every axis at zero; of one density
// where a mass is not known. False if a solid is not closed.
func (c *checker) centre(unit string) (at r3.Vector, ok bool) {
	list := c.bodies(unit)
	weighed := true
	for _, i := range list {
		b := &c.setup.Bodies[i]
		if !b.Solid.Audit.Closed {
			return at, false
		}
		weighed = weighed && b.Mass > 0
	}
	total := 0.0
	for _, i := range list {
		b := &c.setup.Bodies[i]
		m := c.trees.MassOf(b.Solid)
		weight := m.Volume
		if weighed {
			weight = b.Mass
		}
		pose := c.setup.Pose(i, motion.Params{})
		at = at.Add(pose.Point(m.Centroid).Mul(weight))
		total += weight
	}
	if !(total > 0) {
		return at, false
	}
	return at.Mul(1 / total), true
}
