package specimen

import "gridswing/machine/check"

// Reach returns a report on six operations: one that meets the vise, one without the
// travel, one that cannot be presented, one that is tight, two that are clear;
// with an index height above home, a tool that the magazine does not take,
// and offsets for each rotary position.
func Reach() *check.Report {
	r := &check.Report{
		Format: check.Format, Setup: "Bracket NB-214, op 10", Machine: "Mill 3", File: "setups/bracket-op10.toml",
		Checks:   []string{check.ReachCheck},
		Findings: []check.Finding{meets(), short(), notPresented(), indexing(), stored()},
		Closest:  []check.Finding{},
		Pairs: []check.Pair{
			{Question: check.Reaching, Bodies: [2]string{"T4 holder", "vise/moving jaw"}, Verdict: check.Contact, Demand: 2},
			{Question: check.Reaching, Bodies: [2]string{"T6 holder", "stock"}, Verdict: check.Tight, Demand: 2, Proven: mm(1.2)},
			{Question: check.Indexing, Bodies: [2]string{"T12 cutting part", "trunnion/cradle"}, Verdict: check.Contact, Demand: 2},
			{Question: check.Reaching, Bodies: [2]string{"T1 holder", "vise/moving jaw"}, Verdict: check.Clear, Demand: 2, Proven: mm(14.25)},
		},
		Axes: []check.Axis{}, SpindleSide: []string{"machine/head"}, Placed: []check.Placed{},
		Presence: []check.Presence{{What: "head", State: "modelled", Bodies: []string{"machine/head"}},
			{What: "tool", State: "modelled", Bodies: []string{"T1", "T4", "T6", "T7", "T12"}}},
		Assumed: []string{}, LeftToMaker: []string{}, Stated: []string{}, Warnings: []string{}, Caution: check.Caution,
		Reach: &check.Reach{
			Operations: operations(),
			Moves:      moves(),
			Magazine: []check.Magazine{
				{Tool: 1, Name: "face mill 50", Verdict: check.Clear, LPR: 98, Widest: 63, Mass: mm(2.15)},
				{Tool: 12, Name: "drill 8.5 long", Verdict: check.Overload, LPR: 262.5, Widest: 50,
					Reason: "LPR 262.50 mm, the magazine takes 250.00"},
			},
			Cautious: []string{
				"necks, shanks and holders are looked at against the stock as it is loaded, less only what earlier operations and this one have cut",
				"the swing is looked at with the stock as it is loaded",
			},
		},
		Offsets: Offsets(),
	}
	tight := tightest()
	tight.Verdict = check.Tight
	r.Findings = append(r.Findings, tight)
	r.Conclude()
	return r
}

func mm(v float64) *float64 { return &v }

// deg returns where rotary axes stand.
func deg(a, c float64) []check.Position {
	return []check.Position{{Axis: "A", Value: a, Unit: "deg"}, {Axis: "C", Value: c, Unit: "deg"}}
}

// at returns where the linear axes stand, and the rotary ones if any follow.
func at(x, y, z float64, rotary ...check.Position) []check.Position {
	return append([]check.Position{{Axis: "X", Value: x, Unit: "mm"}, {Axis: "Y", Value: y, Unit: "mm"},
		{Axis: "Z", Value: z, Unit: "mm"}}, rotary...)
}

// travel returns margins of X, Y and Z, in mm, to limits as the machine has them.
func travel(x, y, z float64, where string) []check.Travel {
	return []check.Travel{
		{Axis: "X", Where: check.AtApproach, Position: 400 - x, Limit: 400, Margin: x, Demand: 5},
		{Axis: "Y", Where: check.AtApproach, Position: -250 + y, Limit: -250, Margin: y, Demand: 5},
		{Axis: "Z", Where: where, Position: -550 + z, Limit: -550, Margin: z - 0.125, Loose: 0.125, Demand: 5},
	}
}

func operations() []check.Operation {
	return []check.Operation{
		{Name: "face the top", Part: "bracket", Tool: 1, ToolName: "face mill 50", LPR: 98, Verdict: check.Clear,
			Features: []check.Feature{{Name: "top", Kind: "face", Verdict: check.Clear,
				Presented: []check.Presented{{At: deg(0, 0), Verdict: check.Clear, Chosen: true, Free: "C"}},
				Travel:    travel(310, 204.5, 22.5, check.AtDepth), Tightest: near("T1 holder", 12.25)}},
			StickOut: &check.StickOut{Now: 48, Possible: check.Span{40, 52}, Shortest: mm(40), Longest: mm(52),
				ShortestBy: "what cutter and holder allow", LongestBy: "what cutter and holder allow", Tool: &check.Span{40, 52}}},
		drillSides(), boreDeep(), undercut(), ream(), touch(),
	}
}

// near is a holder that is clear of the vise by more than is demanded.
func near(holder string, spare float64) *check.Finding {
	return &check.Finding{Verdict: check.Clear, Question: check.Reaching, Bodies: [2]string{holder, "vise/moving jaw"}, Demand: 2,
		Proven: mm(1.98 + spare), Smallest: mm(2 + spare), Nominal: mm(2.2 + spare), Uncertainty: 0.2, At: at(60, 45.5, -490, deg(0, 0)...),
		Points: &[2][3]float64{{30, 10, 420}, {30, -4.25, 420}}, Over: []check.Range{}}
}

// drillSides meets the vise at its second hole.
func drillSides() check.Operation {
	f := meets()
	return check.Operation{Name: "drill sides", Part: "bracket", Tool: 4, ToolName: "drill 8.5", LPR: 143, Verdict: check.Contact,
		Features: []check.Feature{
			{Name: "hole 1", Kind: "hole", Verdict: check.Clear,
				Presented: sides(check.Clear), Travel: travel(288, 96, 41.25, check.AtDepth)},
			{Name: "hole 2", Kind: "hole", Verdict: check.Contact, Reason: "T4 holder meets vise/moving jaw",
				Presented: sides(check.Contact), Travel: travel(288, 36, 41.25, check.AtDepth), Tightest: &f},
		},
		StickOut: &check.StickOut{Now: 62, Possible: check.Span{40, 90}, Shortest: mm(66.5), Longest: mm(80),
			ShortestBy: "T4 holder and vise/moving jaw at hole 2", LongestBy: "the index to bore deep", Tool: &check.Span{66.5, 78},
			Others: []string{"T14 drill 8.5 in a slim holder"}}}
}

// sides are the two ways to present a side of the part.
func sides(v check.Verdict) []check.Presented {
	return []check.Presented{
		{At: deg(90, 180), Verdict: v, Chosen: true},
		{At: deg(-90, 0), Verdict: check.OverTravel, Why: "A would have to go 60.00 deg beyond its limit at -30"},
	}
}

func boreDeep() check.Operation {
	z := travel(260, 140, -12.4, check.AtRetract)
	z[2].Limit, z[2].Position, z[2].Margin, z[2].Loose = 0, 12.4, -12.4, 0
	z[2].Cures = shortCures()
	return check.Operation{Name: "bore deep", Part: "bracket", Tool: 12, ToolName: "drill 8.5 long", LPR: 262.5, Verdict: check.OverTravel,
		Features: []check.Feature{{Name: "cross bore", Kind: "hole", Verdict: check.OverTravel, Reason: "Z lacks 12.40 mm at retract",
			Presented: []check.Presented{{At: deg(0, 90), Verdict: check.OverTravel, Chosen: true}}, Travel: z}},
		StickOut: &check.StickOut{Now: 180, Possible: check.Span{150, 200}, ShortestBy: "T12 holder and stock at cross bore",
			LongestBy: "Z at retract of cross bore"}}
}

func shortCures() []string {
	return []string{"a tool that is at least 17.40 mm shorter", "a riser that is at least 17.40 mm lower"}
}

func undercut() check.Operation {
	return check.Operation{Name: "chamfer underneath", Part: "bracket", Tool: 7, ToolName: "chamfer mill 10", LPR: 110, Verdict: check.OverTravel,
		Features: []check.Feature{{Name: "lower edge", Kind: "contour", Verdict: check.OverTravel,
			Reason: "no rotary position presents it: 20.00 deg are missing",
			Presented: []check.Presented{{At: deg(110, 0), Verdict: check.OverTravel, Chosen: true, Miss: 20,
				Why: "A would have to go 20.00 deg beyond its limit at 110"}}, Travel: []check.Travel{}}}}
}

func ream() check.Operation {
	f := tightest()
	return check.Operation{Name: "ream", Part: "bracket", Tool: 6, ToolName: "reamer 10", LPR: 131, Verdict: check.Tight,
		Features: []check.Feature{{Name: "dowel hole", Kind: "hole", Verdict: check.Tight, Reason: "T6 holder and stock come within 1.20 mm",
			Presented: []check.Presented{{At: deg(0, 0), Verdict: check.Tight, Chosen: true}},
			Travel:    travel(301, 188, 55, check.AtDepth), Tightest: &f}},
		StickOut: &check.StickOut{Now: 50, Possible: check.Span{45, 70}, Shortest: mm(50.8), Longest: mm(70),
			ShortestBy: "T6 holder and stock at dowel hole", LongestBy: "what cutter and holder allow", Tool: &check.Span{50.8, 70}}}
}

func touch() check.Operation {
	return check.Operation{Name: "touch the datum", Part: "bracket", Tool: 20, ToolName: "touch probe", LPR: 155, Verdict: check.Clear,
		Features: []check.Feature{{Name: "edge", Kind: "touch", Verdict: check.Clear,
			Presented: []check.Presented{{At: deg(0, 0), Verdict: check.Clear, Chosen: true}},
			Travel:    travel(330, 160, 61, check.AtDepth), Tightest: near("T20 holder", 8)}}}
}
