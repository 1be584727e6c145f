package material

import (
	"math"
	"math/bits"

	"github.com/golang/geo/r3"
)

// guards hold for each eighth of it a plane that all that is left in it is behind, seen from
// the brick's lowest corner, the zero plane where none was found. They spare looking at cells.
type guards [8]plane

// eighth returns which eighth of a brick a cell is in.
func eighth(x, y, z int) int { return x>>2 | y>>2<<1 | z>>2<<2 }

// guard looks for a plane between what is left in an eighth of a brick, with its lowest cell at (x, y, z), and the
// envelope, after a cut that took nothing from it.
func (c *cutting) guard(b *brick, x, y, z int, cell float64, mid r3.Vector) {
	q := planeOf(c.out(mid).Mul(-1))
	n := q.normal()
	d := b.reach(n, x, y, z, cell)
	q.d = up(d + 1e-9*cell)
	if c.low(n) >= float64(q.d)+n.Dot(c.base)-notWorth*cell {
		b.guard[eighth(x, y, z)] = q
	}
}

// reach returns a bound of n.x over what is left in the 4^3 cells from (x, y, z) on, seen from the brick's lowest
// corner. For a plane m.x <= d of a cell, n.x = m.x + (n-m).x <= d + |n-m|1 half.
func (b *brick) reach(n r3.Vector, x, y, z int, cell float64) float64 {
	half := cell / 2
	cube := half * (math.Abs(n.X) + math.Abs(n.Y) + math.Abs(n.Z))
	far := math.Inf(-1)
	mask := blocks[4] << (y*side + x)
	for j := z; j < z+4; j++ {
		for w := b.left[j] & mask; w != 0; w &= w - 1 {
			k := bits.TrailingZeros64(w)
			at := (n.X*(float64(k%side)+0.5) + n.Y*(float64(k/side)+0.5) + n.Z*(float64(j)+0.5)) * cell
			if at+cube <= far {
				continue
			}
			most := cube
			if b.whole[j]>>k&1 == 0 {
				p := b.part(j, k)
				most = min(most, p.reach(n, half))
			}
			far = max(far, at+most)
		}
	}
	return far
}

// reach returns a bound of n.x over the part in a cube of half side half.
func (p *part) reach(n r3.Vector, half float64) float64 {
	most, pieces := math.Inf(1), math.Inf(-1)
	for i := range p.n {
		m := n.Sub(p.plane[i].normal())
		far := float64(p.plane[i].d) + half*(math.Abs(m.X)+math.Abs(m.Y)+math.Abs(m.Z))
		if i < p.pieces() {
			pieces = max(pieces, far)
		} else {
			most = min(most, far)
		}
	}
	if p.either {
		most = min(most, pieces)
	}
	return most
}

// guarded reports whether the envelope is behind the guard of an eighth, or hardly beyond.
func (c *cutting) guarded(b *brick, x, y, z int, cell float64) bool {
	q := &b.guard[eighth(x, y, z)]
	if *q == (plane{}) {
		return false
	}
	n := q.normal()
	return c.low(n) >= float64(q.d)+n.Dot(c.base)-notWorth*cell
}
