package proof

import (
	"math/rand/v2"
	"testing"

	"gridswing/machine/check"

	"pgregory.net/rapid"
)

// sceneTests is a budget that scenes as small as these never use up.
const sceneTests = 20_000_000

// A measured clearance is never above what is there, and within a fiftieth of it below what
// is asked for; the verdict is that of Ask.
func TestMeasure(t *testing.T) {
	verdicts := map[check.Verdict]int{}
	short := 0
	rapid.Check(t, func(t *rapid.T) {
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 29))
		s := randomScene(r, NewTrees())
		q := s.question()
		upTo := s.demand * []float64{0.5, 1, 5, 20}[r.IntN(4)]
		ask, err := s.trees.Ask(t.Context(), q, sceneTests)
		if err != nil {
			t.Fatal(err)
		}
		a, err := s.trees.Measure(t.Context(), q, upTo, sceneTests)
		if err != nil {
			t.Fatal(err)
		}
		verdicts[a.Verdict]++
		if a.Verdict != ask.Verdict || a.Reason != ask.Reason {
			t.Fatalf("measured %v (%s), asked %v (%s)", a.Verdict, a.Reason, ask.Verdict, ask.Reason)
		}
		if a.Verdict != check.Clear && a.Verdict != check.Tight {
			return
		}
		if !a.Sharp {
			t.Fatalf("not measured: %+v", a)
		}
		least := nearest(r, q)
		if a.Out.Lower > least+1e-6 {
			t.Fatalf("%g is proven, %g was found", a.Out.Lower, least)
		}
		if seen := min(a.Out.Upper, upTo); a.Out.Lower < seen-max(0.0101, 0.0201*seen) {
			t.Fatalf("%g is proven, %g was seen", a.Out.Lower, a.Out.Upper)
		}
		if a.Out.Lower < upTo {
			short++
		}
		if (a.Verdict == check.Clear) != (a.Out.Lower >= q.Demand) {
			t.Fatalf("%v with %g of %g", a.Verdict, a.Out.Lower, q.Demand)
		}
	})
	if !testing.Short() && (len(verdicts) < 3 || short == 0) {
		t.Errorf("hardly anything was tried: %v, less than asked for %d times", verdicts, short)
	}
}

// What is tight is told less than the demand, also where measuring proves a little more than Ask does.
func TestTightIsLessThanDemanded(t *testing.T) {
	r := rand.New(rand.NewPCG(0x18f9, 29))
	s := randomScene(r, NewTrees())
	q := s.question()
	a, err := s.trees.Measure(t.Context(), q, s.demand*[]float64{0.5, 1, 5, 20}[r.IntN(4)], sceneTests)
	if err != nil {
		t.Fatal(err)
	}
	if a.Verdict != check.Tight || a.Out.Lower >= q.Demand || a.Out.Lower < q.Demand-1e-9 {
		t.Errorf("%v with %g of %g", a.Verdict, a.Out.Lower, q.Demand)
	}
}
