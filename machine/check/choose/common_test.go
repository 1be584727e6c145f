package choose

import (
	"context"
	"testing"

	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/internal/shoptest"
)

// TestWhatAlsoStandsThereStays has a bar across two blocks. It goes with the first, from which its
// place counts, and not with the second: how near the second's post is to its boss is a matter of
// where the second stands, and decides.
func TestWhatAlsoStandsThereStays(t *testing.T) {
	s := plain()
	shoptest.Edit(t, s, "setup.toml", "#stack\n", "#stack\n"+`{ name = "left", component = "left.toml", on = "table", pins = ["B1", "C1"] },
  { name = "right", component = "right.toml", on = "table", pins = ["F1", "G1"] },
  { name = "bar", component = "bar.toml", on = "left", at = [100, 0, 20], within = 0, also_on = ["right/foot"] },
`)
	block := func(name, more string) {
		s[name+".toml"] = `kind = "component"
name = "` + name + `"
units = "mm"
role = "workholding"
material = "steel"
solid = [{ name = "foot", file = "foot.stl", chord_error = 0 }` + more + `]
`
	}
	s["foot.stl"] = shoptest.Box(-45, -10, 0, 45, 10, 20)
	s["post.stl"] = shoptest.Box(-5, 14, 5, 5, 24, 30)
	s["bar.stl"] = shoptest.Box(-180, -10, 0, 180, 10, 5) + shoptest.Box(90, 10, 0, 93, 20, 5)
	block("left", "")
	block("right", `, { name = "post", file = "post.stl", chord_error = 0 }`)
	block("bar", "")
	for _, name := range []string{"left", "right"} {
		s[name+".toml"] += "seat = { pins = [[-25, 0, 0], [25, 0, 0]], play = 0, solids = [\"foot\"] }\n"
	}
	shoptest.Edit(t, s, "bar.toml", "foot.stl", "bar.stl")
	d := s.draft(t)
	for _, c := range []struct {
		place, a, b string
		common      bool
	}{
		{"right", "bar", "right", false}, {"right", "bar", "left", true}, {"left", "bar", "left", true}, {"left", "bar", "right", false},
	} {
		common := commonOf(d.Setup(), []machine.Change{{Seat: &machine.SeatChange{Place: c.place}}})
		if got := common.Units(c.a, c.b); got != c.common {
			t.Errorf("%s in other holes, %s and %s: the same whatever is chosen: %v", c.place, c.a, c.b, got)
		}
	}
	// By hand: the middle of the left block is at X -125, so that of the bar is at -25 and its boss ends
	// at 68; the middle of the right block is at 75, where its post begins at 70.
	l, err := Look(context.Background(), d, Candidate{Changes: []machine.Change{{Seat: &machine.SeatChange{Place: "right", Pins: [2]string{"F1", "G1"}}}}}, Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, j := range l.Judged {
		if m := j.Margin; j.Concern == check.SwingConcern && (m == nil || m.Has > 2 || m.Has < 1.95) {
			t.Errorf("2 mm are left between post and boss, and the margin is %+v (%v, %s)", m, l.Verdict, l.Reason)
		}
	}
}
