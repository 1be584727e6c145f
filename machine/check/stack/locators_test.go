package stack

import (
	"strings"
	"testing"

	"gridswing/machine"
	"gridswing/machine/check"
)

// Tenon keys in a T-slot, edge stops, dowels, and screws from below.
func TestOtherLocators(t *testing.T) {
	keyed := newShop().
		edit(t, "plate.toml", `fit = "16 g6", pin_length = 12`, `located_by = "keys", fit = "18 h6"`).
		edit(t, "plate.toml", "[-150, -100, 0]", "[-150, -63, 0]").edit(t, "plate.toml", "[150, -100, 0]", "[150, -63, 0]").
		edit(t, "plate.toml", "[-150, 100, 0]", "[-150, 63, 0]").edit(t, "plate.toml", "[150, 100, 0]", "[150, 63, 0]").
		edit(t, "setup.toml", `on = "top", pins = ["B3", "H3"]`, `on = "slots", keyed = { slot = 3, along = 0, within = 0.5 }`)
	for range 4 {
		keyed.edit(t, "plate.toml", `thread = "M12", length = 35`, `thread = "M16", length = 50`)
		keyed.edit(t, "plate.toml", "counterbore = [20, 13]", "counterbore = [26, 17]")
	}
	_, r := keyed.checked(t)
	goesTogether(t, r)
	plate := seatOf(t, r, "plate")
	// 18 H8/h6: 0 to 0.027 + 0.011 (ISO 286-2, 10 to 18).
	near(t, "key", plate.Locators[0].Most, 0.038, 1e-12)
	near(t, "along the slot", &plate.Play.Along, 0.5, 0)
	if plate.LocatedBy != machine.Keys || plate.Fasteners[0].Hole != "slots 2" {
		t.Errorf("%s, %s", plate.LocatedBy, plate.Fasteners[0].Hole)
	}

	stopped := func() shop {
		return newShop().edit(t, "setup.toml", "within = 0.1, gripped", "within = 0.02, stops = [[-50, 20, 50], [50, 20, 50], [-60, 0, 50]], gripped")
	}
	_, r = stopped().checked(t)
	goesTogether(t, r)
	if bar := seatOf(t, r, "bar"); bar.LocatedBy != machine.Stops || len(bar.Locators) != 3 {
		t.Errorf("%s, %d", bar.LocatedBy, len(bar.Locators))
	}
	_, r = stopped().edit(t, "setup.toml", "[50, 20, 50]", "[50, 22, 50]").checked(t)
	if f := only(t, r); f.Verdict != check.Unproven || !strings.Contains(f.Reason, "bar does not touch stop 2: 1.99") {
		t.Errorf("%s: %s", f.Verdict, f.Reason)
	}
	_, r = stopped().edit(t, "setup.toml", "[50, 20, 50]", "[50, 10, 50]").checked(t)
	if f := only(t, r); f.Verdict != check.Contact || !strings.Contains(f.Reason, "stop 2 is inside bar") {
		t.Errorf("%s: %s", f.Verdict, f.Reason)
	}

	_, r = newShop().edit(t, "vise.toml", `fit = "16 g6"`, `located_by = "dowels", fit = "16 h6", bore = "16 H7"`).checked(t)
	// A dowel has play in both bores: 16 H7/h6 is 0 to 0.029 (ISO 286-2), twice. With none
	// at the least, two round dowels need not go in.
	if f := told(t, r, []string{"vise 1 may not go on", "0.005 mm"}); f.Verdict != check.WithinPlay {
		t.Error(f.Verdict)
	}
	near(t, "dowel", seatOf(t, r, "vise 1").Locators[1].Most, 0.058, 1e-12)

	below := newShop().edit(t, "plate.toml", "thread_depth = 30 }", "thread_depth = 30, through = 13.5 }").
		edit(t, "vise.toml", `thread = "M12", length = 45, clamped = 15`, `from = "below", thread = "M12", length = 50, clamped = 30, thread_depth = 22`)
	_, r = below.checked(t)
	goesTogether(t, r)
	near(t, "from below", seatOf(t, r, "vise 1").Fasteners[0].Engaged, 20, 1e-9)
	_, r = below.edit(t, "plate.toml", "through = 13.5", "through = 12.5").checked(t)
	told(t, r, []string{"fastener front", "12.5 mm", "13", "ISO 273"}) // fine series for M12: 13
}

// A component that stands out beyond what is under it, on a part that is turned as well.
func TestOverhang(t *testing.T) {
	_, r := newShop().with("vise.stl", box(-60, -60, 0, 120, 60, 40)).checked(t)
	if got := seatOf(t, r, "vise 2").Overhang; len(got) != 1 || got[0].Side != "X+" || got[0].By != 100+120-190 {
		t.Errorf("%+v", got)
	}
	if got := seatOf(t, r, "vise 1").Overhang; len(got) != 0 {
		t.Errorf("%+v", got)
	}
	// Half a turn round it stands out on the other side.
	_, r = newShop().with("vise.stl", box(-60, -60, 0, 120, 60, 40)).edit(t, "setup.toml", `["A3", "C3"]`, `["C3", "A3"]`).checked(t)
	if got := seatOf(t, r, "vise 1").Overhang; len(got) != 1 || got[0].Side != "X-" || got[0].By != 30 {
		t.Errorf("%+v", got)
	}
}

// A pin that is set in a hole that something else wants.
func TestSetPinInAHoleThatIsWanted(t *testing.T) {
	_, r := newShop().
		edit(t, "plate.toml", "thread_depth = 30 }", `thread_depth = 30, retractable = { fit = "16 g6", height = 10, at = ["A3", "B2"] } }`).
		checked(t)
	told(t, r, []string{"hole A3 of plate/top", "a locator of vise 1", "its own pin, which is set"})
	told(t, r, []string{"hole B2 of plate/top", "fastener front of vise 1"})
	_, r = newShop().
		edit(t, "plate.toml", "thread_depth = 30 }", `thread_depth = 30, retractable = { fit = "16 g6", height = 10, at = ["A3", "B2"] } }`).
		edit(t, "setup.toml", `pins = ["B3", "H3"]`, `pins = ["B3", "H3"], withdrawn = ["A3", "top/B2"]`).checked(t)
	goesTogether(t, r)
}

// What the files leave open is said, and is no finding: setups from before there were
// fits and lengths of screws.
func TestFilesThatSayLess(t *testing.T) {
	s := newShop()
	for _, name := range []string{"plate.toml", "vise.toml"} {
		s.edit(t, name, `fit = "16 g6"`, "play = 0.035")
	}
	s.edit(t, "plate.toml", ", pin_length = 12, least_fasteners = 4", "")
	for range 4 {
		s.edit(t, "plate.toml", `thread = "M12", length = 35, clamped = 17, counterbore = [20, 13], class = "8.8"`, `thread = "M12"`)
	}
	_, r := s.edit(t, "setup.toml", ", depth = 20", "").checked(t)
	goesTogether(t, r)
	said := strings.Join(r.Assumed, "\n")
	for _, words := range []string{"the least clearance, too, is left to the maker of plate, vise 1 and vise 2", "the screws of plate go in as deep as they should"} {
		if !strings.Contains(said, words) {
			t.Errorf("not said: %s\n%s", words, said)
		}
	}
	if seatOf(t, r, "plate").Spare != nil || seatOf(t, r, "plate").Locators[0].Least != nil {
		t.Error("a least clearance that nobody states")
	}
	// Without any thread under it nothing is looked at.
	_, r = newShop().edit(t, "machine.toml", `thread = "M12", thread_depth = 25 }]`, "}]").
		edit(t, "machine.toml", `slots = [{ name = "slots", solid = "table", origin = [0, -126, 0], count = 5, pitch = 63, width = "18 H8" }]`, "").checked(t)
	goesTogether(t, r)
	if said := strings.Join(r.Assumed, "\n"); !strings.Contains(said, "no screw is looked at of plate") {
		t.Error(said)
	}
}
