package machine

import (
	"math"

	"gridswing/geom"
	"gridswing/geom/motion"

	"github.com/golang/geo/r3"
)

// seating is a seat on its holes, in the bed frame with every axis at zero.
type seating struct {
	pins      [2]r3.Vector // where the component's pins stand, nominally
	normal    r3.Vector    // unit, away from what it stands on
	clearance float64      // diametral, of each pin, everything included, mm
	height    float64      // mm, either way
	// tilt is the angle either way about each of two directions in the
	// seating plane, through the middle of the footprint.
	tilt      [2]float64
	footprint r3.Vector
}

// joints returns the play of a seat as joints without gain. With clearance c
// at each of two pins L apart, each pin can be c/2 off in any direction. One
// turn about pin 2 moves pin 1 sideways by c/2, one about pin 1 moves pin 2,
// and a shift along the pins does the rest: that reaches every position that
// the pins allow, and sideways no farther, at x from pin 1, than
//
//	e(x) = (|1 - x/L| c + |x/L| c) / 2,
//
// while both turns together are the largest angle, (c + c) / (2 L). The pins
// keep their distance, so a pin turned sideways by c/2 moves along by up to
// c^2/(8 L) too; the shift includes it, and the turns a part in (c/L)^2 for
// the order in which they are made.
func (s *seating) joints(unit string) []motion.Joint {
	across := s.pins[1].Sub(s.pins[0])
	length := across.Norm()
	along := across.Mul(1 / length)
	c := min(s.clearance, length) // more would be no seat; keeps the angle real
	turn := math.Asin(c/(2*length)) * (1 + c*c/(length*length))
	var list []motion.Joint
	add := func(what string, kind motion.Kind, axis, point r3.Vector, slack float64) {
		if slack > 0 {
			list = append(list, motion.Joint{
				Name: unit + ": " + what, Kind: kind, Axis: axis, Point: point, Slack: slack,
			})
		}
	}
	add("play along the pins", motion.Linear, along, s.pins[0], c/2+c*c/(8*length))
	add("play at pin 1", motion.Rotary, s.normal, s.pins[1], turn)
	add("play at pin 2", motion.Rotary, s.normal, s.pins[0], turn)
	add("height", motion.Linear, s.normal, s.pins[0], s.height)
	add("parallelism along the pins", motion.Rotary, s.normal.Cross(along), s.footprint, s.tilt[0])
	add("parallelism across the pins", motion.Rotary, along, s.footprint, s.tilt[1])
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
