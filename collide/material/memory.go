package material

import (
	"math"

	"gridswing/geom"
)

// Memory is about how much memory New takes for a model, and cutting it, bytes: a part for each cell that is as
// near to a facet as chord error and play have it. Of those a plane of area a crosses a (|nx|+|ny|+|nz|) / cell^2.
func Memory(mesh *geom.Mesh, chord, play, cell float64) float64 {
	area := 0.0
	for f := range mesh.Facets {
		p, q, r := mesh.Triangle(f)
		n := q.Sub(p).Cross(r.Sub(p)).Mul(0.5)
		area += math.Abs(n.X) + math.Abs(n.Y) + math.Abs(n.Z)
	}
	wide := chord + play
	size := mesh.Bounds().Size()
	all := 1.0
	for _, s := range [3]float64{size.X, size.Y, size.Z} {
		all *= (s+2*wide)/cell + 2*side
	}
	return perPart*min(all, area*(1+2*wide/cell)/(cell*cell)) + all/cells*perBrick
}

// What a part and a brick take, bytes, with what is not given back at once: measured.
const (
	perPart  = 190
	perBrick = 30
)
