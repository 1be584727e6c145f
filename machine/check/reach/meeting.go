package reach

import (
	"context"
	"math"

	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/proof"
	"gridswing/machine/check/spindle"
)

// meeting is what is known of a body on the tool's side and another one, over the
// legs on which they were looked at: the worst.
type meeting struct {
	mover *mover
	with  *tool // in the spindle; nil at a stop, whose operation tells
	other int   // index into Setup.Bodies; of a changer's zone, from there on
	proof.Answer
	question proof.Question
	leg      leg
	why      string // the reason of a demand of its own
	note     string // what the tool was doing, where that matters
}

// asked is something to ask of a mover and another body.
type asked struct {
	legs   []leg
	demand float64
	why    string
	note   string
	body   *machine.Body // instead of the mover's own; nil: its own
	tests  int64         // budget; 0: that of the options
	which  uint64        // see proof.Question
}

// of is the body that is asked about.
func (a *asked) of(m *mover) *machine.Body {
	if a.body != nil {
		return a.body
	}
	return m.Body
}

// look finds out what every stop's tool meets. The candidate that seems best is
// looked at first, the others only where it does not do.
func (c *checker) look(ctx context.Context) error {
	return c.options.Each(ctx, "features", len(c.stops), func(ctx context.Context, i int) error {
		st := c.stops[i]
		for n, cand := range st.candidates {
			if err := c.try(ctx, st, cand, n); err != nil {
				return err
			}
			if st.chosen == nil || cand.better(st.chosen) {
				st.chosen = cand
			}
			if st.chosen.verdict == check.Clear {
				break
			}
		}
		c.overHeights(st)
		c.tallies.settle(st.chosen)
		return nil
	})
}

// better reports whether a candidate is to be preferred: one that the axes can
// take at all, whatever is met there, to one that they cannot.
func (a *candidate) better(b *candidate) bool {
	if (a.way == nil) != (b.way == nil) {
		return a.way != nil
	}
	return b.verdict.Worse(a.verdict)
}

// try gives one candidate, the n-th of its stop, its verdict.
func (c *checker) try(ctx context.Context, st *stop, cand *candidate, n int) error {
	if cand.fault != "" {
		cand.verdict, cand.why = check.OverTravel, cand.fault
		return nil
	}
	if cand.doubt != "" {
		cand.verdict, cand.why = check.Unproven, cand.doubt
		return nil
	}
	t := c.tools[st.op.Tool]
	cand.tally = c.tallies.at(st, c.goes(t, c.setup.Parts[st.op.Part].Unit))
	which := proof.WhichOf(proof.Which("feature", stopName(st), t.name()), n)
	for i := range t.movers {
		m := &t.movers[i]
		for k, other := range c.others {
			if c.ownMaker(m, other) {
				continue
			}
			for n, a := range c.asks(st, cand, t, m, other) {
				a.which = proof.WhichOf(which, n)
				found, err := c.meet(ctx, m, i, k, cand.screened, a, cand.tally)
				if err != nil {
					return err
				}
				if found == nil || found.Verdict == check.Clear {
					continue
				}
				cand.meets = append(cand.meets, *found)
			}
		}
	}
	c.conclude(cand)
	return nil
}

// conclude gives a candidate that was looked at its verdict: the worst of what is
// known of it.
func (c *checker) conclude(cand *candidate) {
	cand.verdict, cand.why = check.Clear, ""
	for i := range cand.travel {
		if v := travelVerdict(&cand.travel[i]); v.Worse(cand.verdict) {
			cand.verdict, cand.why = v, travelWords(&cand.travel[i])
		}
	}
	if why := c.uncommanded(cand); why != "" && check.Unproven.Worse(cand.verdict) {
		cand.verdict, cand.why = check.Unproven, why
	}
	var worst *meeting
	for i := range cand.meets {
		if m := &cand.meets[i]; worst == nil || m.worse(worst) {
			worst = m
		}
	}
	if worst != nil && worst.Verdict.Worse(cand.verdict) {
		cand.verdict, cand.why = worst.Verdict, c.meetingWords(worst)
	}
}

// ownMaker reports whether a mover and another body are of one unit, and so left to
// its maker.
func (c *checker) ownMaker(m *mover, other int) bool {
	return m.Body.Unit == c.setup.Bodies[other].Unit
}

// asks says what is asked of a mover and another body at a feature. The stock that
// is cut may meet the cutting part once the tool is fed, and nothing else; a
// neck follows where the cutting part has been straight down, and over an area
// that is cleared in layers; sideways along a line it does not, nor where the tool's
// axis changes on the way. Everything else is looked at against the stock as loaded.
func (c *checker) asks(st *stop, cand *candidate, t *tool, m *mover, other int) []asked {
	w := cand.way
	b := &c.setup.Bodies[other]
	ask := func(legs []leg, kind, note string) asked {
		a := asked{legs: legs, note: note}
		a.demand, a.why = c.setup.Demand.For(kind, m.Body.Name, b.Name)
		return a
	}
	own := b.Unit == c.setup.Parts[st.op.Part].Unit
	switch {
	case own && m.Sharp():
		return []asked{ask(w.in, machine.DemandApproach, "before it is fed")}
	case own && m.Slim() && w.find != nil:
		a := ask(w.find, machine.DemandCutting, "while it searches")
		a.demand = spindle.Barely // it is not much slimmer than the ball
		return []asked{ask(w.in, machine.DemandApproach, "before it is fed"), a}
	case own && m.Slim() && !w.tilts:
		a := ask(w.aside, machine.DemandCutting, "going sideways, not stated to be in_layers")
		a.demand = spindle.Barely // it is not much slimmer than what cuts
		return []asked{ask(w.in, machine.DemandApproach, "before it is fed"), a}
	case m.Sharp():
		i := spindle.MayBeCut(c.setup, other)
		if i < 0 {
			return []asked{ask(w.whole, machine.DemandCutting, "")}
		}
		a := ask(w.cut, machine.DemandCutting, "deeper than it may be cut")
		a.body, a.demand = t.eroded[i], spindle.Barely
		return []asked{ask(w.in, machine.DemandApproach, "before it is fed"), a}
	}
	return []asked{ask(w.whole, machine.DemandHolder, "")}
}

// many is from how many legs on it is worth asking about their hull first.
const many = 4

// ask finds the worst answer over some legs; nil without any. Where there are many,
// as on a contour, what is far from all of them is seen so at one stroke.
func (c *checker) ask(ctx context.Context, m *mover, k int, a asked) (*meeting, error) {
	if n := len(a.legs); n >= many {
		hull := a
		hull.legs, hull.tests = []leg{hullOf(a.legs)}, screenTests
		hull.which = proof.WhichOf(a.which, -1)
		found, err := c.askEach(ctx, m, k, hull)
		if err != nil || found.Verdict == check.Clear {
			return found, err
		}
		front, back := a, a
		front.legs, back.legs = a.legs[:n/2], a.legs[n/2:]
		front.which, back.which = proof.WhichOf(a.which, -2), proof.WhichOf(a.which, -3)
		one, err := c.ask(ctx, m, k, front)
		if err != nil || a.tests > 0 && one.Verdict != check.Clear {
			return one, err
		}
		other, err := c.ask(ctx, m, k, back)
		if err == nil && other.worse(one) {
			return other, nil
		}
		return one, err
	}
	return c.askEach(ctx, m, k, a)
}

// askEach asks about each leg by itself.
func (c *checker) askEach(ctx context.Context, m *mover, k int, a asked) (*meeting, error) {
	var worst *meeting
	mover := a.of(m)
	tests := c.options.Tests
	if a.tests > 0 {
		tests = min(tests, a.tests)
	}
	for i := range a.legs {
		found := meeting{mover: m, other: c.others[k], leg: a.legs[i], why: a.why, note: a.note}
		found.question = c.question(m, mover, k, &a, i)
		answer, err := c.trees.Ask(ctx, &found.question, tests)
		if err != nil {
			return nil, err
		}
		found.Answer = answer
		if worst == nil || found.worse(worst) {
			worst = &found
		}
		if a.tests > 0 && worst.Verdict != check.Clear {
			break // a yes is all that is wanted
		}
	}
	return worst, nil
}

// question is what is asked of a body in place of a mover, and another one, on one leg.
func (c *checker) question(m *mover, body *machine.Body, k int, a *asked, leg int) proof.Question {
	l, other := &a.legs[leg], &c.setup.Bodies[c.others[k]]
	return proof.Question{
		A: body, B: other, Demand: a.demand, Over: motion.Unit(len(l.ways)),
		Moving: c.trees.Pair(body, other, l.carried(m.seen[k])),
		Which:  proof.WhichOf(a.which, leg),
	}
}

// worse orders meetings by verdict, then by what is left.
func (m *meeting) worse(n *meeting) bool {
	if m.Verdict != n.Verdict {
		return m.Verdict.Worse(n.Verdict)
	}
	return m.left() < n.left()
}

// left is what is known to be left of the demand, in mm.
func (m *meeting) left() float64 {
	near := m.Out.Lower
	if !math.IsInf(m.Out.Upper, 1) {
		near = m.Out.Upper
	}
	return near - m.question.Demand
}

// params returns the axis positions of what was found.
func (m *meeting) params() motion.Params { return m.leg.at(m.Out.At) }
