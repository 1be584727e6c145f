package machine

import (
	"math"

	"gridswing/geom"
	"gridswing/geom/motion"

	"github.com/golang/geo/r3"
)

// seating is a seat on its locators, in the bed frame with every axis at zero.
type seating struct {
	pins      [2]r3.Vector // where the component's locators stand, nominally
	normal    r3.Vector    // unit, away from what it stands on
	clearance [2]float64   // diametral, across the line of the two, of each, everything included, mm
	along     float64      // along their line, either way, mm
	height    float64      // mm, either way
	// tilt is the angle either way about each of two directions in the
	// seating plane, through the middle of the footprint.
	tilt      [2]float64
	footprint r3.Vector
}

// joints returns the play of a seat as joints without gain. With clearances c1
// and c2 at two locators L apart, each can be half its own off across their line.
// One turn about the second moves the first sideways by c1/2, one about the first
// moves the second, and a shift along the line does the rest: that reaches every
// position that the locators allow, and sideways no farther, at x from the first, than
//
//	e(x) = (|1 - x/L| c1 + |x/L| c2) / 2,
//
// while both turns together are the largest angle, (c1 + c2) / (2 L). The locators
// keep their distance, so one turned sideways by c/2 moves along by up to
// c^2/(8 L) too; the shift includes it, and the turns a part in (c/L)^2 for
// the order in which they are made, c being the larger of the two.
func (s *seating) joints(unit string) []motion.Joint {
	across := s.pins[1].Sub(s.pins[0])
	length := across.Norm()
	along := across.Mul(1 / length)
	c := min(max(s.clearance[0], s.clearance[1]), length) // more would be no seat; keeps the angle real
	turn := func(i int) float64 {
		return math.Asin(min(s.clearance[i], length)/(2*length)) * (1 + c*c/(length*length))
	}
	var list []motion.Joint
	add := func(what string, kind motion.Kind, axis, point r3.Vector, slack float64) {
		if slack > 0 {
			list = append(list, motion.Joint{
				Name: unit + ": " + what, Kind: kind, Axis: axis, Point: point, Slack: slack,
			})
		}
	}
	add("play along the pins", motion.Linear, along, s.pins[0], s.along+c*c/(8*length))
	add("play at pin 1", motion.Rotary, s.normal, s.pins[1], turn(0))
	add("play at pin 2", motion.Rotary, s.normal, s.pins[0], turn(1))
	add("height", motion.Linear, s.normal, s.pins[0], s.height)
	add("parallelism along the pins", motion.Rotary, s.normal.Cross(along), s.footprint, s.tilt[0])
	add("parallelism across the pins", motion.Rotary, along, s.footprint, s.tilt[1])
	return list
}

// growth returns what a component that is warmer or colder than its drawing grows,
// as joints: each point moves by at most mm along each direction of its frame.
func growth(unit string, in *geom.Pose, mm r3.Vector) (list []motion.Joint) {
	for name, axis := range directions {
		if slack := mm.Dot(axis); slack > 0 {
			list = append(list, motion.Joint{
				Name: unit + ": growth along " + axisNames[name], Kind: motion.Linear, Axis: in.Dir(axis), Slack: slack,
			})
		}
	}
	return list
}

// within returns the play of something placed by hand, as joints: each point
// is at most mm off along each direction of the frame it was placed in.
func within(unit string, in *geom.Pose, mm float64) []motion.Joint {
	if mm == 0 {
		return nil
	}
	var list []motion.Joint
	for name, axis := range directions {
		list = append(list, motion.Joint{
			Name: unit + ": within along " + axisNames[name], Kind: motion.Linear,
			Axis: in.Dir(axis), Slack: mm,
		})
	}
	return list
}

var (
	directions = [3]r3.Vector{{X: 1}, {Y: 1}, {Z: 1}}
	axisNames  = [3]string{"x", "y", "z"}
)
