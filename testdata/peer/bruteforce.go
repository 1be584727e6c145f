package peer

import (
	"math"

	"gridswing/geom"

	"github.com/golang/geo/r3"
)

// BruteForce returns the smallest distance between two surfaces, b standing at
// pose as seen from a, by asking every pair of triangles that could be closest:
// 0 where an edge of one goes through the other, else the least of the
// distances between their edges and from corners to faces. It shares nothing
// with package collide and is there to say who is right. In float64: surfaces
// that only just touch may come out some 1e-15 of the coordinates apart.
func BruteForce(a, b *geom.Mesh, pose geom.Pose) float64 {
	sideA, sideB := triangles(a, geom.Identity()), triangles(b, pose)
	best := math.Inf(1)
	for i := range sideA {
		for j := range sideB {
			if gap(sideA[i].box, sideB[j].box) < best {
				best = min(best, sideA[i].distance(&sideB[j]))
			}
		}
	}
	return best
}

type triangle struct {
	corner [3]r3.Vector
	box    geom.Box
}

func triangles(m *geom.Mesh, pose geom.Pose) []triangle {
	out := make([]triangle, len(m.Facets))
	for i := range out {
		t := &out[i]
		t.box = geom.EmptyBox()
		for k, v := range m.Facets[i] {
			t.corner[k] = pose.Point(v.Vector())
			t.box = t.box.Include(t.corner[k])
		}
	}
	return out
}

// gap returns the distance between two boxes, 0 where they meet.
func gap(a, b geom.Box) float64 {
	return at(
		max(0, a.Min.X-b.Max.X, b.Min.X-a.Max.X),
		max(0, a.Min.Y-b.Max.Y, b.Min.Y-a.Max.Y),
		max(0, a.Min.Z-b.Max.Z, b.Min.Z-a.Max.Z)).Norm()
}

func (t *triangle) distance(u *triangle) float64 {
	best := math.Inf(1)
	for i := range 3 {
		p, q := t.corner[i], t.corner[(i+1)%3]
		r, s := u.corner[i], u.corner[(i+1)%3]
		if u.crossedBy(p, q) || t.crossedBy(r, s) {
			return 0
		}
		best = min(best, u.above(p), t.above(r))
		for j := range 3 {
			best = min(best, edges(p, q, u.corner[j], u.corner[(j+1)%3]))
		}
	}
	return best
}

// over reports whether p stands over the triangle along its normal n.
func (t *triangle) over(p, n r3.Vector) bool {
	for i := range 3 {
		edge := t.corner[(i+1)%3].Sub(t.corner[i])
		if n.Dot(edge.Cross(p.Sub(t.corner[i]))) < 0 {
			return false
		}
	}
	return true
}

func (t *triangle) normal() r3.Vector {
	return t.corner[1].Sub(t.corner[0]).Cross(t.corner[2].Sub(t.corner[0]))
}

// above returns the distance of p from the face if it stands over it; infinity
// otherwise, when an edge is nearer.
func (t *triangle) above(p r3.Vector) float64 {
	n := t.normal()
	if !t.over(p, n) {
		return math.Inf(1)
	}
	return math.Abs(n.Dot(p.Sub(t.corner[0]))) / n.Norm()
}

// crossedBy reports whether the segment pq goes through the triangle; one
// within its plane does not (an edge tells).
func (t *triangle) crossedBy(p, q r3.Vector) bool {
	n := t.normal()
	heightP, heightQ := n.Dot(p.Sub(t.corner[0])), n.Dot(q.Sub(t.corner[0]))
	if heightP*heightQ > 0 || heightP == heightQ {
		return false
	}
	return t.over(p.Add(q.Sub(p).Mul(heightP/(heightP-heightQ))), n)
}

// edges returns the distance between the segments p1 q1 and p2 q2, neither of
// length zero. The nearest points lie where the lines come closest, or one of
// them at an end: from each such place, projections to the other segment and
// back, kept within the segments, lead to the nearest pair.
func edges(p1, q1, p2, q2 r3.Vector) float64 {
	d1, d2, r := q1.Sub(p1), q2.Sub(p2), p1.Sub(p2)
	a, b, e := d1.Dot(d1), d1.Dot(d2), d2.Dot(d2)
	c, f := d1.Dot(r), d2.Dot(r)
	starts := [3]float64{0, 1, 0}
	if det := a*e - b*b; det > 0 {
		starts[2] = clamp((b*f - c*e) / det)
	}
	best := math.Inf(1)
	for _, s := range starts {
		t := clamp((b*s + f) / e)
		s = clamp((b*t - c) / a)
		t = clamp((b*s + f) / e)
		best = min(best, r.Add(d1.Mul(s)).Sub(d2.Mul(t)).Norm())
	}
	return best
}

// clamp returns the nearest value within 0..1.
func clamp(x float64) float64 { return max(0, min(1, x)) }
