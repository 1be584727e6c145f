package stack

import (
	"math"

	"gridswing/collide"
	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"
)

// grip says how jaws hold a component, and looks whether that is as the setup says.
// Whether each jaw touches it is for the swing.
func (c *checker) grip(s *machine.Seat) {
	g := s.Gripped
	if g == nil {
		return
	}
	out := &check.Grip{Bite: round(g.Bite), Depth: stated(g.Depth), Jaws: []string{}}
	c.now.Grip = out
	least := math.Inf(1)
	frame := s.Chain.Pose(motion.Params{})
	back := frame.Inverse()
	part := c.extent(c.bodies(s.Unit), &back)
	for _, st := range c.setup.Standing {
		if st.Unit != s.Unit {
			continue
		}
		for _, jaw := range st.Grips {
			out.Jaws = append(out.Jaws, c.setup.Bodies[jaw].Name)
			j := c.extent([]int{jaw}, &back)
			least = min(least, min(part.Max.Z, j.Max.Z)-max(part.Min.Z, j.Min.Z))
		}
	}
	if !math.IsInf(least, 0) {
		out.Held = rounded(max(0, least))
		switch {
		case least <= 0:
			c.find(check.Unproven, s.On, "a jaw stands above or below %s and holds none of its height", s.Unit)
		case g.Depth == 0:
			c.note("the depth that jaws hold is not stated; as drawn it is %s mm", mm(least))
		case math.Abs(g.Depth-least) > touching:
			c.find(check.Unproven, s.On, "the jaws are said to hold %s mm of the height of %s, and hold %s mm as drawn", mm(g.Depth), s.Unit, mm(least))
		}
	}
	c.parallels(s, g, out)
}

// parallels looks whether a component lies on the parallels that are said to be under it.
func (c *checker) parallels(s *machine.Seat, g *machine.Gripped, out *check.Grip) {
	if g.Parallels < 0 {
		if s.Under < 0 {
			c.note("no parallels are stated under it")
		}
		return
	}
	under := &c.setup.Bodies[g.Parallels]
	out.Parallels = under.Name
	gap := math.Inf(1)
	pose := c.setup.Pose(g.Parallels, motion.Params{})
	back := pose.Inverse()
	for _, i := range c.bodies(s.Unit) {
		near := collide.Distance(c.trees.Of(under.Solid), c.trees.Of(c.setup.Bodies[i].Solid), back.Mul(c.setup.Pose(i, motion.Params{})))
		gap = min(gap, near.Distance)
	}
	if gap > touching {
		c.find(check.Unproven, under.Name, "%s does not lie on %s: %s mm between them as drawn", s.Unit, under.Name, mm(gap))
	}
}
