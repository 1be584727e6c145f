package check

import "testing"

func TestShort(t *testing.T) {
	three, left := 3, 1.25
	at := []Position{{Axis: "X", Value: 12, Unit: "mm"}, {Axis: "A", Value: 90, Unit: "deg"}, {Axis: "C", Value: -30, Unit: "deg", Turn: Turn{0, 360}}}
	for want, f := range map[string]Finding{
		"drill: T3 holder meets unit/faceplate at A +90, C +330": {
			Verdict: Contact, Question: Reaching, Bodies: [2]string{"T3 holder", "unit/faceplate"}, Tool: &three, Operation: "drill", At: at},
		"drill, left hole: head with T3 and unit/base: 1.25 mm left of 2.00 at A +90, C +330": {
			Verdict: Tight, Question: Reaching, Bodies: [2]string{"head", "unit/base"}, Tool: &three, Operation: "drill", Feature: "left hole", At: at,
			Smallest: &left, Demand: 2},
		"drill: T3: Z at retract would have to go to 512.30 mm, 12.30 mm beyond its travel": {
			Verdict: OverTravel, Question: Travels, Tool: &three, Operation: "drill", At: at,
			Reason: "Z at retract would have to go to 512.30 mm, 12.30 mm beyond its travel"},
		"to drill: T3 shank and riser: the play could close the gap at A +90, C +330": {
			Verdict: WithinPlay, Question: Indexing, Bodies: [2]string{"T3 shank", "riser"}, Tool: &three, Operation: "drill", Feature: "from home", At: at},
		"vise/body meets unit/cradle at A +90, C +330": {Verdict: Contact, Question: Swing, Bodies: [2]string{"vise/body", "unit/cradle"}, At: at},
		"riser and plate (the budget of tests was used up)": {
			Verdict: Unproven, Question: Swing, Bodies: [2]string{"riser", "plate"}, At: at, Reason: "the budget of tests was used up"},
		"the riser may not go on": {Verdict: WithinPlay, Question: Stacked, Bodies: [2]string{"riser", "plate"}, Reason: "the riser may not go on"},
	} {
		if got := f.Short(); got != want {
			t.Errorf("got  %q\nwant %q", got, want)
		}
	}
}

// Margins are kept in the order of concerns, the tightest of each.
func TestTighten(t *testing.T) {
	var r Report
	for _, m := range []Margin{{Concern: SwingConcern, Share: 3}, {Concern: LoadConcern, Share: 2}, {Concern: DriverConcern, Share: 1},
		{Concern: SwingConcern, Share: 1.5, What: "first"}, {Concern: SwingConcern, Share: 1.5}, {Concern: LoadConcern, Share: 2.5}} {
		r.Tighten(m)
	}
	want := []Margin{{Concern: LoadConcern, Share: 2}, {Concern: SwingConcern, Share: 1.5, What: "first"}, {Concern: DriverConcern, Share: 1}}
	if len(r.Margins) != len(want) {
		t.Fatalf("got %+v", r.Margins)
	}
	for i := range want {
		if r.Margins[i] != want[i] {
			t.Errorf("got %+v, want %+v", r.Margins[i], want[i])
		}
	}
	for _, c := range []struct{ has, demand, want float64 }{{3, 2, 1.5}, {40, 2, MostShare}, {-1, 2, -0.5}, {0, 0, MostShare}, {-3, 0, -3}} {
		if got := ShareOf(c.has, c.demand); got != c.want {
			t.Errorf("share of %g in %g: got %g, want %g", c.has, c.demand, got, c.want)
		}
	}
}
