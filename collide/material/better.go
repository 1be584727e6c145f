package material

import (
	"math"

	"github.com/golang/geo/r3"
)

// cubeBetter gives a cell, phi at the corners of whose cube is known, the plane that takes most, of those that were
// thought of. The cell is full, or has one plane; the new one takes its place if it is turned little from it, and
// less is left.
func (c *cutting) cubeBetter(p *part, mid r3.Vector, half float64) bool {
	h := &unitCube
	var g r3.Vector
	for i := range 8 {
		f := max(-half, min(half, c.value[i]))
		g = g.Add(h.corner[i].Mul(f))
	}
	old := p.plane[0]
	least := float64(p.size) * (1 - 1e-4)
	found := false
	for _, u := range c.directions(mid.Add(h.exits(&c.value).Mul(half)), g) {
		q := planeOf(u.Mul(-1))
		u = q.normal()
		if p.n > 0 && u.Dot(old.normal()) < alike {
			continue
		}
		q.d = up(half*h.reach(u, &c.value) + 1e-9*half)
		if v := below(u, float64(q.d), half); v < least {
			if p.n > 0 {
				q.instead(&old)
			}
			least, p.plane[0], found = v, q, true
		}
	}
	if found {
		p.n, p.size = 1, up(least)
	}
	return found
}

// alike is the cosine of an angle by which planes are turned little from each other.
const alike = 0.95

var unitCube = func() (h hull) {
	h.cube(1)
	return h
}()

// directions returns normals of the envelope worth trying: that at a place on it, and the gradient of phi over the
// cell where it is another, as it is at an edge of the envelope.
func (c *cutting) directions(at, gradient r3.Vector) []r3.Vector {
	out := c.out(at)
	c.try[0] = out
	l := gradient.Norm()
	c.edged = l > 0 && out.Dot(gradient) <= 0.995*l
	if !c.edged {
		return c.try[:1]
	}
	c.try[1] = gradient
	return c.try[:2]
}

// cap returns the plane that takes the thickest cap from the hull at hand, of those that were thought of; ok is false
// where none is worth it.
func (c *cutting) cap(mid r3.Vector, half float64) (best plane, ok bool) {
	h := &c.hull
	most := 2 * notWorth * half
	for _, u := range c.directions(mid.Add(h.exits(&c.value)), h.slope(&c.value, half)) {
		q := planeOf(u.Mul(-1))
		u = q.normal()
		q.d = up(h.reach(u, &c.value) + 1e-9*half)
		if v := h.far(u) - float64(q.d); v > most {
			most, best, ok = v, q, true
		}
	}
	return best, ok
}

// better adds a plane to the part, whose hull is at hand, and reports whether there is one that is worth it.
func (c *cutting) better(p *part, mid r3.Vector, half float64) bool {
	best, ok := c.cap(mid, half)
	if !ok {
		return false
	}
	r := &c.rest
	r.copy(&c.hull)
	if !r.clip(best.normal(), float64(best.d)+1e-9*half) {
		return false
	}
	size := r.volume() / (8 * half * half * half)
	if size >= float64(p.size)*(1-1e-4) {
		return false
	}
	old := *p
	p.add(&best, r, size, half)
	if p.size >= old.size { // too many planes, and none to spare
		*p = old
		return false
	}
	return true
}

// reach returns the largest u.x over what of the edges is not known to be in the envelope.
func (h *hull) reach(u r3.Vector, value *[mostCorners]float64) float64 {
	far := math.Inf(-1)
	for i := range h.edges {
		e := &h.edge[i]
		a, b := value[e.a], value[e.b]
		if a <= 0 && b <= 0 {
			continue
		}
		ua, ub := u.Dot(h.corner[e.a]), u.Dot(h.corner[e.b])
		if a > 0 {
			far = max(far, ua)
		}
		if b > 0 {
			far = max(far, ub)
		}
		if (a > 0) != (b > 0) {
			far = max(far, ua+(ub-ua)*(a/(a-b)))
		}
	}
	return far
}

// exits returns the mean of the places where edges leave the envelope.
func (h *hull) exits(value *[mostCorners]float64) (m r3.Vector) {
	n := 0
	for i := range h.edges {
		e := &h.edge[i]
		a, b := value[e.a], value[e.b]
		if (a > 0) != (b > 0) {
			m = m.Add(h.corner[e.a]).Add(h.corner[e.b].Sub(h.corner[e.a]).Mul(a / (a - b)))
			n++
		}
	}
	return m.Mul(1 / float64(max(n, 1)))
}

// slope returns the gradient of the linear function that is nearest to the values at the corners, cut off at
// half a cell as what is beyond the surface does not matter.
func (h *hull) slope(value *[mostCorners]float64, half float64) r3.Vector {
	m := h.middle()
	var s [6]float64
	var g r3.Vector
	for i := range h.corners {
		v := h.corner[i].Sub(m)
		f := max(-half, min(half, value[i]))
		g = g.Add(v.Mul(f))
		s[0] += v.X * v.X
		s[1] += v.Y * v.Y
		s[2] += v.Z * v.Z
		s[3] += v.X * v.Y
		s[4] += v.Y * v.Z
		s[5] += v.Z * v.X
	}
	// The columns of the normal matrix; Cramer's rule.
	a := r3.Vector{X: s[0], Y: s[3], Z: s[5]}
	b := r3.Vector{X: s[3], Y: s[1], Z: s[4]}
	c := r3.Vector{X: s[5], Y: s[4], Z: s[2]}
	det := a.Dot(b.Cross(c))
	if det <= 1e-9*s[0]*s[1]*s[2] || det == 0 {
		return g
	}
	return r3.Vector{X: g.Dot(b.Cross(c)), Y: a.Dot(g.Cross(c)), Z: a.Dot(b.Cross(g))}.Mul(1 / det)
}

// add puts a plane into the part; rest is what it leaves, size how much. Planes that are in front of the rest go; where
// there are too many, the one goes that takes least.
func (p *part) add(q *plane, rest *hull, size, half float64) {
	n, better := uint8(0), *q
	for i := range p.n {
		o := p.plane[i]
		far := rest.far(o.normal())
		spare := far < float64(o.d)-1e-6*half
		switch {
		case spare && o.normal().Dot(q.normal()) > alike:
			better.instead(&o)
		case !spare || far >= float64(o.d-o.back): // it tells something of the solid as drawn, if nothing else
			p.plane[n] = o
			n++
		}
	}
	p.n = n
	if p.n == mostPlanes {
		size = p.drop(&better, half)
	} else {
		p.plane[p.n] = better
		p.n++
	}
	p.size = up(min(1, size))
}

// drop puts q in the place of one of the planes, the one that is turned least from it or, if all are turned a good
// deal, the one that takes least. It returns the volume that is left, cells.
func (p *part) drop(q *plane, half float64) (size float64) {
	size = math.Inf(1)
	only, most := -1, 0.9
	for i := range p.plane {
		if t := p.plane[i].normal().Dot(q.normal()); t > most {
			only, most = i, t
		}
	}
	best := *p
	for i := range p.plane {
		if only >= 0 && i != only {
			continue
		}
		t := *p
		t.plane[i] = *q
		var h hull
		t.hullOf(&h, half)
		if v := h.volume() / (8 * half * half * half); v < size {
			size, best = v, t
		}
	}
	*p = best
	return size
}
