package collide

import (
	"math"

	"gridswing/geom"

	"github.com/golang/geo/r3"
)

// Tree is a mesh arranged for proximity queries: a bounding-volume hierarchy
// of oriented boxes in one flat array. It is read-only once built; any number
// of queries may share it.
type Tree struct {
	nodes  []node
	facets []geom.Facet // in leaf order
	index  []int32      // facet of the mesh that facets[i] is
	// reach is the largest coordinate of any vertex, for the rounding term.
	reach float64
}

// leafFacets is the most facets a leaf holds. Facets of a leaf are mostly told
// apart by one direction, which costs less than boxes of their own would.
const leafFacets = 4

// node is a box and what it holds. Nodes stand in preorder: the left child of
// node i is i+1, the right one is next. The box is the set of points
// c + sum s[i] axis[i], |s[i]| <= (hi[i]-lo[i])/2, c = sum (lo[i]+hi[i])/2 axis[i],
// the third axis being the cross product of the first two. Axes parallel to the
// frame are stored exactly, and so are the faces of their boxes, since vertices are
// float32: parallel flat faces then prune at the very distance they are apart.
type node struct {
	axis0, axis1 [3]float32
	lo, hi       [3]float32
	next         int32 // inner: the right child; leaf: the first facet
	count        int32 // facets of a leaf, 0 for an inner node
}

func (n *node) leaf() bool { return n.count > 0 }

// Facets returns the number of facets in the tree.
func (t *Tree) Facets() int { return len(t.facets) }

// box is a node's box in some frame, ready for arithmetic.
type box struct {
	center r3.Vector
	axis   [3]r3.Vector
	half   [3]float64
	radius float64 // of the ball about center that holds the box
}

// load returns the node's box in the tree's own frame.
func (n *node) load(b *box) {
	m := n.size(b)
	if n.aligned() {
		b.center, b.axis = m, [3]r3.Vector{{X: 1}, {Y: 1}, {Z: 1}}
		return
	}
	a0 := geom.Vertex(n.axis0).Vector()
	a1 := geom.Vertex(n.axis1).Vector()
	a2 := a0.Cross(a1)
	b.axis = [3]r3.Vector{a0, a1, a2}
	b.center = r3.Vector{
		X: m.X*a0.X + m.Y*a1.X + m.Z*a2.X,
		Y: m.X*a0.Y + m.Y*a1.Y + m.Z*a2.Y,
		Z: m.X*a0.Z + m.Y*a1.Z + m.Z*a2.Z,
	}
}

// loadPosed returns the node's box as the outer frame of pose sees it.
func (n *node) loadPosed(pose *geom.Pose, b *box) {
	if n.aligned() { // as most are: the axes are the columns of R
		b.center = pose.Point(n.size(b))
		r := &pose.R
		b.axis[0] = r3.Vector{X: r[0][0], Y: r[1][0], Z: r[2][0]}
		b.axis[1] = r3.Vector{X: r[0][1], Y: r[1][1], Z: r[2][1]}
		b.axis[2] = r3.Vector{X: r[0][2], Y: r[1][2], Z: r[2][2]}
		return
	}
	n.load(b)
	b.center = pose.Point(b.center)
	b.axis[0] = pose.R.Apply(b.axis[0])
	b.axis[1] = pose.R.Apply(b.axis[1])
	b.axis[2] = pose.R.Apply(b.axis[2])
}

// aligned reports whether the box is parallel to the frame. All components count:
// the cosine of a small angle is 1 in float32, its sine is not 0.
func (n *node) aligned() bool {
	return n.axis0 == [3]float32{1, 0, 0} && n.axis1 == [3]float32{0, 1, 0}
}

// size sets the box's half sides and radius, and returns its centre along its axes.
func (n *node) size(b *box) r3.Vector {
	h0 := (float64(n.hi[0]) - float64(n.lo[0])) / 2
	h1 := (float64(n.hi[1]) - float64(n.lo[1])) / 2
	h2 := (float64(n.hi[2]) - float64(n.lo[2])) / 2
	b.half = [3]float64{h0, h1, h2}
	b.radius = math.Sqrt(h0*h0+h1*h1+h2*h2) * (1 + 2*axisError)
	return r3.Vector{
		X: (float64(n.lo[0]) + float64(n.hi[0])) / 2,
		Y: (float64(n.lo[1]) + float64(n.hi[1])) / 2,
		Z: (float64(n.lo[2]) + float64(n.hi[2])) / 2,
	}
}

// axisError bounds how far stored axes are from orthonormal: each component
// is off by at most 2^-25 (half a unit in the last place below 1), so
// |A^T A - I| has no entry above 2 sqrt(3) 2^-25 + ..., below 2^-22 with the
// cross product's share.
const axisError = 1.0 / (1 << 22)

// separation returns a unit direction u from a towards b and the gap between
// the boxes along it: an underestimate of their distance, negative where u
// does not separate them. The direction comes from projecting back and forth
// between the boxes (von Neumann's alternating projections); the gap is then
// verified with support functions, so a poor direction costs time, never truth.
// A gap below cut is of no use: once two points of the boxes are seen nearer than
// that, no direction can serve and none is looked for.
func separation(a, b *box, cut float64) (gap float64, u r3.Vector) {
	d := b.center.Sub(a.center)
	p := a.clamp(d)
	q := d.Add(b.clamp(p.Sub(d)))
	p = a.clamp(q)
	v := q.Sub(p)
	l2 := v.Dot(v)
	if l2 == 0 {
		return -1, u
	}
	gap, u = along(a, b, d, v.Mul(1/math.Sqrt(l2)))
	if gap*gap >= 0.8*l2 && gap > 0 || cut > 0 && l2 < cut*cut {
		return gap, u
	}
	for range 2 {
		q = d.Add(b.clamp(p.Sub(d)))
		p = a.clamp(q)
	}
	v = q.Sub(p)
	l2 = v.Dot(v)
	if l2 == 0 {
		return gap, u
	}
	if g, w := along(a, b, d, v.Mul(1/math.Sqrt(l2))); g > gap {
		return g, w
	}
	return gap, u
}

// along returns the gap between the boxes along u, d being b's centre seen
// from a's.
func along(a, b *box, d, u r3.Vector) (float64, r3.Vector) {
	g := d.Dot(u) -
		math.Abs(u.Dot(a.axis[0]))*a.half[0] - math.Abs(u.Dot(a.axis[1]))*a.half[1] - math.Abs(u.Dot(a.axis[2]))*a.half[2] -
		math.Abs(u.Dot(b.axis[0]))*b.half[0] - math.Abs(u.Dot(b.axis[1]))*b.half[1] - math.Abs(u.Dot(b.axis[2]))*b.half[2]
	return g, u
}

// clamp returns the point of the box nearest to v, both seen from its centre.
func (b *box) clamp(v r3.Vector) r3.Vector {
	s0 := max(-b.half[0], min(b.half[0], v.Dot(b.axis[0])))
	s1 := max(-b.half[1], min(b.half[1], v.Dot(b.axis[1])))
	s2 := max(-b.half[2], min(b.half[2], v.Dot(b.axis[2])))
	return r3.Vector{
		X: s0*b.axis[0].X + s1*b.axis[1].X + s2*b.axis[2].X,
		Y: s0*b.axis[0].Y + s1*b.axis[1].Y + s2*b.axis[2].Y,
		Z: s0*b.axis[0].Z + s1*b.axis[1].Z + s2*b.axis[2].Z,
	}
}
