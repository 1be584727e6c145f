package reach

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"gridswing/machine/check"
)

// tightest returns where an axis comes nearest to a limit at an operation's first feature.
func tightest(t testing.TB, o *check.Operation, axis string) check.Travel {
	t.Helper()
	var worst *check.Travel
	for i := range o.Features[0].Travel {
		if tr := &o.Features[0].Travel[i]; tr.Axis == axis && (worst == nil || tr.Margin < worst.Margin) {
			worst = tr
		}
	}
	if worst == nil {
		t.Fatalf("%s: no travel of %s", o.Name, axis)
	}
	return *worst
}

// By hand: the part's zero is at 220, T1 is 110 long. A hole 10 deep has Z at 320, the retract
// 25 above the stock at 355; Y and X stand where the hole is.
func TestTravelByHand(t *testing.T) {
	for _, c := range []struct {
		name, axis, limits string // of the axis
		at                 string
		verdict            check.Verdict
		where              string
		position, margin   float64
	}{
		{"Z with room", "Z", "[0, 500]", "[0, 0, 0]", check.Clear, check.AtRetract, 355, 145},
		{"Z cannot get out", "Z", "[0, 350]", "[0, 0, 0]", check.OverTravel, check.AtRetract, 355, -5},
		{"Z hardly gets out", "Z", "[0, 355.5]", "[0, 0, 0]", check.Tight, check.AtRetract, 355, 0.5},
		{"Z just gets out", "Z", "[0, 356]", "[0, 0, 0]", check.Clear, check.AtRetract, 355, 1},
		{"Z cannot get down", "Z", "[325, 500]", "[0, 0, 0]", check.OverTravel, check.AtDepth, 320, -5},
		{"Z hardly gets down", "Z", "[319.5, 500]", "[0, 0, 0]", check.Tight, check.AtDepth, 320, 0.5},
		{"X cannot", "X", "[-300, 30]", "[35, 0, 0]", check.OverTravel, "", 35, -5},
		{"X cannot the other way", "X", "[-30, 300]", "[-35, 0, 0]", check.OverTravel, "", -35, -5},
		{"Y", "Y", "[-200, 150]", "[0, 25, 0]", check.Clear, "", 25, 125},
	} {
		s := newShop()
		for letter, old := range map[string]string{"Z": "[0, 500], home = 500", "X": "[-300, 300], home = 0", "Y": "[-200, 200], home = 150"} {
			if letter == c.axis {
				end := strings.Trim(c.limits[strings.Index(c.limits, ",")+1:], " ]")
				if letter == "X" {
					end = "0"
				}
				s.edit(t, "machine.toml", old, c.limits+", home = "+end)
			}
		}
		_, r := s.hole("op", 1, c.at, upward, 10).check(t)
		tr := tightest(t, operation(t, r, "op"), c.axis)
		if got := travelVerdict(&tr); got != c.verdict || c.where != "" && tr.Where != c.where {
			t.Errorf("%s: %v at %s, want %v at %s", c.name, got, tr.Where, c.verdict, c.where)
		}
		nearly(t, c.name+": position", tr.Position, c.position, 1e-9)
		nearly(t, c.name+": margin", tr.Margin, c.margin, 1e-9)
		if f := met(r, "op", "", ""); c.verdict != check.Clear && (f == nil || f.Verdict != c.verdict || f.Question != check.Travels) {
			t.Errorf("%s: found %+v", c.name, f)
		}
	}
}

// What can be off is taken off the margin, and what is gone only then is within play.
func TestTravelWithPlay(t *testing.T) {
	_, r := newShop().edit(t, "machine.toml", "travel = [0, 500], home = 500", "travel = [0, 355.05], home = 355.05").
		edit(t, "tools.toml", "stick_out = 40", "stick_out = 40, within = 0.1").hole("op", 1, "[0, 0, 0]", upward, 10).check(t)
	tr := tightest(t, operation(t, r, "op"), "Z")
	nearly(t, "margin", tr.Margin, -0.05, 1e-9)
	nearly(t, "loose", tr.Loose, 0.1, 1e-9)
	if got := operation(t, r, "op").Verdict; got != check.WithinPlay {
		t.Errorf("%v, want within-play\n%s", got, summary(r))
	}
}

var (
	lengthCure = regexp.MustCompile(`^a tool (longer|shorter) by ([0-9.]+) mm$`)
	heightCure = regexp.MustCompile(`^(\S+) standing (higher|lower) by ([0-9.]+) mm$`)
	holesCure  = regexp.MustCompile(`^(\S+) seated ([0-9]+) holes? \([0-9.]+ mm\) towards the (higher|lower) (columns|rows) of (\S+)$`)
)

func number(t testing.TB, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// riser stands between table and unit, so high that the shop is as tall as without: the
// unit's seat is at the height of its top.
func riser(t testing.TB, height float64) shop {
	s := newShop()
	s["riser.stl"] = solidBox(-190, -100, 0, 190, 100, 20+height)
	s["riser.toml"] = fmt.Sprintf(`
kind = "component"
name = "riser"
units = "mm"
role = "workholding"
material = "steel"
solid = [{ name = "riser", file = "riser.stl", chord_error = 0 }]
seat = { pins = [[-150, 0, 0], [150, 0, 0]], play = 0 }
grid = [{ name = "top", solid = "riser", origin = [-200, -100, %g], columns = 9, rows = 5, pitch = 50 }]
`, 20+height)
	return s.edit(t, "setup.toml", `  { name = "unit", component = "unit.toml", on = "table", pins = ["B3", "H3"] },`,
		`  { name = "riser", component = "riser.toml", on = "table", pins = ["B3", "H3"] },
  { name = "unit", component = "unit.toml", on = "riser/top", pins = ["B3", "H3"] },`)
}

// shift moves a pin name along the columns and the rows of a grid.
func shift(pin string, columns, rows int) string {
	row := int(pin[1]-'0') + rows
	return fmt.Sprintf("%c%d", int(pin[0])+columns, row)
}

// cured applies a cure to the shop, given back by so many mm, or holes.
func cured(t testing.TB, w func() shop, cure string, back float64) (shop, bool) {
	t.Helper()
	sense := map[string]float64{"longer": 1, "higher": 1, "shorter": -1, "lower": -1}
	if m := lengthCure.FindStringSubmatch(cure); m != nil {
		by := sense[m[1]] * (number(t, m[2]) - back)
		return w().edit(t, "tools.toml", "[70, 30]]", fmt.Sprintf("[%g, 30]]", 70+by)), true
	}
	if m := heightCure.FindStringSubmatch(cure); m != nil && m[1] == "unit" {
		by := sense[m[2]] * (number(t, m[3]) - back)
		return w().edit(t, "unit.toml", "seat = { pins = [[-150, 0, 0], [150, 0, 0]]", fmt.Sprintf("seat = { pins = [[-150, 0, %g], [150, 0, %g]]", -by, -by)), true
	}
	if m := holesCure.FindStringSubmatch(cure); m != nil && m[1] == "unit" {
		n := int(sense[m[3]]) * (int(number(t, m[2])) - int(back))
		columns, rows := n, 0
		if m[4] == "rows" {
			columns, rows = 0, n
		}
		return w().edit(t, "setup.toml", `on = "table", pins = ["B3", "H3"]`, fmt.Sprintf(`on = "table", pins = [%q, %q]`, shift("B3", columns, rows), shift("H3", columns, rows))), true
	}
	return nil, false
}

// Each cure that is proposed, applied to the setup, gives the axis the margin that is demanded,
// and 1 mm less (or a hole less) does not: at both ends of each axis, upright and tilted.
func TestCures(t *testing.T) {
	kinds := map[string]bool{}
	for _, c := range []struct {
		name, axis, old, new string
		at, axisOut          string
	}{
		{"cannot get out", "Z", "[0, 500], home = 500", "[0, 345], home = 345", "[0, 0, 0]", upward},
		{"hardly gets out", "Z", "[0, 500], home = 500", "[0, 355.5], home = 355.5", "[0, 0, 0]", upward},
		{"cannot get down", "Z", "[0, 500], home = 500", "[328, 500], home = 500", "[0, 0, 0]", upward},
		{"hardly gets down", "Z", "[0, 500], home = 500", "[319.6, 500], home = 500", "[0, 0, 0]", upward},
		{"X at the right", "X", "[-300, 300], home = 0", "[-300, -20], home = -20", "[0, 0, 0]", upward},
		{"X at the left", "X", "[-300, 300], home = 0", "[20, 300], home = 20", "[0, 0, 0]", upward},
		{"Y behind", "Y", "[-200, 200], home = 150", "[-200, -30], home = -30", "[0, 0, 0]", upward},
		{"Y in front", "Y", "[-200, 200], home = 150", "[30, 200], home = 150", "[0, 0, 0]", upward},
		{"tilted, Z out", "Z", "[0, 500], home = 500", "[0, 360], home = 360", "[0, -30, -20]", "[0, -1, 0]"},
		{"tilted, Z down", "Z", "[0, 500], home = 500", "[330, 500], home = 500", "[0, -30, -20]", "[0, -1, 0]"},
	} {
		w := func() shop {
			return newShop().edit(t, "machine.toml", c.old, c.new).hole("op", 1, c.at, c.axisOut, 10)
		}
		_, r := w().check(t)
		var tr check.Travel
		for _, x := range operation(t, r, "op").Features[0].Travel {
			if x.Axis == c.axis && len(x.Cures) > 0 && (tr.Axis == "" || x.Margin < tr.Margin) {
				tr = x
			}
		}
		if tr.Axis == "" {
			t.Errorf("%s: no cure\n%s", c.name, summary(r))
		}
		for _, cure := range tr.Cures {
			s, ok := cured(t, w, cure, 0)
			if !ok {
				if !strings.HasPrefix(cure, "stock ") {
					t.Errorf("%s: a cure that cannot be read: %s", c.name, cure)
				}
				continue
			}
			kinds[strings.Fields(cure)[1]] = true
			_, r := s.check(t)
			if got := tightest(t, operation(t, r, "op"), c.axis); got.Margin < got.Demand-1e-9 {
				t.Errorf("%s: %q leaves %g of %g at %s", c.name, cure, got.Margin, got.Demand, got.Where)
			}
			less, _ := cured(t, w, cure, 1)
			_, r = less.check(t)
			if got := tightest(t, operation(t, r, "op"), c.axis); got.Margin >= got.Demand {
				t.Errorf("%s: less than %q does as well: %g of %g", c.name, cure, got.Margin, got.Demand)
			}
		}
	}
	for _, k := range []string{"tool", "standing", "seated"} {
		if !kinds[k] {
			t.Errorf("no cure of the kind %q was proposed: %v", k, kinds)
		}
	}
}

// At tilt 90 what stands higher on the tilted faceplate moves along Y, not Z: of a stock that
// stands higher Y is cured.
func TestHeightActsOnYWhenTilted(t *testing.T) {
	_, r := newShop().edit(t, "machine.toml", "[-200, 200], home = 150", "[10, 200], home = 10").
		operation("op", 1, "positions = { A = 90 }\n", "[[operation.hole]]\nat = [[0, -30, -20]]\naxis = [0, -1, 0]\ndepth = 5\ndepth_to = \"tip\"\n").check(t)
	tr := tightest(t, operation(t, r, "op"), "Y")
	found := false
	for _, c := range tr.Cures {
		m := heightCure.FindStringSubmatch(c)
		found = found || m != nil && m[1] == "stock"
		if m != nil && m[1] == "unit" {
			t.Errorf("the unit stands upright: %s", c)
		}
	}
	if tr.Margin >= 0 || !found {
		t.Errorf("Y: %+v", tr)
	}
}

// A rotary position beyond what the setup commands is unproven, nothing being known of the
// swing there.
func TestCommandedRange(t *testing.T) {
	for commanded, want := range map[string]check.Verdict{"A = [-90, 90]": check.Clear, "A = [-89, 89]": check.Unproven} {
		_, r := newShop().edit(t, "setup.toml", "part = [", "commanded = { "+commanded+" }\npart = [").
			hole("op", 1, "[0, -30, -20]", "[0, -1, 0]", 5).check(t)
		o := operation(t, r, "op")
		if o.Verdict != want || want == check.Unproven && !strings.Contains(o.Features[0].Reason, "outside the range that the setup commands") {
			t.Errorf("%s: %v %s", commanded, o.Verdict, o.Features[0].Reason)
		}
	}
}
