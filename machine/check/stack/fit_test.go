package stack

import (
	"strings"
	"testing"

	"gridswing/machine/check"
)

// A pin that is thicker than its bore, always or with unlucky sizes, does not go on. The
// limits are those of ISO 286-2 for 10 to 18: H7 is 0/+18, p6 +18/+29, m6 +7/+18.
func TestInterference(t *testing.T) {
	for _, c := range []struct {
		fit         string
		verdict     check.Verdict
		least, most float64
		words       []string
	}{
		{"16 p6", check.Contact, -0.029, 0, []string{"vise 1 does not go on", "hole A3 of top", "16 p6 in 16 H7 leaves -0.029 to 0 mm"}},
		{"16 m6", check.WithinPlay, -0.018, 0.011, []string{"vise 1 may not go on", "lucky sizes only", "-0.018 to 0.011 mm"}},
	} {
		_, r := newShop().edit(t, "vise.toml", `fit = "16 g6"`, `fit = "`+c.fit+`"`).checked(t)
		if f := told(t, r, c.words); f.Verdict != c.verdict {
			t.Errorf("%s: %s", f.Verdict, f.Reason)
		}
		vise := seatOf(t, r, "vise 1")
		if vise.Verdict != c.verdict {
			t.Errorf("%s: seat %s", c.fit, vise.Verdict)
		}
		near(t, "least", vise.Locators[0].Least, c.least, 1e-12)
		near(t, "most", vise.Locators[0].Most, c.most, 1e-12)
	}
	// A dowel that slides in the component is pressed into what is under it: clearance
	// here does not make up for interference there.
	_, r := newShop().edit(t, "vise.toml", `fit = "16 g6"`, `located_by = "dowels", fit = "16 m6", bore = "16 F8"`).checked(t)
	if f := told(t, r, []string{"vise 1 may not go on", "16 F8 and 16 H7", "-0.018"}); f.Verdict != check.WithinPlay {
		t.Error(f.Verdict)
	}
}

// Keys wider than their slot: 18 H8 is 0/+27, 18 m6 +7/+18 (ISO 286-2).
func TestKeysThatInterfere(t *testing.T) {
	_, r := newShop().
		edit(t, "plate.toml", `fit = "16 g6", pin_length = 12`, `located_by = "keys", fit = "18 m6"`).
		edit(t, "setup.toml", `on = "top", pins = ["B3", "H3"]`, `on = "slots", keyed = { slot = 3, along = 0, within = 0.5 }`).checked(t)
	if f := told(t, r, []string{"plate may not go on", "slot 3 of slots", "-0.018 to 0.02 mm"}); f.Verdict != check.WithinPlay {
		t.Error(f.Verdict)
	}
}

// Where the play is stated, positions are taken off what it allows, not added to it.
func TestDistanceBeyondThePlay(t *testing.T) {
	played := func(x string) *check.Report {
		_, r := newShop().edit(t, "vise.toml", `pins = [[-50, 0, 0], [50, 0, 0]], fit = "16 g6"`, `pins = [[-50, 0, 0], [`+x+`, 0, 0]], play = 0.035`).
			edit(t, "plate.toml", "position_tolerance = 0.005, bore", "position_tolerance = 0.02, bore").checked(t)
		return r
	}
	goesTogether(t, played("50"))
	goesTogether(t, played("50.01")) // 0.035 of play, less 0.02 of position, less 0.01
	r := played("50.05")
	f := told(t, r, []string{"vise 1 may not go on", "A3 and C3 differ by 0.05 mm", "by 0.035 mm more"}) // 0.05 + 0.02 - 0.035
	if f.Verdict != check.WithinPlay || strings.Count(reasons(r), "may not go on") != 2 {
		t.Errorf("%s\n%s", f.Verdict, reasons(r))
	}
	// Put in the middle, each is off by half of play, position and difference.
	near(t, "shift", &seatOf(t, r, "vise 1").Play.Along, (0.035+0.02+0.05)/2, 1e-9)
}

// A pin whose length is stated over a bore whose depth is not, and the other way.
func TestPinLengthWithoutBoreDepth(t *testing.T) {
	_, r := newShop().checked(t) // the plate's pins over the table's bores, the vises' over the plate's
	want := "the pins of plate, vise 1 and vise 2 bottom nowhere: of pin_length and bore_depth only one is stated"
	if said := strings.Join(r.Assumed, "\n"); !strings.Contains(said, want) {
		t.Error(said)
	}
	_, r = newShop().edit(t, "vise.toml", `fit = "16 g6"`, `fit = "16 g6", pin_length = 12`).edit(t, "plate.toml", ", pin_length = 12", "").checked(t)
	if said := strings.Join(r.Assumed, "\n"); strings.Contains(said, "pin_length") {
		t.Error(said)
	}
}
