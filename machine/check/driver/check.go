package driver

import (
	"context"

	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/proof"
)

// Options say how hard to look.
type Options = proof.Options

// DefaultTests is the budget of one driver and one body, a second or so.
const DefaultTests = 10_000_000

// Check looks at every screw of the setup and adds what it finds to the report: its head in
// its place, and the way of a driver to it. Without screws there is nothing to look at,
// without drivers it is only said that no way was looked at. In brief the screws are looked
// at one after another, and the tightest margin of a driver is told. The only error is the context's.
func Check(ctx context.Context, s *machine.Setup, r *check.Report, o Options) error {
	s = s.Drawn() // loaded before anything is probed
	c := &checker{setup: s, options: o.Ready(DefaultTests), least: check.Margin{Share: check.MostShare}}
	if o.Brief {
		c.options.Jobs = 1
	}
	c.screws = screwsOf(s)
	if len(c.screws) == 0 {
		return nil
	}
	if err := c.heads(ctx); err != nil {
		return err
	}
	if len(s.Drivers) > 0 {
		if err := c.look(ctx); err != nil {
			return err
		}
	}
	c.write(r)
	return nil
}

// checker holds one check while it runs.
type checker struct {
	setup   *machine.Setup
	options Options
	screws  []*screw
	least   check.Margin // in brief, of the screws looked at so far
}

// look finds for every screw the driver that gets to it best.
func (c *checker) look(ctx context.Context) error {
	c.options.Trees.Plant(c.options.Jobs, c.setup.Bodies)
	var drivers []machine.Body
	for _, d := range c.setup.Drivers {
		drivers = append(drivers, machine.Body{Name: d.Name, Solid: d.Solid})
	}
	c.options.Trees.Plant(c.options.Jobs, drivers)
	return c.options.Each(ctx, "screws", len(c.screws), func(ctx context.Context, i int) error {
		err := c.try(ctx, c.screws[i])
		c.tighten(c.screws[i])
		return err
	})
}

// try looks at one screw with the drivers that fit, until one gets there.
func (c *checker) try(ctx context.Context, w *screw) error {
	if w.doubt = w.unknown(); w.doubt != "" {
		return nil
	}
	for _, d := range c.setup.Drivers {
		if !d.Fits(w.Thread, w.key) {
			continue
		}
		a, err := c.approach(ctx, w, d)
		if err != nil {
			return err
		}
		if w.best == nil || w.best.verdict.Worse(a.verdict) {
			w.best = a
		}
		if a.verdict == check.Clear {
			return nil
		}
	}
	if w.best == nil {
		w.doubt = "no driver fits %s"
	}
	return nil
}

// approach is what one driver meets on its way to a screw.
type approach struct {
	driver  *machine.Driver
	body    *machine.Body
	verdict check.Verdict // the worst
	met     []meeting     // one for each body that is there
}

// meeting is a driver and a body of the setup.
type meeting struct {
	proof.Answer
	question proof.Question
	other    int
	why      string // the reason of a demand of its own
}

// approach looks at everything that is there when a screw is tightened.
func (c *checker) approach(ctx context.Context, w *screw, d *machine.Driver) (*approach, error) {
	a := &approach{driver: d, body: w.bodyOf(d, c.setup), verdict: check.Clear}
	for i := range c.setup.Bodies {
		other := &c.setup.Bodies[i]
		if !c.there(other, w) {
			continue
		}
		m := meeting{other: i}
		demand, why := c.setup.Demand.For(machine.DemandLoading, d.Name, other.Name)
		m.why = why
		m.question = proof.Question{
			A: a.body, B: other, Demand: demand, Over: motion.Unit(1),
			Moving: c.options.Trees.Pair(a.body, other,
				motion.Between(a.body.Chain, other.Chain.Along(c.setup.Loading.At, motion.Params{}))),
			Which: proof.Which("driver", w.of, w.Name, d.Name, other.Name),
		}
		answer, err := c.ask(ctx, &m.question)
		if err != nil {
			return nil, err
		}
		m.Answer = answer
		a.met = append(a.met, m)
		if answer.Verdict.Worse(a.verdict) {
			a.verdict = answer.Verdict
		}
	}
	return a, nil
}

// ask finds the smallest clearance of what is not clear; in brief also of what is, as far as
// that is less than was left before.
func (c *checker) ask(ctx context.Context, q *proof.Question) (proof.Answer, error) {
	if c.options.Brief {
		return c.options.Trees.MeasureSharply(ctx, q, c.least.Share*q.Demand, c.options.Tests)
	}
	a, err := c.options.Trees.Ask(ctx, q, c.options.Tests)
	if err == nil && a.Verdict != check.Clear && a.Verdict != check.Contact && a.Reason == "" {
		return c.options.Trees.Sharpen(ctx, q, a, c.options.Tests, 1)
	}
	return a, err
}

// there reports whether a body is in place when a screw is tightened: the machine, with
// the tool in its spindle, and what is loaded up to the component that the screw holds.
func (c *checker) there(b *machine.Body, w *screw) bool {
	if b.Unit == "machine" || b.OnTool {
		return true
	}
	for _, unit := range c.setup.Loading.Order {
		if unit == b.Unit {
			return true
		}
		if unit == w.of {
			return false
		}
	}
	return false // what belongs to none of them, such as a counterweight, comes last
}
