package reach

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"math/rand/v2"
	"testing"

	"gridswing/machine/check"

	"github.com/golang/geo/r3"
)

// The report is the same to the byte for any number of goroutines, and can be written
// down: no number in it is infinite or none at all.
func TestSameReportForAnyJobs(t *testing.T) {
	for seed := range uint64(6) {
		w := randomShop(t, rand.New(rand.NewPCG(seed, 41)))
		w.tilted("last", 2)
		var first []byte
		for _, jobs := range []int{1, 2, 5} {
			data, err := json.Marshal(checked(t, w.load(t), Options{Jobs: jobs, Tests: 100_000}))
			if err != nil {
				t.Fatalf("seed %d: %v", seed, err)
			}
			if first == nil {
				first = data
			} else if !bytes.Equal(first, data) {
				t.Fatalf("seed %d: another report for %d goroutines", seed, jobs)
			}
			if bytes.Contains(data, []byte(":-0,")) || bytes.Contains(data, []byte(":-0}")) {
				t.Fatalf("seed %d: -0 in %s", seed, data)
			}
		}
	}
}

// A check that is called off says so and leaves the report alone.
func TestCalledOff(t *testing.T) {
	s := newShop().hole("op", 1, "[0, 0, 0]", upward, 5).load(t)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	r := check.NewReport(s)
	if err := Check(ctx, s, r, Options{}); !errors.Is(err, context.Canceled) {
		t.Errorf("%v", err)
	}
	if r.Verdict == check.Clear || r.Reach != nil {
		t.Errorf("%v, %+v", r.Verdict, r.Reach)
	}
	// In the middle of it: after the first stage.
	ctx, cancel = context.WithCancel(context.Background())
	defer cancel()
	err := Check(ctx, s, r, Options{Progress: func(string, int, int) { cancel() }})
	if !errors.Is(err, context.Canceled) || r.Verdict == check.Clear {
		t.Errorf("%v, %v", err, r.Verdict)
	}
}

// A budget that is used up leaves things unproven, not clear.
func TestBudgetUsedUp(t *testing.T) {
	s := newShop().box(t, "post", "unit/face", 20, 32, 0, 30, 60, 39, 0).operation("op", 1, "", "[[operation.contour]]\n"+
		"points = [[-60, 34, 2], [60, 34, 2]]\naxes = [[0, 0, 1], [0, 0.01, 1]]\ntip_control = true\n").load(t)
	if got := operation(t, checked(t, s, Options{}), "op").Verdict; got != check.Clear && got != check.Tight {
		t.Errorf("%v with all the tests it takes", got)
	}
	if got := operation(t, checked(t, s, Options{Tests: 1}), "op").Verdict; got != check.Unproven {
		t.Errorf("%v with one test", got)
	}
}

// What the magazine takes: lengths, widths and masses by hand. What it does not take is told so
// that it never reads as what it takes.
func TestMagazine(t *testing.T) {
	for _, c := range []struct {
		magazine string
		want     check.Verdict
		says     string
	}{
		{"longest = 110\ndiameter = 50", check.Clear, ""},
		{"longest = 109.9\ndiameter = 50", check.Overload, "LPR 110.00 mm, the magazine takes 109.90"},
		{"longest = 109.999\ndiameter = 50", check.Overload, "LPR 110.01 mm, the magazine takes 110.00"},
		{"longest = 200\ndiameter = 49\nalone = 50.1", check.Clear, "diameter 50.00 mm: the places beside it must be empty (49.00 with neighbours)"},
		{"longest = 200\ndiameter = 49\nalone = 49.9", check.Overload, "diameter 50.00 mm, the magazine takes 49.90"},
		{"longest = 200\nheaviest = 8", check.Unproven, "mass not stated: not looked at"},
	} {
		s := newShop().hole("op", 1, "[0, 0, 0]", upward, 5)
		s["machine.toml"] += "\n[magazine]\n" + c.magazine + "\n"
		_, r := s.check(t)
		if g := r.Reach.Magazine[0]; g.Verdict != c.want || g.Reason != c.says {
			t.Errorf("%s: %v, %q, want %v, %q", c.magazine, g.Verdict, g.Reason, c.want, c.says)
		}
	}
}

// The lines of the report say no more than was asked: what cuts is in the stock, and nothing
// of the pair is called clear by more than before it is fed.
func TestLinesSayWhatWasAsked(t *testing.T) {
	_, r := newShop().edit(t, "setup.toml", "default = 2", "default = 2, holder = 3, approach = 1.5").hole("op", 1, "[0, 0, 0]", upward, 5).check(t)
	want := map[[2]string]float64{{"T1 cutting part", "stock"}: 1.5, {"T1 holder", "stock"}: 3, {"T1 cutting part", "unit/base"}: 2}
	for _, p := range r.Pairs {
		if d, known := want[p.Bodies]; known {
			if p.Verdict != check.Clear || p.Proven == nil || *p.Proven > d+1e-9 {
				t.Errorf("%+v, want %g", p, d)
			}
			delete(want, p.Bodies)
		}
	}
	if len(want) > 0 {
		t.Errorf("no line of %v", want)
	}
}

// Where a finding is, in the part's own coordinates: a holder 0.5 mm over the face that a drill
// goes into, tilted by 90 degrees or not. By hand: in the middle of the gap, within the holder.
func TestPointInThePart(t *testing.T) {
	for _, c := range []struct {
		at, axis string
		face     r3.Vector // where the hole begins
		out      r3.Vector
	}{
		{"[0, 0, 0]", "[0, 0, 1]", r3.Vector{}, r3.Vector{Z: 1}},
		{"[10, -30, -20]", "[0, -1, 0]", r3.Vector{X: 10, Y: -30, Z: -20}, r3.Vector{Y: -1}},
	} {
		_, r := newShop().hole("op", 2, c.at, c.axis, 49.5).check(t)
		f := met(r, "op", "T2 holder", "stock")
		if f == nil || f.PartPoint == nil {
			t.Fatalf("%s: no finding with a point: %+v\n%s", c.at, f, summary(r))
		}
		p := r3.Vector{X: f.PartPoint[0], Y: f.PartPoint[1], Z: f.PartPoint[2]}.Sub(c.face)
		nearly(t, c.at+" over the face", p.Dot(c.out), 0.25, 1e-3)
		if off := p.Sub(c.out.Mul(p.Dot(c.out))).Norm(); off > 15.1 { // the model is around the holder
			t.Errorf("%s: %.3f mm beside the axis, the holder has a radius of 15", c.at, off)
		}
	}
}
