package posted

import (
	"math"
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

// Where the stock has 0.3 mm of play in its pins, a cutter that goes exactly along its side may leave a skin beside it:
// what goes 1.1 mm beside the side as drawn, where 1 mm is asked, is not clear. Where the cutter went 1 mm past the
// side, there is none; nor where the stock cannot be off.
func TestSkinThatPlayLeaves(t *testing.T) {
	for _, test := range []struct {
		play string
		past float64
		want check.Verdict
	}{
		{"play = 0", 0, check.Clear},
		{"play = 0.3", 0, check.Tight},
		{"play = 0.3", 1, check.Clear},
	} {
		p := newScript(shopOf(t, "stock.toml", "play = 0", test.play)).change(1)
		p.rapid(-60, -60, 100).rapid(-60, -40, 5).feed(-60, -40, -15)
		for y := -32.0; y <= 32; y += 8 {
			p.feed(-60, y, -15).feed(35+test.past, y, -15).feed(-60, y, -15)
		}
		p.feed(35+test.past, -40, -15).feed(35+test.past, 40, -15) // along the side
		p.rapid(-60, 32, 100).rapid(46.1, -60, 100).rapid(46.1, -60, -10)
		line := len(p.steps) + 1
		p.rapid(46.1, 60, -10)
		r, _ := p.run(t, Options{Cell: 0.5, NoRemaining: true})
		worst := check.Clear
		for _, f := range stockFindings(r) {
			if f.Line < line {
				t.Errorf("%s, %g past: %s %s", test.play, test.past, told(&f), f.Reason)
			} else if f.Verdict.Worse(worst) {
				worst = f.Verdict
			}
		}
		if worst != test.want {
			t.Errorf("%s, %g past the side: %v, want %v", test.play, test.past, worst, test.want)
		}
		if st := r.Program.Stock[0]; math.Abs(st.Before-192000) > 200 || math.Abs(st.Before-st.Remaining-80*60*15) > 0.01*80*60*15 {
			t.Errorf("%s: stock %+v", test.play, st)
		}
	}
}

// What goes over a stock with play, above it as drawn, cuts in the air, and takes nothing, as far as that is told; 0.5 mm
// deeper it takes what is drawn there.
func TestCutsInTheAirAreAsDrawn(t *testing.T) {
	for _, z := range []float64{0.05, -0.45} {
		p := newScript(shopOf(t, "stock.toml", "play = 0", "play = 0.3")).change(1).rapid(-60, 0, 50).rapid(-60, 0, 5)
		p.feed(-60, 0, z).feed(60, 0, z).feed(60, 5, z).feed(-60, 5, z)
		r, _ := p.run(t, Options{Cell: 0.5, NoRemaining: true})
		x, want := toolOf(t, r, 1), max(0, -z*15*80)
		if *x.Removed < 0 || math.Abs(*x.Removed-want) > 0.02*want {
			t.Errorf("at %g: %g mm3, it is %g", z, *x.Removed, want)
		}
		if z > 0 && x.AirLength != x.FeedLength || z < 0 && math.Abs(x.AirLength-(x.FeedLength-160)) > 20 {
			t.Errorf("at %g: %g mm of %g in the air", z, x.AirLength, x.FeedLength)
		}
		if got := toldAll(stockFindings(r)); len(got) > 0 {
			t.Errorf("at %g: %q", z, got)
		}
	}
}
