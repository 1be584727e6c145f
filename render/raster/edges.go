package raster

import (
	"math"

	"gridswing/geom"

	"github.com/golang/geo/r3"
)

// flatAngle: facets that meet at less than this are taken for one plane, and no
// silhouette is looked for between them. A silhouette missed for this reason
// is off by less than one part in 10^6 of the facet's length.
const flatAngle = 0.1 * math.Pi / 180

// NewShape finds the edges of the mesh. The mesh is kept and must not change.
func NewShape(m *geom.Mesh) *Shape {
	s := &Shape{mesh: m, bounds: m.Bounds()}
	normals := normalsOf(m)
	corner := weld(m)
	pairs := newPairTable(3 * len(m.Facets))
	s.closed = true
	for f := range m.Facets {
		for k := range 3 {
			pairs.add(corner[3*f+k], corner[3*f+(k+1)%3], int32(3*f+k))
		}
	}
	for i := range pairs.slots {
		p := &pairs.slots[i]
		if p.first == 0 {
			continue
		}
		if p.second == 0 || p.sameWay || p.more {
			s.closed = false
		}
		if e, drawn := edgeOf(m, normals, p); drawn {
			s.edges = append(s.edges, e)
		}
	}
	return s
}

func edgeOf(m *geom.Mesh, normals []r3.Vector, p *pair) (edge, bool) {
	f, k := (p.first-1)/3, (p.first-1)%3
	facet := &m.Facets[f]
	e := edge{a: facet[k].Vector(), b: facet[(k+1)%3].Vector(), n1: normals[f], n2: normals[f]}
	if p.second == 0 {
		e.kind = open
		return e, e.a != e.b
	}
	e.n2 = normals[(p.second-1)/3]
	if p.sameWay {
		e.n2 = e.n2.Mul(-1)
	}
	zero := r3.Vector{}
	if e.n1 == zero || e.n2 == zero { // a facet without area has no say
		return e, false
	}
	angle := math.Atan2(e.n1.Cross(e.n2).Norm(), e.n1.Dot(e.n2))
	if angle >= creaseAngle || p.more {
		e.kind = crease
	}
	return e, angle >= flatAngle
}

func normalsOf(m *geom.Mesh) []r3.Vector {
	normals := make([]r3.Vector, len(m.Facets))
	for i := range m.Facets {
		a, b, c := m.Triangle(i)
		n := b.Sub(a).Cross(c.Sub(a))
		if l := n.Norm(); l > 0 {
			normals[i] = n.Mul(1 / l)
		}
	}
	return normals
}

// weld numbers the corners so that equal coordinates have equal numbers.
func weld(m *geom.Mesh) []int32 {
	corner := make([]int32, 3*len(m.Facets))
	size := tableSize(len(corner))
	slots := make([]int32, size) // 1 + the first corner with these coordinates
	for i := range corner {
		v := m.Facets[i/3][i%3]
		h := mix(uint64(bits(v[0]))<<32|uint64(bits(v[1]))) ^ mix(uint64(bits(v[2])))
		for j := h & (size - 1); ; j = (j + 1) & (size - 1) {
			if slots[j] == 0 {
				slots[j] = int32(i) + 1
				corner[i] = int32(i)
				break
			}
			if o := int(slots[j] - 1); m.Facets[o/3][o%3] == v {
				corner[i] = int32(o)
				break
			}
		}
	}
	return corner
}

// bits makes one key of both zeros.
func bits(v float32) uint32 { return math.Float32bits(v + 0) }

// pair is the edge between two welded corners: which half edges (1 + 3*facet +
// corner) run along it. 0 means none.
type pair struct {
	lo, hi        int32
	first, second int32
	up            bool // the first runs from lo to hi
	sameWay, more bool // two run the same way; more than two meet
}

// pairTable finds pairs by their corners: open addressing, never more than half full.
type pairTable struct{ slots []pair }

func newPairTable(n int) *pairTable { return &pairTable{slots: make([]pair, tableSize(n))} }

func (t *pairTable) add(from, to, half int32) {
	lo, hi := min(from, to), max(from, to)
	mask := uint64(len(t.slots) - 1)
	for j := mix(uint64(lo)<<32|uint64(hi)) & mask; ; j = (j + 1) & mask {
		p := &t.slots[j]
		switch {
		case p.first == 0:
			*p = pair{lo: lo, hi: hi, first: half + 1, up: from < to}
			return
		case p.lo != lo || p.hi != hi:
			continue
		case p.second == 0:
			p.second = half + 1
			p.sameWay = p.up == (from < to)
			return
		default:
			p.more = true
			return
		}
	}
}

func tableSize(n int) uint64 {
	size := uint64(16)
	for size < 2*uint64(n) {
		size *= 2
	}
	return size
}

// mix spreads the bits of a key: the finaliser of MurmurHash3 (A. Appleby, public domain).
func mix(h uint64) uint64 {
	h ^= h >> 33
	h *= 0xff51afd7ed558ccd
	h ^= h >> 33
	h *= 0xc4ceb9fe1a85ec53
	return h ^ h>>33
}
