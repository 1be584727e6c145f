package swing

import (
	"context"

	"gridswing/machine/check"
)

// brief gives every pair the verdict that the full check gives it, and tells which leaves
// least of the clearance that is demanded. What belongs together has no clearance.
func (c *checker) brief(ctx context.Context, r *check.Report) error {
	least := check.Margin{Concern: check.SwingConcern, Share: check.MostShare, Has: -1, Unit: "mm"}
	for i, p := range c.pairs {
		c.options.Tell("pairs", i, len(c.pairs))
		if p.mating != nil {
			if err := c.rest(ctx, p); err != nil {
				return err
			}
			continue
		}
		share, has, err := c.measure(ctx, p, least.Share)
		if err != nil {
			return err
		}
		if share < least.Share || least.Has < 0 {
			f := c.finding(p)
			least.Share, least.Has, least.Demand = share, has, p.Demand
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

// measure finds the verdict of a pair and how much of its demand there is, as far as that is
// less than the least share so far.
func (c *checker) measure(ctx context.Context, p *pair, least float64) (share, has float64, err error) {
	p.Answer, err = c.trees.Measure(ctx, &p.Question, least*p.Demand, c.options.Tests)
	if err != nil {
		return 0, 0, err
	}
	if p.Verdict == check.Clear || p.Verdict == check.Tight {
		has = max(0, p.Out.Lower)
		share = min(has/p.Demand, check.MostShare)
	}
	// What the full check sharpens may turn out otherwise, but for what is seen to be nearer
	// than demanded and proven to be apart.
	sure := p.Verdict == check.Tight && p.Out.Upper < p.Demand
	if p.Verdict == check.Clear || p.Verdict == check.Contact || p.Reason != "" || sure {
		return share, has, nil
	}
	if err := c.sweep(ctx, p); err != nil {
		return 0, 0, err
	}
	if p.Reason == "" {
		err = c.sharpen(ctx, p)
	}
	if p.Verdict == check.Clear || p.Verdict == check.Tight {
		has = max(has, p.Out.Lower)
		share = min(has/p.Demand, check.MostShare)
	}
	return share, has, err
}
