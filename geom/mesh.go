package geom

import (
	"math"

	"github.com/golang/geo/r3"
)

// Vertex is a corner of a facet, in mm.
type Vertex [3]float32

// Vector returns the vertex as float64, without loss.
func (v Vertex) Vector() r3.Vector {
	return r3.Vector{X: float64(v[0]), Y: float64(v[1]), Z: float64(v[2])}
}

// VertexOf rounds a point to the nearest vertex that can be stored.
func VertexOf(p r3.Vector) Vertex {
	return Vertex{float32(p.X), float32(p.Y), float32(p.Z)}
}

// Facet is one triangle of a solid's surface, its corners counter-clockwise
// as seen from outside.
type Facet [3]Vertex

// MaxFacets is how many facets a mesh may hold, so that corners can be numbered
// by int32: 715 million, 36 GB of STL.
const MaxFacets = math.MaxInt32 / 3

// Mesh is the surface of a solid as STL delivers it: facets that share no
// memory with their neighbours. Welding, shells and faults are what Audit is for.
//
// A Mesh is read-only once it is built; any number of goroutines may read it.
type Mesh struct {
	Facets []Facet
}

// Triangle returns the corners of facet i as float64.
func (m *Mesh) Triangle(i int) (a, b, c r3.Vector) {
	f := &m.Facets[i]
	return f[0].Vector(), f[1].Vector(), f[2].Vector()
}

// Bounds returns the smallest axis-parallel box around the mesh; for a mesh
// without facets it is empty.
func (m *Mesh) Bounds() Box {
	b := EmptyBox()
	for i := range m.Facets {
		for _, v := range &m.Facets[i] {
			b = b.Include(v.Vector())
		}
	}
	return b
}
