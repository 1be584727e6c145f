package posted

import (
	"math"
	"math/rand/v2"
	"testing"

	"gridswing/collide/material"
	"gridswing/machine/tooling"
)

// A flat end keeps its square corner, a ball gets smaller, a point goes up.
func TestCoreAndErosion(t *testing.T) {
	near := func(o material.Outline, want ...[2]float64) {
		t.Helper()
		for _, w := range want {
			best := math.Inf(1)
			for _, c := range o {
				best = min(best, math.Hypot(c[0]-w[0], c[1]-w[1]))
			}
			if best > 1e-9 {
				t.Errorf("%v has no corner at %v", o, w)
			}
		}
	}
	flat := material.Outline{{5, 0}, {5, 20}}
	near(core(flat, 0.1), [2]float64{4.9, 0.1}, [2]float64{4.9, 20})
	near(eroded(flat, 0.1), [2]float64{4.9, 0.1}, [2]float64{4.9, 20})
	point := material.Outline{{0, 0}, {3, 3}, {3, 9}} // 90 degrees: what is 0.1 deep there is 0.1 times the root of 2 up
	near(core(point, 0.1), [2]float64{0, 0.1}, [2]float64{2.9, 9})
	near(eroded(point, 0.1), [2]float64{0, 0.1 * math.Sqrt2}, [2]float64{2.9, 9})
}

// No place in a cutting part is farther from its core than the depth, along the tool and square to it; and what is
// eroded is as deep in it as it should be.
func TestCoreIsNear(t *testing.T) {
	for seed := range uint64(200) {
		r := rand.New(rand.NewPCG(seed, 5))
		var points tooling.Piece
		for range 2 + r.IntN(6) {
			points = append(points, [2]float64{5 * r.Float64(), 10 * r.Float64()})
		}
		o := material.Outline(tooling.Hull([]tooling.Piece{points}))
		if len(o) < 2 {
			continue
		}
		depth := 0.3 * r.Float64()
		less, deep := core(o, depth), eroded(o, depth)
		for i, c := range o {
			// The box of all places so near to the corner must meet the core: it is enough that one of its places does.
			met := false
			for a := -1.0; a <= 1; a += 0.125 {
				for b := -1.0; b <= 1; b += 0.125 {
					met = met || inside(less, max(0, c[0]+a*depth*(1+1e-9)), c[1]+b*depth*(1+1e-9), 1e-6+depth/8)
				}
			}
			if !met {
				t.Fatalf("seed %d: corner %d of %v is farther than %g from %v", seed, i, o, depth, less)
			}
		}
		for _, c := range deep {
			if deep[0][0] != hair && c[1] < o[len(o)-1][1]-depth && !inside(o, c[0]+depth*0.7, c[1]-depth*0.7, 1e-9) {
				t.Fatalf("seed %d: %v is not %g deep in %v", seed, c, depth, o)
			}
		}
	}
}

// inside reports whether a place is in an outline, or no more than slack outside of any edge.
func inside(o material.Outline, r, z, slack float64) bool {
	if z < o[0][1]-slack || z > o[len(o)-1][1]+slack {
		return false
	}
	for i := 1; i < len(o); i++ {
		dr, dz := o[i][0]-o[i-1][0], o[i][1]-o[i-1][1]
		if l := math.Hypot(dr, dz); dz > 0 && ((r-o[i-1][0])*dz-(z-o[i-1][1])*dr)/l > slack {
			return false
		}
	}
	return true
}
