package material

import (
	"github.com/golang/geo/r3"
)

// Outline is the outline of a convex solid of revolution about the Z axis of its own frame: radius
// and height of its corners, mm, from the bottom up, heights not decreasing, radii convex.
type Outline [][2]float64

// Sweep is where an outline, or a convex hull of points, goes: its frame stands at Origin with its Z along Axis, in
// the model's frame, and is carried along the ways: Origin + s0 Ways[0] + s1 Ways[1] ..., s from 0 to 1.
// Off is how far any point of it can be from where that says, mm: it makes what cuts smaller and what must keep
// clear larger.
type Sweep struct {
	Origin, Axis r3.Vector
	Ways         []r3.Vector
	Off          float64
}
