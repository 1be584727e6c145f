// Package raster turns facets and edges into pixels: an orthographic camera, a
// depth buffer, flat shading under a soft light, drawn edges with hidden lines
// removed. Work is split into tiles of the image; every tile is computed by one
// goroutine from the same data in the same order, so the number of workers
// never changes a pixel.
//
// Start with Scene.
package raster

import (
	"math"

	"gridswing/geom"

	"github.com/golang/geo/r3"
)

// Shape is a mesh with the edges that may have to be drawn. It is read-only:
// any number of goroutines and pictures may share it.
type Shape struct {
	mesh   *geom.Mesh
	edges  []edge
	closed bool // every edge joins two facets that run opposite ways
	bounds geom.Box
}

// edge is a segment of the surface that can appear as a line: between two
// facets that are not in one plane, or at an open end of the surface.
type edge struct {
	a, b   r3.Vector // mm, body frame
	n1, n2 r3.Vector // unit normals of the facets on both sides; n2 = n1 where open
	kind   edgeKind
}

type edgeKind uint8

const (
	smooth edgeKind = iota // drawn only where it is a silhouette
	crease                 // drawn wherever it is not hidden
	open                   // the same; the surface ends here
)

// creaseAngle is how sharp an edge must be to be drawn whatever the view: well
// above the steps of a tessellated cylinder (a chord error of 0.02 mm on a
// radius of 2 mm gives 16 degrees), well below the edge of a chamfer (45).
const creaseAngle = 25 * math.Pi / 180

// Bounds returns the smallest box round the shape, in the body frame.
func (s *Shape) Bounds() geom.Box { return s.bounds }
