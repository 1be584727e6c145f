package material

import (
	"math"
	"math/bits"

	"github.com/golang/geo/r3"
)

// cutting is the memory of a cut.
type cutting struct {
	values [mostCorners]float64
}

// Cut takes away what is surely inside the outline made smaller by s.Off, somewhere on its way; there may be one
// way, or none.
//
// Of a cell it takes what is in front of a plane, so that what is left stays convex. phi (see envelope) is convex,
// so along an edge of what is left of the cell, from a corner in the envelope to one outside, it is
// below the straight line between the values at the two: where that is 0, the edge is still
// in the envelope. Let d be the largest n.x over all corners outside and over those places. Every edge is in the
// envelope where n.x > d, so the corners of what is in front of the plane are in the envelope, and all of it is.
//
// n is about phi's gradient. What is given away is then how far phi is from a linear function within the
// cell, which is cell^2 x curvature where the envelope is smooth: second order in the cell's size. Along an
// inner edge that a cutter's own edge leaves it is first order, over a strip as wide as a cell, so
// that the volume is of second order there too.
func (m *Model) Cut(o Outline, s *Sweep) (t Taken) {
	e, ok := newEnvelope(o, s, s.Off+m.slack)
	if !ok || len(m.bricks) == 0 || len(s.Ways) > 1 {
		return t
	}
	f := figureOf(&Body{Outline: o}, s)
	lo, hi := f.bounds()
	first, last := m.span(lo, hi, 0, side*m.cell, m.n)
	r := side * m.cell / 2 * math.Sqrt(3)
	for z := first[2]; z <= last[2]; z++ {
		for y := first[1]; y <= last[1]; y++ {
			for x := first[0]; x <= last[0]; x++ {
				i := (z*m.n[1]+y)*m.n[0] + x
				b := m.bricks[i]
				if b == nil {
					continue
				}
				c := m.corner(i).Add(r3.Vector{X: 1, Y: 1, Z: 1}.Mul(side * m.cell / 2))
				switch g := e.depth(c); {
				case g > r:
				case g < -r:
					t.Volume += b.size()
					t.Any = true
					m.bricks[i] = nil
				default:
					m.cutBrick(&e, i, &t)
				}
			}
		}
	}
	m.volume -= t.Volume
	t.Volume *= m.cell * m.cell * m.cell
	return t
}

// cutBrick cuts the cells of brick i.
func (m *Model) cutBrick(e *envelope, i int, t *Taken) {
	b := m.own(i)
	r := m.cell / 2 * math.Sqrt(3)
	for z := range side {
		for w := b.left[z]; w != 0; w &= w - 1 {
			k := bits.TrailingZeros64(w)
			c := m.middleOf(i, z, k)
			switch g := e.depth(c); {
			case g > r:
			case g < -r:
				t.Any = true
				t.Volume += b.sizeOf(z, k)
				b.clear(z, k)
			default:
				m.cutCell(e, b, z, k, c, t)
			}
		}
	}
	if b.nothing() {
		m.bricks[i] = nil
	}
}

// sizeOf returns the volume of a cell that is not empty, cells.
func (b *brick) sizeOf(z, k int) float64 {
	if b.whole[z]>>k&1 != 0 {
		return 1
	}
	return float64(b.part(z, k).size)
}

// cutCell cuts one cell, whose centre is c.
func (m *Model) cutCell(e *envelope, b *brick, z, k int, c r3.Vector, t *Taken) {
	var h hull
	var p part
	half := m.cell / 2
	whole := b.whole[z]>>k&1 != 0
	if whole {
		h.cube(half)
		p.size = 1
	} else {
		p = *b.part(z, k)
		if !p.hullOf(&h, half) {
			t.Volume += float64(p.size)
			b.clear(z, k)
			return
		}
	}
	value := &m.cutting.values
	in, out := 0, 0
	for i := range h.corners {
		value[i] = e.depth(c.Add(h.corner[i]))
		if value[i] <= 0 {
			in++
		} else {
			out++
		}
	}
	if out == 0 {
		t.Any = true
		t.Volume += float64(p.size)
		b.clear(z, k)
		return
	}
	if in == 0 {
		return
	}
	t.Any = true
	old := p.size
	if !h.better(&p, e, c, value, half) {
		return
	}
	t.Volume += float64(old) - float64(p.size)
	b.touched[z] |= 1 << k
	if whole {
		b.put(z, k, &p)
		return
	}
	*b.part(z, k) = p
}

// better adds to the part the plane that takes most, of those that were thought of, and reports whether there
// is any that takes something.
func (h *hull) better(p *part, e *envelope, c r3.Vector, value *[mostCorners]float64, half float64) bool {
	var best plane
	var rest hull
	least := float64(p.size) * (1 - 1e-4)
	found := false
	for _, n := range [2]r3.Vector{h.slope(value, half), e.out(c.Add(h.exits(value)))} {
		if n.Norm2() < 1e-12 {
			continue
		}
		q := planeOf(n.Mul(-1))
		u := q.normal()
		q.d = up(h.reach(u, value) + 1e-9*half)
		r := *h
		if !r.clip(u, float64(q.d)+1e-9*half) {
			continue
		}
		if v := r.volume() / (8 * half * half * half); v < least {
			least, best, rest, found = v, q, r, true
		}
	}
	if !found {
		return false
	}
	p.add(&best, &rest, half)
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

// add puts a plane into the part; rest is what it leaves. Planes that are in front of the rest go; where there
// are too many, the one goes that takes least.
func (p *part) add(q *plane, rest *hull, half float64) {
	n := uint8(0)
	for i := range p.n {
		o := p.plane[i]
		if rest.far(o.normal()) >= float64(o.d)-1e-9*half {
			p.plane[n] = o
			n++
		}
	}
	p.n = n
	size := rest.volume()
	if p.n == mostPlanes {
		p.n = mostPlanes - 1
		size = p.drop(q, half)
	} else {
		p.plane[p.n] = *q
	}
	p.n++
	p.size = up(min(1, size/(8*half*half*half)))
}

// drop chooses among the planes and q which ones to keep, and returns the volume that they leave.
func (p *part) drop(q *plane, half float64) (size float64) {
	all := [mostPlanes + 1]plane{4: *q}
	copy(all[:], p.plane[:])
	size = math.Inf(1)
	for skip := range all {
		var t part
		for i := range all {
			if i != skip {
				t.plane[t.n] = all[i]
				t.n++
			}
		}
		var h hull
		t.hullOf(&h, half)
		if v := h.volume(); v < size {
			size = v
			p.plane = t.plane
		}
	}
	return size
}
