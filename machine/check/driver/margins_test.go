package driver

import (
	"math"
	"testing"

	"gridswing/machine/check"
)

// By hand, as in TestClear: the wide part of the key is 5 from the cradle, less than 0.1 % of
// its radius of 15. Of 2 mm that is a share of 2.5, of 6 one of 5/6.
func TestTightestDriver(t *testing.T) {
	for demand, want := range map[string]float64{"2": 2.5, "6": 5. / 6} {
		r := briefly(t, newShop().edit(t, "setup.toml", "loading = 2", "loading = "+demand).load(t))
		if len(r.Margins) != 1 {
			t.Fatalf("margins %+v", r.Margins)
		}
		m := r.Margins[0]
		if m.Concern != check.DriverConcern || m.Share > want || m.Share < 0.975*want || math.Abs(m.Share*m.Demand-m.Has) > 1e-9 ||
			m.What != "key at screw 1 (M12) of unit and unit/cradle" {
			t.Errorf("want a share of %g, got %+v", want, m)
		}
	}
	// Nothing is left where the key hits the cradle.
	r := briefly(t, newShop().edit(t, "setup.toml", "loading = { A = 90 }", "").load(t))
	if len(r.Margins) != 1 || r.Margins[0].Share != 0 {
		t.Errorf("in the way: %+v", r.Margins)
	}
}
