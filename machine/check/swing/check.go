package swing

import (
	"cmp"
	"context"
	"slices"

	"gridswing/geom"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/proof"
)

// Options say how hard to look.
type Options = proof.Options

// DefaultTests is a budget of some ten seconds on one core.
const DefaultTests = 100_000_000

// closestPairs is how many clear pairs the smallest clearance is found for.
const closestPairs = 3

// Check looks at every pair of bodies of the setup and adds what it finds to
// the report. In brief it says of the pairs no more than their verdicts and the tightest
// margin. The only error is the context's.
func Check(ctx context.Context, s *machine.Setup, r *check.Report, o Options) error {
	o = o.Ready(DefaultTests)
	o.Trees.Plant(o.Jobs, s.Bodies)
	c := &checker{setup: s, drawn: s.Drawn(), options: o, trees: o.Trees}
	c.pairs = plan(s, c.trees)
	if o.Brief {
		if err := c.brief(ctx, r); err != nil {
			return err
		}
		c.write(r)
		return nil
	}
	if err := c.each(ctx, "pairs", c.pairs, c.first); err != nil {
		return err
	}
	if err := c.chart(ctx); err != nil {
		return err
	}
	if err := c.sharpenNearest(ctx); err != nil {
		return err
	}
	if err := c.each(ctx, "contacts", c.contacts(), c.locate); err != nil {
		return err
	}
	c.write(r)
	return nil
}

// checker holds one check while it runs.
type checker struct {
	setup   *machine.Setup
	drawn   *machine.Setup // whether what belongs together does is asked of the drawing
	options Options
	trees   *proof.Trees
	pairs   []*pair
	charted *check.Chart
	// nearest is the least clearance that the chart saw of each pair, +Inf for none.
	nearest map[*pair]float64
	// In brief, by body.
	turned map[int]*turning
	stands map[int]geom.Box
}

// first gives every pair its first verdict.
func (c *checker) first(ctx context.Context, p *pair) error {
	if p.question == check.Rest {
		return c.rest(ctx, p)
	}
	return c.sweep(ctx, p)
}

// sharpenNearest finds the smallest clearance of what is not clear, and of the
// clear pairs that the chart saw nearest.
func (c *checker) sharpenNearest(ctx context.Context) error {
	var wanted, clear []*pair
	for _, p := range c.pairs {
		switch {
		case p.mating != nil || p.Verdict == check.Contact:
		case p.Verdict != check.Clear:
			if p.Reason == "" {
				wanted = append(wanted, p)
			}
		case p.question != check.Rest:
			if _, seen := c.nearest[p]; seen {
				clear = append(clear, p)
			}
		}
	}
	slices.SortStableFunc(clear, func(a, b *pair) int { return cmp.Compare(c.nearest[a], c.nearest[b]) })
	wanted = append(wanted, clear[:min(closestPairs, len(clear))]...)
	for i, p := range wanted {
		c.options.Tell("smallest clearance", i, len(wanted))
		if err := c.sharpen(ctx, p); err != nil {
			return err
		}
	}
	c.options.Tell("smallest clearance", len(wanted), len(wanted))
	return nil
}

func (c *checker) contacts() (found []*pair) {
	for _, p := range c.pairs {
		if p.Verdict == check.Contact && p.question != check.Rest {
			found = append(found, p)
		}
	}
	return found
}

// each does the work for all pairs, in parallel.
func (c *checker) each(ctx context.Context, stage string, pairs []*pair, work func(context.Context, *pair) error) error {
	return c.options.Each(ctx, stage, len(pairs), func(ctx context.Context, i int) error { return work(ctx, pairs[i]) })
}
