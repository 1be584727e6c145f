package check

import (
	"math"
	"slices"
)

// Concerns, in the order in which they cost least to look at. Each question of a finding
// belongs to one.
const (
	StackConcern  = "stack"  // whether everything goes where it is said to, and is held there
	LoadConcern   = "loads"  // whether units and the table may carry it
	TravelConcern = "travel" // whether the axes get to every feature
	SwingConcern  = "swing"  // what meets while axes go over their ranges
	ReachConcern  = "reach"  // what tools meet at features and on rapids between them
	IndexConcern  = "index"  // what tools meet while rotary axes index: whether they can be high enough
	ChangeConcern = "change" // tool changes and the magazine
	DriverConcern = "driver" // whether screws can be got at
)

// Concerns lists all concerns.
func Concerns() []string {
	return []string{StackConcern, LoadConcern, TravelConcern, SwingConcern, ReachConcern, IndexConcern, ChangeConcern, DriverConcern}
}

var concernOf = map[string]string{
	Stacked: StackConcern, Located: StackConcern,
	Carrying: LoadConcern,
	Presents: TravelConcern, Travels: TravelConcern, LeftOut: TravelConcern, Keyed: TravelConcern,
	Rest: SwingConcern, Swing: SwingConcern, Overhang: SwingConcern, Index: SwingConcern,
	Reaching: ReachConcern, Rapids: ReachConcern,
	Indexing: IndexConcern,
	Changing: ChangeConcern, Stored: ChangeConcern,
	Driving: DriverConcern, Heads: DriverConcern,
}

// ConcernOf returns the concern that a question of a finding belongs to.
func ConcernOf(question string) string { return concernOf[question] }

// MostShare is the share of a demand from which on nobody asks how much more there is.
const MostShare = 5.0

// Plenty is what a margin of MostShare is told of.
const Plenty = "five times what is demanded, or more"

// Margin is what there is against what is demanded, where that is tightest within a concern.
type Margin struct {
	Concern string `json:"concern"`
	// Share is Has / Demand: 1 just meets the demand, less does not. It is proven, and
	// no more than a fiftieth below what there is; MostShare where there is as much as that
	// or more. A contact has 0, and so has what nothing is proven of; what is beyond a limit
	// has less.
	Share  float64 `json:"share"`
	Has    float64 `json:"has"`
	Demand float64 `json:"demand"`
	Unit   string  `json:"unit"` // "mm", "kg" or "N m"
	// What says in words what is tightest, and where: "T3 holder and trunnion/faceplate at A +90".
	What string `json:"what"`
}

// Tighten keeps a margin if it is the tightest yet of its concern; of two that are equally
// tight, the first.
func (r *Report) Tighten(m Margin) {
	order := func(concern string) int { return slices.Index(Concerns(), concern) }
	i, known := slices.BinarySearchFunc(r.Margins, m.Concern, func(n Margin, concern string) int { return order(n.Concern) - order(concern) })
	switch {
	case !known:
		r.Margins = slices.Insert(r.Margins, i, m)
	case Less(m.Share, r.Margins[i].Share):
		r.Margins[i] = m
	}
}

// ShareOf is what there is in shares of what is demanded, no more than MostShare. Where
// nothing is demanded it is MostShare, unless there is less than nothing.
func ShareOf(has, demand float64) float64 {
	switch {
	case demand > 0:
		return min(MostShare, has/demand)
	case has >= 0:
		return MostShare
	}
	return has
}

// Less reports whether a share is less than the least so far, and not only by rounding: what
// is asked of a question is that share of its demand.
func Less(share, least float64) bool { return share < least-1e-9*math.Abs(least) }

// Judged is what a report says of one concern.
type Judged struct {
	Concern string  `json:"concern"`
	Verdict Verdict `json:"verdict"`
	// Worst is the finding that the verdict is about, nil of a clear one.
	Worst *Finding `json:"worst,omitempty"`
	// Margin is nil where none was measured.
	Margin *Margin `json:"margin,omitempty"`
}

// Judge sums up what the report says, concern by concern, in the order of Concerns: the
// worst of the findings of each. Clear of a concern means that nothing of it was found to be
// otherwise, so it must have been looked at.
func (r *Report) Judge() []Judged {
	var list []Judged
	for _, c := range Concerns() {
		j := Judged{Concern: c, Verdict: Clear}
		for i := range r.Findings {
			if f := &r.Findings[i]; ConcernOf(f.Question) == c && f.Verdict.Worse(j.Verdict) {
				j.Verdict, j.Worst = f.Verdict, f
			}
		}
		if i := slices.IndexFunc(r.Margins, func(m Margin) bool { return m.Concern == c }); i >= 0 {
			j.Margin = &r.Margins[i]
		}
		list = append(list, j)
	}
	return list
}
