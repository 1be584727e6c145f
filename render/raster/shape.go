// Package raster turns facets and edges into pixels: an orthographic camera, sixteen
// samples per pixel, flat shading under a soft light, ambient occlusion, drawn edges with
// hidden lines removed, veils, cuts. Work is split into tiles of the image; every tile is
// computed by one goroutine from the same data in the same order, so the number of workers
// never changes a pixel.
//
// The way of a facet: facets.go (projected, sorted into tiles), cover.go and sample.go (which
// samples it covers, in whole numbers), layer.go (depth, kept per pixel as long as one thing
// covers it), section.go (the cut); then lines.go and outline.go over what is seen, resolve.go
// (samples to pixels) and, when all tiles are done, occlusion.go.
//
// Start with Scene.
package raster

import (
	"math"

	"gridswing/geom"
)

// Shape is a mesh with the edges that may have to be drawn. It is read-only:
// any number of goroutines and pictures may share it.
type Shape struct {
	mesh   *geom.Mesh
	edges  []geom.Edge
	solid  bool
	bounds geom.Box
}

// creaseAngle is how sharp an edge must be to be drawn whatever the view: above
// the steps of a small bore made of twelve sides (30 degrees), below the edge of
// a chamfer (45 degrees).
const creaseAngle = 37 * math.Pi / 180

// NewShape finds the edges of the mesh, which is kept and must not change. Solid
// states that the mesh is closed, and all its facets look outward, as
// geom.Audit can tell: facets seen from behind are then never drawn, and cuts
// are filled. If in doubt, say false: every facet is then drawn from both sides.
func NewShape(m *geom.Mesh, solid bool) *Shape {
	return &Shape{mesh: m, edges: geom.EdgesOf(m, creaseAngle), solid: solid, bounds: m.Bounds()}
}

// Edges returns the edges of the mesh but for those between facets in one plane; those that turn sharply or
// are open are marked Crease. They are not to be changed.
func (s *Shape) Edges() []geom.Edge { return s.edges }

// Bounds returns the smallest box round the shape, in the body frame.
func (s *Shape) Bounds() geom.Box { return s.bounds }

// BoundsIn returns the smallest box round the shape in the frame the pose leads
// to. (Every extreme point of a surface is the end of an edge.)
func (s *Shape) BoundsIn(pose geom.Pose) geom.Box {
	b := geom.EmptyBox()
	for i := range s.edges {
		b = b.Include(pose.Point(s.edges[i].A.Vector())).Include(pose.Point(s.edges[i].B.Vector()))
	}
	return b
}

// BoundsBehind returns the smallest box, in the frame the pose leads to, round what of the shape is
// not before the plane, in that frame; empty if nothing is. (Every extreme point of what is left
// of a surface is on an edge.)
func (s *Shape) BoundsBehind(pose geom.Pose, plane Plane) geom.Box {
	b := geom.EmptyBox()
	for i := range s.edges {
		p, q := pose.Point(s.edges[i].A.Vector()), pose.Point(s.edges[i].B.Vector())
		before, after := p.Sub(plane.Point).Dot(plane.Normal), q.Sub(plane.Point).Dot(plane.Normal)
		if before <= 0 {
			b = b.Include(p)
		}
		if after <= 0 {
			b = b.Include(q)
		}
		if before < 0 != (after < 0) && before != after {
			b = b.Include(p.Add(q.Sub(p).Mul(before / (before - after))))
		}
	}
	return b
}
