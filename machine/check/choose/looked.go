package choose

import (
	"gridswing/machine"
	"gridswing/machine/check"
)

// Candidate is a variant of a setup that could be chosen.
type Candidate struct {
	// Name says in a few words what it is: "62 mm: riser 50 + plate 12", "D4, N4 turned 90".
	Name    string           `json:"name"`
	Changes []machine.Change `json:"-"`
	Height  float64          `json:"height_mm,omitempty"` // of a stack of risers
	Moved   float64          `json:"moved_mm,omitempty"`  // how far from where the setup has it
	Turned  float64          `json:"turned_deg,omitempty"`
}

// Looked is a candidate and what was found of it.
type Looked struct {
	Candidate
	// Verdict is the worst of all concerns that were looked at.
	Verdict check.Verdict  `json:"verdict"`
	Judged  []check.Judged `json:"judged"` // those that were looked at, in the order of check.Concerns
	// Tightest is the margin with the smallest share of its demand, nil where none was measured.
	Tightest *check.Margin `json:"tightest,omitempty"`
	// Reason says what the verdict is about: "T3 holder meets trunnion/faceplate at A +90"; of a
	// candidate that cannot be put together at all, why not.
	Reason string `json:"reason,omitempty"`
	// GivenUp says why it was not looked at to the end, "" if it was: it is no good already, or
	// cannot be better than the best. Verdict and Tightest are then bounds: it is no better.
	GivenUp string `json:"given_up,omitempty"`
}

// Share is the smallest share of a demand that the candidate leaves: of what meets every
// demand 1 or more.
func (l *Looked) Share() float64 {
	if l.Tightest == nil {
		return 0
	}
	return l.Tightest.Share
}

// Good reports whether the candidate meets every demand, and was looked at to the end.
func (l *Looked) Good() bool { return l.Verdict == check.Clear && l.GivenUp == "" }
