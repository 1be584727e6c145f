package raster

import (
	"image/color"
	"math"
	"slices"

	"github.com/golang/geo/r3"
)

// facet is a triangle on the image: corners in steps of 2^-shift pixels, turning so that
// edge functions are positive inside, and its depth in mm over the pixels.
type facet struct {
	x, y  [3]int32
	depth affine
	near  float32
	far   float32 // least and greatest depth of a corner
	color color.RGBA
	back  bool // seen from inside the solid
	cut   bool // the cutting plane takes part of it away
	steep bool // seen so nearly edge-on that its depth must be held between near and far
}

// facetChunk holds what may be seen of a run of one body's facets.
type facetChunk struct {
	body     int
	from, to int
	facets   []facet
	nearest  float32 // least depth of them
	bins     bins
}

// setFacets projects the chunk's facets and sorts them into tiles. The scratch is memory to
// work in.
func (j *job) setFacets(c *facetChunk, scratch *scratch) {
	b := &j.bodies[c.body]
	facets, ranges := scratch.facets[:0], scratch.ranges[:0]
	c.nearest = math.MaxFloat32
	for i := c.from; i < c.to; i++ {
		var v [3]r3.Vector
		for k, corner := range &b.Shape.mesh.Facets[i] {
			v[k] = b.view.Point(corner.Vector())
		}
		if f, r, ok := j.project(b, &v); ok {
			facets, ranges = append(facets, f), append(ranges, r)
			c.nearest = min(c.nearest, f.near)
		}
	}
	c.facets, c.bins = slices.Clone(facets), j.fillBins(ranges)
	scratch.facets, scratch.ranges = facets, ranges
}

// scratch is memory that one worker uses for chunk after chunk.
type scratch struct {
	facets []facet
	lines  []line
	ranges []tileRange
}

// project makes a facet of three corners in the camera's frame; false if no
// sample can show it.
func (j *job) project(b *placed, v *[3]r3.Vector) (facet, tileRange, bool) {
	var f facet
	cam := &j.scene.Camera
	scale := math.Ldexp(1, int(j.shift))
	for k := range 3 {
		f.x[k] = int32(math.RoundToEven((cam.X + cam.Scale*v[k].X) * scale))
		f.y[k] = int32(math.RoundToEven((cam.Y - cam.Scale*v[k].Y) * scale))
	}
	x, y := int64(f.x[0]), int64(f.y[0])
	area := (int64(f.x[1])-x)*(int64(f.y[2])-y) - (int64(f.x[2])-x)*(int64(f.y[1])-y)
	f.back = area > 0 // y runs down, so what turns left in space turns right here
	if area == 0 || f.back && b.cull {
		return f, tileRange{}, false
	}
	x0, x1 := min(f.x[0], f.x[1], f.x[2]), max(f.x[0], f.x[1], f.x[2])
	y0, y1 := min(f.y[0], f.y[1], f.y[2]), max(f.y[0], f.y[1], f.y[2])
	if j.missesSamples(x0, x1) || j.missesSamples(y0, y1) {
		return f, tileRange{}, false
	}
	r := j.tilesOf(float64(x0)/scale, float64(y0)/scale, float64(x1)/scale, float64(y1)/scale)
	if r.x0 > r.x1 {
		return f, r, false
	}
	if j.cut != nil && b.isCut() && !j.cutFacet(&f, b, v) {
		return f, r, false
	}
	j.finish(&f, b, v)
	return f, r, true
}

// missesSamples reports whether no sample lies in [lo, hi].
func (j *job) missesSamples(lo, hi int32) bool {
	unit, apart := int32(1)<<(j.shift-stepBits), j.shift-stepBits+1
	return (hi-unit)>>apart == (lo-unit-1)>>apart
}

// finish sets depth and colour, and the corners' order.
func (j *job) finish(f *facet, b *placed, v *[3]r3.Vector) {
	n := v[1].Sub(v[0]).Cross(v[2].Sub(v[0])).Normalize()
	f.depth = j.depthOf(v, n)
	f.depth.at -= b.near
	f.near = float32(-max(v[0].Z, v[1].Z, v[2].Z) - b.near)
	f.far = float32(-min(v[0].Z, v[1].Z, v[2].Z) - b.near)
	f.steep = math.Abs(n.Z) < 0.05
	base := b.Color
	if f.back {
		n = n.Mul(-1)
		if b.Shape.solid {
			base = inside(base)
		}
	} else {
		f.x[1], f.x[2] = f.x[2], f.x[1]
		f.y[1], f.y[2] = f.y[2], f.y[1]
	}
	f.color = lit(base, n)
}

// edgeOn is the component of its normal towards the viewer below which a facet is seen as a line: the
// rounding of its corners, up to 1/2048 of a pixel, would change its depth by more than half a pixel.
const edgeOn = 1e-3

// depthOf returns the depth of a facet's plane over the pixels, given its corners and unit normal in
// the camera's frame: there the depth is -z, and y runs up. Of a facet that is seen edge-on it is
// the depth along its longest side.
func (j *job) depthOf(v *[3]r3.Vector, n r3.Vector) affine {
	cam := &j.scene.Camera
	d := affine{dx: n.X / n.Z / cam.Scale, dy: -n.Y / n.Z / cam.Scale}
	if !(math.Abs(n.Z) >= edgeOn) {
		var along r3.Vector
		for k := range 3 {
			if e := v[(k+1)%3].Sub(v[k]); e.X*e.X+e.Y*e.Y > along.X*along.X+along.Y*along.Y {
				along = e
			}
		}
		l := (along.X*along.X + along.Y*along.Y) * cam.Scale
		d = affine{}
		if l > 1e-12 {
			d = affine{dx: -along.Z * along.X / l, dy: along.Z * along.Y / l}
		}
	}
	x, y := cam.X+cam.Scale*v[0].X, cam.Y-cam.Scale*v[0].Y
	d.at = -v[0].Z - x*d.dx - y*d.dy
	return d
}

// inside is the colour of a surface seen from within the solid.
func inside(c color.RGBA) color.RGBA {
	return color.RGBA{c.R / 2, c.G / 2, c.B / 2, 255}
}

// cutFacet reports whether the cutting plane leaves any of the facet, and notes
// whether it takes some away.
func (j *job) cutFacet(f *facet, b *placed, v *[3]r3.Vector) bool {
	cam := &j.scene.Camera
	ahead := 0
	for k := range 3 {
		plane := j.cut.value(cam.X+cam.Scale*v[k].X, cam.Y-cam.Scale*v[k].Y)
		if -v[k].Z < plane {
			ahead++
		}
	}
	f.cut = ahead > 0
	return ahead < 3
}
