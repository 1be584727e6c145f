package material

import (
	"math"
	"testing"

	"github.com/golang/geo/r3"
	"pgregory.net/rapid"
)

// A corner cut off a cube across three edges at t is a tetrahedron of t^3/6; what a plane leaves of a cube is the same
// by clipping and by the sum of powers.
func TestVolumesOfCubes(t *testing.T) {
	var h hull
	h.cube(1)
	if !h.clip(v(1, 1, 1), 3-0.5) {
		t.Fatal("nothing is left")
	}
	if want := 8 - 0.125/6; math.Abs(h.volume()-want) > 1e-12 {
		t.Errorf("a cube without a corner has %g, expected %g", h.volume(), want)
	}
	rapid.Check(t, func(t *rapid.T) {
		n := anyVector(t, v(-1, -1, -1), v(1, 1, 1), "n")
		if n.Norm() < 1e-3 {
			n = v(0, 0, 1)
		}
		n = n.Normalize()
		d := rapid.Float64Range(-1.8, 1.8).Draw(t, "d")
		h.cube(1)
		want := 0.0
		if h.clip(n, d) {
			want = h.volume() / 8
		}
		if got := below(n, d, 1); math.Abs(got-want) > 3e-5 {
			t.Fatalf("below %v, %g there is %g of the cube, by clipping %g", n, d, got, want)
		}
	})
}

// Every corner of a hull is behind all planes that cut it and in the cube, the volume is what is left of it when planes
// come in any order, and Euler's V - E + F is 2.
func TestHullsOfRandomPlanes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var h, g hull
		h.cube(1)
		g.cube(1)
		n := rapid.IntRange(1, mostPlanes+1).Draw(t, "planes")
		var list []r3.Vector
		var ds []float64
		for range n {
			list = append(list, anyVector(t, v(-1, -1, -1), v(1, 1, 1), "n").Add(v(1e-3, 0, 0)).Normalize())
			ds = append(ds, rapid.Float64Range(0, 1.2).Draw(t, "d"))
		}
		for i := range n {
			if !h.clip(list[i], ds[i]) || !g.clip(list[n-1-i], ds[n-1-i]) {
				return
			}
		}
		if math.Abs(h.volume()-g.volume()) > 1e-9 {
			t.Fatalf("%g in one order, %g in the other", h.volume(), g.volume())
		}
		for i := range h.corners {
			for k := range list {
				if list[k].Dot(h.corner[i]) > ds[k]+1e-9 {
					t.Fatalf("corner %v is in front of plane %v, %g", h.corner[i], list[k], ds[k])
				}
			}
		}
		faces := map[uint8]bool{}
		for _, e := range h.edge[:h.edges] {
			faces[e.f], faces[e.g] = true, true
		}
		if h.corners-h.edges+len(faces) != 2 {
			t.Fatalf("%d corners, %d edges, %d faces", h.corners, h.edges, len(faces))
		}
	})
}
