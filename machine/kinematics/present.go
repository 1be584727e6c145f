package kinematics

import (
	"gridswing/geom/motion"

	"github.com/golang/geo/r3"
)

// Presented is the largest angle, in rad, by which the axis of a tool may be
// off and still count as where it should be: rounding.
const Presented = 1e-9

// Solution is a rotary position for a direction of the tool.
type Solution struct {
	// Position has the rotary axes set, each within half a turn of 0; all others
	// are as they were.
	Position motion.Params
	// Miss is the angle in rad between the tool's axis and the one asked for:
	// 0 if it is presented, else the smallest there is.
	Miss float64
	// Free is a rotary axis that may stand anywhere, because the tool's axis
	// lies along it or it turns the tool about itself; -1 if there is none.
	Free int
	// Branch is 0 or 1: of two solutions, 0 is the one in which the rotary axis
	// nearer to the spindle stands at the greater position within half a turn of 0.
	Branch int
}

// Present returns the rotary positions at which the tool's axis lies along axis.
func (m *Machine) Present(axis r3.Vector, at motion.Params) []Solution { return nil }

// Turns returns the positions that differ from a solution by whole turns and are
// within the travel of every rotary axis, nearest to near first.
func (m *Machine) Turns(s Solution, near motion.Params) []motion.Params { return nil }
