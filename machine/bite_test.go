package machine

import (
	"strings"
	"testing"
)

// A bite deeper than any vise's brings a warning. The block is 60 wide between
// the jaws and 80 along them: a bite of 60 would excuse a jaw anywhere.
func TestDeepBites(t *testing.T) {
	w := example(t)
	for _, c := range []struct {
		bite, setup string // and a further change of the setup
		warned      bool
		fault       string
	}{
		{"0", "turned = 0 ", false, ""},
		{"1", "turned = 0 ", false, ""},
		{"1.2341234", "turned = 0 ", true, ""},
		{"59.9", "turned = 0 ", true, ""},
		{"60", "turned = 0 ", false, `found 60, expected less than "stock" measures between the jaws, 60`},
		{"60", "turned = 90 ", true, ""},
		{"80", "turned = 90 ", false, "between the jaws, 80"},
		{"71", "turned = 45 ", true, ""}, // (60 + 80) / sqrt 2 = 98.995 on edge
		{"99", "turned = 45 ", false, "98.995"},
	} {
		w := w.with(t, "setup.toml", "bite = 0", "bite = "+c.bite).with(t, "setup.toml", "turned = 0 ", c.setup)
		if c.fault != "" {
			e := w.onlyError(t)
			if at := w.place(t, "setup.toml", "bite"); !strings.HasPrefix(e.Error(), at+": bite: ") || !strings.Contains(e.Error(), c.fault) {
				t.Errorf("bite %s, %s: %v", c.bite, c.setup, e)
			}
			continue
		}
		all := strings.Join(w.load(t).Warnings, "\n")
		if got := strings.Contains(all, `setup.toml: place "stock": a bite of `+shown(c.bite)+" mm"); got != c.warned {
			t.Errorf("bite %s, %s: warnings %q", c.bite, c.setup, all)
		}
	}
}

// shown is how a bite is printed: to a thousandth.
func shown(bite string) string { return bite[:min(len(bite), len("1.234"))] }
