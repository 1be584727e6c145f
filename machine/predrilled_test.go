package machine

import (
	"fmt"
	"strings"
	"testing"
)

// A tap, T3 here, goes into holes that an operation before it has made, at their places and
// along their axes, from either side; else a warning names the first hole and counts the others.
func TestHolesThatAreThere(t *testing.T) {
	hole := func(name string, tool int, at, axis string) string {
		return fmt.Sprintf("\n[[operation]]\nname = %q\ntool = %d\napproach = 3\nretract = 20\n", name, tool) +
			fmt.Sprintf("[[operation.hole]]\nat = [%s]\naxis = [%s]\ndepth = 10\ndepth_to = \"tip\"\n", at, axis)
	}
	pocket := "\n[[operation]]\nname = \"mill\"\ntool = 2\napproach = 3\nretract = 20\n" +
		"[[operation.pocket]]\nfrom = [-15, -5, 40]\nto = [15, 5, 32]\naxis = [0, 0, 1]\n"
	tapped := func(at string) string { return hole("tap", 3, at, "0, 0, 1") }
	tap := "[[cutter]]\nname = \"tap M10\"\nkind = \"tap\"\nDC = 10\nAPMX = 20\nDMM = 10\nOAL = 100\n" +
		"[[tool]]\nnumber = 3\ncutter = \"tap M10\"\nholder = \"collet chuck 70\"\nstick_out = 60\n"
	for _, c := range []struct{ name, operations, says string }{
		{"drilled", hole("drill", 4, "5, 0, 40", "0, 0, 1") + tapped("[5, 0, 40]"), ""},
		{"drilled deeper", hole("drill", 4, "5, 0, 30", "0, 0, 1") + tapped("[5, 0, 40]"), ""},
		{"from below", hole("drill", 4, "5, 0, 0", "0, 0, -1") + tapped("[5, 0, 40]"), ""},
		{"not drilled", tapped("[5, 0, 40]"), "T3, a tap, goes into hole 1, where no operation before it drills"},
		{"two of three", hole("drill", 4, "5, 0, 40", "0, 0, 1") + tapped("[5, 0, 40], [6, 0, 40], [7, 0, 40]"), "goes into hole 2 and 1 more,"},
		{"beside", hole("drill", 4, "5.2, 0, 40", "0, 0, 1") + tapped("[5, 0, 40]"), "goes into hole 1,"},
		{"along another axis", hole("drill", 4, "5, 0, 40", "0, 0.01, 1") + tapped("[5, 0, 40]"), "goes into hole 1,"},
		{"afterwards", tapped("[5, 0, 40]") + hole("drill", 4, "5, 0, 40", "0, 0, 1"), "goes into hole 1,"},
		{"by a tap", tapped("[5, 0, 40]") + hole("again", 3, "5, 0, 40", "0, 0, 1"), `operation "again": T3`},
		{"milled", pocket + tapped("[10, 0, 40]"), ""},
		{"beyond what is milled", pocket + tapped("[10.2, 0, 40]"), "goes into hole 1,"},
		{"beside what is milled", pocket + tapped("[0, 0.2, 40]"), "goes into hole 1,"},
	} {
		w := cutting(t, block+c.operations)
		w["tools.toml"] += "\n" + tap
		s := w.load(t)
		if len(s.Faulty) > 0 {
			t.Fatalf("%s: %+v", c.name, s.Faulty)
		}
		var got []string
		for _, text := range s.Warnings {
			if strings.Contains(text, "in the stock already") {
				got = append(got, text)
			}
		}
		if all := strings.Join(got, "\n"); !strings.Contains(all, c.says) || (c.says == "") != (all == "") {
			t.Errorf("%s: warnings %q, want %q", c.name, all, c.says)
		}
	}
}
