package reach

import (
	"strings"
	"testing"

	"gridswing/machine"
)

// No stick-out helps where it is the cutter's own shank that meets something.
func TestNoStickOutHelpsTheShank(t *testing.T) {
	_, r := newShop().hole("op", 1, "[0, 0, 0]", upward, 31).check(t)
	w := operation(t, r, "op").StickOut
	if w == nil || w.Shortest != nil || !strings.Contains(w.ShortestBy, "T1 shank against stock") {
		t.Errorf("%+v", w)
	}
}

// The unit stands in row 3 of 5 and cannot be seated further than the grid goes; on
// the table it can be raised, not lowered; a block that stands on a faceplate neither.
func TestCuresThatAreNotThere(t *testing.T) {
	for hole, want := range map[string]map[int]bool{
		"B3": {-2: true, 2: true, 3: false, -3: false}, "A1": {-1: false, 4: true, 5: false}, "": {0: false},
	} {
		seat := &machine.Seat{Holes: [2]int{9, 5}, Locators: []machine.Locator{{Hole: hole}, {Hole: hole}}}
		for by, there := range want {
			if onGrid(seat, 1, by) != there {
				t.Errorf("%q, %d rows on: %v", hole, by, !there)
			}
		}
	}
	_, r := newShop().edit(t, "machine.toml", "[0, 500], home = 500", "[0, 345], home = 345").hole("op", 1, "[0, 0, 0]", upward, 10).check(t)
	for _, x := range operation(t, r, "op").Features[0].Travel {
		for _, cure := range x.Cures {
			if strings.Contains(cure, "standing lower") {
				t.Errorf("%s: %s", x.Axis, cure)
			}
		}
	}
}

// On a riser of 60 the block's top is at 280: 25 above it, and 110 of tool, Z is at 415. Of a
// travel that ends at 400 and is to keep 1, 16 is missing: the unit can stand lower by that,
// not the riser itself. Of one that ends at 350, 66 is more than the riser is high.
func TestLowerByWhatIsUnderIt(t *testing.T) {
	for _, c := range []struct {
		travel string
		want   bool
	}{{"[0, 400], home = 400", true}, {"[0, 350], home = 350", false}} {
		_, r := riser(t, 40).edit(t, "machine.toml", "[0, 500], home = 500", c.travel).hole("op", 1, "[0, 0, 0]", upward, 10).check(t)
		found := false
		for _, x := range operation(t, r, "op").Features[0].Travel {
			for _, cure := range x.Cures {
				found = found || cure == "unit standing lower by 16.0 mm"
				if strings.HasPrefix(cure, "riser standing lower") {
					t.Errorf("%s: %s", c.travel, cure)
				}
			}
		}
		if found != c.want {
			t.Errorf("%s: the unit lower by 16: %v\n%s", c.travel, found, summary(r))
		}
	}
}
