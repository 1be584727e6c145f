package kinematics

import (
	"errors"
	"fmt"
	"slices"

	"gridswing/geom/motion"

	"github.com/golang/geo/r3"
)

// Axis is a programmed axis; its index is its parameter in the chains.
type Axis struct {
	Kind   motion.Kind
	Lo, Hi float64 // travel, mm or rad; infinite for an unlimited rotary axis
	Home   float64
	// Hold keeps the axis where it stands: it is not used to present a
	// direction or to reach a tip. For U, V and W, and for rotary axes that
	// only ever index.
	Hold bool
}

// Machine is the kinematics of one part against the spindle.
type Machine struct {
	axes          []Axis
	part, spindle motion.Chain
	rel           motion.Chain // the gauge frame as seen from the part
	rotary        []turning    // at most two, from the part to the spindle
	linear        []int        // three parameters that move the tip
}

// turning is a rotary axis that is used: its parameter and its joint in Machine.rel.
type turning struct {
	axis, joint int
}

// New returns the kinematics between a part and the spindle. The first chain
// gives the pose of the part's frame in the bed frame, the second that of the
// gauge frame: origin on the gauge line, Z from a tool's tip to the spindle.
//
// Of the rotary axes between the two, the first two from the part on that are
// not marked Hold are used; others stay where they are. Likewise the first three
// linear axes, in the order of axes, that span space.
//
// An error says which axis is at fault: a chain that uses a parameter without an axis, a
// linear axis that turns a joint, a joint that two axes turn or an axis that
// turns two (no closed form), or linear axes that do not span space with every
// axis at home.
func New(axes []Axis, part, spindle motion.Chain) (*Machine, error) {
	m := &Machine{axes: axes, part: part, spindle: spindle, rel: moving(motion.Between(part, spindle))}
	if len(axes) > motion.MaxParams {
		return nil, fmt.Errorf("%d axes, at most %d expected", len(axes), motion.MaxParams)
	}
	if err := m.findRotary(); err != nil {
		return nil, err
	}
	if err := m.findLinear(); err != nil {
		return nil, err
	}
	return m, nil
}

// moving leaves out the joints that nominally never move: those of play.
func moving(c motion.Chain) motion.Chain {
	c.Joints = slices.DeleteFunc(slices.Clone(c.Joints), func(j motion.Joint) bool {
		return j.Offset == 0 && j.Gain == motion.Params{}
	})
	return c
}

// findRotary checks what turns what and picks the rotary axes that are used.
func (m *Machine) findRotary() error {
	jointOf := make(map[int]int)
	for i := range m.rel.Joints {
		j := &m.rel.Joints[i]
		turnedBy := -1
		for k, g := range j.Gain {
			switch {
			case g == 0:
				continue
			case k >= len(m.axes):
				return fmt.Errorf("joint %s is moved by parameter %d: only %d axes are given", j.Name, k, len(m.axes))
			case j.Kind == motion.Linear:
				continue
			case m.axes[k].Kind == motion.Linear:
				return fmt.Errorf("joint %s is turned by axis %d, which is linear: a rotary one expected", j.Name, k)
			case turnedBy >= 0:
				return fmt.Errorf("joint %s is turned by axes %d and %d: one expected", j.Name, turnedBy, k)
			}
			if other, taken := jointOf[k]; taken {
				return fmt.Errorf("axis %d turns joints %s and %s: one expected", k, m.rel.Joints[other].Name, j.Name)
			}
			turnedBy, jointOf[k] = k, i
		}
		if turnedBy >= 0 && !m.axes[turnedBy].Hold && len(m.rotary) < 2 {
			m.rotary = append(m.rotary, turning{turnedBy, i})
		}
	}
	return nil
}

var errNoSpan = errors.New("the linear axes cannot move the tip along all three directions")

// Forward returns where the foremost point of a tool of the given length (gauge
// line to foremost point, mm) is, and its axis, both in the part's frame.
func (m *Machine) Forward(p motion.Params, length float64) (tip, axis r3.Vector) {
	pose := m.rel.Pose(p)
	return pose.Point(r3.Vector{Z: -length}), pose.Dir(r3.Vector{Z: 1})
}

// Rotary returns the rotary axes that are used, from the part to the spindle:
// indices of the axes given to New.
func (m *Machine) Rotary() []int {
	list := make([]int, len(m.rotary))
	for i, t := range m.rotary {
		list[i] = t.axis
	}
	return list
}

// LinearAxes returns the three linear axes that bring the tip to its place.
func (m *Machine) LinearAxes() []int { return append([]int(nil), m.linear...) }

// home returns every axis at home.
func (m *Machine) home() (p motion.Params) {
	for k := range m.axes {
		p[k] = m.axes[k].Home
	}
	return p
}
