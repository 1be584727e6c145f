package geom

import (
	"math"
	"math/bits"
)

// welded is a mesh whose equal corners have been found. Corner c of the mesh is
// corner c%3 of facet c/3.
//
// Corners are equal if their coordinates are, exactly; -0 equals +0. There is no
// tolerance: corners that are merely near each other may be meant to be apart,
// and a file in which neighbours differ by rounding has gaps that somebody
// should hear of.
type welded struct {
	mesh     *Mesh
	vertex   []int32 // of every corner: its vertex, numbered as they first occur
	vertices int
}

// weld finds equal corners by hashing, with open addressing: expected time
// linear in the facets.
func weld(m *Mesh) *welded {
	w := &welded{mesh: m, vertex: make([]int32, 3*len(m.Facets))}
	// A closed mesh has about half as many vertices as facets (Euler).
	t := newVertexTable(len(m.Facets) / 2)
	for f := range m.Facets {
		for k := range 3 {
			c := 3*f + k
			w.vertex[c] = t.vertex(w, c)
		}
	}
	w.vertices = t.used
	return w
}

// corner returns where corner c lies.
func (w *welded) corner(c int32) Vertex { return w.mesh.Facets[c/3][c%3] }

// facet returns the vertices of facet f.
func (w *welded) facet(f int) (a, b, c int32) {
	v := w.vertex[3*f : 3*f+3]
	return v[0], v[1], v[2]
}

// vertexTable holds one slot for each vertex: the hash in the upper 32 bits, one
// more than the vertex's first corner in the lower; 0 is free. A vertex belongs
// at the slot that the first bits of its hash number, or as soon as possible
// behind; so the table is sorted by hash but for that, and grows in one sweep.
type vertexTable struct {
	slots []uint64
	shift int // from a hash to a slot
	used  int
}

func newVertexTable(expect int) *vertexTable {
	size := bits.Len(uint(expect + expect/2 + 8))
	return &vertexTable{slots: make([]uint64, 1<<size), shift: 32 - size}
}

// vertex returns the vertex of corner c, a new one if no earlier corner is equal.
func (t *vertexTable) vertex(w *welded, c int) int32 {
	p := positive(w.mesh.Facets[c/3][c%3])
	h := p.hash()
	for i := int(h >> t.shift); ; i++ {
		i &= len(t.slots) - 1
		s := t.slots[i]
		if s == 0 {
			t.slots[i] = uint64(h)<<32 | uint64(c+1)
			t.used++
			if 4*t.used > 3*len(t.slots) {
				t.grow()
			}
			return int32(t.used - 1)
		}
		if first := int(uint32(s)) - 1; uint32(s>>32) == h && positive(w.mesh.Facets[first/3][first%3]) == p {
			return w.vertex[first]
		}
	}
}

// grow doubles the table.
func (t *vertexTable) grow() {
	old := t.slots
	t.slots = make([]uint64, 2*len(old))
	t.shift--
	for _, s := range old {
		if s == 0 {
			continue
		}
		i := int(s >> 32 >> t.shift)
		for t.slots[i] != 0 {
			i = (i + 1) & (len(t.slots) - 1)
		}
		t.slots[i] = s
	}
}

// vertexBits are the bits of a vertex; equal bits are equal coordinates.
type vertexBits [3]uint32

// positive returns the bits of v with every -0 replaced by +0.
func positive(v Vertex) vertexBits {
	return vertexBits{math.Float32bits(v[0] + 0), math.Float32bits(v[1] + 0), math.Float32bits(v[2] + 0)}
}

// hash multiplies two words that hold the coordinates and folds the product, as
// the middle of a product depends on all bits of both factors; twice, so that
// zeros and round numbers scatter too. The constants are the first digits of the
// golden ratio and of the square root of 3, for want of anything to recommend others.
func (p vertexBits) hash() uint32 {
	const golden, root3 = 0x9e3779b97f4a7c15, 0xbb67ae8584caa73b
	hi, lo := bits.Mul64((uint64(p[0])<<32|uint64(p[1]))^golden, uint64(p[2])^root3)
	hi, lo = bits.Mul64(hi^lo, golden)
	return uint32((hi ^ lo) >> 32)
}
