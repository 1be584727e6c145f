package material

import (
	"github.com/golang/geo/r3"
)

// Outline is the outline of a convex solid of revolution about the Z axis of its own frame: radius
// and height of its corners, mm, from the bottom up, heights not decreasing, radii convex.
type Outline [][2]float64

// Sweep is where an outline, or a convex hull of points, goes: its frame stands at Origin with its Z along the unit
// vector Axis, in the model's frame, and is carried along the ways: Origin + s0 Ways[0] + s1 Ways[1] ..., s from 0 to 1.
// Off is how far any point of it can be from where that says, mm: it makes what cuts smaller and what must keep
// clear larger.
type Sweep struct {
	Origin, Axis r3.Vector
	Ways         []r3.Vector
	Off          float64
}

// Body is what must keep clear: the outline of a solid of revolution, or where that is nil the convex hull of
// Points, which are seen from the sweep's Origin, parallel to the model's frame (Axis does not turn them).
type Body struct {
	Outline Outline
	Points  []r3.Vector
}

// Taken is what a cut took away.
type Taken struct {
	Volume float64 // of the solid as drawn, mm3
	// Any is set unless the cutter was seen to pass beside all that was left of the solid as drawn. It is what is told
	// of cuts in the air; where a promise hangs on it, ask Keeps of the cutter.
	Any bool
}

// Near is where a body was not proven to keep clear.
type Near struct {
	// Point is a place in what is left, as deep in the body as any that was seen, in the model's frame: where
	// there is material for sure, if that is so of any.
	Point r3.Vector
	// Depth is how far the body would have to move, at least, to be clear of that place, mm: 0
	// where it does not reach it, as far as is known.
	Depth float64
	// Sure is set where the body covers Point, somewhere on its ways, wherever within Off it is, and there surely
	// is material: a cell deeper than chord error and play in the solid, that no cutter has touched.
	Sure bool
}
