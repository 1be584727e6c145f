package collide

import (
	"math"

	"gridswing/geom"

	"github.com/golang/geo/r3"
)

// triangle is a facet in float64, in whatever frame the query works.
type triangle [3]r3.Vector

func (t *triangle) load(f *geom.Facet) {
	t[0], t[1], t[2] = f[0].Vector(), f[1].Vector(), f[2].Vector()
}

func (t *triangle) loadPosed(f *geom.Facet, pose *geom.Pose) {
	t[0], t[1], t[2] = pose.Point(f[0].Vector()), pose.Point(f[1].Vector()), pose.Point(f[2].Vector())
}

// ball returns the centroid and the distance of the farthest corner from it.
func (t *triangle) ball() (center r3.Vector, radius float64) {
	center = t[0].Add(t[1]).Add(t[2]).Mul(1.0 / 3)
	for _, corner := range t {
		radius = max(radius, corner.Sub(center).Norm())
	}
	return center, radius
}

// gapAlong returns the gap between the triangles along the unit vector u, from
// a to b: the support function of each, so an underestimate of their distance.
func gapAlong(a, b *triangle, u r3.Vector) float64 {
	return min(u.Dot(b[0]), u.Dot(b[1]), u.Dot(b[2])) - max(u.Dot(a[0]), u.Dot(a[1]), u.Dot(a[2]))
}

// nearestPoints returns the squared distance of two triangles and a nearest
// point of each; zero where they meet. Degenerate triangles are the segments
// or points that they are.
//
// The least distance of two disjoint triangles is attained between two edges
// or between a corner and a face (Ericson, "Real-Time Collision Detection",
// 2005, sec. 5.1.10). A pair of points is recognised as nearest, and the rest
// skipped, where both triangles lie on their own sides of the slab between them.
// What no slab bears out is asked again in twice the digits.
func nearestPoints(a, b *triangle) (d2 float64, pa, pb r3.Vector) {
	d2 = math.Inf(1)
	for i := range 3 {
		for j := range 3 {
			p, q := segmentsNearest(a[i], a[(i+1)%3], b[j], b[(j+1)%3])
			v := q.Sub(p)
			if l2 := v.Dot(v); l2 < d2 {
				d2, pa, pb = l2, p, q
				if l2 > 0 && v.Dot(a[(i+2)%3].Sub(p)) <= 0 && v.Dot(b[(j+2)%3].Sub(q)) >= 0 && borneOut(a, b, d2, p, q) {
					return d2, pa, pb
				}
			}
		}
	}
	if d2 == 0 {
		return 0, pa, pb
	}
	na := a[1].Sub(a[0]).Cross(a[2].Sub(a[0]))
	nb := b[1].Sub(b[0]).Cross(b[2].Sub(b[0]))
	for i := range 3 {
		if q, ok := footOn(b, nb, a[i]); ok {
			if v := q.Sub(a[i]); v.Dot(v) < d2 {
				d2, pa, pb = v.Dot(v), a[i], q
			}
		}
		if p, ok := footOn(a, na, b[i]); ok {
			if v := b[i].Sub(p); v.Dot(v) < d2 {
				d2, pa, pb = v.Dot(v), p, b[i]
			}
		}
	}
	for i := range 3 {
		if x, ok := pierces(b, nb, a[i], a[(i+1)%3]); ok && on(b, nb, x) {
			return 0, x, x
		}
		if x, ok := pierces(a, na, b[i], b[(i+1)%3]); ok && on(a, na, x) {
			return 0, x, x
		}
	}
	if !borneOut(a, b, d2, pa, pb) {
		return nearestCarefully(a, b)
	}
	return d2, pa, pb
}

// sharpness is half of what a distance may be off, in mm: the other half is left
// to rounding.
const sharpness = 0.5e-7

// borneOut reports whether no two points of the triangles are nearer than p and
// q, whose squared distance is d2, by more than a distance may be off.
func borneOut(a, b *triangle, d2 float64, p, q r3.Vector) bool {
	if d2 <= sharpness*sharpness {
		return true
	}
	v := q.Sub(p)
	lost := min(v.Dot(b[0].Sub(q)), v.Dot(b[1].Sub(q)), v.Dot(b[2].Sub(q))) -
		max(v.Dot(a[0].Sub(p)), v.Dot(a[1].Sub(p)), v.Dot(a[2].Sub(p)))
	return lost >= 0 || -lost <= max(sharpness*math.Sqrt(d2), 0.5e-9*d2)
}

// on reports whether x, which is known to pass through the triangle with normal
// n, really lies on it.
func on(t *triangle, n, x r3.Vector) bool {
	foot, ok := footOn(t, n, x)
	return ok && foot.Sub(x).Norm2() <= sharpness*sharpness
}

// segmentsNearest returns nearest points of segments p0 p1 and q0 q1, either
// of which may be a point. Near-parallel segments fall back on clamped ends,
// which are then as near as any.
func segmentsNearest(p0, p1, q0, q1 r3.Vector) (p, q r3.Vector) {
	d1, d2, r := p1.Sub(p0), q1.Sub(q0), p0.Sub(q0)
	a, e, f := d1.Dot(d1), d2.Dot(d2), d2.Dot(r)
	if a == 0 && e == 0 {
		return p0, q0
	}
	if a == 0 {
		return p0, q0.Add(d2.Mul(clamp01(f / e)))
	}
	c := d1.Dot(r)
	if e == 0 {
		return p0.Add(d1.Mul(clamp01(-c / a))), q0
	}
	b := d1.Dot(d2)
	s := 0.0
	if den := a*e - b*b; den > 1e-15*a*e {
		s = clamp01((b*f - c*e) / den)
	}
	t := (b*s + f) / e
	if t < 0 {
		t, s = 0, clamp01(-c/a)
	} else if t > 1 {
		t, s = 1, clamp01((b-c)/a)
	}
	return p0.Add(d1.Mul(s)), q0.Add(d2.Mul(t))
}

func clamp01(x float64) float64 { return max(0, min(1, x)) }

// footOn returns the foot of the perpendicular from p on the triangle with
// normal n (any length), if it falls inside. The foot is put together from the
// corners, so it lies in the triangle whatever the rounding of n.
func footOn(t *triangle, n, p r3.Vector) (foot r3.Vector, ok bool) {
	nn := n.Dot(n)
	if nn == 0 {
		return foot, false
	}
	d := p.Sub(t[0])
	e1, e2 := t[1].Sub(t[0]), t[2].Sub(t[0])
	v := d.Cross(e2).Dot(n) / nn
	w := e1.Cross(d).Dot(n) / nn
	if v < 0 || w < 0 || v+w > 1 {
		return foot, false
	}
	return t[0].Add(e1.Mul(v)).Add(e2.Mul(w)), true
}

// pierces returns where the segment p q crosses the triangle with normal n, if
// it does. Ends on the plane count as crossing.
func pierces(t *triangle, n, p, q r3.Vector) (x r3.Vector, ok bool) {
	hp, hq := n.Dot(p.Sub(t[0])), n.Dot(q.Sub(t[0]))
	if (hp > 0) == (hq > 0) && hp != 0 && hq != 0 || hp == hq {
		return x, false
	}
	// Signed volumes of the segment against the three edges: the crossing lies
	// inside if all have one sign (scalar triple products; Ericson sec. 5.3.4).
	d, a, b, c := q.Sub(p), t[0].Sub(p), t[1].Sub(p), t[2].Sub(p)
	u, v, w := d.Dot(c.Cross(b)), d.Dot(a.Cross(c)), d.Dot(b.Cross(a))
	if (u < 0 || v < 0 || w < 0) && (u > 0 || v > 0 || w > 0) {
		return x, false
	}
	return p.Add(d.Mul(hp / (hp - hq))), true
}
