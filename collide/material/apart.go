package material

import (
	"math"

	"github.com/golang/geo/r3"
)

// simplex is up to four points of the difference between a hull and a figure.
type simplex struct {
	n int
	p [4]r3.Vector
}

// hullApart looks for a plane between the figure and a hull about c, gap apart: the algorithm of Gilbert, Johnson
// and Keerthi (IEEE J. Robotics Automation 4(2), 1988). x is the point nearest to the origin of a simplex in the
// difference of the two; what of the difference is farthest against x joins it. Every step tells a direction, and it
// is by support functions along one that the two are said to be apart, however it was come by.
func (q *asking) hullApart(h *hull, c r3.Vector, gap float64, steps int) bool {
	x := q.hint
	if x == (r3.Vector{}) {
		x = c.Sub(q.f.origin)
	}
	var s simplex
	last := math.Inf(1)
	for range steps {
		l := x.Norm()
		if l == 0 {
			return false
		}
		u := x.Mul(1 / l)
		p, far := q.f.farthest(u)
		least, corner := math.Inf(1), 0
		for i := range h.corners {
			if v := u.Dot(h.corner[i]); v < least {
				least, corner = v, i
			}
		}
		if u.Dot(c)+least >= far+gap {
			q.remember(u, far)
			q.hint = x
			return true
		}
		s.p[s.n] = c.Add(h.corner[corner]).Sub(p)
		s.n++
		x = s.nearest()
		l = x.Norm()
		// Once there is a point of the difference that near, no plane will do.
		if l <= gap || l >= last*(1-1e-12) {
			return false
		}
		last = l
	}
	return false
}

// nearest returns the simplex's point nearest to the origin, and leaves of the simplex only the corners that it lies
// between.
func (s *simplex) nearest() (x r3.Vector) {
	if s.n == 4 && s.around() {
		return r3.Vector{}
	}
	least := math.Inf(1)
	var keep [3]int
	kept := 0
	try := func(p r3.Vector, corners ...int) {
		if d := p.Norm2(); d < least {
			least, x = d, p
			kept = copy(keep[:], corners)
		}
	}
	for i := range s.n {
		try(s.p[i], i)
		for j := i + 1; j < s.n; j++ {
			d := s.p[j].Sub(s.p[i])
			if t := -s.p[i].Dot(d) / d.Dot(d); t > 0 && t < 1 {
				try(s.p[i].Add(d.Mul(t)), i, j)
			}
			for k := j + 1; k < s.n; k++ {
				if p, ok := inTriangle(s.p[i], s.p[j], s.p[k]); ok {
					try(p, i, j, k)
				}
			}
		}
	}
	var t simplex
	for _, i := range keep[:kept] {
		t.p[t.n] = s.p[i]
		t.n++
	}
	*s = t
	return x
}

// inTriangle returns the foot of the origin on the plane of abc, if it lies between the three.
func inTriangle(a, b, c r3.Vector) (p r3.Vector, ok bool) {
	n := b.Sub(a).Cross(c.Sub(a))
	n2 := n.Norm2()
	if n2 == 0 {
		return p, false
	}
	if n.Dot(a.Cross(b)) < 0 || n.Dot(b.Cross(c)) < 0 || n.Dot(c.Cross(a)) < 0 {
		return p, false
	}
	return n.Mul(n.Dot(a) / n2), true
}

// around reports whether the origin is within four points.
func (s *simplex) around() bool {
	a, b, c, d := s.p[0], s.p[1], s.p[2], s.p[3]
	sign := func(a, b, c, d r3.Vector) float64 {
		n := b.Sub(a).Cross(c.Sub(a))
		return n.Dot(d.Sub(a)) * -n.Dot(a)
	}
	return sign(a, b, c, d) > 0 && sign(b, c, d, a) > 0 && sign(c, d, a, b) > 0 && sign(d, a, b, c) > 0
}
