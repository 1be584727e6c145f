package collide

import (
	"math"

	"gridswing/geom"

	"github.com/golang/geo/r3"
)

// aligned returns a node whose box is parallel to the frame.
func aligned(b geom.Box) node {
	return node{
		axis0: [3]float32{1, 0, 0},
		axis1: [3]float32{0, 1, 0},
		lo:    geom.VertexOf(b.Min), // exact: the corners of a box around vertices
		hi:    geom.VertexOf(b.Max),
	}
}

// fitFacets is the most facets that a box is turned for. Larger nodes stand
// high in the tree, are few, and are mostly opened anyway.
const fitFacets = 1024

// fit returns a node around the facets: parallel to the frame, or turned if
// that makes its surface clearly smaller.
func fit(facets []geom.Facet, bounds geom.Box) node {
	best := aligned(bounds)
	if len(facets) > fitFacets {
		return best
	}
	s := bounds.Size()
	area := s.X*s.Y + s.Y*s.Z + s.Z*s.X
	if a0, a1, ok := turnedAxes(facets); ok {
		if n, a := around(facets, a0, a1); a < 0.9*area {
			return n
		}
	}
	return best
}

// turnedAxes proposes two axes: the mean normal of the facets where they face
// one way, else that of the largest facet, and that facet's longest edge made
// perpendicular to it.
func turnedAxes(facets []geom.Facet) (a0, a1 r3.Vector, ok bool) {
	var sum, largest, edge r3.Vector
	most, total := 0.0, 0.0
	for i := range facets {
		p, q, r := facets[i][0].Vector(), facets[i][1].Vector(), facets[i][2].Vector()
		n := q.Sub(p).Cross(r.Sub(p))
		size := n.Norm()
		total += size
		sum = sum.Add(n)
		if size > most {
			most, largest = size, n
			edge = longest(q.Sub(p), r.Sub(q), p.Sub(r))
		}
	}
	if most == 0 {
		return a0, a1, false
	}
	normal := largest
	if sum.Norm() > 0.5*total {
		normal = sum
	}
	a0 = normal.Normalize()
	a1 = edge.Sub(a0.Mul(edge.Dot(a0)))
	if a1.Norm() <= 1e-6*edge.Norm() {
		return a0, a1, false
	}
	if len(facets) > leafFacets {
		a1 = spread(facets, a0, a1.Normalize())
	}
	return a0, a1.Normalize(), true
}

func longest(a, b, c r3.Vector) r3.Vector {
	if b.Dot(b) > a.Dot(a) {
		a = b
	}
	if c.Dot(c) > a.Dot(a) {
		a = c
	}
	return a
}

// spread returns the direction perpendicular to the unit vector n along which
// the vertices spread most: the larger eigenvector of their 2 x 2 covariance.
func spread(facets []geom.Facet, n, e r3.Vector) r3.Vector {
	f := n.Cross(e)
	o := facets[0][0].Vector()
	var sx, sy, sxx, sxy, syy, count float64
	for i := range facets {
		for _, v := range &facets[i] {
			d := v.Vector().Sub(o)
			x, y := d.Dot(e), d.Dot(f)
			sx, sy, sxx, sxy, syy, count = sx+x, sy+y, sxx+x*x, sxy+x*y, syy+y*y, count+1
		}
	}
	sxx, sxy, syy = sxx-sx*sx/count, sxy-sx*sy/count, syy-sy*sy/count
	sin, cos := math.Sincos(math.Atan2(2*sxy, sxx-syy) / 2)
	return e.Mul(cos).Add(f.Mul(sin))
}

// around returns the box with the given axes around the facets and half its
// surface. Its faces are moved outward by what the rounded axes can err: with A
// the stored axes, |A A^T - I| <= axisError per entry, so a vertex v is off by
// little more than 3 axisError |v| from the point its coordinates describe.
func around(facets []geom.Facet, a0, a1 r3.Vector) (node, float64) {
	n := node{axis0: geom.VertexOf(a0), axis1: geom.VertexOf(a1)}
	a0, a1 = geom.Vertex(n.axis0).Vector(), geom.Vertex(n.axis1).Vector()
	axes := [3]r3.Vector{a0, a1, a0.Cross(a1)}
	inf := math.Inf(1)
	lo, hi := [3]float64{inf, inf, inf}, [3]float64{-inf, -inf, -inf}
	far := 0.0
	for i := range facets {
		for _, w := range &facets[i] {
			v := w.Vector()
			far = max(far, v.Dot(v))
			for k := range axes {
				s := v.Dot(axes[k])
				lo[k], hi[k] = min(lo[k], s), max(hi[k], s)
			}
		}
	}
	slack := 3.1 * axisError * math.Sqrt(far)
	for k := range axes {
		n.lo[k], n.hi[k] = below(lo[k]-slack), above(hi[k]+slack)
	}
	x, y, z := hi[0]-lo[0], hi[1]-lo[1], hi[2]-lo[2]
	return n, x*y + y*z + z*x
}

// below returns the largest float32 not above x.
func below(x float64) float32 {
	f := float32(x)
	if float64(f) > x {
		f = math.Nextafter32(f, float32(math.Inf(-1)))
	}
	return f
}

// above returns the smallest float32 not below x.
func above(x float64) float32 { return -below(-x) }
