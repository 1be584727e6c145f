package posted

import (
	"math/rand/v2"
	"testing"

	"gridswing/machine/check"
	"gridswing/machine/check/proof"
	"gridswing/machine/program"
)

// What the strip calls proven is no more than what samples see, its cells follow each other over the
// whole program, and they say what is found.
func TestStripAgainstSamples(t *testing.T) {
	seeds := 12
	if testing.Short() {
		seeds = 4
	}
	told := 0
	for seed := range uint64(seeds) {
		r := rand.New(rand.NewPCG(seed, 83))
		s := scene(r)
		moves := []int{60, 700, 6000}[seed%3]
		list := wander(r, moves)
		report := checked(t, s, steps(list), Options{})
		strip := report.Program.Strip
		if len(strip) > stripCells || len(strip) < min(moves, stripCells/2) {
			t.Errorf("seed %d: %d cells for %d moves", seed, len(strip), moves)
		}
		trees := proof.NewTrees()
		worst := check.Clear
		for i := range strip {
			x := &strip[i]
			from, to := int(x.From), int(x.To) // every step takes a second
			if i == 0 && from != 0 || i > 0 && strip[i-1].To != x.From || list[from].Place.Line != x.Line && list[from].Kind != program.Change {
				t.Fatalf("seed %d: cell %d from %g s, line %d, does not follow the one before", seed, i, x.From, x.Line)
			}
			if x.Verdict.Worse(worst) {
				worst = x.Verdict
			}
			if x.Smallest != nil && x.Proven != nil && *x.Smallest < *x.Proven {
				t.Errorf("seed %d: cell %d: %g proven, %g found", seed, i, *x.Proven, *x.Smallest)
			}
			if x.Proven == nil {
				continue
			}
			told++
			for k := from; k < to; k += max(1, (to-from)/4) {
				for _, pair := range [][2]int{{1, 2}, {1, 3}, {1, 0}, {2, 3}, {0, 2}, {0, 3}} {
					if d := nearestOn(r, trees, s, pair[0], pair[1], &list[k]); d < *x.Proven-1e-6 {
						t.Errorf("seed %d: cell %d: %g proven, %g seen of %v at line %d", seed, i, *x.Proven, d, pair, k+1)
					}
				}
			}
		}
		if end := strip[len(strip)-1].To; end != float64(len(list)) {
			t.Errorf("seed %d: it ends at %g s of %d", seed, end, len(list))
		}
		of := check.Clear
		for i := range report.Findings {
			if v := report.Findings[i].Verdict; v.Worse(of) {
				of = v
			}
		}
		if worst != of {
			t.Errorf("seed %d: the worst of the strip is %v, of the findings %v", seed, worst, of)
		}
	}
	if told < seeds*20 {
		t.Errorf("hardly anything was proven: %d cells", told)
	}
}
