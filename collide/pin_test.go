package collide

import (
	"math"
	"testing"

	"github.com/golang/geo/r3"
)

// A pin of 96 sides turns in a hole of 96 sides with 0.05 mm play.
//
// The corners of the hole are at radius R = 10.025 and angles 2 pi k/n, its sides
// at distance R cos(pi/n) square to the angles (2k+1) pi/n. The corners of the pin
// are at r = 10; turned by a, it reaches r cos(d) along the normal of every side
// alike, d being the angle from there to its nearest corner: the distance of a from
// the nearest (2k+1) pi/n. A convex body inside another is as far from its surface as
// from the nearest of its sides, so with the axis moved by e along one of the normals
//
//	clearance(a) = R cos(pi/n) - r cos(d(a)) - e.
//
// For e = 0.022 it is 0 at d0 = acos((R cos(pi/n) - e)/r) = 0.02176 of the
// pi/n = 0.03272 that d can be: contact wherever d <= d0, clear elsewhere.
func TestPinInHole(t *testing.T) {
	const (
		n    = 96
		half = math.Pi / n
		R, r = 10.025, 10.0
		e    = 0.022
		// 0.6e-6 mm of float32 rounding, twice, over r sin(d0), the slope.
		eps = 1e-5
	)
	hole, pin := NewTree(wall(n, R, 0, 20)), NewTree(wall(n, r, -5, 25))
	turning := func(e float64) Pair {
		axis := r3.Vector{X: e * math.Cos(half), Y: e * math.Sin(half)}
		p := Pair{A: hole, B: pin, Motion: chainOf(rotary(r3.Vector{Z: 1}, axis, 0))}
		p.Motion.Home.T = axis
		return p
	}
	in := Limits{Enough: math.Inf(1), Absolute: 1e-5}
	wants(t, "coaxial, a full turn", sweep(t, turning(0), over(0, 2*math.Pi), in), R*math.Cos(half)-r, 1e-5)

	aside := turning(e)
	d0 := math.Acos((R*math.Cos(half) - e) / r)
	if out := sweep(t, aside, over(0, 2*math.Pi), in); !out.Contact {
		t.Errorf("aside, a full turn: contact missed: %+v", out)
	}
	for k := range n {
		facing := float64(2*k+1) * half // a corner of the pin faces the nearest side
		first, last := facing+d0, facing+2*half-d0
		if out := sweep(t, aside, over(first+eps, last-eps), Limits{Enough: 1e-8, Absolute: 1e-9}); out.Lower < 1e-8 {
			t.Errorf("between corners %d and %d: not shown clear: %+v", k, k+1, out)
		}
		for _, edge := range [][2]float64{{first - eps, last - eps}, {first + eps, last + eps}} {
			if out := sweep(t, aside, over(edge[0], edge[1]), in); !out.Contact {
				t.Errorf("between corners %d and %d: contact missed in %.6f..%.6f: %+v", k, k+1, edge[0], edge[1], out)
			}
		}
		if k%16 == 0 {
			middle := facing + half
			wants(t, "aligned", sweep(t, aside, over(middle, middle), in), (R-r)*math.Cos(half)-e, 1e-5)
		}
	}
}
