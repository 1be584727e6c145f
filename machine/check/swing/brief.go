package swing

import (
	"cmp"
	"context"
	"math"
	"slices"

	"gridswing/machine/check"
)

// late is 1 for pairs that are looked at last where only verdicts are wanted.
func late(p *pair) int {
	if p.question == check.Index {
		return 1
	}
	return 0
}

// brief gives every pair the verdict that the full check gives it, up to the first that meets, for
// nothing is worse, and tells which leaves least of the clearance that is demanded. What
// belongs together has no clearance.
func (c *checker) brief(ctx context.Context, r *check.Report) error {
	least := check.Margin{Concern: check.SwingConcern, Share: check.MostShare, Has: -1, Unit: "mm"}
	if c.options.Verdicts {
		least.Share = 1
		// What the spindle side meets takes longest to find out.
		slices.SortStableFunc(c.pairs, func(a, b *pair) int { return cmp.Compare(late(a), late(b)) })
	}
	for i, p := range c.pairs {
		c.options.Tell("pairs", i, len(c.pairs))
		if i > 0 && c.pairs[i-1].Verdict == check.Contact && c.pairs[i-1].mating == nil {
			c.pairs = c.pairs[:i] // nothing is worse
			break
		}
		if p.mating != nil {
			if err := c.rest(ctx, p); err != nil {
				return err
			}
			continue
		}
		share := least.Share
		if c.options.Common != nil && c.options.Common.Units(p.A.Unit, p.B.Unit) {
			share = min(share, 1)
		}
		enough := max(share*p.Demand, p.Surely())
		if least.Has >= 0 && c.beside(p, enough) {
			p.Verdict = check.Clear
			p.Out.Lower, p.Out.Upper, p.Out.Near.FacetA = enough, math.Inf(1), -1
			continue
		}
		if err := c.left(ctx, p, share); err != nil {
			return err
		}
		has := p.Left()
		if left := check.ShareOf(has, p.Demand); check.Less(left, share) || least.Has < 0 && share == least.Share {
			f := c.finding(p)
			least.Share, least.Has, least.Demand = min(left, least.Share), has, p.Demand
			least.What = check.Between(f.Bodies[0], f.Bodies[1], f.At)
		}
	}
	c.options.Tell("pairs", len(c.pairs), len(c.pairs))
	if least.Has >= 0 {
		if least.Share == check.MostShare {
			least.What = check.Plenty
		}
		r.Tighten(least)
	}
	return nil
}

// left finds a pair's verdict, and how much is left of its demand as far as that is less than a
// share of it. Up to all of the demand that is of interest only where it is not met.
func (c *checker) left(ctx context.Context, p *pair, share float64) (err error) {
	if share <= 1 {
		p.Answer, err = c.trees.Ask(ctx, &p.Question, c.options.Tests)
		if err != nil || p.Verdict == check.Clear || p.Verdict == check.Contact {
			return err
		}
	}
	p.Answer, err = c.trees.MeasureSharply(ctx, &p.Question, share*p.Demand, c.options.Tests)
	return err
}
