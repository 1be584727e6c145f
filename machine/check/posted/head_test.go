package posted

import (
	"testing"

	"gridswing/machine/check"
	"gridswing/machine/program"
)

// A head whose true surface may be 0.5 mm outside of its mesh goes 2.3 mm above the block, where 2 are demanded.
func TestChordErrorOfTheHead(t *testing.T) {
	for _, test := range []struct {
		chord string
		want  check.Verdict
	}{{"0", check.Clear}, {"0.2", check.Clear}, {"0.5", check.Tight}} {
		s := shopOf(t, "machine.toml", `carried_by = "Z", chord_error = 0`, `carried_by = "Z", chord_error = `+test.chord)
		p := newScript(s).change(1).rapid(0, -70, 150)
		to := p.at
		to[p.axis["Z"]] = 220 + 2.3 - 0.5
		p.step(program.Rapid, to).rapid(0, -70, 150)
		r, _ := p.run(t, Options{Cell: 1, NoRemaining: true})
		worst := check.Clear
		for _, f := range stockFindings(r) {
			if f.Bodies[0] == "machine/head" && f.Verdict.Worse(worst) {
				worst = f.Verdict
			}
		}
		if worst != test.want {
			t.Errorf("chord error of %s: %v, want %v: %q", test.chord, worst, test.want, toldAll(r.Findings))
		}
	}
}
