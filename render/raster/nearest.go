package raster

import (
	"math"

	"gridswing/geom"

	"github.com/golang/geo/r3"
)

// Nearest returns the point of the shape's surface that is nearest to p, and the
// unit normals of the facets that are as near as that but for the given
// tolerance: one on a flat face, several on an edge or corner. All in the body
// frame, mm. Normals less than 2.5 degrees apart are given once. There are none
// if there is no facet that has one.
func (s *Shape) Nearest(p r3.Vector, tolerance float64) (point r3.Vector, normals []r3.Vector) {
	least := math.Inf(1)
	type candidate struct {
		distance float64
		normal   r3.Vector
	}
	var near []candidate
	for i := range s.mesh.Facets {
		f := &s.mesh.Facets[i]
		reach := least + tolerance
		if boxDistance2(f, p) > reach*reach {
			continue
		}
		a, b, c := f[0].Vector(), f[1].Vector(), f[2].Vector()
		n := b.Sub(a).Cross(c.Sub(a))
		n2, h := n.Norm2(), n.Dot(p.Sub(a)) // h: the distance from the plane, times n
		if n2 == 0 || h*h > reach*reach*n2 {
			continue
		}
		q := nearestOn(a, b, c, p)
		d := q.Sub(p).Norm()
		if d > reach {
			continue
		}
		if d < least {
			least, point = d, q
		}
		near = append(near, candidate{d, n.Normalize()})
	}
	for _, c := range near {
		if c.distance <= least+tolerance && !alreadyIn(normals, c.normal) {
			normals = append(normals, c.normal)
		}
	}
	return point, normals
}

func alreadyIn(normals []r3.Vector, n r3.Vector) bool {
	for _, known := range normals {
		if known.Dot(n) > 0.999 {
			return true
		}
	}
	return false
}

// boxDistance2 is the squared distance of a point from the box round a facet.
func boxDistance2(f *geom.Facet, p r3.Vector) float64 {
	beyond := func(k int, v float64) float64 {
		lo, hi := min(f[0][k], f[1][k], f[2][k]), max(f[0][k], f[1][k], f[2][k])
		return max(float64(lo)-v, v-float64(hi), 0)
	}
	return r3.Vector{X: beyond(0, p.X), Y: beyond(1, p.Y), Z: beyond(2, p.Z)}.Norm2()
}

// nearestOn returns the point of the triangle nearest to p: p's foot in its plane
// if that lies inside, otherwise the nearest point of its border.
func nearestOn(a, b, c, p r3.Vector) r3.Vector {
	n := b.Sub(a).Cross(c.Sub(a))
	best, least := r3.Vector{}, math.Inf(1)
	inside := true
	for _, e := range [3][2]r3.Vector{{a, b}, {b, c}, {c, a}} {
		along, to := e[1].Sub(e[0]), p.Sub(e[0])
		inside = inside && n.Cross(along).Dot(to) >= 0
		t := 0.0
		if l := along.Norm2(); l > 0 {
			t = max(0, min(along.Dot(to)/l, 1))
		}
		q := e[0].Add(along.Mul(t))
		if d := q.Sub(p).Norm2(); d < least {
			best, least = q, d
		}
	}
	if inside {
		return p.Sub(n.Mul(n.Dot(p.Sub(a)) / n.Norm2()))
	}
	return best
}
