package reach

import (
	"context"
	"math"
	"slices"

	"gridswing/machine/check"
	"gridswing/machine/check/proof"
	"gridswing/machine/check/spindle"
)

// meet asks about the i-th body on a tool's side and another one; nothing is as good as
// clear. In brief most is known from questions that leave more room than the demand, and what
// they leave is noted in the tally. Where that does not do, the verdict is found as in the
// full check.
func (c *checker) meet(ctx context.Context, m *mover, i, k int, s *screened, a asked, t *tally) (*meeting, error) {
	if c.tallies == nil {
		if s.holds(i, k, a.demand) {
			return nil, nil
		}
		return c.ask(ctx, m, k, a)
	}
	if len(a.legs) == 0 {
		return nil, nil
	}
	if a.demand > spindle.Barely {
		t.looked(a.demand)
	}
	if !c.common(t, k) {
		return c.met(ctx, m, i, k, s, a, t)
	}
	only := *t // for the verdict
	only.share = min(t.share, 1)
	least := only.share
	found, err := c.met(ctx, m, i, k, s, a, &only)
	if only.share != least {
		*t = only
	}
	return found, err
}

// common reports whether what a tool leaves another body is the same in all that is chosen
// between, since the tool goes with a part that stands to it in the same way.
func (c *checker) common(t *tally, k int) bool {
	return c.options.Common != nil && t.with != "" && c.options.Common.Units(t.with, c.setup.Bodies[c.others[k]].Unit)
}

// goes returns the unit with whose part a tool goes, "" for one that is not the same in all that is
// chosen between.
func (c *checker) goes(t *tool, unit string) string {
	if c.options.Common != nil && !c.options.Common.Tool(t.tool.Number) {
		return ""
	}
	return unit
}

// met is meet in brief, of what there are legs for.
func (c *checker) met(ctx context.Context, m *mover, i, k int, s *screened, a asked, t *tally) (*meeting, error) {
	body := a.of(m)
	if s != nil && c.apart(&s.leg, m, body, k, a.demand, t.share) {
		return nil, nil
	}
	var near []int
	for n := range a.legs {
		if !c.apart(&a.legs[n], m, body, k, a.demand, t.share) {
			near = append(near, n)
		}
	}
	if len(near) == 0 {
		return nil, nil
	}
	roomy, err := c.roomy(ctx, m, i, k, s, &a, t)
	if err != nil || roomy {
		return nil, err
	}
	least := left{lower: math.Inf(1)}
	clear := false
	if a.demand > spindle.Barely { // of what may come as near as it likes there is no margin
		if clear, err = c.measure(ctx, m, k, &a, near, t, &least); err != nil {
			return nil, err
		}
	}
	var found *meeting
	if !clear {
		if found, err = c.exactly(ctx, m, i, k, s, a); err != nil {
			return nil, err
		}
	}
	if a.demand > spindle.Barely {
		least.settle(found, a.demand)
		t.note(c, m, k, a.demand, &least)
	}
	return found, nil
}

// exactly asks as the full check does.
func (c *checker) exactly(ctx context.Context, m *mover, i, k int, s *screened, a asked) (*meeting, error) {
	if s != nil && math.IsNaN(s.proven[i][k]) {
		if err := c.screenPair(ctx, s, m, i, k); err != nil {
			return nil, err
		}
	}
	if s.holds(i, k, a.demand) {
		return nil, nil
	}
	return c.ask(ctx, m, k, a)
}

// unknown prepares for questions that are asked where they are needed.
func (s *screened) unknown(movers, others int) {
	filled := func(v float64) [][]float64 {
		list := make([][]float64, movers)
		for i := range list {
			list[i] = slices.Repeat([]float64{v}, others)
		}
		return list
	}
	s.proven, s.room, s.tried = filled(math.NaN()), filled(0), filled(math.Inf(1))
}

const (
	// manyShort is from how many legs on they are asked for room at one stroke.
	manyShort = 16
	// roomTests is how many tests a pair may cost when it is asked for room over many legs.
	roomTests = 400
	// again is how much less must be asked for to try again.
	again = 0.5
)

// roomy reports whether two bodies have more room over all ways of the group than would
// change anything.
func (c *checker) roomy(ctx context.Context, m *mover, i, k int, s *screened, a *asked, t *tally) (bool, error) {
	if s == nil {
		return false, nil
	}
	q := c.screenQuestion(s, m, k)
	if t.share <= again*s.tried[i][k] {
		s.tried[i][k] = t.share
		q.Which = proof.WhichOf(q.Which, -1)
		enough := t.roomy(&q)
		yes, err := c.trees.Roomy(ctx, &q, enough, roomTests)
		if err != nil {
			return false, err
		}
		if yes {
			s.room[i][k] = enough
		}
	}
	if s.room[i][k] == 0 {
		return false, nil
	}
	q.Demand = a.demand
	return s.room[i][k] >= t.roomy(&q), nil
}

// left is the least clearance of two bodies over some legs, and where.
type left struct {
	lower float64
	leg   leg
	at    proof.Answer
}

// measure finds out how much two bodies leave over some of the legs, as far as that is less than
// was left before, and whether each of them is clear in the full check as well. Where there
// are many, as on a contour, what is far from all of them is seen so at one stroke.
func (c *checker) measure(ctx context.Context, m *mover, k int, a *asked, legs []int, t *tally, least *left) (clear bool, err error) {
	if n := len(legs); n >= manyShort {
		hull := *a
		hull.legs, hull.which = nil, proof.WhichOf(proof.WhichOf(a.which, -n), legs[0])
		for _, i := range legs {
			hull.legs = append(hull.legs, a.legs[i])
		}
		hull.legs = []leg{hullOf(hull.legs)}
		q := c.question(m, a.of(m), k, &hull, 0)
		roomy, err := c.trees.Roomy(ctx, &q, t.roomy(&q), roomTests)
		if err != nil || roomy {
			return true, err
		}
		one, err := c.measure(ctx, m, k, a, legs[:n/2], t, least)
		if err != nil {
			return false, err
		}
		other, err := c.measure(ctx, m, k, a, legs[n/2:], t, least)
		return one && other, err
	}
	clear = true
	for _, i := range legs {
		q := c.question(m, a.of(m), k, a, i)
		if c.trees.Beside(&q, t.enough(&q)) {
			continue
		}
		found, err := c.trees.Measure(ctx, &q, min(least.lower, t.share*a.demand), c.options.Tests)
		if err != nil {
			return false, err
		}
		clear = clear && found.Verdict == check.Clear
		if lower := found.Left(); lower < least.lower {
			*least = left{lower: lower, leg: a.legs[i], at: found}
		}
	}
	return clear, nil
}

// settle takes over what the full check makes of it: what it finds clear has all that is
// demanded, what it does not find apart has nothing.
func (l *left) settle(found *meeting, demand float64) {
	switch {
	case found == nil || found.Verdict == check.Clear:
		l.lower = max(l.lower, demand)
	case found.Verdict != check.Tight:
		*l = left{lower: 0, leg: found.leg, at: found.Answer}
	}
}
