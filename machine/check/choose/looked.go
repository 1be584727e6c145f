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
	Height  float64          `json:"height_mm,omitempty"`  // of a stack of risers
	Moved   float64          `json:"moved_mm,omitempty"`   // how far from where the setup has it
	Raised  float64          `json:"raised_mm,omitempty"`  // of a stack: how much higher it carries what stands on it
	Turned  float64          `json:"turned_deg,omitempty"` // against where the setup has it
	Parts   []string         `json:"parts,omitempty"`      // the components of a stack, from below
	Pins    []string         `json:"pins,omitempty"`       // the two holes of a seat
	// Middle is the middle between the two holes of a seat, bed frame, axes at zero.
	Middle   *[3]float64 `json:"middle_mm,omitempty"`
	StickOut float64     `json:"stick_out_mm,omitempty"`
	// Present is set of what the setup has now.
	Present bool `json:"present,omitempty"`
}

// Looked is a candidate and what was found of it.
type Looked struct {
	Candidate
	// Verdict is the worst of all concerns, and unproven at best where something is not
	// modelled, as in a report. Of a candidate that was given up it is the worst that was found
	// until then: what it really is is that or worse; unproven where nothing was found.
	Verdict check.Verdict  `json:"verdict"`
	Judged  []check.Judged `json:"judged"` // those that were looked at, in the order of check.Concerns
	// Tightest is the margin with the smallest share of its demand, nil where none was measured.
	// Of a candidate that was given up it may be smaller yet.
	Tightest *check.Margin `json:"tightest,omitempty"`
	// Reason says what the verdict is about: "T3 holder meets trunnion/faceplate at A +90"; of a
	// faulty one why it is.
	Reason string `json:"reason,omitempty"`
	// Faulty is set of a candidate that cannot be put together at all, as a setup whose files
	// are wrong. Nothing of it was looked at, and its verdict is unproven.
	Faulty bool `json:"faulty,omitempty"`
	// GivenUp says why it was not looked at to the end, "" if it was: it is no good already,
	// cannot be better than the best, or nobody had the time.
	GivenUp string `json:"given_up,omitempty"`
}

// Share is the smallest share of a demand that the candidate leaves: of what meets every
// demand 1 or more. Where nothing was measured it is check.MostShare.
func (l *Looked) Share() float64 {
	if l.Tightest == nil {
		return check.MostShare
	}
	return l.Tightest.Share
}

// Good reports whether the candidate meets every demand, and was looked at to the end.
func (l *Looked) Good() bool { return l.Verdict == check.Clear && l.GivenUp == "" }
