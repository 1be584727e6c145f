package posted

import (
	"testing"

	"gridswing/geom"
	"gridswing/machine/check"
)

// The demo's program cuts what it should and meets nothing of the stock; what is left is the bracket and what the
// setup leaves under it.
func TestStockOfTheDemo(t *testing.T) {
	r := demoReport(t, "programs/bracket-op10.nc", Options{NoWindow: true, NoRemaining: true, Cell: 1})
	for _, f := range r.Findings {
		if f.Question == check.Gouging || f.Bodies[1] == "stock" {
			t.Errorf("%s %s", told(&f), f.Reason)
		}
	}
	s := demoSetup(t)
	finished := geom.MassOf(s.Parts[0].Finished.Mesh).Volume
	st := r.Program.Stock[0]
	if st.Remaining < finished || st.Before <= st.Remaining || st.Left == nil || *st.Left != st.Remaining-finished {
		t.Errorf("stock %+v, the bracket has %g mm3", st, finished)
	}
	removed := 0.0
	for _, x := range r.Program.Tools {
		if *x.Removed <= 0 || x.AirLength > x.FeedLength {
			t.Errorf("T%d: %g mm3, %g mm of %g in the air", x.Tool, *x.Removed, x.AirLength, x.FeedLength)
		}
		removed += *x.Removed
	}
	if d := removed - (st.Before - st.Remaining); d > 1e-3*removed || d < -1e-3*removed {
		t.Errorf("%g mm3 are removed of %g, %g are left", removed, st.Before, st.Remaining)
	}
	t.Logf("left beyond the bracket: %g mm3", *st.Left)
}

// Of the one whose offset is off by half a pitch, something is met or goes too deep.
func TestStockOfTheDemoAtAWrongOffset(t *testing.T) {
	r := demoReport(t, "programs/bracket-op10-offset-off.nc", Options{NoWindow: true, NoRemaining: true, Cell: 1})
	deep := false
	for _, f := range r.Findings {
		deep = deep || f.Question == check.Gouging && f.Verdict == check.Contact && f.Depth != nil && *f.Depth > 1 && f.Line > 0
	}
	if !deep {
		t.Errorf("nothing goes below the finished surface: %q", toldAll(r.Findings))
	}
}
