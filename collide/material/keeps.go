package material

import (
	"math"
	"math/bits"

	"github.com/golang/geo/r3"
)

// Keeps reports whether the body stays at least gap away from all that is left, mm, on all of its ways and wherever
// within s.Off it is, and at least gap + raw from what is left of the surface as it was. It says so only where each
// brick, or each cell in it, is on the other side of a plane that is so far from the body. Otherwise it tells the
// deepest place where it could not be shown.
//
// Raw counts where a cell of the surface was not touched by any cutter. Where the solid as it stands may be up to
// some mm from where the model has it, a skin can be left beside a cutter that went exactly along the surface,
// which no cell tells. Who must be sure of that adds those mm to the chord error of New instead: then they are
// part of the model, and raw is 0.
func (m *Model) Keeps(b *Body, s *Sweep, gap, raw float64) (Near, bool) {
	return m.ask(b, s, gap, raw, false)
}

// Apart is whether Keeps is proven, and no more: where it is not, the first place that is met ends it.
func (m *Model) Apart(b *Body, s *Sweep, gap, raw float64) bool {
	_, ok := m.ask(b, s, gap, raw, true)
	return ok
}

// ask is Keeps; if brief is set it ends at the first place that is met.
func (m *Model) ask(b *Body, s *Sweep, gap, raw float64, brief bool) (Near, bool) {
	f := figureOf(b, s)
	if len(m.bricks) == 0 || f.empty() {
		return Near{}, true
	}
	q := asking{m: m, f: &f, b: b, s: s, gap: gap + s.Off + m.slack, raw: max(0, raw), brief: brief}
	q.envelope.sides = q.sides[:0]
	q.round = b.Outline != nil && q.envelope.place(b.Outline, s, 0)
	lo, hi := f.bounds()
	first, last := m.span(lo, hi, q.gap+q.raw, side*m.cell, m.n)
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
	m        *Model
	f        *figure
	b        *Body
	s        *Sweep
	gap, raw float64
	near     Near
	met      bool
	brief    bool // one place that is met is all that is wanted
	recent   [12]direction
	known    int
	served   int // the one that did last
	next     int
	hint     r3.Vector // where to look for the next plane first
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
	if q.cubeApart(base.Add(r3.Vector{X: half, Y: half, Z: half}), half, q.gap+q.raw, 4) {
		return
	}
	half /= 2
	for k := range 8 {
		x, y, z := k&1*4, k>>1&1*4, k>>2*4
		mask := blocks[4] << (y*side + x)
		left, fresh := uint64(0), uint64(0)
		for j := z; j < z+4; j++ {
			left |= b.left[j] & mask
			fresh |= b.left[j] &^ b.whole[j] &^ b.touched[j] & mask
		}
		if left == 0 {
			continue
		}
		gap := q.gap
		if fresh != 0 {
			gap += q.raw
		}
		corner := base.Add(r3.Vector{X: float64(x), Y: float64(y), Z: float64(z)}.Mul(m.cell))
		if q.guardApart(&b.guard[k], base, gap) || q.cubeApart(corner.Add(r3.Vector{X: half, Y: half, Z: half}), half, gap, 2) {
			continue
		}
		for j := z; j < z+4; j++ {
			for w := b.left[j] & mask; w != 0; w &= w - 1 {
				q.cell(base, b, j, bits.TrailingZeros64(w))
				if q.brief && q.met {
					return
				}
			}
		}
	}
}

// guardApart reports whether the figure is in front of the guard of an eighth of a brick.
func (q *asking) guardApart(g *plane, base r3.Vector, gap float64) bool {
	return *g != (plane{}) && q.inFront(g, base, gap)
}

// inFront reports whether the figure is at least gap in front of a plane that is seen from c.
func (q *asking) inFront(p *plane, c r3.Vector, gap float64) bool {
	n := p.normal()
	u := n.Mul(-1)
	at := float64(p.d) + n.Dot(c)
	for i := range q.known {
		if q.recent[i].u == u {
			return -q.recent[i].far >= at+gap*(1+0x1p-22)
		}
	}
	far := q.f.far(u)
	q.remember(u, far)
	return -far >= at+gap*(1+0x1p-22) // n is a unit vector to 2^-24 or so
}

// mostSteps ends a search for a plane that gets nowhere; it takes three or four mostly.
const mostSteps = 64

// cell looks at cell k of layer z in the brick with the lowest corner base.
func (q *asking) cell(base r3.Vector, b *brick, z, k int) {
	m := q.m
	half := m.cell / 2
	c := base.Add(r3.Vector{X: float64(k%side) + 0.5, Y: float64(k/side) + 0.5, Z: float64(z) + 0.5}.Mul(m.cell))
	untouched := b.touched[z]>>k&1 == 0
	whole := b.whole[z]>>k&1 != 0
	gap, steps := q.gap, 0
	if untouched && !whole {
		gap += q.raw
	}
	if whole {
		steps = mostSteps
	}
	if q.cubeApart(c, half, gap, steps) {
		return
	}
	if whole {
		q.meet(c, c, untouched, false)
		return
	}
	p := b.part(z, k)
	q.piece(p, 0, c, gap)
	if p.either {
		q.piece(p, 1, c, gap)
	}
}

// piece looks at one of the pieces of what is left of a cell about c.
func (q *asking) piece(p *part, piece int, c r3.Vector, gap float64) {
	for i := range p.n {
		if p.either && i == uint8(1-piece) {
			continue
		}
		if q.inFront(&p.plane[i], c, gap) {
			return
		}
	}
	if p.piece(piece, &q.hull, q.m.cell/2) && !q.hullApart(&q.hull, c, gap, mostSteps) {
		q.meet(c.Add(q.hull.middle()), c, false, p.coarse)
	}
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
	if !q.round {
		return 0
	}
	return -q.envelope.depth(p)
}
