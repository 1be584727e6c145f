package specimen

import (
	"gridswing/machine/check"
	"gridswing/machine/check/choose"
)

// Heights returns the heights of a spacer: good ones below, an end that was not decided, and
// two reasons why higher ones fail.
func Heights() *choose.Heights {
	at := func(mm float64) *float64 { return &mm }
	return &choose.Heights{
		Format: choose.Format, Setup: "Bracket NB-214, op 10", Machine: "Mill 3", File: "setups/bracket-op10.toml",
		Place: "riser", From: 30, To: 120, Resolution: 0.1,
		Stretches: []choose.HeightStretch{
			{From: 30, To: 60.1, State: choose.GoodHeights, Verdict: check.Clear},
			{From: 60.1, To: 60.2, State: choose.UnprovenHeights, Verdict: check.Tight, At: at(60.2), Concern: check.SwingConcern,
				Reason: "trunnion/base and vise/screw: 1.99 mm left of 2.00 at A +110, C +179.9"},
			{From: 60.2, To: 66.5, State: choose.FailingHeights, Verdict: check.Tight, At: at(60.5), Concern: check.SwingConcern,
				Reason: "trunnion/base and vise/screw: 1.89 mm left of 2.00 at A +110, C +179.9"},
			{From: 66.5, To: 120, State: choose.FailingHeights, Verdict: check.Contact, At: at(67.2), Concern: check.SwingConcern,
				Reason: "trunnion/base meets vise/screw at A +110, C +182.1"},
		},
		Now: at(50), Lowest: at(30),
		Concerns: []string{check.LoadConcern, check.TravelConcern, check.SwingConcern, check.ReachConcern, check.IndexConcern, check.ChangeConcern},
		Unlooked: []string{check.StackConcern, check.DriverConcern}, NotModelled: []string{},
		Looked: choose.HeightCount{Heights: 94, Stretches: 6},
		Notes: []string{
			"the spacer is a straight block, in plan the convex hull of riser, without holes",
			"screws, pins and drivers are not looked at: check the setup with the spacer once it is drawn",
		},
		Caution: check.Caution,
	}
}

// NoHeights returns heights none of which is good, from a search that was broken off where the
// changer is not modelled.
func NoHeights() *choose.Heights {
	h := Heights()
	h.Stretches = h.Stretches[2:]
	h.Stretches[0].From, h.From = 60.2, 60.2
	h.Stretches = append(h.Stretches[:1], choose.HeightStretch{From: 66.5, To: 120, State: choose.UnprovenHeights, Verdict: check.Unproven, Reason: "not looked at"})
	h.Lowest, h.Interrupted, h.NotModelled = nil, true, []string{"changer"}
	return h
}
