//go:build linux

package main

import (
	"math"
	"testing"

	"gridswing/collide"
	"gridswing/geom/shape"
)

// A body on its course is as high above the plate as the course says, touches at
// least once, and follows from one pose to the next unless it is drawn afresh.
func TestCourses(t *testing.T) {
	knot := shape.TorusKnot(2_000)
	for _, c := range []course{
		{tilt: 60, gaps: [2]float64{0, 100}},
		{tilt: 0, gaps: [2]float64{-20, 20}},
		{random: true, tilt: 60, gaps: [2]float64{0, 100}},
	} {
		poses := c.poses(knot, 1000)
		nearest, farthest, step := math.Inf(1), math.Inf(-1), 0.0
		for i, p := range poses {
			gap := lowest(knot, &p.R) + p.T.Z - plateTop
			nearest, farthest = min(nearest, gap), max(farthest, gap)
			if i > 0 {
				step = max(step, p.T.Sub(poses[i-1].T).Norm())
			}
		}
		width := c.gaps[1] - c.gaps[0]
		if nearest < c.gaps[0]-1e-9 || farthest > c.gaps[1]+1e-9 {
			t.Errorf("%+v: gaps from %v to %v", c, nearest, farthest)
		}
		if nearest > c.gaps[0]+0.01*width || farthest < c.gaps[1]-0.01*width {
			t.Errorf("%+v: gaps only from %v to %v", c, nearest, farthest)
		}
		if follows := step < 3; follows == c.random {
			t.Errorf("%+v: %v mm from one pose to the next", c, step)
		}
	}
}

// The swinging pair comes as near as the table says, and a sweep proves it.
func TestSwingComesNear(t *testing.T) {
	s := scene{a: collide.NewTree(shape.GridPlate(30_000)), b: collide.NewTree(shape.TorusKnot(30_000))}
	p, over := s.swing()
	out, err := collide.Sweep(t.Context(), p, over, questions[2].limits)
	if err != nil {
		t.Fatal(err)
	}
	if out.Lower < 5.3 || out.Upper > 5.5 || out.Stopped != "" {
		t.Errorf("clearance between %v and %v mm %s, want about 5.4", out.Lower, out.Upper, out.Stopped)
	}
}

func TestMedian(t *testing.T) {
	if m := median([]float64{5, 1, 3}); m != 3 {
		t.Errorf("median of 5, 1, 3: %v", m)
	}
	if m := median([]float64{4, 1, 2, 3}); m != 2.5 {
		t.Errorf("median of 4, 1, 2, 3: %v", m)
	}
	if g := geometricMean([]float64{2, 8}); math.Abs(g-4) > 1e-12 {
		t.Errorf("geometric mean of 2 and 8: %v", g)
	}
}

// A query that allocates is told from one that does not.
func TestOnThread(t *testing.T) {
	var kept []byte
	micros, allocs := onThread(10, func(int) { kept = make([]byte, 1<<16) })
	if micros <= 0 || allocs < 1 || allocs > 1.1 || len(kept) == 0 {
		t.Errorf("%v us, %v allocations, want some and 1", micros, allocs)
	}
	if _, allocs = onThread(10, func(i int) { kept[i]++ }); allocs > 0.01 {
		t.Errorf("%v allocations, want none", allocs)
	}
}

func TestDuration(t *testing.T) {
	for seconds, want := range map[float64]string{75: "75.0 s", 0.0123: "12.3 ms", 4.56e-6: "4.56 us", 117e-3: "117 ms"} {
		if got := duration(seconds); got != want {
			t.Errorf("%v s: %q, want %q", seconds, got, want)
		}
	}
}
