package specimen

import (
	"gridswing/machine/check"
	"gridswing/machine/check/choose"
)

// Sides returns both sides of four operations: one side is clear, on the other one a tool meets the
// vise at the second; the third can be on either, the last has two features that stand apart.
func Sides() *choose.BothSides {
	stood := func(a, c float64, side string, v check.Verdict, why string) choose.Stood {
		at := deg(a, c)
		at[1].Turn = check.Turn{0, 360}
		return choose.Stood{At: at, Side: side, Verdict: v, Why: why}
	}
	feature := func(operation, name string, tool int, stands ...choose.Stood) choose.TwoSided {
		return choose.TwoSided{Operation: operation, Feature: name, Tool: tool, Stands: stands}
	}
	free := stood(0, 90, choose.Either, check.Clear, "")
	free.Free = "C"
	const meets = "T4 holder and vise/moving jaw"
	turned := func(a, c float64) []choose.Turned {
		return []choose.Turned{{Axis: "A", Degrees: a}, {Axis: "C", Degrees: c}}
	}
	line := func(operation, line, note string) choose.SideLine {
		return choose.SideLine{Operation: operation, At: deg(90, 0), Line: line, Note: note}
	}
	clear, contact := []check.Judged{{Concern: check.ReachConcern, Verdict: check.Clear}}, []check.Judged{{Concern: check.ReachConcern, Verdict: check.Contact}}
	return &choose.BothSides{
		Format: choose.Format, Setup: "Bracket NB-214, op 10", Machine: "Mill 3", File: "setups/bracket-op10.toml",
		Tilts: []choose.Tilt{{Axis: "A", Pivot: deg(0, 0)[0]}},
		Features: []choose.TwoSided{
			feature("face the front", "face 1", 1, stood(90, 90, choose.Above, check.Clear, ""), stood(-90, 270, choose.Below, check.Clear, "")),
			feature("drill sides", "hole 1", 4, stood(90, 90, choose.Above, check.Clear, ""), stood(-90, 270, choose.Below, check.Contact, meets)),
			feature("ream", "hole 1", 6, free),
			feature("drill slanted", "hole 1", 4, stood(36.8699, 90, choose.Above, check.Clear, ""), stood(-36.8699, 270, choose.Below, check.Tight, "T4 holder and stock: 1.20 mm left of 2.00")),
			feature("drill slanted", "hole 2", 4, stood(36.8699, 180, choose.Above, check.Clear, ""), stood(-36.8699, 0, choose.Below, check.Clear, "")),
		},
		Plans: []choose.SidePlan{
			{Side: choose.Above, Stands: []int{0, 0, 0, 0, 0}, Whole: true, Verdict: check.Clear, Judged: clear, Motion: turned(216.8699, 180), Indexes: 4,
				Lines: []choose.SideLine{line("face the front", "positions = { A = 90, C = 90 }", ""), line("drill sides", "positions = { A = 90, C = 90 }", ""),
					line("ream", "positions = { A = 0, C = 90 }", ""),
					line("drill slanted", "positions = { A = 36.8699 }", "C stands differently from feature to feature, so no line holds it: to be sure, make an operation of each position")}},
			{Side: choose.Below, Stands: []int{1, 1, 0, 1, 1}, Whole: true, Verdict: check.Contact, Judged: contact, Reason: "drill sides, hole 1: T4 holder meets vise/moving jaw at A -90, C +270",
				Motion: turned(216.8699, 180), Indexes: 4, Lines: []choose.SideLine{}},
			{Side: choose.Mixed, Stands: []int{0, 0, 0, 0, 0}, Whole: true, Verdict: check.Clear, Judged: clear, Motion: turned(216.8699, 180), Indexes: 4, Lines: []choose.SideLine{}},
		},
		Confirmed: choose.Confirmed{Verdict: check.Clear}, NotModelled: []string{},
		Notes:   []string{"Each feature was looked at by itself at every position; each plan as a whole, with the ways from feature to feature."},
		Caution: check.Caution,
	}
}

// MixedSides returns two operations of which each can be cut on one side only, and the changer is
// not modelled.
func MixedSides() *choose.BothSides {
	b := Sides()
	b.Features = b.Features[:2]
	const beyond = "C would have to stand at 270.000 deg, 170.000 deg beyond its travel"
	b.Features[0].Stands[1].Verdict, b.Features[0].Stands[1].Why = check.OverTravel, beyond
	b.Features[1].Stands[0].Verdict, b.Features[1].Stands[0].Why = check.OverTravel, beyond
	b.Features[1].Stands[1].Verdict, b.Features[1].Stands[1].Why = check.Clear, ""
	for i := range b.Plans {
		p := &b.Plans[i]
		p.Stands, p.Verdict, p.Reason, p.Whole = []int{i, i}, check.OverTravel, "T4: "+beyond, false
	}
	p := &b.Plans[2]
	p.Stands, p.Verdict, p.Reason, p.Whole = []int{0, 1}, check.Clear, "", true
	p.Motion, p.Indexes = []choose.Turned{{Axis: "A", Degrees: 270}, {Axis: "C", Degrees: 0}}, 2
	p.Lines = []choose.SideLine{{Operation: "face the front", At: deg(90, 90), Line: "positions = { A = 90, C = 90 }"},
		{Operation: "drill sides", At: []check.Position{}, Note: "A and C stand differently from feature to feature, so no line holds it: to be sure, make an operation of each position"}}
	b.Recommended, b.NotModelled = 2, []string{"changer"}
	b.Confirmed = choose.Confirmed{Verdict: check.OverTravel, Reason: "T4: " + beyond, Differs: []string{"drill sides, hole 1"}}
	return b
}
