package reach

import (
	"fmt"
	"strings"
	"testing"

	"gridswing/machine/check"
)

const upward = "[0, 0, 1]"

// longDrill is a shop whose drill gets through the block: flutes of 55 on a stick-out of 65.
func longDrill(t testing.TB) shop {
	return newShop().edit(t, "tools.toml", "APMX = 40, DMM = 8, OAL = 80", "APMX = 55, DMM = 8, OAL = 100").
		edit(t, "tools.toml", "stick_out = 50", "stick_out = 65")
}

// mayBeCut allows a body to be cut into.
func (s shop) mayBeCut(body string, depth float64) shop {
	return s.more(fmt.Sprintf("\n[[may_be_cut]]\nbody = %q\ndepth = %g\nreason = \"soft\"\n", body, depth))
}

// wall is a shop with a soft block of 60 x 20 x 45 beside the stock, at y from 40 on as the
// part sees it, its top 5 above the stock's, and a slot milled at y, 3 deep into the stock.
func wall(t testing.TB, y, depth float64) shop {
	s := newShop().box(t, "wall", "unit/face", -5, 40, 0, 55, 60, 45, 0)
	s.operation("op", 1, "approach = 12\nretract = 25\n", fmt.Sprintf("[[operation.face]]\npoints = [[-60, %g, -3], [60, %g, -3]]\naxis = [0, 0, 1]\n", y, y))
	if depth > 0 {
		s.mayBeCut("wall", depth)
	}
	return s
}

// slot is a slot along the middle of the block, its floor at z.
func slot(z float64) shop {
	return newShop().operation("op", 1, "", fmt.Sprintf("[[operation.pocket]]\npoints = [[-30, 0, %g], [30, 0, %g]]\naxis = [0, 0, 1]\n", z, z))
}

func touch(at, toward string, start float64) string {
	return fmt.Sprintf("[[operation.touch]]\nat = [%s]\naxis = [0, 0, 1]\ntoward = %s\nstart = %g\nsearch = 3\n", at, toward, start)
}

// What may meet what, each rule at one operation and one number of mm beyond it.
func TestWhatMayMeetWhat(t *testing.T) {
	type pair [2]string
	const contact, tight, clear = check.Contact, check.Tight, check.Clear
	secondPart := func(x float64) shop {
		s := newShop()
		s["other.toml"] = strings.Replace(stockFile, `seat = { pins = [[-25, 0, 0], [25, 0, 0]], play = 0 }`, "", 1)
		return s.edit(t, "setup.toml", "place = [\n", fmt.Sprintf("place = [\n  { name = \"other\", component = \"other.toml\", on = \"unit/face\", at = [%g, 0, 0], within = 0 },\n", x)).
			edit(t, "setup.toml", "part = [", "part = [{ name = \"second\", place = \"other\", at = [0, 0, 40] }, ").
			operation("op", 1, "part = \"part\"\n", "[[operation.face]]\npoints = [[-30, 0, -3], [30, 0, -3]]\naxis = [0, 0, 1]\n")
	}
	for _, c := range []struct {
		name    string
		shop    shop
		verdict check.Verdict
		meets   pair
	}{
		{"a hole as deep as the flutes", newShop().hole("op", 1, "[0, 0, 0]", upward, 15), clear, pair{}},
		{"the neck follows", newShop().hole("op", 1, "[0, 0, 0]", upward, 27.5), clear, pair{}},
		{"the shank comes near", newShop().hole("op", 1, "[0, 0, 0]", upward, 28.5), tight, pair{"T1 shank", "stock"}},
		{"the shank does not follow", newShop().hole("op", 1, "[0, 0, 0]", upward, 31), contact, pair{"T1 shank", "stock"}},
		{"the holder meets stock that is cut already", newShop().hole("op", 1, "[0, 0, -25]", upward, 14), contact, pair{"T1 shank", "stock"}},
		// T1 cuts 20 mm and its neck begins there: 22 deep the slot has 2 mm of stock beside the neck.
		{"a slot as deep as the flutes", slot(-19), clear, pair{}},
		{"a slot in which the neck does not follow sideways", slot(-22), contact, pair{"T1 neck", "stock"}},
		{"approach too low", newShop().operation("op", 1, "approach = 1.5\nretract = 25\n",
			"[[operation.hole]]\nat = [[0, 0, 0]]\naxis = [0, 0, 1]\ndepth = 5\ndepth_to = \"tip\"\n"), tight, pair{"T1 cutting part", "stock"}},
		// The slot ends 5 mm of radius beyond x = 30; the other block begins at x - 25 - 40.
		{"beside another part", secondPart(102.5), clear, pair{}},
		{"near another part", secondPart(101.5), tight, pair{"T1 cutting part", "other"}},
		{"into another part", secondPart(99), contact, pair{"T1 cutting part", "other"}},
		{"a through hole above what is under it", longDrill(t).hole("op", 2, "[37, 0, 0]", upward, 43), clear, pair{}},
		{"a through hole into what is under it", longDrill(t).hole("op", 2, "[0, 0, 0]", upward, 43), contact, pair{"T2 cutting part", "unit/faceplate"}},
		{"a blind hole near what is under it", longDrill(t).hole("op", 2, "[0, 0, 0]", upward, 38.5), tight, pair{"T2 cutting part", "unit/faceplate"}},
		{"into what may be cut", longDrill(t).hole("op", 2, "[0, 0, 0]", upward, 43).mayBeCut("unit/faceplate", 3.5), clear, pair{}},
		{"deeper than it may be cut", longDrill(t).hole("op", 2, "[0, 0, 0]", upward, 43).mayBeCut("unit/faceplate", 2), contact, pair{"T2 cutting part", "unit/faceplate"}},
		{"a drill thinner than what may be cut, all through it", longDrill(t).hole("op", 2, "[0, 0, 0]", upward, 49).mayBeCut("unit/faceplate", 5), contact, pair{"T2 cutting part", "unit/faceplate"}},
		{"beside a wall", wall(t, 32.5, 0), clear, pair{}},
		{"near a wall", wall(t, 33.5, 0), tight, pair{"T1 cutting part", "wall"}},
		{"into a wall that may be cut", wall(t, 36, 1.5), clear, pair{}},
		{"deeper into a wall than it may be cut", wall(t, 37, 1.5), contact, pair{"T1 cutting part", "wall"}},
		{"a mill thinner than what may be cut", wall(t, 45.5, 6), contact, pair{"T1 cutting part", "wall"}},
		{"the neck into what may be cut", wall(t, 40, 6).edit(t, "setup.toml", "[[-60, 40, -3], [60, 40, -3]]", "[[-60, 40, -18], [60, 40, -18]]"), contact, pair{"T1 neck", "wall"}},
		{"a probe before it searches", newShop().operation("op", 9, "", touch("[0, 0, 0]", "[0, 0, -1]", 4)), clear, pair{}},
		{"a probe that begins too near", newShop().operation("op", 9, "", touch("[0, 0, 0]", "[0, 0, -1]", 1.5)), tight, pair{"T9 cutting part", "stock"}},
		{"a probe to the side", newShop().operation("op", 9, "", touch("[40, 0, -10]", "[-1, 0, 0]", 5)), clear, pair{}},
		{"a stem as thick as the ball", newShop().edit(t, "tools.toml", "DN = 4", "DN = 6").operation("op", 9, "", touch("[40, 0, -30]", "[-1, 0, 0]", 5)), contact, pair{"T9 neck", "stock"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, r := c.shop.check(t)
			o := operation(t, r, "op")
			if o.Verdict != c.verdict {
				t.Errorf("%v, want %v\n%s", o.Verdict, c.verdict, summary(r))
			}
			if c.meets != (pair{}) && met(r, "op", c.meets[0], c.meets[1]) == nil {
				t.Errorf("nothing found about %v\n%s", c.meets, summary(r))
			}
		})
	}
}

// What a block can be off by, and what an axis can, is taken off: a slot that leaves a block
// 2.05 mm is clear of it where it stands true, and not where it can be 0.1 mm off.
func TestPlayIsTakenOff(t *testing.T) {
	for _, c := range []struct {
		name          string
		file, old, to string
		verdict       check.Verdict
	}{
		{"true", "setup.toml", "within = 0 }", "within = 0 }", check.Clear},
		{"placed by hand", "setup.toml", "within = 0 }", "within = 0.1 }", check.Tight},
		{"an axis", "machine.toml", "travel = [-200, 200], home = 150", "travel = [-200, 200], home = 150, accuracy = 0.1", check.Tight},
		{"chord error", "wall.toml", "chord_error = 0", "chord_error = 0.1", check.Tight},
	} {
		_, r := wall(t, 32.94, 0).edit(t, c.file, c.old, c.to).check(t)
		if got := operation(t, r, "op").Verdict; got != c.verdict {
			t.Errorf("%s: %v, want %v\n%s", c.name, got, c.verdict, summary(r))
		}
	}
	// The foremost point of a tool that can be 0.1 mm longer.
	for within, want := range map[float64]check.Verdict{0: check.Clear, 0.1: check.Tight} {
		_, r := longDrill(t).edit(t, "tools.toml", "stick_out = 65", fmt.Sprintf("stick_out = 65, within = %g", within)).
			hole("op", 2, "[0, 0, 0]", upward, 37.95).check(t)
		if got := operation(t, r, "op").Verdict; got != want {
			t.Errorf("a drill within %g: %v, want %v\n%s", within, got, want, summary(r))
		}
	}
}

// A contour that tilts is looked at between its points, neck and all: over a post that only
// the middle of an interval passes.
func TestContoursBetweenTheirPoints(t *testing.T) {
	for _, tip := range []bool{true, false} {
		for height, want := range map[float64]check.Verdict{38: check.Clear, 50: check.Contact} {
			_, r := newShop().box(t, "post", "unit/face", 20, 32, 0, 30, 60, height, 0).
				operation("op", 1, "", fmt.Sprintf("[[operation.contour]]\npoints = [[-60, 34, 2], [60, 34, 2.1], [70, 34, 2]]\naxes = [[0, 0, 1], [0, 0.01, 1], [0, 0, 1]]\ntip_control = %v\n", tip)).check(t)
			if got := operation(t, r, "op").Verdict; got != want {
				t.Errorf("tip control %v, a post of %g: %v, want %v\n%s", tip, height, got, want, summary(r))
			}
		}
	}
}

// An operation that cannot be looked at leaves the others looked at.
func TestFaultyOperations(t *testing.T) {
	_, r := newShop().hole("no tool", 77, "[0, 0, 0]", upward, 5).hole("no axis", 1, "[0, 0, 0]", "[0, 0, 0]", 5).hole("op", 1, "[0, 0, 0]", upward, 31).check(t)
	for _, name := range []string{"no tool", "no axis"} {
		f := met(r, name, "", "")
		if f == nil || f.Verdict != check.Unproven || !strings.Contains(f.Reason, "setup.toml:") {
			t.Errorf("%s: %+v", name, f)
		}
	}
	if met(r, "op", "T1 shank", "stock") == nil {
		t.Errorf("the sound operation was not looked at\n%s", summary(r))
	}
}

// Without a spindle nothing is known of tools, and nothing is called clear.
func TestNoSpindle(t *testing.T) {
	_, r := newShop().edit(t, "machine.toml", "spindle = { carried_by = \"Z\", gauge_point = [0, 0, 0], axis = [0, 0, 1] }", "").
		hole("op", 1, "[0, 0, 0]", upward, 5).check(t)
	if f := met(r, "op", "", ""); r.Verdict != check.Unproven || f == nil || !strings.Contains(f.Reason, "spindle") {
		t.Errorf("%s", summary(r))
	}
}
