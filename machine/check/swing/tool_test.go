package swing

import (
	"strings"
	"testing"

	"gridswing/machine/check"
)

// A tool that operations use is looked at while rotary axes index even if it is longer or
// wider than the largest that is stated. By hand: the block sweeps to 253.8516; with the
// gauge line at 400 a tool of 144 is 2.1484 above that, more than the 2 that are demanded,
// one of 145 less, and one of 150 in it.
func TestToolLongerThanStated(t *testing.T) {
	for length, want := range map[float64]check.Verdict{100: check.Clear, 144: check.Clear, 145: check.Tight, 150: check.Contact} {
		for _, stated := range []string{"tool = { diameter = 20, length = 100 }\n", ""} {
			s := newShop().edit(t, "machine.toml", "tool = { diameter = 20, length = 100 }\n", stated)
			s["tools.toml"] = `
kind = "tools"
name = "crib"
units = "mm"
holder = [{ name = "chuck", profile = [[0, 20], [50, 20]] }]
cutter = [{ name = "drill", kind = "drill", DC = 10, SIG = 118, APMX = 40, DMM = 10, OAL = 160 }]
tool = [{ number = 4, cutter = "drill", holder = "chuck", stick_out = ` + format(length-50) + ` }]
`
			s.edit(t, "setup.toml", "demand =", "tools = [\"tools.toml\"]\ndemand =")
			s["setup.toml"] += `
part = [{ name = "part", place = "stock", at = [0, 0, 40] }]
[[operation]]
name = "drill"
tool = 4
approach = 5
retract = 25
hole = [{ at = [0, 0, 0], axis = [0, 0, 1], depth = 10, depth_to = "tip" }]
`
			_, r := s.check(t)
			if want != check.Clear {
				if f := find(t, r, "tool", "stock"); f.Verdict != want {
					t.Errorf("%g long: %v, want %v", length, f.Verdict, want)
				}
			}
			if r.Verdict != want {
				t.Errorf("%g long: %v, want %v\n%s", length, r.Verdict, want, summary(r))
			}
			if warned := strings.Contains(strings.Join(r.Warnings, "\n"), "T4 is longer"); warned != (stated != "" && length > 100) {
				t.Errorf("%g long: warnings %q", length, r.Warnings)
			}
		}
	}
}
