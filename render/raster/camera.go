package raster

import "github.com/golang/geo/r3"

// Camera looks at the scene without perspective, so that one scale holds for
// the whole picture across the line of sight.
type Camera struct {
	Right, Up, Toward r3.Vector // unit, square to each other, right-handed; Toward points at the viewer
	Center            r3.Vector // mm; the point that is seen at X, Y
	X, Y              float64   // pixels, y down
	Scale             float64   // pixels per mm
}

// Project returns where a point is seen, in pixels, and its depth: mm behind
// the plane through Center across the line of sight, negative in front of it.
func (c *Camera) Project(p r3.Vector) (x, y, depth float64) {
	d := p.Sub(c.Center)
	return c.X + c.Scale*c.Right.Dot(d), c.Y - c.Scale*c.Up.Dot(d), -c.Toward.Dot(d)
}

// affine is a quantity that varies evenly over the image: at + x*dx + y*dy.
type affine struct{ at, dx, dy float64 }

func (a affine) value(x, y float64) float64 { return a.at + x*a.dx + y*a.dy }

// depthOf returns the depth of the plane through p with normal n as a function
// of the pixel; n must not lie across the line of sight.
func (c *Camera) depthOf(p, n r3.Vector) affine {
	x, y, depth := c.Project(p)
	r, u, t := n.Dot(c.Right), n.Dot(c.Up), n.Dot(c.Toward)
	// A shift by (dx, dy) pixels and -depth along Toward stays in the plane if
	// r dx/scale - u dy/scale - t ddepth = 0.
	a := affine{dx: r / (t * c.Scale), dy: -u / (t * c.Scale)}
	a.at = depth - x*a.dx - y*a.dy
	return a
}
