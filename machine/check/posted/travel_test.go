package posted

import (
	"testing"

	"gridswing/machine/check"
)

// What an axis may be off by counts towards the margin that it is to leave of its travel: X has 300 mm, 1 mm is to be
// left, and at 298.97 of an axis that may be off by 0.05 there may be 0.98.
func TestAccuracyCountsOfTravel(t *testing.T) {
	s := shopOf(t, "machine.toml", `travel = [-300, 300], home = 0`, `travel = [-300, 300], home = 0, accuracy = 0.05`)
	for _, test := range []struct {
		x    float64
		want bool
	}{{298.94, false}, {298.97, true}} {
		p := newScript(s).change(1).rapid(0, 0, 150)
		to := p.at
		to[p.axis["X"]] = test.x
		p.rapid(0, 0, 150)
		p.steps[len(p.steps)-1].Legs[0].To = to
		r, _ := p.run(t, Options{Cell: 2, NoRemaining: true})
		told := false
		for _, f := range r.Findings {
			told = told || f.Question == check.Travels && f.Verdict == check.Tight
		}
		if told != test.want {
			t.Errorf("at %g: %q", test.x, toldAll(r.Findings))
		}
	}
}
