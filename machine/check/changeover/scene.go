package changeover

import (
	"fmt"
	"slices"

	"gridswing/geom/motion"
	"gridswing/machine"

	"github.com/golang/geo/r3"
)

// chain returns the chain of a body with the axes where they stand, doors and jaws opened
// that are.
func (c *scene) chain(body int) motion.Chain {
	led := c.setup.Bodies[body].Chain.Along(c.params, motion.Params{})
	if move, moved := c.moved[body]; moved {
		led.Home = move.Mul(led.Home)
	}
	return led
}

// set moves what a setting axis carries to another position of it.
func (c *scene) set(s *machine.Setting, at float64) {
	for i := range s.Moves {
		m := &s.Moves[i]
		c.moved[m.Body] = s.Move(m, at)
	}
}

// mover returns the chain of a body of what moves from one point of its way to the next,
// as parameter 0 goes from 0 to 1. Its way comes after the joints that it shares with
// what it stands on, so that only play that the two do not share counts.
func (c *scene) mover(body int, from, to machine.Waypoint) motion.Chain {
	led := c.chain(body)
	n := len(c.seat.Chain.Joints)
	way := c.leg(from, to)
	led.Joints = slices.Concat(led.Joints[:n], way, led.Joints[n:])
	return led
}

// leg returns the joints of a leg: shifts outside, turns inside, since a component is
// turned first. Bed frame with every axis at zero.
func (c *scene) leg(from, to machine.Waypoint) (joints []motion.Joint) {
	add := func(name string, kind motion.Kind, axis, point r3.Vector, a, b float64) {
		if a != 0 || b != 0 {
			joints = append(joints, motion.Joint{
				Name: "way " + name, Kind: kind, Axis: axis, Point: point, Offset: a, Gain: motion.Params{b - a},
			})
		}
	}
	x, y, z := c.directions()
	add("along", motion.Linear, x, r3.Vector{}, from.Shift.X, to.Shift.X)
	add("across", motion.Linear, y, r3.Vector{}, from.Shift.Y, to.Shift.Y)
	add("off", motion.Linear, z, r3.Vector{}, from.Shift.Z, to.Shift.Z)
	for k := range 2 {
		turn := func(w machine.Waypoint) float64 {
			if w.About != k {
				return 0
			}
			return w.Turn
		}
		add(fmt.Sprint("turn ", k+1), motion.Rotary, z, c.pivot(k), turn(from), turn(to))
	}
	return joints
}

// directions are those of the seat: along the grid's letters, its numbers, and away from
// the face; bed frame with every axis at zero.
func (c *scene) directions() (x, y, z r3.Vector) {
	home := &c.seat.Chain.Home
	return home.Dir(r3.Vector{X: 1}), home.Dir(r3.Vector{Y: 1}), home.Dir(r3.Vector{Z: 1})
}

// pivot is the point about which it is turned: on the axis of a locator, without any its
// own zero; bed frame with every axis at zero.
func (c *scene) pivot(locator int) r3.Vector {
	if c.pinned() && locator < len(c.seat.Locators) {
		return c.seat.Locators[locator].At
	}
	return c.frame.T
}

// pinned reports whether it is located by pins, dowels or keys.
func (c *scene) pinned() bool {
	return len(c.seat.Locators) > 0 && c.seat.Locators[0].Kind != machine.Stops
}

// atLoading turns a direction that is given with every axis at zero into where it points
// with the axes at the loading position.
func (c *scene) atLoading(v r3.Vector) r3.Vector {
	pose := c.seat.Chain
	pose = pose.Along(c.params, motion.Params{})
	carried := pose.Pose(motion.Params{})
	back := c.seat.Chain.Home.Inverse()
	return carried.Dir(back.Dir(v))
}

// bodiesOf lists the bodies of a unit.
func bodiesOf(s *machine.Setup, unit string) (list []int) {
	for i := range s.Bodies {
		if s.Bodies[i].Unit == unit {
			list = append(list, i)
		}
	}
	return list
}

// massOf is the mass of a unit; false if that of one of its bodies is not known.
func massOf(s *machine.Setup, unit string) (mass float64, known bool) {
	for _, i := range bodiesOf(s, unit) {
		m := s.Bodies[i].Mass
		if m <= 0 {
			return 0, false
		}
		mass += m
	}
	return mass, mass > 0
}

// present lists the bodies that are there while something is moved: the machine with
// the tool in its spindle, and what stands.
func present(s *machine.Setup, standing []string) (list []int) {
	for i := range s.Bodies {
		b := &s.Bodies[i]
		if b.Unit == machineUnit || b.OnTool || slices.Contains(standing, b.Unit) {
			list = append(list, i)
		}
	}
	return list
}
