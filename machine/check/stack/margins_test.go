package stack

import (
	"math"
	"testing"

	"gridswing/machine/check"
)

// By hand: 40 mm of screw less 15 clamped less 14 of clearance leave 11 mm of thread; 12 are
// needed of M12 in steel. A part that can be 0.1 mm off as far as anybody asks has what
// that is of what it can be off.
func TestTightestOfStack(t *testing.T) {
	setup, err := newShop().edit(t, "vise.toml", "length = 45, clamped = 15", "length = 40, clamped = 15").try()
	if err != nil {
		t.Fatal(err)
	}
	r := briefly(t, setup)
	if len(r.Margins) != 1 {
		t.Fatalf("margins %+v", r.Margins)
	}
	if m := r.Margins[0]; m.Concern != check.StackConcern || math.Abs(m.Share-11./12) > 1e-9 || m.Unit != "mm" {
		t.Errorf("got %+v", m)
	}
	setup, full := tilted(t, ", unprobed_within = 0.1").checked(t)
	most := 0.0
	for _, l := range full.Stack.Locations {
		if l.To == check.FromTool {
			most = max(most, l.Off)
		}
	}
	r = briefly(t, setup)
	if len(r.Margins) != 1 || math.Abs(r.Margins[0].Share-0.1/most) > 1e-12 || r.Margins[0].Has != 0.1 {
		t.Errorf("off by %g of 0.1: %+v", most, r.Margins)
	}
	// A pin that does not go in leaves nothing.
	setup, err = newShop().edit(t, "vise.toml", "[0, -50, 0]", "[0, -45, 0]").try()
	if err != nil {
		t.Fatal(err)
	}
	if r = briefly(t, setup); len(r.Margins) != 1 || r.Margins[0].Share != 0 || r.Margins[0].What == "" {
		t.Errorf("no hole: %+v", r.Margins)
	}
}
