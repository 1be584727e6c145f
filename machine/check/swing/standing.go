package swing

import (
	"fmt"
	"math"

	"gridswing/collide"
	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/proof"
)

// touching is the most, in mm, that may lie between a body and what it is said
// to stand on, or what is said to grip it: twice what a seat is lifted by.
const touching = 2 * proof.SeatLift

// standing looks whether everything touches what it is said to stand on, and
// whether grips grip. What stands on nothing is not where the model says, so no
// verdict about it is proven.
func (c *checker) standing() (found []check.Finding) {
	for _, st := range c.setup.Standing {
		on, name := c.bodiesOf(st.On), st.On
		if len(st.Bodies) > 0 {
			on, name = st.Bodies, c.setup.Bodies[st.Bodies[0]].Name
		}
		if a, b, gap := c.nearestOf(c.bodiesOf(st.Unit), on); gap > touching {
			found = append(found, c.loose(a, b, fmt.Sprintf("%s stands on nothing: %.2f mm between it and %s", st.Unit, gap, name)))
		}
		for _, jaw := range st.Grips {
			name := c.setup.Bodies[jaw].Name
			if a, b, gap := c.nearestOf([]int{jaw}, c.bodiesOf(st.Unit)); gap > touching {
				found = append(found, c.loose(a, b, fmt.Sprintf("%s does not grip %s: %.2f mm between them", name, st.Unit, gap)))
			}
		}
	}
	return found
}

// loose is the finding that two bodies do not touch that should.
func (c *checker) loose(a, b int, reason string) check.Finding {
	s := c.setup
	return check.Finding{
		Verdict: check.Unproven, Question: check.Rest, Reason: reason,
		Bodies: [2]string{s.Bodies[a].Name, s.Bodies[b].Name}, Index: [2]int{a, b},
		Params: home(s),
	}
}

// nearestOf returns which bodies of two lists are nearest, and how far apart,
// with every axis at zero, as drawn.
func (c *checker) nearestOf(some, others []int) (a, b int, gap float64) {
	gap = math.Inf(1)
	for _, i := range some {
		for _, j := range others {
			rel := c.drawn.Pose(i, motion.Params{}).Inverse().Mul(c.drawn.Pose(j, motion.Params{}))
			near := collide.DistanceWithin(c.trees.Of(c.setup.Bodies[i].Solid), c.trees.Of(c.setup.Bodies[j].Solid), rel, gap)
			if near.Distance < gap {
				a, b, gap = i, j, near.Distance
			}
		}
	}
	return a, b, gap
}

func (c *checker) bodiesOf(unit string) (list []int) {
	for i := range c.setup.Bodies {
		if c.setup.Bodies[i].Unit == unit {
			list = append(list, i)
		}
	}
	return list
}

// home returns the position of every axis at rest.
func home(s *machine.Setup) (p motion.Params) {
	for k := range s.Axes {
		p[k] = s.Axes[k].Home
	}
	return p
}
