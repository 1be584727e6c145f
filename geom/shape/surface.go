package shape

import (
	"math"

	"gridswing/geom"

	"github.com/golang/geo/r3"
)

// Surface is the boundary of a solid before it is rounded to a mesh.
type Surface []geom.Triangle

// quad appends the two triangles of a, b, c, d, counter-clockwise from outside.
func (s *Surface) quad(a, b, c, d r3.Vector) {
	*s = append(*s, geom.Triangle{a, b, c}, geom.Triangle{a, c, d})
}

// Join puts disjoint solids together as the shells of one.
func Join(parts ...Surface) Surface {
	var all Surface
	for _, p := range parts {
		all = append(all, p...)
	}
	return all
}

// Moved returns the surface as it stands at the pose.
func (s Surface) Moved(p geom.Pose) Surface {
	return s.mapped(func(v r3.Vector) r3.Vector { return p.Point(v) })
}

// Shifted returns the surface moved by (x, y, z).
func (s Surface) Shifted(x, y, z float64) Surface {
	by := r3.Vector{X: x, Y: y, Z: z}
	return s.mapped(func(v r3.Vector) r3.Vector { return v.Add(by) })
}

// AlongX lays a surface that was built along Z down along X: what was
// (x, y, z) is (z, x, y) afterwards, without any rounding.
func (s Surface) AlongX() Surface {
	return s.mapped(func(v r3.Vector) r3.Vector { return r3.Vector{X: v.Z, Y: v.X, Z: v.Y} })
}

// AlongY lays a surface that was built along Z down along Y: what was
// (x, y, z) is (y, z, x) afterwards, without any rounding.
func (s Surface) AlongY() Surface {
	return s.mapped(func(v r3.Vector) r3.Vector { return r3.Vector{X: v.Y, Y: v.Z, Z: v.X} })
}

// MirroredX returns the mirror image in the plane x = 0, outside kept outside.
func (s Surface) MirroredX() Surface {
	out := make(Surface, len(s))
	for i, t := range s {
		for k, v := range t {
			out[i][2-k] = r3.Vector{X: -v.X, Y: v.Y, Z: v.Z}
		}
	}
	return out
}

func (s Surface) mapped(f func(r3.Vector) r3.Vector) Surface {
	out := make(Surface, len(s))
	for i := range s {
		for k := range 3 {
			out[i][k] = f(s[i][k])
		}
	}
	return out
}

// Mesh rounds the surface to stored vertices. A triangle of which two corners
// round to the same vertex is left out together with its neighbour across that
// edge, which collapses as well, so that a closed surface stays closed.
func (s Surface) Mesh() *geom.Mesh {
	m := &geom.Mesh{Facets: make([]geom.Facet, 0, len(s))}
	for _, t := range s {
		f := geom.Facet{vertex(t[0]), vertex(t[1]), vertex(t[2])}
		if f[0] != f[1] && f[1] != f[2] && f[2] != f[0] {
			m.Facets = append(m.Facets, f)
		}
	}
	return m
}

// vertex rounds and turns -0 into 0, so that equal coordinates are equal bytes.
func vertex(p r3.Vector) geom.Vertex {
	v := geom.VertexOf(p)
	for k := range v {
		v[k] += 0
	}
	return v
}

// SurfaceOf returns the facets of a mesh as a surface, to refine or move it.
func SurfaceOf(m *geom.Mesh) Surface {
	s := make(Surface, len(m.Facets))
	for i := range s {
		s[i][0], s[i][1], s[i][2] = m.Triangle(i)
	}
	return s
}

// Box returns the box between two opposite corners.
func Box(lo, hi r3.Vector) Surface {
	a := r3.Vector{X: math.Min(lo.X, hi.X), Y: math.Min(lo.Y, hi.Y), Z: math.Min(lo.Z, hi.Z)}
	b := r3.Vector{X: math.Max(lo.X, hi.X), Y: math.Max(lo.Y, hi.Y), Z: math.Max(lo.Z, hi.Z)}
	at := func(x, y, z float64) r3.Vector { return r3.Vector{X: x, Y: y, Z: z} }
	var s Surface
	s.quad(at(a.X, a.Y, a.Z), at(a.X, b.Y, a.Z), at(b.X, b.Y, a.Z), at(b.X, a.Y, a.Z)) // below
	s.quad(at(a.X, a.Y, b.Z), at(b.X, a.Y, b.Z), at(b.X, b.Y, b.Z), at(a.X, b.Y, b.Z)) // above
	s.quad(at(a.X, a.Y, a.Z), at(b.X, a.Y, a.Z), at(b.X, a.Y, b.Z), at(a.X, a.Y, b.Z)) // front
	s.quad(at(b.X, b.Y, a.Z), at(a.X, b.Y, a.Z), at(a.X, b.Y, b.Z), at(b.X, b.Y, b.Z)) // back
	s.quad(at(a.X, b.Y, a.Z), at(a.X, a.Y, a.Z), at(a.X, a.Y, b.Z), at(a.X, b.Y, b.Z)) // left
	s.quad(at(b.X, a.Y, a.Z), at(b.X, b.Y, a.Z), at(b.X, b.Y, b.Z), at(b.X, a.Y, b.Z)) // right
	return s
}
