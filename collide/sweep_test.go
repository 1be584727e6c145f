package collide

import (
	"context"
	"fmt"
	"math"
	"testing"

	"gridswing/geom"
	"gridswing/geom/motion"

	"github.com/golang/geo/r3"
)

const degree = math.Pi / 180

func rotary(axis, point r3.Vector, param int) motion.Joint {
	j := motion.Joint{Kind: motion.Rotary, Axis: axis, Point: point}
	j.Gain[param] = 1
	return j
}

func linear(axis r3.Vector, param int) motion.Joint {
	j := motion.Joint{Kind: motion.Linear, Axis: axis}
	j.Gain[param] = 1
	return j
}

func chainOf(joints ...motion.Joint) motion.Chain {
	return motion.Chain{Joints: joints, Home: geom.Identity()}
}

func over(ranges ...float64) (b motion.Box) {
	for i := 0; i < len(ranges); i += 2 {
		b.Lo[i/2], b.Hi[i/2] = ranges[i], ranges[i+1]
	}
	return b
}

func sweep(t testing.TB, p Pair, b motion.Box, l Limits) Outcome {
	t.Helper()
	out, err := Sweep(context.Background(), p, b, l)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

var smallest = Limits{Enough: math.Inf(1), Absolute: 1e-3}

// A block of half sizes 80 x 30 turning about its centre past a wall: closed
// form R = hypot(80, 30) = 85.440037, contact from asin(70/R) - atan2(30, 80)
// = 34.457541 degrees on, to 145.542459, with the wall at 70.
func TestTurningBlockPastWall(t *testing.T) {
	block := NewTree(centered(160, 60, 20))
	turning := chainOf(rotary(r3.Vector{Z: 1}, r3.Vector{}, 0))
	wallAt := func(y float64) Pair {
		wall := NewTree(cuboid(r3.Vector{X: -200, Y: y, Z: -50}, r3.Vector{X: 200, Y: y + 10, Z: 50}))
		return Pair{A: wall, B: block, Motion: turning}
	}
	near := wallAt(70)
	const first, last = 34.457541 * degree, 145.542459 * degree
	const eps = 1e-5 * degree

	if out := sweep(t, near, over(0, math.Pi), smallest); !out.Contact {
		t.Errorf("whole turn: no contact found: %+v", out)
	} else if out.At[0] < first-eps || out.At[0] > last+eps {
		t.Errorf("whole turn: contact at %.6f degrees, want within 34.457541..145.542459", out.At[0]/degree)
	}
	for _, r := range [][2]float64{{0, first - eps}, {last + eps, math.Pi}} {
		if out := sweep(t, near, over(r[0], r[1]), Limits{Enough: 1e-6, Absolute: 1e-7}); out.Lower < 1e-6 {
			t.Errorf("%.6f..%.6f degrees: not shown clear: %+v", r[0]/degree, r[1]/degree, out)
		}
	}
	for _, r := range [][2]float64{{0, first + eps}, {last - eps, math.Pi}} {
		if out := sweep(t, near, over(r[0], r[1]), smallest); !out.Contact {
			t.Errorf("%.6f..%.6f degrees: contact missed: %+v", r[0]/degree, r[1]/degree, out)
		}
	}

	// float32 stores 85.45 as 85.4499969...
	wall := float64(float32(85.45))
	want := wall - math.Hypot(80, 30)
	out := sweep(t, wallAt(85.45), over(0, math.Pi), Limits{Enough: math.Inf(1), Absolute: 1e-5})
	if out.Lower > want || out.Upper < want-1e-9 || out.Upper-out.Lower > 1.1e-5 {
		t.Errorf("wall at 85.45: %.7f..%.7f, want around %.7f", out.Lower, out.Upper, want)
	}
	at := out.At[0] / degree
	if math.Abs(at-69.443955) > 0.2 && math.Abs(at-110.556045) > 0.2 {
		t.Errorf("wall at 85.45: nearest at %.4f degrees, want 69.443955 or 110.556045", at)
	}
}

// The edge (125, 50) of a faceplate under its tilt axis is lowest,
// -hypot(125, 50) = -134.629120, at 111.801409 degrees: inside -20..120 but
// beyond -20..110, whose lowest is -134.562585 at the end.
func TestFaceplateEdgeOverBed(t *testing.T) {
	plate := NewTree(cuboid(r3.Vector{X: -100, Y: -125, Z: 40}, r3.Vector{X: 100, Y: 125, Z: 50}))
	bed := NewTree(cuboid(r3.Vector{X: -300, Y: -300, Z: -200}, r3.Vector{X: 300, Y: 300, Z: -134.6}))
	tilt := chainOf(rotary(r3.Vector{X: 1}, r3.Vector{}, 0))
	tilt.Joints[0].Gain[0] = -1 // a table: the part turns against the sign of A (ISO 841)
	p := Pair{A: bed, B: plate, Motion: tilt}

	out := sweep(t, p, over(-20*degree, 110*degree), Limits{Enough: math.Inf(1), Absolute: 1e-6})
	want := 0.037415 + (-134.6 - float64(float32(-134.6))) // the bed is stored as float32
	if math.Abs(out.Upper-want) > 1e-6 || out.Lower > want+1e-6 || out.Upper-out.Lower > 2e-6 {
		t.Errorf("-20..110: %.7f..%.7f, want %.6f", out.Lower, out.Upper, want)
	}
	if math.Abs(out.At[0]-110*degree) > 0.01*degree {
		t.Errorf("-20..110: nearest at %.4f, want 110", out.At[0]/degree)
	}
	out = sweep(t, p, over(-20*degree, 120*degree), smallest)
	if !out.Contact {
		t.Errorf("-20..120: contact missed: %+v", out)
	}
	if at := out.At[0] / degree; at < 110 || at > 113.6 {
		t.Errorf("-20..120: contact at %.4f degrees, want near 111.801409", at)
	}
}

// A rib 0.02 mm thick that a search in steps of one degree steps over.
func TestThinRibBetweenSamples(t *testing.T) {
	rib := NewTree(cuboid(r3.Vector{X: 99, Y: -0.01, Z: -5}, r3.Vector{X: 110, Y: 0.01, Z: 5}))
	pin := NewTree(cuboid(r3.Vector{X: 95, Y: -0.01, Z: -1}, r3.Vector{X: 101, Y: 0.01, Z: 1}))
	turning := chainOf(rotary(r3.Vector{Z: 1}, r3.Vector{}, 0))
	p := Pair{A: rib, B: pin, Motion: turning}
	from, to := -100.5*degree, 100.5*degree
	for a := from; a <= to; a += degree {
		if d := Distance(p.A, p.B, turning.Pose(motion.Params{a})).Distance; d == 0 {
			t.Fatalf("the rib is met at the sample %.3f: the test needs one that is not", a/degree)
		}
	}
	for _, l := range []Limits{smallest, {Enough: 2, Absolute: 0.01}, {Enough: 1e-3, Absolute: 1e-4}} {
		if out := sweep(t, p, over(from, to), l); !out.Contact {
			t.Errorf("enough %g: the rib was stepped over: %+v", l.Enough, out)
		}
	}
}

func TestSweepEdgeCases(t *testing.T) {
	bar := NewTree(cuboid(r3.Vector{X: 10, Y: -1, Z: -1}, r3.Vector{X: 20, Y: 1, Z: 1}))
	turning := chainOf(rotary(r3.Vector{Z: 1}, r3.Vector{}, 0))
	post := func(x, y float64) *Tree {
		return NewTree(cuboid(r3.Vector{X: x - 1, Y: y - 1, Z: -1}, r3.Vector{X: x + 1, Y: y + 1, Z: 1}))
	}
	tests := []struct {
		name   string
		post   *Tree
		lo, hi float64
		want   float64 // clearance; 0 = contact
	}{
		{"zero width, apart", post(-15, 0), 0, 0, 24},
		{"zero width, touching", post(21, 0), 0, 0, 0},
		{"half a turn exactly", post(-15, 0), 0, math.Pi, 0},
		{"half a turn, other side", post(0, -15), 0, math.Pi, math.Hypot(9, 13)},
		{"full turn", post(0, -15), -math.Pi, math.Pi, 0},
		{"full turn, outside the circle", post(0, -25), -math.Pi, math.Pi, 24 - math.Hypot(20, 1)},
		{"ten turns", post(0, -25), 0, 20 * math.Pi, 24 - math.Hypot(20, 1)},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			out := sweep(t, Pair{A: tt.post, B: bar, Motion: turning}, over(tt.lo, tt.hi), smallest)
			if tt.want == 0 {
				if !out.Contact {
					t.Errorf("contact missed: %+v", out)
				}
				return
			}
			if out.Lower > tt.want+1e-9 || out.Upper < tt.want-1e-6 || out.Upper-out.Lower > 1.1e-3 {
				t.Errorf("%.6f..%.6f, want around %.6f", out.Lower, out.Upper, tt.want)
			}
		})
	}
	if out := sweep(t, Pair{A: bar, B: NewTree(&geom.Mesh{}), Motion: turning}, over(0, 1), smallest); !math.IsInf(out.Lower, 1) {
		t.Errorf("a body without facets: %+v, want infinitely far", out)
	}
}

// Location uncertainty: a linear slack along the gap is taken off whole, one
// across it not at all, an angle at its radius.
func TestSlackIsCharged(t *testing.T) {
	wall := NewTree(cuboid(r3.Vector{X: 50, Y: -50, Z: -50}, r3.Vector{X: 60, Y: 50, Z: 50}))
	block := NewTree(cuboid(r3.Vector{X: 0, Y: 20, Z: -5}, r3.Vector{X: 40, Y: 30, Z: 5}))
	slack := func(kind motion.Kind, axis r3.Vector, s float64) motion.Joint {
		return motion.Joint{Kind: kind, Axis: axis, Slack: s}
	}
	along := linear(r3.Vector{Y: 1}, 0)
	tests := []struct {
		name  string
		joint motion.Joint
		want  float64
	}{
		{"along the gap", slack(motion.Linear, r3.Vector{X: 1}, 0.5), 9.5},
		{"across the gap", slack(motion.Linear, r3.Vector{Z: 1}, 0.5), 10},
		// Turned by a, the corner (40, 30) comes nearer by 30 sin a - 40 (1 - cos a);
		// the bound charges 30 sin a.
		{"an angle", slack(motion.Rotary, r3.Vector{Z: 1}, 0.01), 10 - 30*math.Sin(0.01)},
		{"more than the gap", slack(motion.Linear, r3.Vector{X: 1}, 12), -2},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			// The block slides along the wall by 10 less than would change anything.
			p := Pair{A: wall, B: block, Motion: chainOf(along, tt.joint)}
			out := sweep(t, p, over(-5, 0), smallest)
			if tt.want < 0 {
				if out.Contact || out.Upper > tt.want+0.01 || out.Lower > 0 || out.Nominal < 9.99 {
					t.Errorf("%+v, want the uncertainty to close the gap", out)
				}
				return
			}
			if math.Abs(out.Upper-tt.want) > 0.01 || out.Lower > out.Upper || out.Upper-out.Lower > 0.01 {
				t.Errorf("%.5f..%.5f, want %.5f", out.Lower, out.Upper, tt.want)
			}
			if math.Abs(out.Nominal-10) > 1e-9 {
				t.Errorf("nominal %.6f, want 10", out.Nominal)
			}
			if none := sweep(t, p.Nominal(), over(-5, 0), smallest); math.Abs(none.Upper-10) > 1e-9 {
				t.Errorf("as drawn %.6f, want 10", none.Upper)
			}
		})
	}
}

// The same answer for any number of goroutines, to the bit.
func TestSweepIsTheSameForAnyJobs(t *testing.T) {
	a, b := NewTree(bumpy(40, 60, 3, 1)), NewTree(bumpy(40, 50, 3, 2))
	chain := chainOf(rotary(r3.Vector{X: 1}, r3.Vector{Z: 20}, 0), rotary(r3.Vector{Z: 1}, r3.Vector{X: 3}, 1))
	chain.Home.T = r3.Vector{Z: 118, X: 1}
	var want Outcome
	for _, jobs := range []int{1, 2, 3, 8} {
		limits := Limits{Enough: math.Inf(1), Absolute: 0.01, Jobs: jobs}
		out := sweep(t, Pair{A: a, B: b, Motion: chain}, over(-0.5, 0.5, 0, 2*math.Pi), limits)
		if jobs == 1 {
			want = out
			if out.Tests < 2*firstShare {
				t.Errorf("only %d tests: the rounds were never needed", out.Tests)
			}
		} else if out != want {
			t.Errorf("%d jobs: %+v\nwant %+v", jobs, out, want)
		}
	}
}

func TestSweepStops(t *testing.T) {
	a, b := NewTree(bumpy(60, 60, 3, 1)), NewTree(bumpy(60, 50, 3, 2))
	chain := chainOf(rotary(r3.Vector{X: 1}, r3.Vector{}, 0), rotary(r3.Vector{Z: 1}, r3.Vector{}, 1))
	chain.Home.T = r3.Vector{Z: 118}
	p := Pair{A: a, B: b, Motion: chain}
	out := sweep(t, p, over(0, 6, 0, 6), Limits{Enough: math.Inf(1), Absolute: 1e-3, Tests: 40_000})
	if out.Stopped != StoppedBudget || out.Lower > 0 {
		t.Errorf("out of budget: %+v, want nothing proven and the reason", out)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := Sweep(ctx, p, over(0, 6, 0, 6), smallest); err != context.Canceled {
		t.Errorf("cancelled: error %v", err)
	}
}

func BenchmarkSweep(b *testing.B) {
	for _, n := range []int{60, 240} {
		ta, tb := NewTree(bumpy(n, 60, 3, 1)), NewTree(bumpy(n, 50, 3, 2))
		chain := chainOf(rotary(r3.Vector{X: 1}, r3.Vector{}, 0), rotary(r3.Vector{Z: 1}, r3.Vector{X: 3}, 1))
		chain.Home.T = r3.Vector{Z: 118}
		box := over(-1, 1, 0, 2*math.Pi)
		p := Pair{A: ta, B: tb, Motion: chain}
		for _, q := range []struct {
			name string
			l    Limits
		}{
			{"at least 2 mm", Limits{Enough: 2, Absolute: 0.01}},
			{"at least 5 mm", Limits{Enough: 5, Absolute: 0.01}},
			{"smallest to 1 %", Limits{Enough: math.Inf(1), Absolute: 0.01, Relative: 0.01}},
		} {
			b.Run(fmt.Sprintf("%d facets/%s", ta.Facets(), q.name), func(b *testing.B) {
				var out Outcome
				for b.Loop() {
					out = sweep(b, p, box, q.l)
				}
				b.ReportMetric(out.Upper, "mm")
				b.ReportMetric(float64(out.Tests), "tests")
				b.ReportMetric(float64(out.Boxes), "boxes")
			})
		}
	}
}
