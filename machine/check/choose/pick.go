package choose

import (
	"context"
	"slices"

	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/proof"
)

// picking looks for the best of many candidates.
type picking struct {
	draft   *machine.Draft
	options Options
	list    []*candidacy
	// sifts says that what costs little is looked at first: of use only where the order of
	// good ones depends on what is found.
	sifts bool
	known []*witness // when the round began
}

// picked is what it comes to.
type picked struct {
	looked      []Looked
	best        []int
	common      []check.Margin
	interrupted bool
}

// pick looks at candidates until the best of them are known by the options' rule.
func pick(ctx context.Context, d *machine.Draft, list []Candidate, o Options) (*picked, error) {
	by, err := orderOf(o.Rule)
	if err != nil {
		return nil, err
	}
	o.Options = o.withLedger()
	p := &picking{draft: d, options: o, sifts: o.Rule != Lowest}
	p.options.Jobs, p.options.Progress = 1, nil
	worst := modelled(d.Setup())
	for i, c := range list {
		p.list = append(p.list, &candidacy{
			Looked: Looked{Candidate: c, Judged: []check.Judged{}}, place: i, worst: worst, room: wholeRoom(),
		})
	}
	s := &search{list: p.list, by: by, most: o.Best, all: o.All, jobs: o.Jobs, further: p.further, known: o.Known}
	s.merged = func(round []*candidacy) { p.known = remembered(slices.Clone(p.known), round) }
	interrupted, err := s.run(ctx)
	if err != nil {
		return nil, err
	}
	out := &picked{looked: []Looked{}, best: best(p.list, by, o.Best), interrupted: interrupted, common: []check.Margin{}}
	if !interrupted && len(list) > 0 {
		if out.common, err = commonMargins(ctx, d, list[0].Changes, p.options); err != nil {
			out.interrupted = true
		}
	}
	for _, c := range p.list {
		c.conclude(o, interrupted)
		out.looked = append(out.looked, c.Looked)
	}
	return out, nil
}

// ready fills in what is left out, with the rule for want of another.
func (o Options) ready(rule string) Options {
	if o.Rule == "" {
		o.Rule = rule
	}
	if o.Best <= 0 {
		o.Best = DefaultBest
	}
	return o
}

// withLedger returns options with trees that keep what was proven. The budgets stay those of the rooms.
func (o Options) withLedger() proof.Options {
	tests := o.Tests
	p := o.Ready(0)
	p.Tests = tests
	if p.Trees.Ledger == nil {
		p.Trees.Ledger = proof.NewLedger()
	}
	return p
}

// further looks at a candidate until it is known that it is worse than seemed when the round
// began, or to the end.
func (p *picking) further(ctx context.Context, c *candidacy, matters func(*candidacy) bool) error {
	found, seen, err := look(ctx, p.draft, c.Candidate, p.options, p.known, func(stage int, l *Looked) string {
		now := *c
		now.learn(l)
		switch {
		case p.options.All:
			return ""
		case now.worst.Worse(c.worst):
			return noGood
		case !matters(&now), p.sifts && c.begun == 0 && stage == cheap:
			return paused
		}
		return ""
	})
	if err != nil {
		return err
	}
	c.learn(&found)
	c.seen = seen
	c.begun++
	return nil
}

// Why a candidate was given up. That others are better is said by behind.
const (
	noGood    = "it is no good already"
	paused    = "others seem better"
	brokenOff = "the search was broken off"
)

// learn takes in what was found of a candidate this time.
func (c *candidacy) learn(l *Looked) {
	c.Looked = *l
	for _, j := range l.Judged {
		if j.Margin != nil {
			c.room = c.room.with(slices.Index(check.Concerns(), j.Concern), j.Margin.Share)
		}
	}
	if c.done = l.GivenUp == ""; c.done || l.Verdict.Worse(c.worst) {
		c.worst = l.Verdict
	}
}

// conclude words what is known of a candidate when the search is over.
func (c *candidacy) conclude(o Options, interrupted bool) {
	if c.done {
		return
	}
	switch c.Verdict = c.worst; {
	case c.worst != check.Clear && c.begun > 0:
		c.GivenUp = noGood
	case interrupted:
		c.GivenUp = brokenOff
	default:
		c.GivenUp = behind(o.Rule, o.Best)
	}
	if c.worst == check.Clear {
		c.Verdict = check.Unproven // nothing is proven of the whole
	}
}
