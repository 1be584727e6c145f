package posted

import (
	"strings"
	"testing"

	"gridswing/machine/check"
)

// Where the stock may stand a little off, a rapid 1.2 mm above its top is nearer than the 1 mm of an approach; above
// a floor that was cut there it is not, since that is where the machine has cut it.
func TestPlayCountsForWhatIsNotCut(t *testing.T) {
	for _, test := range []struct {
		name string
		play string
		cut  bool
		want check.Verdict
	}{
		{"no play", "play = 0", false, check.Clear},
		{"play", "play = 0.3", false, check.Tight},
		{"much play", "play = 2", false, check.WithinPlay},
		{"play, cut", "play = 0.3", true, check.Clear},
	} {
		s := shopOf(t, "stock.toml", "play = 0", test.play)
		p := newScript(s).change(1).rapid(-60, -60, 100)
		floor := 0.0
		if test.cut {
			p.rapid(-60, -8, 100).rapid(-60, -8, 5).feed(-60, -8, -5).feed(60, -8, -5).feed(60, 0, -5).feed(-60, 0, -5).feed(-60, 8, -5).feed(60, 8, -5).rapid(60, 8, 100)
			floor = -5
		}
		p.rapid(-20, 0, 100)
		line := len(p.steps) + 1
		p.rapid(-20, 0, floor+1.2).rapid(20, 0, floor+1.2)
		r, _ := p.run(t, Options{Cell: 0.5, NoRemaining: true})
		worst := check.Clear
		for _, f := range stockFindings(r) {
			if f.Line >= line && f.Verdict.Worse(worst) {
				worst = f.Verdict
			}
			if f.Verdict == check.Tight && (f.Proven == nil || *f.Proven <= 0 || *f.Proven >= 1) {
				t.Errorf("%s: proven %v", test.name, f.Proven)
			}
		}
		if worst != test.want {
			t.Errorf("%s: %v, want %v: %s", test.name, worst, test.want, strings.Join(toldAll(r.Findings), "; "))
		}
	}
}
