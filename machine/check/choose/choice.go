package choose

import (
	"gridswing/machine/check"
	"gridswing/machine/check/proof"
)

// Format is the version of the JSON form of a Choice and a Table.
const Format = 1

// Rules of choice. Candidates that meet every demand come first whatever the rule; those
// that do not follow, the least bad verdict first, then the largest smallest share.
const (
	Lowest   = "lowest"   // the lowest first, of equally low ones that of fewer parts
	Roomiest = "roomiest" // that of which the smallest share of a demand is largest; of those alike in that, the next one, and so on
	Nearest  = "nearest"  // that which moves and turns least from where it stands
)

// Rules lists all rules.
func Rules() []string { return []string{Lowest, Roomiest, Nearest} }

// DefaultBest is how many candidates are recommended if nobody says otherwise.
const DefaultBest = 5

// Options say how hard to look, and for what. The zero value is what a user wants, but for
// the rule.
type Options struct {
	proof.Options
	Rule string // one of Rules; "": Lowest for risers, Roomiest otherwise
	Best int    // how many of the best are wanted in their order, 0: DefaultBest
	All  bool   // look at every candidate to the end
	// Known, if not nil, is told what becomes known, one event after the other.
	Known func(Event)
	// GiveUp, if not nil, is asked by Look after each concern: why to leave it at that, "" to go on.
	GiveUp func(*Looked) string
}

// Event tells how far a choice has come.
type Event struct {
	// Settled of Total candidates are looked at to the end or given up.
	Settled, Total int
	Good           int // so many of them meet every demand
}

// Choice is what was found of candidates for one place.
type Choice struct {
	Format  int    `json:"format"`
	Setup   string `json:"setup"`
	File    string `json:"file"`
	Machine string `json:"machine"`
	Kind    string `json:"kind"`  // Seated, Stacked
	Place   string `json:"place"` // the component whose place it is about
	Rule    string `json:"rule"`
	// Candidates are all of them, in a fixed order: seats as the grid has them, stacks the
	// lowest first.
	Candidates []Looked `json:"candidates"`
	// Best are places in Candidates, the recommended one first. Where none is good they are the
	// least bad.
	Best    []int   `json:"best"`
	Counted Counted `json:"counted"`
	// Common are margins that are the same whatever is chosen, and so not among those of
	// candidates: one for each concern in which it is the tightest of the setup as it is.
	Common []check.Margin `json:"common"`
	// Unfit are components of the catalogue that cannot stand there.
	Unfit []Unfit `json:"unfit"`
	// NotModelled is what could be hit and is in no model: whatever is chosen is unproven.
	NotModelled []string `json:"not_modelled"`
	// Interrupted is set where the search was broken off: Best is of what was known then.
	Interrupted bool     `json:"interrupted"`
	Caution     []string `json:"caution"`
}

// Kinds of choices.
const (
	Seated  = "seats"
	Stacked = "risers"
)

// Counted says how many candidates came to what.
type Counted struct {
	Candidates int `json:"candidates"`
	Good       int `json:"good"`     // meet every demand
	Failing    int `json:"failing"`  // do not, whether looked at to the end or not
	GivenUp    int `json:"given_up"` // were not looked at to the end: nothing bad was found until then
}

// Unfit is a component that is no candidate.
type Unfit struct {
	Name   string `json:"name"`
	Reason string `json:"reason"`
}

// Line is one of the two lists of a Table: alternatives for one thing.
type Line struct {
	What       string      `json:"what"` // "riser", "seat of vise", "stick-out of T3"
	Candidates []Candidate `json:"candidates"`
}

// Table is what was found of all pairs of two lists of alternatives.
type Table struct {
	Format      int            `json:"format"`
	Setup       string         `json:"setup"`
	File        string         `json:"file"`
	Machine     string         `json:"machine"`
	Rule        string         `json:"rule"`
	Rows        Line           `json:"rows"`
	Columns     Line           `json:"columns"`
	Cells       []Looked       `json:"cells"` // row by row
	Best        []int          `json:"best"`  // places in Cells
	Common      []check.Margin `json:"common"`
	Counted     Counted        `json:"counted"`
	NotModelled []string       `json:"not_modelled"`
	Interrupted bool           `json:"interrupted"`
	Caution     []string       `json:"caution"`
}

// Cell is what was found of a row and a column.
func (t *Table) Cell(row, column int) *Looked {
	return &t.Cells[row*len(t.Columns.Candidates)+column]
}

// Recommended is the best candidate, nil where none is good.
func (c *Choice) Recommended() *Looked { return recommended(c.Candidates, c.Best) }

// Recommended is the best cell, nil where none is good.
func (t *Table) Recommended() *Looked { return recommended(t.Cells, t.Best) }

func recommended(list []Looked, best []int) *Looked {
	if len(best) == 0 || !list[best[0]].Good() {
		return nil
	}
	return &list[best[0]]
}

// count counts candidates by what they came to.
func count(list []Looked) (c Counted) {
	c.Candidates = len(list)
	for i := range list {
		switch l := &list[i]; {
		case l.Good():
			c.Good++
		case l.GivenUp != "" && l.Verdict == check.Unproven:
			c.GivenUp++
		default:
			c.Failing++
		}
	}
	return c
}
