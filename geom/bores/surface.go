package bores

import (
	"math"

	"gridswing/geom"

	"github.com/golang/geo/r3"
)

// surface is a mesh with what is asked of its facets again and again.
type surface struct {
	*geom.Topology
	mesh *geom.Mesh
	// noise is how far a vertex can be from its true place, mm: the
	// coordinates are float32, and were rounded again when the solid was moved.
	noise float64
	// product is (b-a) x (c-a) of each facet: its normal, twice its area long;
	// zero for facets with a coordinate that is no finite number, which have no
	// neighbours.
	product []r3.Vector
	// sliver marks facets no higher than the noise: their normal means nothing.
	sliver []bool
	inward bool // the mesh as a whole is inside out
}

func newSurface(m *geom.Mesh) *surface {
	n := len(m.Facets)
	s := &surface{mesh: m, Topology: geom.TopologyOf(m), product: make([]r3.Vector, n), sliver: make([]bool, n)}
	box := geom.EmptyBox()
	for f := range m.Facets {
		if a, b, c := m.Triangle(f); finite(a) && finite(b) && finite(c) {
			s.product[f] = b.Sub(a).Cross(c.Sub(a))
			box = box.Include(a).Include(b).Include(c)
		} else {
			s.cutOff(int32(f))
		}
	}
	if box.Empty() {
		return s
	}
	const roundoff = 1.0 / (1 << 24) // of float32, relative
	size := max(largest(box.Min), largest(box.Max))
	s.noise = 4 * roundoff * size
	volume, o := 0.0, box.Center()
	for f := range m.Facets {
		a, b, c := m.Triangle(f)
		if s.product[f] == (r3.Vector{}) {
			s.sliver[f] = true
			continue
		}
		longest := math.Sqrt(max(b.Sub(a).Norm2(), c.Sub(b).Norm2(), a.Sub(c).Norm2()))
		s.sliver[f] = s.product[f].Norm() <= s.noise*longest // |product| = height * side
		volume += s.product[f].Dot(a.Sub(o))
	}
	s.inward = volume < 0
	s.mend()
	return s
}

// cutOff takes a facet's neighbours from it.
func (s *surface) cutOff(f int32) {
	for h := 3 * f; h < 3*f+3; h++ {
		if g := s.Across[h]; g >= 0 {
			s.Across[h], s.Across[g] = -1, -1
		}
	}
}

func finite(p r3.Vector) bool {
	sum := p.X + p.Y + p.Z
	return !math.IsNaN(sum) && !math.IsInf(sum, 0)
}

func largest(p r3.Vector) float64 {
	p = p.Abs()
	return max(p.X, p.Y, p.Z)
}

// at returns where corner c lies.
func (s *surface) at(c int32) r3.Vector { return s.mesh.Facets[c/3][c%3].Vector() }

// ends returns the end points of half-edge h.
func (s *surface) ends(h int32) (from, to r3.Vector) { return s.at(h), s.at(s.Next(h)) }

// apex returns the corner of h's facet that is not on h.
func (s *surface) apex(h int32) r3.Vector { return s.at(s.Next(s.Next(h))) }

// isLongest reports whether h is the longest side of its facet, the first of
// several.
func (s *surface) isLongest(h int32) bool {
	f := h - h%3
	best, length := f, -1.0
	for k := f; k < f+3; k++ {
		a, b := s.ends(k)
		if l := b.Sub(a).Norm2(); l > length {
			best, length = k, l
		}
	}
	return best == h
}

// flatTurn is the turn in radians, 0.2 degrees, below which two facets are taken
// for parts of one plane. The sides of a cylinder of 1,800 sides turn by that much.
const flatTurn = 3.5e-3

// flat reports whether the facets on both sides of half-edge h lie in one plane. A
// sliver has no plane of its own: it goes with its neighbour across its longest side.
func (s *surface) flat(h, g int32) bool {
	f, e := h/3, g/3
	if s.sliver[f] || s.sliver[e] {
		return s.sliver[f] && s.isLongest(h) || s.sliver[e] && s.isLongest(g)
	}
	if turn(s.product[f], s.product[e]) <= flatTurn {
		return true
	}
	// Small facets may turn by what their corners are off.
	off := func(n r3.Vector, p r3.Vector) float64 { return math.Abs(n.Dot(p.Sub(s.at(h)))) / n.Norm() }
	return s.product[f].Dot(s.product[e]) > 0 &&
		off(s.product[f], s.apex(g)) <= s.noise && off(s.product[e], s.apex(h)) <= s.noise
}

// turn returns the angle between two vectors of any length, 0 to pi.
func turn(a, b r3.Vector) float64 { return math.Atan2(a.Cross(b).Norm(), a.Dot(b)) }
