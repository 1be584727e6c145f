package reach

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"gridswing/machine/check"
)

// magazine looks whether the magazine takes the tools that operations use.
func (c *checker) magazine() []check.Magazine {
	list := []check.Magazine{}
	m := c.setup.Magazine
	if m == nil {
		return list
	}
	for _, i := range slices.Sorted(maps.Keys(c.tools)) {
		t := c.setup.Tools[i]
		g := check.Magazine{Tool: t.Number, Name: t.Name, Verdict: check.Clear, LPR: t.LPR(), Widest: t.Widest()}
		var said []string
		beyond := func(what string, is, most float64, unit string) {
			if most > 0 && is > most {
				g.Verdict = check.Overload
				said = append(said, fmt.Sprintf("%s %s %s, the magazine takes %s", what, excess(is, most), unit, hundredths(most)))
			}
		}
		beyond("LPR", g.LPR+t.Within, m.Longest, "mm")
		widest := max(m.Diameter, m.Alone)
		beyond("diameter", g.Widest, widest, "mm")
		if g.Verdict == check.Clear && m.Diameter > 0 && g.Widest > m.Diameter {
			said = append(said, fmt.Sprintf("diameter %s mm: the places beside it must be empty (%s with neighbours)", excess(g.Widest, m.Diameter), hundredths(m.Diameter)))
		}
		if t.Mass > 0 {
			mass := t.Mass
			g.Mass = &mass
			beyond("mass", mass, m.Heaviest, "kg")
		} else if m.Heaviest > 0 {
			said = append(said, "mass not stated: not looked at")
			if check.Unproven.Worse(g.Verdict) {
				g.Verdict = check.Unproven
			}
		}
		g.Reason = strings.Join(said, "; ")
		list = append(list, g)
	}
	return list
}

// excess prints to 0.01 what is more than a limit, so that it never reads as the limit itself.
func excess(is, most float64) string {
	if words := hundredths(is); words != hundredths(most) {
		return words
	}
	return fmt.Sprintf("%.2f", math.Floor(is*100)/100+0.01)
}

func hundredths(v float64) string { return fmt.Sprintf("%.2f", v) }
