package swing

import (
	"math"
	"testing"

	"gridswing/machine/check"
)

// A part that was found higher sweeps higher, by hand: its top edge, 20 above the axis
// and 50 from it at the farthest, is at 20 + shift. What belongs together is judged as
// drawn: a part that was found 0.05 mm lower has not sunk into what it stands on.
func TestPartWhereItWasFound(t *testing.T) {
	const tip = 6 // above the highest point as drawn
	for _, shift := range []float64{0, 4, -0.05, 0.05} {
		s := newShop().edit(t, "setup.toml", "Z = 400", "Z = "+format(sweptTop+100+tip))
		s["setup.toml"] += "\npart = [{ name = \"part\", place = \"stock\", at = [0, 0, 40] }]\n" +
			"probed = [{ part = \"part\", shift = [0, 0, " + format(shift) + "] }]\n"
		_, r := s.check(t)
		f := find(t, r, "tool", "stock")
		want := sweptTop + tip - (200 + math.Hypot(50, 20+shift))
		if math.Abs(*f.Smallest-want) > 0.01*want+0.01 {
			t.Errorf("found %g higher: %.4f between tool and stock, want %.4f", shift, *f.Smallest, want)
		}
		if r.Verdict != check.Clear {
			t.Errorf("found %g higher:\n%s", shift, summary(r))
		}
	}
}
