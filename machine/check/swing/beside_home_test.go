package swing

import (
	"testing"

	"gridswing/machine/check"
	"gridswing/machine/check/internal/shoptest"
)

// Where home is not among the positions that are commanded, what turns is seen beside what it
// turns on where both are: a post on the cradle, which the block's corner meets as C turns it.
func TestBesideWithoutHome(t *testing.T) {
	for _, commanded := range []string{"A = [-90, -60], C = [0, 90]", "A = [-90, -90], C = [0, 90]"} {
		s := newShop().edit(t, "setup.toml", "A = [-90, 0], C = [0, 90]", commanded)
		s["cradle.stl"] = solidBox(-20, 35, 160, 20, 45, 230)
		w := s.load(t)
		full := check.NewReport(w)
		if err := Check(t.Context(), w, full, Options{}); err != nil {
			t.Fatal(err)
		}
		if full.Judge()[3].Verdict != check.Contact {
			t.Fatalf("%s: the shop is no test: %v", commanded, full.Judge()[3].Verdict)
		}
		shoptest.SameInBrief(t, full, briefly(t, w), check.SwingConcern)
	}
}
