package reach

import (
	"context"
	"math"

	"gridswing/collide"
	"gridswing/machine/check"
)

// sharpen finds, for each operation, the smallest clearance of what is not clear
// and of the pair that is nearest at depth: the numbers that are printed.
func (c *checker) sharpen(ctx context.Context) error {
	c.tightest = make([]*told, len(c.setup.Operations))
	return c.options.Each(ctx, "smallest clearance", len(c.setup.Operations), func(ctx context.Context, i int) error {
		worst := map[[2]int]*told{}
		for _, st := range c.stops {
			if st.operation != i || st.chosen == nil {
				continue
			}
			for k := range st.chosen.meets {
				m := &st.chosen.meets[k]
				pair := [2]int{m.mover.Index, m.other}
				if old := worst[pair]; old == nil || m.worse(old.meeting) {
					worst[pair] = &told{st, m}
				}
			}
		}
		var nearest *told
		for _, t := range worst {
			if t.meeting.Verdict != check.Contact && t.meeting.Reason == "" {
				if err := c.sharpenOne(ctx, t.meeting); err != nil {
					return err
				}
				c.conclude(t.stop.chosen) // it may be worse than was seen at first
			}
			if nearest == nil || t.before(nearest) {
				nearest = t
			}
		}
		if nearest == nil && c.tallies == nil {
			var err error
			if nearest, err = c.nearest(ctx, i); err != nil {
				return err
			}
		}
		c.tightest[i] = nearest
		return nil
	})
}

// told is a meeting and the stop at which it happens.
type told struct {
	stop    *stop
	meeting *meeting
}

// before orders by what is worse, and equally bad ones by their bodies, so that
// the order in which they were found does not matter.
func (t *told) before(u *told) bool {
	switch {
	case t.meeting.worse(u.meeting):
		return true
	case u.meeting.worse(t.meeting):
		return false
	case t.meeting.mover.Index != u.meeting.mover.Index:
		return t.meeting.mover.Index < u.meeting.mover.Index
	}
	return t.meeting.other < u.meeting.other
}

func (c *checker) sharpenOne(ctx context.Context, m *meeting) (err error) {
	m.Answer, err = c.trees.Sharpen(ctx, &m.question, m.Answer, c.options.Tests, 1)
	return err
}

// nearest finds the pair that is nearest with the tool at depth, over all
// features of an operation, and its smallest clearance on the whole way there.
func (c *checker) nearest(ctx context.Context, operation int) (*told, error) {
	var best *told
	var bestAsked asked
	bestOther, gap := 0, math.Inf(1)
	for _, st := range c.stops {
		if st.operation != operation || st.chosen == nil || st.chosen.way == nil {
			continue
		}
		t := c.tools[st.op.Tool]
		for i := range t.movers {
			m := &t.movers[i]
			for k, other := range c.others {
				if c.ownMaker(m, other) {
					continue
				}
				for _, a := range c.asks(st, st.chosen, t, m, other) {
					if a.body != nil || a.note != "" {
						continue
					}
					near := collide.DistanceWithin(c.trees.Of(m.Body.Solid), c.trees.Of(c.setup.Bodies[other].Solid), m.seen[k].Pose(st.chosen.way.deep), gap)
					if near.Distance < gap {
						gap, bestOther, bestAsked = near.Distance, k, a
						best = &told{st, &meeting{mover: m}}
					}
				}
			}
		}
	}
	if best == nil {
		return nil, nil
	}
	var worst *meeting
	for i := range bestAsked.legs {
		a := bestAsked
		a.legs = bestAsked.legs[i : i+1]
		found, err := c.ask(ctx, best.meeting.mover, bestOther, a)
		if err != nil {
			return nil, err
		}
		if err := c.sharpenOne(ctx, found); err != nil {
			return nil, err
		}
		if worst == nil || found.worse(worst) {
			worst = found
		}
	}
	best.meeting = worst
	return best, nil
}
