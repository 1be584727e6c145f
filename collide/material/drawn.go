package material

import (
	"math/bits"
)

// What follows tells of the solid as drawn: a plane of it is set back by the play that it was set out by. Nothing is
// proven from that.

// raw reports whether one of the planes is set back.
func (p *part) raw() bool {
	for i := range p.n {
		if p.plane[i].back != 0 {
			return true
		}
	}
	return false
}

// drawn returns the part of the solid as drawn.
func (p *part) drawn() part {
	q := *p
	for i := range q.n {
		q.plane[i].d -= q.plane[i].back
		q.plane[i].back = 0
	}
	return q
}

// sizeOf returns the volume of a part of the solid as drawn, cells.
func (m *Model) sizeOf(p *part) float64 {
	if !p.raw() {
		return float64(p.size)
	}
	half := m.cell / 2
	q := p.drawn()
	if q.n == 1 {
		return below(q.plane[0].normal(), float64(q.plane[0].d), half)
	}
	var h hull
	if q.either {
		return float64(q.union(&h, half))
	}
	if !q.hullOf(&h, half) {
		return 0
	}
	return min(1, h.volume()/(8*half*half*half))
}

// sizeAt returns the volume of a cell that is not empty, cells.
func (m *Model) sizeAt(b *brick, z, k int) float64 {
	if b.whole[z]>>k&1 != 0 {
		return 1
	}
	return m.sizeOf(b.part(z, k))
}

// size returns the volume in a brick, cells.
func (m *Model) size(b *brick) float64 {
	sum := 0.0
	for z := range side {
		sum += float64(bits.OnesCount64(b.whole[z]))
		for w := b.left[z] &^ b.whole[z]; w != 0; w &= w - 1 {
			sum += m.sizeOf(b.part(z, bits.TrailingZeros64(w)))
		}
	}
	return sum
}

// asDrawn returns a model of what is left of the solid as drawn; it is neither cut nor asked.
func (m *Model) asDrawn() *Model {
	if m.play == 0 {
		return m
	}
	c := m.Clone()
	for i, b := range c.bricks {
		if b == nil || len(b.parts) == 0 {
			continue
		}
		b = c.own(i)
		for n := range b.parts {
			b.parts[n] = b.parts[n].drawn()
		}
	}
	c.play = 0
	return c
}
