package stack

import (
	"strings"
	"testing"

	"gridswing/machine/check"
)

// A locator or a screw beside the component, where a digit has slipped.
func TestAxesBesideTheComponent(t *testing.T) {
	for _, c := range []struct {
		name, file, old, new string
		words                []string
	}{
		// The plate ends at 140: a screw at 250 has nothing within its 12 mm.
		{"screw", "plate.toml", "[150, 100, 0]", "[150, 250, 0]", []string{"plate is not where fastener 4 (M12) is said to be", "within 12 mm"}},
		// A vise of 120 whose second pin is 100 out, in a hole that is there.
		{"pin", "vise.stl", "", box(-160, -60, 0, -20, 60, 40), []string{"vise 1 is not where locator 2 is said to be", "within 16 mm"}},
		// Over its screws, but only far above the seat.
		{"height", "vise.stl", "", box(-60, -60, 20, 60, 60, 40), []string{"vise 1 is not where locator 1 is said to be", "within 16 mm"}},
	} {
		s := newShop()
		if c.old == "" {
			s.with(c.file, c.new)
		} else {
			s.edit(t, c.file, c.old, c.new)
		}
		_, r := s.checked(t)
		if f := told(t, r, c.words); f.Verdict != check.Unproven {
			t.Errorf("%s: %s", c.name, f.Verdict)
		}
	}
	// Just inside and just outside of a diameter of a screw at 100: a plate that ends at 88.5 or 87.5.
	for edge, want := range map[float64]bool{88.5: false, 87.5: true} {
		_, r := newShop().with("plate.stl", box(-190, -edge, 0, 190, edge, 30)).checked(t)
		if got := strings.Contains(reasons(r), "plate is not where fastener"); got != want {
			t.Errorf("plate to %g: %v\n%s", edge, got, reasons(r))
		}
	}
}

// A bar that lies on a vise of 120 without being gripped: its middle, which is its
// centre of mass, over the vise or beside it.
func TestLyingByHand(t *testing.T) {
	lying := func(x string) *check.Report {
		_, r := newShop().edit(t, "setup.toml", `, also_on = ["vise 2"], at = [100, 0, 40], within = 0.1, gripped = { bite = 0, depth = 20 }`,
			`, at = [`+x+`, 20, 40], within = 0.1`).checked(t)
		return r
	}
	goesTogether(t, lying("0"))
	goesTogether(t, lying("59"))
	f := told(t, lying("75"), []string{"bar tips", "15 mm outside"})
	if f.Verdict != check.Unproven {
		t.Error(f.Verdict)
	}
	// Over two vises it is carried between them.
	_, r := newShop().edit(t, "setup.toml", `at = [100, 0, 40], within = 0.1, gripped = { bite = 0, depth = 20 }`, `at = [75, 20, 40], within = 0.1`).checked(t)
	goesTogether(t, r)
	// Above everything.
	_, r = newShop().edit(t, "setup.toml", `at = [100, 0, 40], within = 0.1, gripped = { bite = 0, depth = 20 }`, `at = [75, 20, 80], within = 0.1`).checked(t)
	if f := only(t, r); f.Verdict != check.Unproven || !strings.Contains(f.Reason, "bar lies on nothing") {
		t.Errorf("%s: %s", f.Verdict, f.Reason)
	}
	// Jaws or stops: stops hold nothing up, jaws do.
	_, r = newShop().edit(t, "setup.toml", `, also_on = ["vise 2"], at = [100, 0, 40], within = 0.1, gripped = { bite = 0, depth = 20 }`,
		`, at = [75, 0, 40], within = 0.02, stops = [[-50, 20, 50], [50, 20, 50], [-85, 0, 50]]`).checked(t)
	told(t, r, []string{"bar tips", "15 mm outside"})
}
