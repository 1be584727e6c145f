package reach

import (
	"fmt"
	"maps"
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
				g.Verdict = check.OverTravel
				said = append(said, fmt.Sprintf("%s %.1f %s, the magazine takes %.1f", what, is, unit, most))
			}
		}
		beyond("LPR", g.LPR+t.Within, m.Longest, "mm")
		widest := max(m.Diameter, m.Alone)
		beyond("diameter", g.Widest, widest, "mm")
		if g.Verdict == check.Clear && m.Diameter > 0 && g.Widest > m.Diameter {
			said = append(said, fmt.Sprintf("diameter %.1f mm: the places beside it must be empty (%.1f with neighbours)", g.Widest, m.Diameter))
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
