package loads

import (
	"math"
	"testing"

	"gridswing/machine/check"
)

// By hand, as in TestLoadsByHand: of all loads the mass on the faceplate leaves least of its
// rating: 2.2 kg at A 90, the block weighs 1.884.
func TestTightestLoad(t *testing.T) {
	setup := newShop().load(t)
	r := check.NewReport(setup)
	if err := Check(t.Context(), setup, r, Options{Brief: true}); err != nil {
		t.Fatal(err)
	}
	if len(r.Margins) != 1 {
		t.Fatalf("margins %+v", r.Margins)
	}
	m := r.Margins[0]
	if math.Abs(m.Share-2.2/block) > 1e-9 || m.Has != 2.2 || math.Abs(m.Demand-block) > 1e-6 || m.Unit != "kg" || m.What != "faceplate load of unit at A +90" {
		t.Errorf("got %+v", m)
	}
	// What is not rated leaves nothing, as far as is known.
	setup = newShop().edit(t, "unit.toml", "load = ", "#").load(t)
	r = check.NewReport(setup)
	if err := Check(t.Context(), setup, r, Options{Brief: true}); err != nil {
		t.Fatal(err)
	}
	if len(r.Margins) != 1 || r.Margins[0].Share != 0 {
		t.Errorf("not rated: %+v", r.Margins)
	}
}
