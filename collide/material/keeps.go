package material

import (
	"math"
	"math/bits"

	"github.com/golang/geo/r3"
)

// Keeps reports whether the body stays at least gap away from all that is left, mm, on all of its ways and wherever
// within s.Off it is. It says so only where each brick, or each cell in it, is on the other side of a plane that is so
// far from the body. Otherwise it tells the deepest place where it could not be shown.
func (m *Model) Keeps(b *Body, s *Sweep, gap float64) (Near, bool) {
	q := asking{gap: gap}
	return m.ask(&q, b, s)
}

// Apart is whether Keeps is proven, and no more: where it is not, the first place that is met ends it.
func (m *Model) Apart(b *Body, s *Sweep, gap float64) bool {
	q := asking{gap: gap, brief: true}
	_, ok := m.ask(&q, b, s)
	return ok
}

// ApartAsDrawn is Apart if the solid stands where it is drawn. It is for words, not for a promise.
func (m *Model) ApartAsDrawn(b *Body, s *Sweep, gap float64) bool {
	q := asking{gap: gap, brief: true, drawn: true}
	_, ok := m.ask(&q, b, s)
	return ok
}

// Uncut is Apart from those cells alone from which no cutter has taken anything: of them the model has hardly more than
// there was.
func (m *Model) Uncut(b *Body, s *Sweep, gap float64) bool {
	q := asking{gap: gap, brief: true, uncut: true}
	_, ok := m.ask(&q, b, s)
	return ok
}

func (m *Model) ask(q *asking, b *Body, s *Sweep) (Near, bool) {
	f := figureOf(b, s)
	if len(m.bricks) == 0 || f.empty() {
		return Near{}, true
	}
	q.m, q.f, q.s = m, &f, s
	q.gap += s.Off + m.slack
	q.envelope.sides = q.sides[:0]
	q.round = b.Outline != nil && q.envelope.place(b.Outline, s, 0)
	lo, hi := f.bounds()
	first, last := m.span(lo, hi, q.gap, side*m.cell, m.n)
	for z := first[2]; z <= last[2]; z++ {
		for y := first[1]; y <= last[1]; y++ {
			for x := first[0]; x <= last[0]; x++ {
				i := (z*m.n[1]+y)*m.n[0] + x
				if m.bricks[i] != nil {
					q.brick(i)
					if q.brief && q.met {
						return q.near, false
					}
				}
			}
		}
	}
	return q.near, !q.met
}

// asking is a query on its way.
type asking struct {
	m      *Model
	f      *figure
	s      *Sweep
	gap    float64
	near   Near
	met    bool
	brief  bool // one place that is met is all that is wanted
	drawn  bool // the solid is where it is drawn
	uncut  bool // cells that a cutter has been in are not looked at
	recent [12]direction
	known  int
	served int // the one that did last
	next   int
	hint   r3.Vector // where to look for the next plane first
	// What is left of the cell at hand, and a cube of half side size.
	hull, cube hull
	size       float64
	envelope   envelope // of the body over its first way
	round      bool     // there is one
	sides      [16]flank
}

// direction is one that the figure was seen along: its farthest u.x.
type direction struct {
	u   r3.Vector
	far float64
}

// apart reports whether a cube is at least gap beyond the figure along the direction.
func (d *direction) apart(c r3.Vector, half, gap float64) bool {
	u := &d.u
	return u.X*c.X+u.Y*c.Y+u.Z*c.Z-half*(math.Abs(u.X)+math.Abs(u.Y)+math.Abs(u.Z)) >= d.far+gap
}

func (q *asking) remember(u r3.Vector, far float64) {
	q.recent[q.next] = direction{u, far}
	q.next = (q.next + 1) % len(q.recent)
	q.known = min(q.known+1, len(q.recent))
}

// cubeApart reports whether a cube is proven to be at least gap from the figure, by directions that did before, the one
// straight outward, and so many that are looked for.
func (q *asking) cubeApart(c r3.Vector, half, gap float64, steps int) bool {
	if q.served < q.known && q.recent[q.served].apart(c, half, gap) {
		return true
	}
	for i := range q.known {
		if q.recent[i].apart(c, half, gap) {
			q.served = i
			return true
		}
	}
	if q.round {
		// Straight outward from the body is mostly enough, and soon found.
		d := direction{u: q.envelope.out(c)}
		d.far = q.f.far(d.u)
		if d.apart(c, half, gap) {
			q.served = q.next
			q.remember(d.u, d.far)
			return true
		}
	}
	if steps == 0 {
		return false
	}
	if q.size != half {
		q.cube.cube(half)
		q.size = half
	}
	return q.hullApart(&q.cube, c, gap, steps)
}

// brick looks at a brick, at eighths of it where that does not do, and at their cells.
func (q *asking) brick(i int) {
	m := q.m
	b := m.bricks[i]
	half := side * m.cell / 2
	base := m.corner(i)
	if q.cubeApart(base.Add(r3.Vector{X: half, Y: half, Z: half}), half, q.gap, 4) {
		return
	}
	half /= 2
	for k := range 8 {
		x, y, z := k&1*4, k>>1&1*4, k>>2*4
		mask := blocks[4] << (y*side + x)
		left := uint64(0)
		for j := z; j < z+4; j++ {
			left |= q.looks(b, j) & mask
		}
		if left == 0 {
			continue
		}
		corner := base.Add(r3.Vector{X: float64(x), Y: float64(y), Z: float64(z)}.Mul(m.cell))
		if q.guardApart(&b.guard[k], base) || q.cubeApart(corner.Add(r3.Vector{X: half, Y: half, Z: half}), half, q.gap, 2) {
			continue
		}
		for j := z; j < z+4; j++ {
			for w := q.looks(b, j) & mask; w != 0; w &= w - 1 {
				q.cell(base, b, j, bits.TrailingZeros64(w))
				if q.brief && q.met {
					return
				}
			}
		}
	}
}

// looks returns the cells of a layer that are asked about.
func (q *asking) looks(b *brick, z int) uint64 {
	if q.uncut {
		return b.left[z] &^ b.touched[z]
	}
	return b.left[z]
}

// guardApart reports whether the figure is in front of the guard of an eighth of a brick.
func (q *asking) guardApart(g *plane, base r3.Vector) bool {
	return *g != (plane{}) && q.inFront(g, base)
}

// inFront reports whether the figure is at least gap in front of a plane that is seen from c.
func (q *asking) inFront(p *plane, c r3.Vector) bool {
	n := p.normal()
	u := n.Mul(-1)
	at := float64(p.d) + n.Dot(c)
	for i := range q.known {
		if q.recent[i].u == u {
			return -q.recent[i].far >= at+q.gap*(1+0x1p-22)
		}
	}
	far := q.f.far(u)
	q.remember(u, far)
	return -far >= at+q.gap*(1+0x1p-22) // n is a unit vector to 2^-24 or so
}

// mostSteps ends a search for a plane that gets nowhere; it takes three or four mostly.
const mostSteps = 64

// cell looks at cell k of layer z in the brick with the lowest corner base.
func (q *asking) cell(base r3.Vector, b *brick, z, k int) {
	half := q.m.cell / 2
	c := base.Add(r3.Vector{X: float64(k%side) + 0.5, Y: float64(k/side) + 0.5, Z: float64(z) + 0.5}.Mul(q.m.cell))
	if b.whole[z]>>k&1 != 0 {
		if !q.cubeApart(c, half, q.gap, mostSteps) {
			q.meet(c, b.touched[z]>>k&1 == 0)
		}
		return
	}
	if q.cubeApart(c, half, q.gap, 0) {
		return
	}
	p := b.part(z, k)
	if q.drawn && p.raw() {
		drawn := p.drawn()
		p = &drawn
	}
	q.piece(p, 0, c)
	if p.either {
		q.piece(p, 1, c)
	}
}

// piece looks at one of the pieces of what is left of a cell about c.
func (q *asking) piece(p *part, piece int, c r3.Vector) {
	for i := range p.n {
		if p.either && i == uint8(1-piece) {
			continue
		}
		if q.inFront(&p.plane[i], c) {
			return
		}
	}
	if p.piece(piece, &q.hull, q.m.cell/2) && !q.hullApart(&q.hull, c, q.gap, mostSteps) {
		q.meet(c.Add(q.hull.middle()), false)
	}
}

// meet notes a place that the figure is not proven to keep clear of; solid is set where there is material for certain.
func (q *asking) meet(p r3.Vector, solid bool) {
	depth := q.depth(p) - q.s.Off
	sure := solid && depth > 0
	depth = max(0, depth)
	if !q.met || sure && !q.near.Sure || sure == q.near.Sure && depth > q.near.Depth {
		q.near = Near{Point: p, Depth: depth, Sure: sure}
	}
	q.met = true
}

// depth returns how far p is in the figure: no point of the figure's surface is nearer. Only the first way is
// looked along; not above 0 where p is not known to be inside.
func (q *asking) depth(p r3.Vector) float64 {
	if !q.round {
		return 0
	}
	return -q.envelope.depth(p)
}
