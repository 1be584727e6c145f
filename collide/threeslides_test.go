package collide

import (
	"math"
	"math/rand/v2"
	"testing"

	"gridswing/geom/motion"

	"github.com/golang/geo/r3"
)

// threeSlides is a tool over a table that three slides move against each other, with
// play that no splitting makes less: a shift along each direction and a turn about each.
func threeSlides(a, b *Tree, home r3.Vector, shift, turn float64) Pair {
	p := Pair{A: a, B: b, Motion: chainOf(linear(r3.Vector{X: -1}, 0), linear(r3.Vector{Y: -1}, 1), linear(r3.Vector{Z: 1}, 2))}
	for _, axis := range []r3.Vector{{X: 1}, {Y: 1}, {Z: 1}} {
		p.Motion.Joints = append(p.Motion.Joints,
			motion.Joint{Kind: motion.Linear, Axis: axis, Slack: shift},
			motion.Joint{Kind: motion.Rotary, Axis: axis, Slack: turn})
	}
	p.Motion.Home.T = home
	return p
}

// What is obvious costs next to nothing, play or not: bodies that stay 200 mm apart
// whatever three slides do, in each of the three directions.
func TestThreeSlidesFarApart(t *testing.T) {
	table, tool := NewTree(centered(400, 300, 40)), NewTree(bumpy(12, 30, 4, 1))
	for _, c := range []struct {
		what   string
		home   r3.Vector
		ranges []float64
	}{
		{"above", r3.Vector{Z: 20 + 40 + 200 + 50}, []float64{-300, 300, -200, 200, -50, 50}},
		{"beside, along X", r3.Vector{X: 200 + 40 + 200 + 50}, []float64{-50, 50, -200, 200, -100, 100}},
		{"beside, along Y", r3.Vector{Y: 150 + 40 + 200 + 50}, []float64{-200, 200, -50, 50, -100, 100}},
	} {
		for _, play := range []float64{0, 0.2} {
			pair := threeSlides(table, tool, c.home, play, play/2000)
			out := sweep(t, pair, over(c.ranges...), Limits{Enough: 2, Absolute: 0.01, Relative: 0.25, Tests: 1_000_000, Jobs: 1})
			if out.Lower < 2 {
				t.Errorf("%s, play %g: %+v", c.what, play, out)
			}
			if out.Tests >= 2000 {
				t.Errorf("%s, play %g: %d tests", c.what, play, out.Tests)
			}
		}
	}
}

// Just enough and just not, along each direction, with play: a plate that stays 2.5 away as
// drawn is 2.5 less three shifts and three turns away at worst.
func TestThreeSlidesWithPlay(t *testing.T) {
	table, tool := NewTree(centered(400, 300, 40)), NewTree(centered(30, 30, 60))
	for _, home := range []r3.Vector{{Z: 20 + 30 + 10 + 2.5}, {X: 200 + 15 + 10 + 2.5}, {Y: 150 + 15 + 10 + 2.5}} {
		for shift, enough := range map[float64]bool{0: true, 0.1: true, 0.49: true, 0.51: false, 1: false} {
			pair := threeSlides(table, tool, home, shift, 0)
			out := sweep(t, pair, over(-10, 10, -10, 10, -10, 10), Limits{Enough: 2, Absolute: 0.01, Tests: 1_000_000, Jobs: 1})
			if got := out.Lower >= 2; got != enough {
				t.Errorf("from %v, play %g: %+v", home, shift, out)
			}
			if out.Tests >= 5000 {
				t.Errorf("from %v, play %g: %d tests", home, shift, out.Tests)
			}
		}
	}
}

// Nothing comes nearer than what is proven: three slides and play, sampled at its extremes.
func TestThreeSlidesAgainstSampling(t *testing.T) {
	for seed := range uint64(60) {
		r := rand.New(rand.NewPCG(seed, 31))
		a, b := NewTree(randomBody(r)), NewTree(randomBody(r))
		pair := threeSlides(a, b, randomUnit(r).Mul(30+60*r.Float64()), 0.3*r.Float64(), 0.01*r.Float64())
		if r.IntN(2) == 0 { // as seen from a tool, a rotary axis comes between
			turn := rotary(randomAxis(r), randomUnit(r).Mul(20), 3)
			at := 3 + r.IntN(len(pair.Motion.Joints)-2)
			pair.Motion.Joints = append(pair.Motion.Joints[:at:at], append([]motion.Joint{turn}, pair.Motion.Joints[at:]...)...)
		}
		w := 20 * r.Float64()
		box := over(-w, w, -w/2, w, -w, w/3, -0.5, r.Float64())
		out := sweep(t, pair, box, Limits{Enough: 2, Absolute: 0.05, Relative: 0.1, Tests: 300_000, Jobs: 1})
		if math.IsInf(out.Lower, -1) {
			continue
		}
		for range 400 {
			var p motion.Params
			for k := range 4 {
				p[k] = pick(r, box.Lo[k], box.Hi[k])
			}
			off := motion.Chain{Home: pair.Motion.Home}
			for _, j := range pair.Motion.Joints {
				j.Offset += pick(r, -j.Slack, j.Slack)
				off.Joints = append(off.Joints, j)
			}
			if d := Distance(a, b, off.Pose(p)).Distance; d < out.Lower-1e-6 {
				t.Fatalf("seed %d: %g apart at %v, proven %g", seed, d, p, out.Lower)
			}
		}
	}
}

// pick draws a number, mostly one of the ends.
func pick(r *rand.Rand, lo, hi float64) float64 {
	return []float64{lo, hi, lo + (hi-lo)*r.Float64()}[r.IntN(3)]
}

// A block on a table of X and Y, on a riser of any height, under a tool that swivels far above:
// what is obvious of one height is of all. Along the table there is no gap, and at first sight
// most is left there, since a swivel of 220 degrees takes more than there is across.
func TestThirdSlideUnderSwivel(t *testing.T) {
	tool, block := NewTree(centered(50, 50, 120)), NewTree(centered(80, 60, 40))
	swivel := rotary(r3.Vector{Y: 1}, r3.Vector{Z: 150}, 3)
	turn := rotary(r3.Vector{Z: 1}, r3.Vector{}, 4)
	for _, height := range []float64{0, 0.05, 20} {
		pair := Pair{A: tool, B: block, Motion: chainOf(swivel, linear(r3.Vector{X: -1}, 0), linear(r3.Vector{Y: -1}, 1), turn, linear(r3.Vector{Z: 1}, 2))}
		pair.Motion.Home.T = r3.Vector{Z: -500}
		box := over(-420, 420, -420, 420, -height, height, -110*math.Pi/180, 110*math.Pi/180, 0, 2*math.Pi)
		out := sweep(t, pair, box, Limits{Enough: 2, Absolute: 0.01, Relative: 0.25, Tests: 300_000, Jobs: 1})
		if out.Lower < 2 || out.Tests >= 5000 {
			t.Errorf("height +-%g: %+v", height, out)
		}
	}
}
