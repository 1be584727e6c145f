package kinematics

import (
	"math"
	"strings"
	"testing"

	"gridswing/geom/motion"

	"github.com/golang/geo/r3"
)

// ring returns directions of a given tilt, the rotary of a table about X going evenly.
func ring(lean float64, from, to float64, n int) (tips, axes []r3.Vector) {
	for i := range n + 1 {
		c := radians(from + (to-from)*float64(i)/float64(n))
		sin, cos := math.Sincos(radians(lean))
		tips = append(tips, vec(float64(i), 0, 10))
		axes = append(axes, vec(sin*math.Sin(c), -sin*math.Cos(c), cos))
	}
	return tips, axes
}

// The branch, and the whole turn to begin with, are those with which all of the path
// is within travel, though they are not the nearest at its beginning.
func TestContourTravel(t *testing.T) {
	tips, axes := ring(30, 100, 300, 20)
	for _, c := range []struct {
		name           string
		travel, turns  [2]float64
		tilt, from, to float64
		within         bool
	}{
		{"as it comes", [2]float64{-120, 120}, [2]float64{-1000, 1000}, -30, -80, 120, true},
		{"tilt one way", [2]float64{0, 120}, [2]float64{-1000, 1000}, 30, 100, 300, true},
		{"tilt the other way", [2]float64{-120, 0}, [2]float64{-1000, 1000}, -30, -80, 120, true},
		{"rotary from 0", [2]float64{-120, 120}, [2]float64{0, 360}, 30, 100, 300, true},
		{"rotary two turns up", [2]float64{-120, 0}, [2]float64{600, 900}, -30, 640, 840, true},
		{"no way", [2]float64{-120, 120}, [2]float64{0, 190}, -30, -80, 120, false},
	} {
		in := func(d [2]float64) [2]float64 { return [2]float64{radians(d[0]), radians(d[1])} }
		m := table(t, vec(1, 0, 0), vec(0, 0, 50), in(c.travel), in(c.turns))
		path, err := m.Contour(tips, axes, true, 100, motion.Params{})
		if err != nil {
			t.Fatal(err)
		}
		first, last := path.Positions[0], path.Positions[20]
		nearly(t, c.name+": tilt", degrees(first[tilt]), c.tilt, 1e-9)
		nearly(t, c.name+": first", degrees(first[rotary]), c.from, 1e-9)
		nearly(t, c.name+": last", degrees(last[rotary]), c.to, 1e-9)
		if path.Within != c.within || path.Jumps != nil || path.Singular != nil {
			t.Errorf("%s: within %v, jumps %v", c.name, path.Within, path.Jumps)
		}
		for i, p := range path.Positions {
			tip, axis := m.Forward(p, 100)
			near(t, c.name+": tip", tip, tips[i], 1e-9)
			near(t, c.name+": axis", axis, axes[i], 1e-9)
		}
	}
}

// Where a rotary axis is free it stands as before, at the beginning as it will; through
// the singular position the tilt goes on to the other side rather than the rotary round.
func TestContourSingular(t *testing.T) {
	m := table(t, vec(1, 0, 0), vec(0, 0, 50), [2]float64{-2, 2}, unlimited)
	var tips, axes []r3.Vector
	for _, lean := range []float64{0, 0, 20, 10, 0, 0, -10} {
		sin, cos := math.Sincos(radians(lean))
		tips = append(tips, vec(lean, 0, 0))
		axes = append(axes, vec(sin, 0, cos))
	}
	path, err := m.Contour(tips, axes, true, 100, motion.Params{rotary: 1})
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []float64{0, 0, 20, 10, 0, 0, -10} {
		nearly(t, "tilt", degrees(path.Positions[i][tilt]), want, 1e-9)
		nearly(t, "rotary", degrees(path.Positions[i][rotary]), 90, 1e-9)
	}
	if want := []int{0, 1, 4, 5}; len(path.Singular) != 4 || path.Singular[0] != want[0] || path.Singular[2] != want[2] {
		t.Errorf("singular at %v, want %v", path.Singular, want)
	}
	// Singular throughout: the rotary stays where it is.
	path, err = m.Contour(tips[:2], axes[:2], true, 100, motion.Params{rotary: 1})
	if err != nil || path.Positions[0][rotary] != 1 || path.Positions[1][rotary] != 1 {
		t.Errorf("%+v, %v", path, err)
	}
	// A tilt that goes one way only: the rotary turns round at the singular point.
	m = table(t, vec(1, 0, 0), vec(0, 0, 50), [2]float64{0, 2}, [2]float64{-4, 4})
	path, err = m.Contour(tips, axes, true, 100, motion.Params{})
	if err != nil || !path.Within || path.Jumps != nil {
		t.Fatalf("%+v, %v", path, err)
	}
	nearly(t, "tilt", degrees(path.Positions[6][tilt]), 10, 1e-9)
	nearly(t, "rotary", math.Abs(degrees(path.Positions[6][rotary]-path.Positions[5][rotary])), 180, 1e-9)
}

// A path for which the rotary would have to leave its travel is not cut in two by turning the
// tool over on its way: with the tilt to the other side and half a turn of the rotary the same
// direction is reached, and in between the tool points anywhere.
func TestContourJumps(t *testing.T) {
	m := table(t, vec(1, 0, 0), vec(0, 0, 50), [2]float64{-2, 2}, [2]float64{-math.Pi, math.Pi})
	tips, axes := ring(60, 0, 540, 54)
	path, err := m.Contour(tips, axes, false, 100, motion.Params{})
	if err != nil {
		t.Fatal(err)
	}
	turned := path.Positions[54][rotary] - path.Positions[0][rotary]
	if path.Within || path.Jumps != nil || math.Abs(math.Abs(degrees(turned))-540) > 1e-9 {
		t.Errorf("within %v, jumps %v, turned %g", path.Within, path.Jumps, degrees(turned))
	}
	over := motion.Params{tilt: -path.Positions[0][tilt], rotary: path.Positions[0][rotary] + math.Pi}
	if m.steady(path.Positions[0], over) || !m.steady(path.Positions[0], path.Positions[1]) {
		t.Error("turning over counts as steady, or a step along the path does not")
	}
	// From face to opposite face there is no steady way with one rotary: it turns by half a turn.
	one := made(t, axesOf(unlimited, unlimited)[:4], motion.Chain{Home: m.part.Home, Joints: m.part.Joints[:1]}, m.spindle)
	opposite := []r3.Vector{vec(0, -1, 0), vec(0, 1, 0)}
	path, err = one.Contour(tips[:2], opposite, false, 100, motion.Params{})
	if err != nil {
		t.Fatal(err)
	}
	nearly(t, "half a turn", math.Abs(degrees(path.Positions[1][tilt]-path.Positions[0][tilt])), 180, 1e-9)
}

func TestContourErrors(t *testing.T) {
	m := table(t, vec(1, 0, 0), vec(0, 0, 50), unlimited, unlimited)
	for _, c := range []struct {
		tips, axes []r3.Vector
		want       string
	}{
		{nil, nil, "without points"},
		{[]r3.Vector{{}}, nil, "0 axes for 1 points"},
		{[]r3.Vector{{}, {}}, []r3.Vector{{Z: 1}, {}}, "point 2: a zero axis"},
	} {
		if _, err := m.Contour(c.tips, c.axes, true, 1, motion.Params{}); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%v, want %q", err, c.want)
		}
	}
	path, err := m.Contour([]r3.Vector{{X: 1}}, []r3.Vector{{Z: 2}}, true, 1, motion.Params{})
	if err != nil || len(path.Positions) != 1 || len(path.Deviation) != 0 {
		t.Errorf("a single point: %+v, %v", path, err)
	}
}

// How long a position and an interval of a path take.
func BenchmarkContour(b *testing.B) {
	m := table(b, vec(1, 0, 0), vec(0, 0, 50), unlimited, unlimited)
	tips, axes := cone(15, 10, 40, vec(0, 60, 50), around360(100))
	for b.Loop() {
		if _, err := m.Contour(tips, axes, true, 100, motion.Params{}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkPresent(b *testing.B) {
	m := table(b, vec(1, 0, 0), vec(0, 0, 50), [2]float64{-2, 2}, [2]float64{-7, 7})
	for b.Loop() {
		for _, s := range m.Present(vec(0.36, -0.48, 0.8), motion.Params{}) {
			for _, p := range m.Turns(s, motion.Params{}) {
				if _, err := m.Linear(p, vec(1, 2, 3), 100); err != nil {
					b.Fatal(err)
				}
			}
		}
	}
}
