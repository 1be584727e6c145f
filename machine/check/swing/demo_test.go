package swing

import (
	"context"
	"testing"

	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/models"
)

// Real solids, 234 pairs each: all must be decided well within the budget. One
// pair of the failing setup once lost itself where the vise's screw slides along
// a support 0.08 mm away, while it meets that support elsewhere.
func TestDemoIsDecided(t *testing.T) {
	for name, want := range map[string]check.Verdict{models.GoodSetup: check.Clear, models.BadSetup: check.Contact} {
		s, err := machine.LoadFS(models.Demo, name)
		if err != nil {
			t.Fatal(err)
		}
		r := check.NewReport(s)
		if err := Check(context.Background(), s, r, Options{Tests: 3_000_000}); err != nil {
			t.Fatal(err)
		}
		if r.Verdict != want {
			t.Errorf("%s: %v, want %v", name, r.Verdict, want)
		}
		for _, p := range r.Pairs {
			if p.Verdict == check.Unproven {
				t.Errorf("%s: %v is undecided", name, p.Bodies)
			}
		}
	}
}
