package specimen

import "gridswing/machine/check"

func number(n int) *int { return &n }

// meets is the holder of a short drill in the vise's jaw.
func meets() check.Finding {
	return check.Finding{Verdict: check.Contact, Question: check.Reaching, Bodies: [2]string{"T4 holder", "vise/moving jaw"}, Demand: 2,
		At: at(112, -214, -508.75, deg(90, 180)...), Points: &[2][3]float64{{50, -79.1, 399}, {50, -79.1, 399}},
		PartPoint: &[3]float64{30, -4.25, 12.04},
		Over:      []check.Range{{Axis: "Z", From: -508.75, To: -420, Unit: "mm"}},
		Operation: "drill sides", Feature: "hole 2", Tool: number(4),
		Cures: []string{"a stick-out of at least 66.50 mm, 4.50 mm more than now", "the stock turned half round in the vise"}}
}

// short is a retract that Z has not the travel for.
func short() check.Finding {
	return check.Finding{Verdict: check.OverTravel, Question: check.Travels,
		Reason: "Z lacks 12.40 mm at retract: it would have to go to 12.40 mm, and ends at 0 mm",
		At:     at(140, 110, 12.4, deg(0, 90)...), Operation: "bore deep", Feature: "cross bore", Tool: number(12), Cures: shortCures()}
}

func notPresented() check.Finding {
	return check.Finding{Verdict: check.OverTravel, Question: check.Presents,
		Reason: "no rotary position presents it: the nearest, A 110, misses by 20.00 deg",
		At:     deg(110, 0), Operation: "chamfer underneath", Feature: "lower edge", Tool: number(7)}
}

func tightest() check.Finding {
	return check.Finding{Verdict: check.Tight, Question: check.Reaching, Bodies: [2]string{"T6 holder", "stock"}, Demand: 2,
		Proven: mm(1.2), Smallest: mm(1.21), Nominal: mm(1.36), Uncertainty: 0.15, At: at(99, -62, -495, deg(0, 0)...),
		Points: &[2][3]float64{{20, 10, 402}, {20, 10, 403.36}}, Over: []check.Range{{Axis: "Z", From: -495, To: -410, Unit: "mm"}},
		Operation: "ream", Feature: "dowel hole", Tool: number(6),
		Cures: []string{"a stick-out of at least 50.80 mm, 0.80 mm more than now"}}
}

func indexing() check.Finding {
	return check.Finding{Verdict: check.Contact, Question: check.Indexing, Bodies: [2]string{"T12 cutting part", "trunnion/cradle"}, Demand: 2,
		Reason: "Z home is too low by 14.00 mm", At: at(0, 0, 0, deg(47.5, 90)...),
		Points: &[2][3]float64{{10, 40, 437}, {10, 40, 437}},
		Over:   []check.Range{{Axis: "A", From: 0, To: 90, Unit: "deg"}, {Axis: "C", From: 90, To: 180, Unit: "deg"}},
		Tool:   number(12), Operation: "bore deep", Cures: []string{"a stick-out of at most 166.00 mm, 14.00 mm less than now"}}
}

func stored() check.Finding {
	return check.Finding{Verdict: check.Overload, Question: check.Stored, Reason: "LPR 262.50 mm, the magazine takes 250.00", Tool: number(12)}
}

func moves() []check.Move {
	turn := []check.Range{{Axis: "A", From: 0, To: 90, Unit: "deg"}, {Axis: "C", From: 0, To: 180, Unit: "deg"}}
	back := []check.Range{{Axis: "A", From: 0, To: 90, Unit: "deg"}, {Axis: "C", From: 90, To: 180, Unit: "deg"}}
	return []check.Move{
		{Kind: check.ChangeMove, From: "", To: "face the top", Tool: 1, Verdict: check.Clear, Over: []check.Range{}},
		{Kind: check.IndexMove, From: "face the top", To: "drill sides", Tool: 4, Verdict: check.Clear, Over: turn,
			Height: mm(-84.333), FullHeight: mm(-20.5), HeightBy: "T4 cutting part and trunnion/cradle"},
		{Kind: check.ChangeMove, From: "face the top", To: "drill sides", Tool: 4, Verdict: check.Tight, Over: []check.Range{},
			Reason: "T4 holder and machine/door come within 1.50 mm"},
		{Kind: check.RapidMove, From: "hole 1", To: "hole 2", Tool: 4, Verdict: check.Clear, Over: []check.Range{}},
		{Kind: check.IndexMove, From: "drill sides", To: "bore deep", Tool: 12, Verdict: check.Contact, Over: back,
			HeightBy: "T12 cutting part and trunnion/cradle", Short: mm(13.996), Reason: "T12 cutting part meets trunnion/cradle"},
	}
}
