package render

import (
	"fmt"
	"math"
	"slices"

	"gridswing/geom"
	"gridswing/render/ink"
	"gridswing/render/raster"

	"github.com/golang/geo/r3"
)

// frame is the operator's: what is to the right, away and up of somebody who
// stands in front of the machine. Unit vectors, bed frame, right-handed in this
// order.
type frame struct{ right, away, up r3.Vector }

// operator returns the frame for a unit vector against gravity. X runs to the
// right; where X itself stands upright, Z comes towards the operator instead.
// With Z up, Y runs away from the operator; with Y up, as on a machine with a
// horizontal spindle, Z comes towards him, and he looks from the spindle at the
// workpiece (ISO 841: +Z leads from the workpiece to the spindle).
func operator(up r3.Vector) frame {
	right := r3.Vector{X: 1}
	if math.Abs(up.X) > 0.9 {
		right = up.Cross(r3.Vector{Z: 1})
	}
	right = right.Sub(up.Mul(right.Dot(up))).Normalize()
	return frame{right: right, away: up.Cross(right), up: up}
}

// square reports whether the frame's axes run along those of the bed.
func (f frame) square() bool { return along(f.right) && along(f.up) }

// along reports whether a unit vector runs along X, Y or Z.
func along(v r3.Vector) bool {
	return max(math.Abs(v.X), math.Abs(v.Y), math.Abs(v.Z)) > 1-1e-9
}

// Axes returns the directions of a view, bed frame, of unit length: right and up on the
// page, and toward the viewer. Up is against gravity, not zero.
func (v View) Axes(up r3.Vector) (right, upward, toward r3.Vector) {
	return v.axes(operator(up.Normalize()))
}

// axes returns the camera's axes: right, up, and toward the viewer.
func (v View) axes(f frame) (right, up, toward r3.Vector) {
	switch v {
	case Front:
		return f.right, f.up, f.away.Mul(-1)
	case Right:
		return f.away, f.up, f.right
	case Top:
		return f.right, f.away, f.up
	}
	toward = f.right.Sub(f.away).Add(f.up).Normalize()
	right = f.right.Add(f.away).Normalize()
	return right, toward.Cross(right), toward
}

// axes returns the camera's axes: right, up, and toward the viewer.
func (p *Picture) axes() (right, up, toward r3.Vector) {
	if p.Close == nil || p.Close.Facing == (r3.Vector{}) {
		return p.View.axes(operator(p.Up))
	}
	toward = p.Close.Facing.Normalize()
	for _, wanted := range []r3.Vector{p.Close.Upright, p.Up, operator(p.Up).away} {
		right = wanted.Cross(toward)
		if right.Norm() > 1e-3*wanted.Norm() {
			break // the last two are square to each other: one of them will do
		}
	}
	right = right.Normalize()
	return right, toward.Cross(right), toward
}

// foreshortening is how long a mm along an axis of the operator's frame looks in
// the view, where it is not seen end-on: 1, or sqrt(2/3) in the isometric view
// (ISO 5456-3).
func (v View) foreshortening() float64 {
	if v == Isometric {
		return math.Sqrt(2.0 / 3)
	}
	return 1
}

// camera frames what is seen of the items that are no ghosts (all of them, if there are no others), or
// the close-up, in the given area. The cut is in the bed's frame; nil: none.
func (p *Picture) camera(a ink.Area, cut *raster.Plane) (raster.Camera, error) {
	var c raster.Camera
	c.Right, c.Up, c.Toward = p.axes()
	c.X, c.Y = (a.X0+a.X1)/2, (a.Y0+a.Y1)/2
	if p.Close != nil {
		c.Center = p.Close.Center
		c.Scale = min(a.Width(), a.Height()) / (2 * p.Close.Radius)
		return c, nil
	}
	view := geom.Pose{R: geom.Rotation{
		{c.Right.X, c.Right.Y, c.Right.Z}, {c.Up.X, c.Up.Y, c.Up.Z}, {c.Toward.X, c.Toward.Y, c.Toward.Z}}}
	box := geom.EmptyBox() // along right, up, toward
	onlyGhosts := !slices.ContainsFunc(p.Items, func(it Item) bool { return it.Emphasis != Ghost })
	for i := range p.Items {
		it := &p.Items[i]
		if it.Emphasis == Ghost && !onlyGhosts {
			continue
		}
		if cut == nil || it.Emphasis.veil() || it.Whole {
			box = box.Union(it.Shape.BoundsIn(view.Mul(it.Pose)))
		} else {
			box = box.Union(it.Shape.BoundsBehind(view.Mul(it.Pose), raster.Plane{Point: view.Point(cut.Point), Normal: view.Dir(cut.Normal)}))
		}
	}
	for _, way := range append([]Way{p.Within}, p.Ways...) {
		for _, q := range way {
			box = box.Include(r3.Vector{X: c.Right.Dot(q), Y: c.Up.Dot(q), Z: c.Toward.Dot(q)})
		}
	}
	if box.Empty() {
		return c, fmt.Errorf("picture %q shows nothing: it has no items with facets", p.Title)
	}
	size, mid := box.Size(), box.Center()
	c.Center = c.Right.Mul(mid.X).Add(c.Up.Mul(mid.Y)).Add(c.Toward.Mul(mid.Z))
	c.Scale = min(a.Width()/max(size.X, 1e-3), a.Height()/max(size.Y, 1e-3))
	return c, nil
}
