package proof

import (
	"math/rand/v2"
	"testing"

	"gridswing/machine/check"
)

// Clears says yes where Ask says clear, and never elsewhere.
func TestClearsAgreesWithAsk(t *testing.T) {
	yes, no := 0, 0
	for seed := range uint64(150) {
		r := rand.New(rand.NewPCG(seed, 61))
		trees := NewTrees()
		q := randomScene(r, trees).question()
		clear, err := trees.Clears(t.Context(), q, sceneTests)
		if err != nil {
			t.Fatal(err)
		}
		a, err := trees.Ask(t.Context(), q, sceneTests)
		if err != nil {
			t.Fatal(err)
		}
		if clear != (a.Verdict == check.Clear) {
			t.Errorf("seed %d: %v, asked %v (%s), %g of %g proven", seed, clear, a.Verdict, a.Reason, a.Out.Lower, q.Demand)
		}
		if clear {
			yes++
		} else {
			no++
		}
	}
	if yes < 20 || no < 20 {
		t.Errorf("hardly anything was tried: %d yes, %d no", yes, no)
	}
}

// SweptRoughly holds all that Swept holds, but for what Swept adds for rounding.
func TestSweptRoughlyHolds(t *testing.T) {
	for seed := range uint64(200) {
		r := rand.New(rand.NewPCG(seed, 67))
		trees := NewTrees()
		q := randomScene(r, trees).question()
		fine := trees.Swept(q.B.Solid, &q.Moving.Motion, &q.Over)
		rough := SweptRoughly(q.B.Solid, &q.Moving.Motion, &q.Over, nil)
		for _, corner := range fine.Corners() {
			if !rough.Contains(corner) {
				t.Errorf("seed %d: %v is outside of %v", seed, corner, rough)
				break
			}
		}
	}
}
