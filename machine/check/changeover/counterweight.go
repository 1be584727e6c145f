package changeover

import (
	"fmt"
	"strings"

	"gridswing/geom"
	"gridswing/machine"
)

// isCounterweight reports whether a unit is the counterweight of a setup, which is no
// placed component.
func isCounterweight(s *machine.Setup, unit string) bool {
	c := s.Counterweight
	return c != nil && c.Body >= 0 && s.Bodies[c.Body].Unit == unit
}

// counterweight returns the counterweight as a component: it has no file, but it is the same
// one if it has the same size.
func counterweight(s *machine.Setup) *machine.Handling {
	c := s.Counterweight
	b := &s.Bodies[c.Body]
	return &machine.Handling{
		Unit: b.Unit, Frame: b.Chain.Home,
		Component: fmt.Sprintf("cylinder of diameter %s mm, %s kg", number(c.Diameter), number(c.Mass)),
	}
}

// counterweightSeat returns where the counterweight stands: on the axis of a face, which it is led
// away from.
func counterweightSeat(s *machine.Setup) *machine.Seat {
	c := s.Counterweight
	b := &s.Bodies[c.Body]
	on, _, _ := strings.Cut(c.On, "/")
	seat := &machine.Seat{Unit: b.Unit, On: on, Under: -1}
	y := c.Normal.Cross(c.Along)
	seat.Chain.Home = geom.Pose{R: geom.Rotation{
		{c.Along.X, y.X, c.Normal.X}, {c.Along.Y, y.Y, c.Normal.Y}, {c.Along.Z, y.Z, c.Normal.Z},
	}, T: c.Foot}
	for _, m := range s.Matings {
		if m.A == c.Body { // it is carried by the solid that it stands on
			seat.Under, seat.Chain.Joints = m.B, s.Bodies[m.B].Chain.Joints
		}
	}
	return seat
}

// counterweightPlace says where the counterweight stands.
func (st *Step) counterweightPlace() {
	c := st.scene.setup.Counterweight
	st.say("It stands on %s, its middle %s mm from the rotary axis, %s degrees from the way the grid's letters count, counter-clockwise.",
		c.On, number(c.Radius), degrees(c.Angle))
}
