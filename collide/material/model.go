package material

import (
	"math"
	"math/bits"

	"gridswing/geom"

	"github.com/golang/geo/r3"
)

// Model is what is left of a solid. Queries may run on several goroutines, a Cut may not run beside anything.
type Model struct {
	cell   float64 // side of a cell, mm
	lo     r3.Vector
	n      [3]int   // bricks along each axis
	bricks []*brick // nil: empty
	volume float64  // cells, as drawn
	play   float64  // how far the solid may stand from where it is drawn, mm
	token  *byte    // marks the bricks that are this model's own
	// slack counts the rounding of positions: 64 operations in float64 at the largest coordinate, and what
	// makes up for that is far below anything measured, 1e-9 mm.
	slack float64

	cutting cutting // the memory of Cut
}

// Cells stand in bricks of side^3, x first.
const (
	side  = 8
	cells = side * side * side
)

// mostPlanes is how many planes a cell may hold. Two tell an edge, three a corner.
const mostPlanes = 4

// brick holds side^3 cells, a word of bits for each layer of z.
type brick struct {
	token *byte
	left  [side]uint64 // cells that are not empty
	whole [side]uint64 // cells that are full: of the solid, and no cutter has taken from them
	// touched are those that a cutter has taken from, or has been in all the same and covered no corner of.
	touched [side]uint64
	at      []uint16 // of each cell that is neither: its place in parts; nil if there are none
	parts   []part
	free    []uint16 // unused places in parts
	guard   guards
}

// part is what is left of a cell: what is in front of none of the planes.
type part struct {
	n      uint8
	either bool    // left is what is behind one of the first two planes, and behind all others
	size   float32 // volume with the play, cells
	stuck  uint32  // the last cut that found nothing to take
	plane  [mostPlanes]plane
}

// plane is the half-space n.x <= d, seen from the cell's centre; n is a unit vector but for its rounding.
type plane struct {
	x, y, z, d float32
	// back is how far behind the plane what there is of the solid as drawn ends, mm: its play, where no cutter
	// went; less where one went along in front of that, 0 where farther in.
	back float32
}

// instead is told that p takes the place of a plane that is turned little from it.
func (p *plane) instead(of *plane) {
	p.back = max(p.back, p.d-(of.d-of.back))
}

func (p *plane) normal() r3.Vector {
	return r3.Vector{X: float64(p.x), Y: float64(p.y), Z: float64(p.z)}
}

// planeOf returns a plane whose normal is nearly n; its d is left to be found.
func planeOf(n r3.Vector) plane {
	n = n.Normalize()
	return plane{x: float32(n.X), y: float32(n.Y), z: float32(n.Z)}
}

// up returns the least float32 not below d.
func up(d float64) float32 {
	f := float32(d)
	if float64(f) < d {
		f = math.Nextafter32(f, float32(math.Inf(1)))
	}
	return f
}

// hullOf sets h to what the part leaves of a cube of half side r, without what tells its two pieces. Planes are set back by what rounding can
// do to corners, so that the hull holds the part.
func (p *part) hullOf(h *hull, r float64) bool {
	h.cube(r)
	for i := p.pieces(); i < p.n; i++ {
		q := &p.plane[i]
		if !h.clip(q.normal(), float64(q.d)+1e-9*r) {
			return false
		}
	}
	return true
}

// Cell returns the side of a cell, mm.
func (m *Model) Cell() float64 { return m.cell }

// Volume returns the volume of what is left of the solid as drawn, mm3: up to what the cells tell too much.
func (m *Model) Volume() float64 { return m.volume * m.cell * m.cell * m.cell }

// Bounds returns a box around all that the model holds, to a cell; empty when there is nothing.
func (m *Model) Bounds() geom.Box {
	box := geom.EmptyBox()
	for i, b := range m.bricks {
		if b == nil {
			continue
		}
		lo := m.corner(i)
		for z, word := range b.left {
			for ; word != 0; word &= word - 1 {
				k := bits.TrailingZeros64(word)
				c := lo.Add(r3.Vector{X: float64(k % side), Y: float64(k / side), Z: float64(z)}.Mul(m.cell))
				box = box.Include(c).Include(c.Add(r3.Vector{X: m.cell, Y: m.cell, Z: m.cell}))
			}
		}
	}
	return box
}

// Clone returns a model that is cut apart from m. Bricks are shared until one of the two cuts them.
func (m *Model) Clone() *Model {
	c := *m
	c.bricks = append([]*brick(nil), m.bricks...)
	c.cutting = cutting{}
	m.token, c.token = new(byte), new(byte)
	return &c
}

// corner returns the lowest corner of brick i.
func (m *Model) corner(i int) r3.Vector {
	x, y, z := i%m.n[0], i/m.n[0]%m.n[1], i/m.n[0]/m.n[1]
	return m.lo.Add(r3.Vector{X: float64(x), Y: float64(y), Z: float64(z)}.Mul(side * m.cell))
}

// middleOf returns the centre of cell k in layer z of brick i.
func (m *Model) middleOf(i, z, k int) r3.Vector {
	return m.corner(i).Add(r3.Vector{X: float64(k%side) + 0.5, Y: float64(k/side) + 0.5, Z: float64(z) + 0.5}.Mul(m.cell))
}

// own returns brick i for writing.
func (m *Model) own(i int) *brick {
	b := m.bricks[i]
	if b.token == m.token {
		return b
	}
	c := *b
	c.token = m.token
	c.at = append([]uint16(nil), b.at...)
	c.parts = append([]part(nil), b.parts...)
	c.free = append([]uint16(nil), b.free...)
	m.bricks[i] = &c
	return &c
}

// part returns what is left of a cell that is neither empty nor full.
func (b *brick) part(z, k int) *part { return &b.parts[b.at[z*cells/side+k]] }

// clear empties a cell.
func (b *brick) clear(z, k int) {
	bit := uint64(1) << k
	if b.left[z]&bit != 0 && b.whole[z]&bit == 0 {
		b.free = append(b.free, b.at[z*cells/side+k])
	}
	b.left[z] &^= bit
	b.whole[z] &^= bit
}

// put makes a full cell one that has a part.
func (b *brick) put(z, k int, p *part) {
	if b.at == nil {
		b.at = make([]uint16, cells)
	}
	bit := uint64(1) << k
	b.left[z] |= bit
	b.whole[z] &^= bit
	if n := len(b.free); n > 0 {
		b.at[z*cells/side+k] = b.free[n-1]
		b.free = b.free[:n-1]
		b.parts[b.at[z*cells/side+k]] = *p
		return
	}
	b.at[z*cells/side+k] = uint16(len(b.parts))
	b.parts = append(b.parts, *p)
}

// nothing reports whether all cells are empty.
func (b *brick) nothing() bool {
	for _, w := range b.left {
		if w != 0 {
			return false
		}
	}
	return true
}
