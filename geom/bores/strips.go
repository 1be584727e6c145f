package bores

import (
	"cmp"
	"math"
	"slices"

	"github.com/golang/geo/r3"
)

// Seams of one prism are parallel to within parallelTurn (radians), and the surface
// bends alike at them: its curvature is the turn over the mean width of the two
// sides, 1/r at each corner of any polygon inscribed in a circle, but clearly less
// where a side runs out into a flat.
const (
	parallelTurn = 1.5 * math.Pi / 180
	alike        = 1.6 // ratio of curvatures
	mostSeams    = 16  // of a face that can be the side of a prism
)

// strip is a bunch of seams that may be those of one cylinder.
type strip struct {
	seams  []int32
	turn   float64 // together
	convex bool
}

// strips finds bunches of parallel seams that are linked by faces, those that turn
// furthest first.
func (t *faceted) strips() []strip {
	curvature := make([]float64, len(t.seams))
	for i := range t.seams {
		curvature[i] = t.curvature(&t.seams[i])
	}
	seen := make([]bool, len(t.seams))
	var all []strip
	for i := range t.seams {
		if seen[i] || curvature[i] == 0 {
			continue
		}
		seen[i] = true
		bunch := strip{seams: []int32{int32(i)}, turn: t.seams[i].turn, convex: t.seams[i].convex}
		for k := 0; k < len(bunch.seams); k++ {
			at := bunch.seams[k]
			for _, f := range t.seams[at].faces {
				for _, next := range t.faces[f].seams {
					if seen[next] || !t.linked(at, next, int32(i), curvature) {
						continue
					}
					seen[next] = true
					bunch.seams = append(bunch.seams, next)
					bunch.turn += t.seams[next].turn
				}
			}
		}
		const least = 1 // radian
		if len(bunch.seams) >= 3 && bunch.turn >= least {
			all = append(all, bunch)
		}
	}
	slices.SortStableFunc(all, func(a, b strip) int { return cmp.Compare(b.turn, a.turn) })
	return all
}

// linked reports whether a seam goes on from another in a bunch that began with first.
func (t *faceted) linked(at, next, first int32, curvature []float64) bool {
	a, b := &t.seams[at], &t.seams[next]
	ratio := curvature[next] / curvature[at]
	return a.convex == b.convex && ratio < alike && ratio > 1/alike &&
		parallel(a.along, b.along) && parallel(t.seams[first].along, b.along)
}

func parallel(a, b r3.Vector) bool { return a.Cross(b).Norm() <= parallelTurn }

// curvature returns how the surface bends at a seam, per mm; 0 if a side is no
// side of a prism.
func (t *faceted) curvature(m *seam) float64 {
	width := 0.0
	for _, f := range m.faces {
		p := &t.faces[f]
		if len(p.seams) > mostSeams {
			return 0
		}
		low, high := t.extent(f, p.normal.Cross(m.along))
		width += (high - low) / 2
	}
	if width == 0 {
		return 0
	}
	return m.turn / width
}
