package bores

import (
	"math"

	"github.com/golang/geo/r3"
)

// Facets of a cylinder need not be sides of a prism: where its ends are not square
// to its axis they are mostly split askew. Then no two seams are parallel, and the
// axis comes from the normals of a neighbourhood.
const (
	neighbourhood = 48                 // faces
	askewTurn     = 32 * math.Pi / 180 // at most between two of them
	fewestNormals = 5                  // in a neighbourhood
	planar        = 2e-3               // smallest eigenvalue of the normals' covariance, relative
	spread        = 1e-2               // the next one: normals over some 20 degrees
)

// tryAskew looks at what no prism was found in. A face is looked at once, and goes
// into one neighbourhood that fails.
func (f *finder) tryAskew() {
	tried := make([]bool, len(f.faces))
	for i := range f.faces {
		if tried[i] || f.taken[i] || len(f.faces[i].seams) == 0 {
			continue
		}
		for _, convex := range [2]bool{false, true} {
			reached := f.around(int32(i), convex)
			good := false
			if len(reached) >= fewestNormals && f.isArc(reached) {
				reached, good = f.try(reached, convex, askew)
			}
			if good {
				break
			}
			for _, k := range reached {
				tried[k] = true
			}
		}
	}
}

// around returns faces about one, nearest first, that are reached over seams of one
// sense.
func (f *finder) around(start int32, convex bool) []int32 {
	faces := []int32{start}
	in := map[int32]bool{start: true}
	for k := 0; k < len(faces) && len(faces) < neighbourhood; k++ {
		if len(f.faces[faces[k]].seams) > mostSeams {
			continue
		}
		for _, i := range f.faces[faces[k]].seams {
			m := &f.seams[i]
			next := m.other(faces[k])
			if m.convex == convex && m.turn <= askewTurn && !in[next] && !f.taken[next] {
				in[next] = true
				faces = append(faces, next)
			}
		}
	}
	return faces
}

// isArc reports whether the normals of faces lie in one plane, and are spread there.
func (f *finder) isArc(faces []int32) bool {
	normals, weights := make([]r3.Vector, len(faces)), make([]float64, len(faces))
	for i, k := range faces {
		normals[i], weights[i] = f.faces[k].normal, 1
	}
	_, smallest, middle, ok := axisOf(normals, weights)
	return ok && smallest <= planar && middle >= spread
}
