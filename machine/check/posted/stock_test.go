package posted

import (
	"math"
	"testing"

	"gridswing/machine/check"
	"gridswing/machine/check/internal/shoptest"
)

// removes asserts how much a tool takes away: never more than it really does, and little less.
func removes(t *testing.T, r *check.Report, tool int, want, share float64) {
	t.Helper()
	x := toolOf(t, r, tool)
	if x.Removed == nil {
		t.Fatal("nothing is said of what is removed")
	}
	if got := *x.Removed; got > want*(1+1e-6) || got < want*(1-share) {
		t.Errorf("T%d takes %.3f mm3, the closed form is %.3f: %.4f", tool, got, want, got/want)
	}
	for _, f := range stockFindings(r) {
		t.Errorf("%v %v line %d: %s", f.Verdict, f.Bodies, f.Line, f.Reason)
	}
}

// A slot from outside to outside: width times depth times length of the block.
func TestSlot(t *testing.T) {
	p := newScript(shoptest.Load(t, cutShop(), "setup.toml")).change(1)
	p.rapid(-60, 0, 5).feed(-60, 0, -5).feed(60, 0, -5).rapid(60, 0, 50)
	r, result := p.run(t, Options{})
	removes(t, r, 1, 10*5*80, 0.01)
	st := r.Program.Stock[0]
	if math.Abs(st.Before-80*60*40) > 1e-3*80*60*40 || st.Remaining < 80*60*40-4000-1e-6 {
		t.Errorf("stock: %+v", st)
	}
	if x := toolOf(t, r, 1); math.Abs(x.AirLength-40) > 2*cutStep { // 10 down, 15 to the block and 15 from it
		t.Errorf("%.2f mm in the air of %.2f", x.AirLength, x.FeedLength)
	}
	if result.Remaining[0] == nil || len(result.Remaining[0].Facets) == 0 {
		t.Error("no mesh of what is left")
	}
}

// A closed slot, plunged and cut: a rectangle with two half discs.
func TestPocket(t *testing.T) {
	p := newScript(shoptest.Load(t, cutShop(), "setup.toml")).change(1)
	p.rapid(-15, 0, 2).feed(-15, 0, -5).feed(15, 0, -5).rapid(15, 0, 50)
	r, _ := p.run(t, Options{})
	removes(t, r, 1, (30*10+math.Pi*25)*5, 0.01)
}

// A groove that a ball turns in a disc, its middle at the surface: half of a torus (Pappus). Here C turns the part. What
// is left too much gets less with the cells.
func TestTorusGroove(t *testing.T) {
	want := math.Pi * math.Pi * 15 * 9
	last := 1.0
	for _, cell := range []float64{0.8, 0.4, 0.2} {
		p := newScript(shoptest.Load(t, cutShop(), "setup.toml")).change(3)
		p.rapid(15, 0, 2).feed(15, 0, -3).turnC(180).turnC(360).rapid(15, 0, 50)
		r, _ := p.run(t, Options{Cell: cell, NoRemaining: true})
		removes(t, r, 3, want, 0.06)
		missing := 1 - *toolOf(t, r, 3).Removed/want
		t.Logf("cells of %g mm: %.4f of it stays", cell, missing)
		if missing > 0.6*last {
			t.Errorf("cells of %g mm: %.4f stays, with larger ones %.4f", cell, missing, last)
		}
		last = missing
	}
}
