package kinematics

import (
	"gridswing/geom/motion"

	"github.com/golang/geo/r3"
)

// Path is how the axes go along a contour.
type Path struct {
	// Positions is where the axes stand at each point, rotary axes unwound: between two
	// points each goes evenly from the one position to the other.
	Positions []motion.Params
	// Deviation bounds, for each interval between two points, how far each linear
	// axis can be from the straight line between its two positions, in mm. It is 0
	// without tip control, when all axes go evenly.
	Deviation []motion.Params
	// Tip bounds, for each interval, how far the tip can be from the straight
	// line between the two points, in mm. It is 0 with tip control.
	Tip []float64
	// Singular lists the points at which an axis may stand anywhere.
	Singular []int
	// Miss is the angle in rad, for each point, by which the tool's axis is off.
	Miss []float64
	// Within says whether every rotary axis stays within its travel.
	Within bool
}

// Contour returns how the axes go along a polyline of tips with an axis for each.
func (m *Machine) Contour(tips, axes []r3.Vector, tipControl bool, length float64, start motion.Params) (*Path, error) {
	return nil, errNoSpan
}
