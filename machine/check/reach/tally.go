package reach

import (
	"fmt"
	"math"

	"gridswing/machine/check"
	"gridswing/machine/check/proof"
)

// tally is the tightest margin so far of a concern, while it is looked for.
type tally struct {
	concern string
	at      string  // the feature or the move that is looked at
	with    string  // the unit with which the tool goes there: see checker.common
	share   float64 // the least so far; that of any question so far is no less
	has     float64
	demand  float64 // 0: nothing was noted
	unit    string
	what    func() string
}

// tallies are those of each concern; nil in the full check.
type tallies map[string]*tally

// concern returns the tally of a concern, nil in the full check.
func (t tallies) concern(name string) *tally {
	if t == nil {
		return nil
	}
	if t[name] == nil {
		t[name] = &tally{concern: name, share: check.MostShare, unit: "mm"}
	}
	return t[name]
}

// begin makes tallies that tell no share above 1, where only verdicts are wanted.
func (t tallies) begin(verdicts bool) {
	if verdicts {
		for _, name := range []string{check.ReachConcern, check.IndexConcern, check.ChangeConcern} {
			t.concern(name).share = 1
		}
	}
}

// of returns the tally of the concern that a kind of move is about.
func (t tallies) of(kind, to string) *tally {
	found := t.concern(check.ConcernOf(questionOf[kind]))
	if found != nil {
		found.at, found.with = kind+" to "+to, ""
	}
	return found
}

// going says with which unit's part the tool goes.
func (t *tally) going(unit string) *tally {
	if t != nil {
		t.with = unit
	}
	return t
}

// at returns a tally for a candidate of a stop, which counts once it is chosen: see settle.
// The tool goes there with the part of the unit.
func (t tallies) at(st *stop, unit string) *tally {
	if t == nil {
		return nil
	}
	mine := *t.concern(check.ReachConcern)
	mine.at, mine.with = stopName(st), unit
	return &mine
}

// settle takes over what the chosen candidate has left.
func (t tallies) settle(chosen *candidate) {
	if t != nil && chosen.tally != nil {
		t[check.ReachConcern] = chosen.tally
	}
}

// enough is the clearance from which on a question changes neither the tally nor any verdict.
func (t *tally) enough(q *proof.Question) float64 {
	return max(t.share*q.Demand, q.Surely())
}

// roomy is the clearance from which on it changes nothing either whether it was proven: what
// a ledger knows decides that, and the tally must not depend on it.
func (t *tally) roomy(q *proof.Question) float64 { return q.SurelyMeasured(t.share * q.Demand) }

// looked takes down that something was looked at.
func (t *tally) looked(demand float64) {
	if t.what == nil {
		t.has, t.demand, t.what = check.MostShare*demand, demand, func() string { return check.Plenty }
	}
}

// note takes down what two bodies have left of a demand.
func (t *tally) note(c *checker, m *mover, k int, demand float64, l *left) {
	share := math.Inf(1)
	if !math.IsInf(l.lower, 1) {
		share = l.lower / demand
	}
	if !check.Less(share, t.share) {
		return
	}
	found, where := *l, t.at
	t.put(share, demand, "mm", func() string {
		at := []check.Position{}
		p := found.leg.at(found.at.Out.At)
		for k := range c.setup.Axes {
			at = append(at, check.PositionOf(&c.setup.Axes[k], p[k]))
		}
		return check.Between(m.Body.Name, c.setup.Bodies[c.others[k]].Name, at) + ", " + where
	})
}

func (t *tally) put(share, demand float64, unit string, what func() string) {
	t.share, t.has, t.demand, t.unit, t.what = share, share*demand, demand, unit, what
}

// lack notes that nothing is proven, or that there is no position at all.
func (t *tally) lack(why string) {
	if t.what == nil || t.share > 0 {
		t.share, t.has, t.demand, t.unit, t.what = 0, 0, 0, "mm", func() string { return why }
	}
}

// margins adds the tightest margins to the report, with those that need no questions.
func (c *checker) margins(r *check.Report) {
	if c.tallies == nil {
		return
	}
	c.travelMargins(r)
	c.faultyMargins(r)
	for _, m := range c.moves {
		if m.doubt != "" {
			c.tallies.of(m.kind, m.to).lack(m.doubt)
		}
	}
	for _, name := range []string{check.ReachConcern, check.IndexConcern, check.ChangeConcern} {
		t := c.tallies[name]
		if t == nil || t.what == nil {
			continue
		}
		m := check.Margin{Concern: name, Share: t.share, Has: t.has, Demand: t.demand, Unit: t.unit, What: check.Plenty}
		if t.share < check.MostShare {
			m.What = t.what()
		}
		r.Tighten(m)
	}
}

// faultyMargins says that nothing is left of operations that could not be looked at.
func (c *checker) faultyMargins(r *check.Report) {
	for _, f := range faulty(c.setup) {
		r.Tighten(check.Margin{Concern: check.TravelConcern, Unit: "mm", What: f.Operation + ": " + f.Reason})
	}
}

// travelMargins adds what the axes have left at the chosen positions.
func (c *checker) travelMargins(r *check.Report) {
	for _, st := range c.stops {
		if m, ok := c.travelMargin(st, st.chosen); ok {
			r.Tighten(m)
		}
	}
}

// travelMargin is the least that an axis has left at a candidate; false where nothing has
// ends.
func (c *checker) travelMargin(st *stop, cand *candidate) (m check.Margin, ok bool) {
	m = check.Margin{Concern: check.TravelConcern, Share: math.Inf(1), Unit: "mm"}
	why := cand.fault + cand.doubt
	if cand.way != nil {
		why = c.uncommanded(cand)
	}
	if why != "" {
		m.Share, m.What = 0, stopName(st)+": "+why
	}
	for i := range cand.travel {
		t := &cand.travel[i]
		if share := check.ShareOf(t.Margin, t.Demand); share < m.Share {
			m.Share, m.Has, m.Demand = share, t.Margin, t.Demand
			m.What = fmt.Sprintf("%s at %s, %s", t.Axis, t.Where, stopName(st))
		}
	}
	return m, !math.IsInf(m.Share, 1)
}

// magazineMargins tells what the magazine takes against what tools are, before tool changes are
// looked at.
func (c *checker) magazineMargins() {
	m, t := c.setup.Magazine, c.tallies.concern(check.ChangeConcern)
	for _, g := range c.magazine() {
		tell := func(what string, most, is float64, unit string) {
			if c.options.Common != nil && c.options.Common.Tool(g.Tool) && most >= is {
				return // it is the same whatever is chosen
			}
			if share := check.ShareOf(most, is); most > 0 && (t.what == nil || check.Less(share, t.share)) {
				t.share, t.has, t.demand, t.unit = min(share, t.share), most, is, unit
				t.what = func() string { return fmt.Sprintf("%s of T%d in the magazine", what, g.Tool) }
			}
		}
		if g.Verdict == check.Unproven {
			t.lack(fmt.Sprintf("T%d in the magazine: %s", g.Tool, g.Reason))
		}
		tell("length", m.Longest, g.LPR+c.within(g.Tool), "mm")
		tell("diameter", max(m.Diameter, m.Alone), g.Widest, "mm")
		if g.Mass != nil {
			tell("mass", m.Heaviest, *g.Mass, "kg")
		}
	}
}

// within is how far off the length of a tool can be, mm.
func (c *checker) within(number int) float64 {
	for _, t := range c.tools {
		if t.tool.Number == number {
			return t.tool.Within
		}
	}
	return 0
}
