package shape

import (
	"math"

	"gridswing/geom"

	"github.com/golang/geo/r3"
)

// Refined returns the same surface with every edge at most as long as given.
//
// The longest of a triangle's too long edges is halved until none is left.
// Whether an edge is halved depends on its two ends only, so both sides of an
// edge agree on every point on it without asking each other.
func (s Surface) Refined(maxEdge float64) Surface {
	if !(maxEdge > 0) {
		panic("shape: the longest edge must be above zero")
	}
	return s.halved(func(a, b r3.Vector) bool { return a.Sub(b).Norm2() > maxEdge*maxEdge })
}

func (s Surface) halved(long func(a, b r3.Vector) bool) Surface {
	out := make(Surface, 0, len(s))
	for _, t := range s {
		halve(t, long, func(piece geom.Triangle) { out = append(out, piece) })
	}
	return out
}

func halve(t geom.Triangle, long func(a, b r3.Vector) bool, emit func(geom.Triangle)) {
	at, length := -1, 0.0
	for k := range 3 {
		a, b := t[k], t[(k+1)%3]
		if l := a.Sub(b).Norm2(); l > length && long(a, b) {
			at, length = k, l
		}
	}
	if at < 0 {
		emit(t)
		return
	}
	a, b, c := t[at], t[(at+1)%3], t[(at+2)%3]
	m := a.Add(b).Mul(0.5)
	halve(geom.Triangle{a, m, c}, long, emit)
	halve(geom.Triangle{m, b, c}, long, emit)
}

// WithFacets returns the surface refined to about the given number of facets
// (within one per cent where the shape allows it), never fewer than it has.
//
// Each edge has a limit of its own, spread around a common one by a hash of its
// midpoint, so that the count follows the common limit in small steps.
func (s Surface) WithFacets(count int) Surface {
	if count <= len(s) {
		return append(Surface(nil), s...)
	}
	area := 0.0
	for _, t := range s {
		area += t[1].Sub(t[0]).Cross(t[2].Sub(t[0])).Norm() / 2
	}
	limit := math.Sqrt(3 * area / float64(count))
	best, bestMiss := limit, math.Inf(1)
	for range 12 {
		n := 0
		for _, t := range s {
			halve(t, ownLimit(limit), func(geom.Triangle) { n++ })
		}
		miss := math.Abs(float64(n-count)) / float64(count)
		if miss < bestMiss {
			best, bestMiss = limit, miss
		}
		if miss < 0.005 {
			break
		}
		limit *= math.Sqrt(float64(n) / float64(count)) // facets go with the inverse square
	}
	return s.halved(ownLimit(best))
}

func ownLimit(limit float64) func(a, b r3.Vector) bool {
	return func(a, b r3.Vector) bool {
		m := a.Add(b)
		own := limit * (0.75 + 0.5*spread(m))
		return a.Sub(b).Norm2() > own*own
	}
}

// spread hashes a point to [0, 1): the finalizer of SplitMix64 (Steele, Lea,
// Flood, "Fast splittable pseudorandom number generators", OOPSLA 2014).
func spread(p r3.Vector) float64 {
	h := uint64(0)
	for _, x := range [3]float64{p.X, p.Y, p.Z} {
		h += math.Float64bits(x+0) + 0x9e3779b97f4a7c15
		h = (h ^ h>>30) * 0xbf58476d1ce4e5b9
		h = (h ^ h>>27) * 0x94d049bb133111eb
		h ^= h >> 31
	}
	return float64(h>>11) / (1 << 53)
}
