package envelope

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/golang/geo/r3"
)

// The bound that the hull rests on, by trying: the weighted distances of a point from the corners of its
// tetrahedron are no more than withinTetrahedron steps, in any cell, and nearly so many in some.
func TestWithinTetrahedron(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	most := 0.0
	for range 200 {
		f := &field{step: 0.5 + 3*rng.Float64(), workers: 1}
		f.layOut(f.step*(1+20*rng.Float64()), -f.step*5*rng.Float64(), f.step*5*rng.Float64(), f.step*rng.Float64())
		for range 200 {
			var cell [8]node
			layer, ring, row := rng.IntN(f.nh-1), rng.IntN(f.nr-1), rng.IntN(f.np)
			for k := range cell {
				cell[k] = f.node(layer+k&1, ring+k>>1&1, row+k>>2)
			}
			for _, corners := range tetrahedra {
				w := [4]float64{rng.Float64(), rng.Float64(), rng.Float64(), rng.Float64()}
				if rng.IntN(2) == 0 { // near the middle of the longest edge
					w = [4]float64{1, 0.05 * w[1], 0.05 * w[2], 1}
				}
				sum := w[0] + w[1] + w[2] + w[3]
				var p r3.Vector
				for k, c := range corners {
					p = p.Add(cell[c].at.Mul(w[k] / sum))
				}
				away := 0.0
				for k, c := range corners {
					away += w[k] / sum * cell[c].at.Sub(p).Norm()
				}
				if away > withinTetrahedron*f.step {
					t.Fatalf("%v in the cell %v is %.4f steps away", p, cell, away/f.step)
				}
				most = math.Max(most, away/f.step)
			}
		}
	}
	if most < 0.96*withinTetrahedron {
		t.Errorf("no point is farther than %.4f steps: the bound is not tried", most)
	}
}

// least, against its definition.
func TestLeast(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	for range 300 {
		rows := 1 + rng.IntN(20)
		still, last := make([]float64, between*rows), make([]float64, rows)
		for i := range still {
			still[i] = math.Floor(9 * rng.Float64())
		}
		for i := range last {
			last[i] = math.Floor(12 * rng.Float64())
		}
		steps := rng.IntN(len(still))
		want := make([]float64, rows)
		for i := range want {
			want[i] = last[i]
			for k := range steps + 1 {
				want[i] = min(want[i], still[(i*between-k+len(still))%len(still)])
			}
		}
		least(still, last, steps, nil)
		for i := range want {
			if last[i] != want[i] {
				t.Fatalf("row %d of %d, %d steps: %g, want %g", i, rows, steps, last[i], want[i])
			}
		}
	}
}
