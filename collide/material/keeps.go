package material

import (
	"math"
	"math/bits"

	"github.com/golang/geo/r3"
)

// Keeps reports whether the body stays at least gap away from all that is left, mm, on all of its ways and wherever
// within s.Off it is, and at least gap + raw from cells that no cutter has touched. It says so only where each
// brick, or each cell in it, is on the other side of a plane that is so far from the body. Otherwise it tells the
// deepest place where it could not be shown.
func (m *Model) Keeps(b *Body, s *Sweep, gap, raw float64) (Near, bool) {
	f := figureOf(b, s)
	if len(m.bricks) == 0 || f.empty() {
		return Near{}, true
	}
	q := asking{m: m, f: &f, b: b, s: s, gap: gap + s.Off + m.slack, raw: max(0, raw)}
	lo, hi := f.bounds()
	first, last := m.span(lo, hi, q.gap+q.raw, side*m.cell, m.n)
	for z := first[2]; z <= last[2]; z++ {
		for y := first[1]; y <= last[1]; y++ {
			for x := first[0]; x <= last[0]; x++ {
				i := (z*m.n[1]+y)*m.n[0] + x
				if m.bricks[i] != nil {
					q.brick(i)
				}
			}
		}
	}
	return q.near, !q.met
}

// asking is a query on its way.
type asking struct {
	m        *Model
	f        *figure
	b        *Body
	s        *Sweep
	gap, raw float64
	near     Near
	met      bool
	recent   [8]direction
	known    int
	next     int
	hint     r3.Vector // where to look for the next plane first
}

// direction is one that the figure was seen along: its farthest u.x.
type direction struct {
	u   r3.Vector
	far float64
}

func (q *asking) remember(u r3.Vector, far float64) {
	q.recent[q.next] = direction{u, far}
	q.next = (q.next + 1) % len(q.recent)
	q.known = min(q.known+1, len(q.recent))
}

// cubeApart reports whether a cube is proven to be at least gap from the figure.
func (q *asking) cubeApart(c r3.Vector, half, gap float64) bool {
	for i := range q.known {
		d := &q.recent[i]
		u := d.u
		if u.Dot(c)-half*(math.Abs(u.X)+math.Abs(u.Y)+math.Abs(u.Z)) >= d.far+gap {
			return true
		}
	}
	var h hull
	h.cube(half)
	return q.hullApart(&h, c, gap, 6)
}

func (q *asking) brick(i int) {
	m := q.m
	b := m.bricks[i]
	half := side * m.cell / 2
	c := m.corner(i).Add(r3.Vector{X: half, Y: half, Z: half})
	if q.cubeApart(c, half, q.gap+q.raw) {
		return
	}
	for z := range side {
		for w := b.left[z]; w != 0; w &= w - 1 {
			q.cell(i, b, z, bits.TrailingZeros64(w))
		}
	}
}

func (q *asking) cell(i int, b *brick, z, k int) {
	m := q.m
	half := m.cell / 2
	c := m.middleOf(i, z, k)
	untouched := b.touched[z]>>k&1 == 0
	gap := q.gap
	if untouched {
		gap += q.raw
	}
	if q.cubeApart(c, half, gap) {
		return
	}
	var h hull
	whole := b.whole[z]>>k&1 != 0
	coarse := false
	if whole {
		h.cube(half)
	} else {
		p := b.part(z, k)
		if q.planesApart(p, c, gap) || !p.hullOf(&h, half) {
			return
		}
		coarse = p.coarse
	}
	if q.hullApart(&h, c, gap, 64) {
		return
	}
	q.meet(c.Add(h.middle()), c, whole && untouched, coarse)
}

// planesApart reports whether the figure is in front of one of the part's planes.
func (q *asking) planesApart(p *part, c r3.Vector, gap float64) bool {
	for i := range p.n {
		o := &p.plane[i]
		n := o.normal()
		l := n.Norm()
		if -q.f.far(n.Mul(-1)) >= float64(o.d)+n.Dot(c)+gap*l {
			return true
		}
	}
	return false
}

// meet notes a cell that the figure is not proven to keep clear of, seen at p.
func (q *asking) meet(p, c r3.Vector, solid, coarse bool) {
	depth := max(0, q.depth(p)-q.s.Off)
	if !q.met || q.near.Coarse && !coarse || q.near.Coarse == coarse && depth > q.near.Depth {
		q.near.Point, q.near.Depth, q.near.Coarse = p, depth, coarse
	}
	q.met = true
	if solid && !q.near.Sure && q.depth(c) > q.s.Off {
		q.near.Sure = true
	}
}

// depth returns how far p is in the figure: no point of the figure's surface is nearer. Only the first way is
// looked along; not above 0 where p is not known to be inside.
func (q *asking) depth(p r3.Vector) float64 {
	if q.b.Outline == nil {
		return 0
	}
	var e envelope
	if !e.place(q.b.Outline, q.s, 0) {
		return 0
	}
	return -e.depth(p)
}
