package material

import (
	"math"
	"math/bits"

	"github.com/golang/geo/r3"
)

// cutting is the memory of a cut.
type cutting struct {
	envelope
	figure figure
	taken  float64 // cells
	any    bool
	// Of the eighth of a brick at hand: whether anything was taken, and whether any cell was looked at.
	changed, looked bool
	base            r3.Vector // the lowest corner of the brick at hand
	value           [mostCorners]float64
	// phi at the corners of the brick's cells, those that were asked for in this round.
	lattice [(side + 1) * (side + 1) * (side + 1)]float64
	asked   [(side + 1) * (side + 1) * (side + 1)]uint32
	round   uint32
	// How far down along some directions the envelope reaches.
	lows [4]direction
	next int
	try  [2]r3.Vector
	// edged is set where an edge of the envelope is in the cell at hand.
	edged bool
	// What is left of the cell at hand, before and after.
	hull, rest hull
	// count is how many cuts there were. chain is set where the one before was of the same outline in nearly
	// the same attitude and ended where this one begins.
	count uint32
	chain bool
	// goesOn is set where the cut before ended where this one begins, which goes square to its axis: what
	// is behind its beginning has been cut.
	goesOn bool
	last   struct {
		first     *[2]float64
		n         int
		axis, end r3.Vector
		off       float64
	}
}

// begin places an outline, and reports whether there is anything in it.
func (c *cutting) begin(o Outline, s *Sweep, off float64) bool {
	c.taken, c.any, c.next = 0, false, 0
	if len(o) == 0 {
		return false
	}
	l := &c.last
	same := l.first == &o[0] && l.n == len(o) && l.end.Sub(s.Origin).Norm2() < 1e-18
	on := same && l.axis == s.Axis && l.off <= off
	c.chain = same && l.axis.Dot(s.Axis) > 0.999
	c.count++
	l.first, l.n, l.axis, l.off, l.end = &o[0], len(o), s.Axis, off, s.Origin
	for _, w := range s.Ways {
		l.end = l.end.Add(w)
	}
	c.lows = [4]direction{}
	c.figure = figureOf(&Body{Outline: o}, s)
	ok := c.place(o, s, off)
	c.goesOn = on && c.aside2 > 0 && math.Abs(c.rise) <= level
	return ok
}

// low returns the least n.x over the envelope.
func (c *cutting) low(n r3.Vector) float64 {
	for i := range c.lows {
		if c.lows[i].u == n {
			return c.lows[i].far
		}
	}
	low := c.off*n.Norm() - c.figure.far(n.Mul(-1))
	c.lows[c.next] = direction{n, low}
	c.next = (c.next + 1) % len(c.lows)
	return low
}

// corner returns phi at a corner of the brick's lattice.
func (c *cutting) corner(x, y, z int, cell float64) float64 {
	i := (z*(side+1)+y)*(side+1) + x
	if c.asked[i] != c.round {
		c.asked[i] = c.round
		c.lattice[i] = c.depth(r3.Vector{X: c.base.X + float64(x)*cell, Y: c.base.Y + float64(y)*cell, Z: c.base.Z + float64(z)*cell})
	}
	return c.lattice[i]
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
// that the volume is of second order there too; see wedge for how two planes do better.
//
// Not to cut is always right, so whatever is hardly worth it, or was looked at by the cut before, is left.
func (m *Model) Cut(o Outline, s *Sweep) Taken {
	c := &m.cutting
	if len(m.bricks) == 0 || len(s.Ways) > 1 || !c.begin(o, s, s.Off+m.slack) {
		return Taken{}
	}
	lo, hi := c.figure.bounds()
	first, last := m.span(lo, hi, 0, side*m.cell, m.n)
	half := side * m.cell / 2
	for z := first[2]; z <= last[2]; z++ {
		for y := first[1]; y <= last[1]; y++ {
			for x := first[0]; x <= last[0]; x++ {
				i := (z*m.n[1]+y)*m.n[0] + x
				b := m.bricks[i]
				if b == nil {
					continue
				}
				c.base = m.corner(i)
				switch out, in := c.beyond(c.base.Add(r3.Vector{X: half, Y: half, Z: half}), half*root3); {
				case out:
				case in:
					c.take(m.size(b))
					m.bricks[i] = nil
				default:
					m.cutBrick(i)
				}
			}
		}
	}
	m.volume -= c.taken
	return Taken{Volume: c.taken * m.cell * m.cell * m.cell, Any: c.any}
}

const root3 = 1.7320508075688774

// cutBrick cuts brick i: eighths of it, and eighths of those, are looked at before their cells.
func (m *Model) cutBrick(i int) {
	c := &m.cutting
	c.round++
	b := m.own(i)
	half := 2 * m.cell
	for k := range 8 {
		x, y, z := k&1*4, k>>1&1*4, k>>2*4
		if c.guarded(b, x, y, z, m.cell) {
			continue
		}
		c.changed, c.looked = false, false
		m.cutBlock(b, x, y, z, 4)
		switch {
		case c.changed:
			b.guard[k] = plane{}
		case c.looked:
			mid := r3.Vector{X: float64(x)*m.cell + half, Y: float64(y)*m.cell + half, Z: float64(z)*m.cell + half}
			c.guard(b, x, y, z, m.cell, c.base.Add(mid))
		}
	}
	if b.nothing() {
		m.bricks[i] = nil
	}
}

// cutBlock cuts n^3 cells of a brick, the lowest of them at (x, y, z).
func (m *Model) cutBlock(b *brick, x, y, z, n int) {
	c := &m.cutting
	mask := blocks[n] << (y*side + x)
	left := uint64(0)
	for j := range n {
		left |= b.left[z+j] & mask
	}
	if left == 0 {
		return
	}
	half := float64(n) / 2 * m.cell
	mid := r3.Vector{X: c.base.X + float64(x)*m.cell + half, Y: c.base.Y + float64(y)*m.cell + half, Z: c.base.Z + float64(z)*m.cell + half}
	if c.goesOn && c.behind(mid, half*root3) {
		return
	}
	switch out, in := c.beyond(mid, half*root3); {
	case out:
	case in:
		c.changed = true
		for j := range n {
			for w := b.left[z+j] & mask; w != 0; w &= w - 1 {
				k := bits.TrailingZeros64(w)
				c.take(m.sizeAt(b, z+j, k))
				b.clear(z+j, k)
			}
		}
	case n == 1:
		c.looked = true
		m.cutCell(b, x, y, z, mid)
	default:
		n /= 2
		for k := range 8 {
			m.cutBlock(b, x+k&1*n, y+k>>1&1*n, z+k>>2*n, n)
		}
	}
}

// take counts a volume, cells; what there is only where the solid stands off from where it is drawn is not met.
func (c *cutting) take(size float64) {
	c.taken += size
	c.any = c.any || size > 0
}

// behind reports whether all that is within r of p is nearest to where the way begins.
func (c *cutting) behind(p r3.Vector, r float64) bool {
	d := p.Sub(c.origin).Dot(c.aside)
	return d < 0 && d*d >= r*r*c.aside2
}

// blocks are the cells of a layer that are in a block of so many cells a side at its corner.
var blocks = [5]uint64{1: 1, 2: 0x0303, 4: 0x0f0f0f0f}

// cutCell cuts cell (x, y, z) of a brick, about mid.
func (m *Model) cutCell(b *brick, x, y, z int, mid r3.Vector) {
	c := &m.cutting
	k := y*side + x
	half := m.cell / 2
	if b.whole[z]>>k&1 != 0 {
		m.cutWhole(b, x, y, z, mid)
		return
	}
	p := b.part(z, k)
	if c.beside(p, mid, m.cell) {
		return
	}
	old := m.sizeOf(p)
	c.any = c.any || old > 0
	if c.passing(p, mid) {
		return
	}
	in := c.cube(x, y, z, m.cell)
	changed, all := in > 0, in == 8
	switch {
	case all || p.n == 0 && in == 0:
	case p.n == 0:
		changed = c.cutCube(p, mid, half)
	case p.either:
		changed, all = c.cutPieces(p, mid, half)
	default:
		changed = p.n == 1 && c.cubeBetter(p, mid, half)
		if !changed || c.edged {
			more := false
			more, all = c.cutPart(p, mid, half)
			changed = changed || more
		}
	}
	switch {
	case all:
		c.changed = true
		c.taken += old
		b.clear(z, k)
	case changed:
		c.changed = true
		c.taken += old - m.sizeOf(p)
		b.touched[z] |= 1 << k
	case !c.ahead(mid):
		p.stuck = c.count
	}
}

// cutPart cuts a part of one piece, and reports whether anything was taken, and whether all was.
func (c *cutting) cutPart(p *part, mid r3.Vector, half float64) (changed, all bool) {
	if !p.hullOf(&c.hull, half) || c.values(&c.hull, mid) {
		return true, true
	}
	was, value := *p, c.value
	changed = c.better(p, mid, half)
	c.value = value
	return c.wedge(p, &was, mid, half) || changed, false
}

// passing reports whether the cut before found nothing to take from a part that it was going past already: then nothing
// is looked for, which saves most of the work along an edge.
func (c *cutting) passing(p *part, mid r3.Vector) bool {
	if !c.chain || p.stuck != c.count-1 || p.stuck == 0 || c.ahead(mid) {
		return false
	}
	p.stuck = c.count
	return true
}

// ahead reports whether the cutter is nearest to a place at the end of its way.
func (c *cutting) ahead(p r3.Vector) bool {
	s, _, _ := c.across(p.Sub(c.origin))
	return s == 1
}

// cube finds phi at the corners of cell (x, y, z), and returns how many are in the envelope.
func (c *cutting) cube(x, y, z int, cell float64) (in int) {
	for i := range 8 {
		c.value[i] = c.corner(x+i&1, y+i>>1&1, z+i>>2, cell)
		if c.value[i] <= 0 {
			in++
		}
	}
	return in
}

// beside reports whether the envelope is behind a plane of the part, or reaches so little beyond it that it is not
// worth the cut.
func (c *cutting) beside(p *part, mid r3.Vector, cell float64) bool {
	behind := uint8(0)
	for i := range p.n {
		n := p.plane[i].normal()
		worth := notWorth * cell
		if i < p.pieces() {
			worth *= 3
		}
		if c.low(n) < float64(p.plane[i].d)+n.Dot(mid)-worth {
			continue
		}
		if behind++; !p.either || i > 1 || behind == 2 {
			return true
		}
	}
	return false
}

// notWorth is how much of a cell's side is left rather than cut once more.
const notWorth = 2e-3

// cutWhole cuts a full cell.
func (m *Model) cutWhole(b *brick, x, y, z int, mid r3.Vector) {
	c := &m.cutting
	k := y*side + x
	half := m.cell / 2
	switch c.cube(x, y, z, m.cell) {
	case 0:
		c.miss(b, z, k, mid, m.cell)
		return
	case 8:
		c.any, c.changed = true, true
		c.taken++
		b.clear(z, k)
		return
	}
	c.any = true
	p := part{size: 1}
	if !c.cutCube(&p, mid, half) {
		c.miss(b, z, k, mid, m.cell)
		return
	}
	c.changed = true
	c.taken += 1 - float64(p.size)
	b.touched[z] |= 1 << k
	b.put(z, k, &p)
}

// cutCube cuts a part without planes.
func (c *cutting) cutCube(p *part, mid r3.Vector, half float64) bool {
	was, value := *p, c.value
	changed := c.cubeBetter(p, mid, half)
	if c.edged {
		c.hull.cube(half)
		c.value = value
		changed = c.wedge(p, &was, mid, half) || changed
	}
	return changed
}

// miss notes a full cell from which nothing is taken, if the cutter is at its centre all the same, or nearly.
func (c *cutting) miss(b *brick, z, k int, mid r3.Vector, cell float64) {
	if c.depth(mid) < cell/4 {
		b.touched[z] |= 1 << k
	}
}

// values finds phi at the corners of a hull about mid, and reports whether all are in the envelope.
func (c *cutting) values(h *hull, mid r3.Vector) bool {
	all := true
	for i := range h.corners {
		c.value[i] = c.depth(mid.Add(h.corner[i]))
		all = all && c.value[i] <= 0
	}
	return all
}
