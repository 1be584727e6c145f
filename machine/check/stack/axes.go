package stack

import (
	"fmt"

	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"

	"github.com/golang/geo/r3"
)

// usualPin is the diameter, in mm, of a locator whose file states none: common practice,
// no source.
const usualPin = 16

// screwDepth is how far above the seating plane, in diameters, a component must have
// something for a screw to hold it by where clamped is not stated: common practice, no source.
const screwDepth = 3

// axes looks whether the component is where its locators and screws are said to be: near
// its seat one of its solids must come within a diameter of each axis. That leaves
// room for a bush that is not drawn, for clearance holes and counterbores, and finds a
// slipped digit.
func (c *checker) axes(s *machine.Seat) {
	frame := s.Chain.Pose(motion.Params{})
	normal := frame.Dir(r3.Vector{Z: 1})
	look := func(what string, at r3.Vector, diameter, height float64) {
		body := c.pinBody(&machine.Pin{At: at, Normal: normal, Diameter: 2 * diameter, Height: height})
		gap, inside := c.nearest(&body, body.Chain.Home, c.bodies(s.Unit))
		if gap > 0 && !inside {
			c.find(check.Unproven, s.On, "%s is not where %s is said to be: near its seat none of its solids comes within %s mm of that axis",
				s.Unit, what, mm(diameter))
		}
	}
	for i := range s.Locators {
		l := &s.Locators[i]
		if l.Kind == machine.Stops {
			continue
		}
		d := l.Diameter
		if d == 0 {
			d = usualPin
		}
		look(fmt.Sprintf("locator %d", i+1), l.At, d, d)
	}
	for i := range s.Fasteners {
		f := &s.Fasteners[i]
		if f.Optional && f.Under == nil {
			continue
		}
		d := diameterOf(f.Thread)
		height := f.Clamped
		if height == 0 {
			height = screwDepth * d
		}
		look(fmt.Sprintf("fastener %s (%s)", f.Name, f.Thread), f.At, d, height)
	}
}
