package choose

import (
	"cmp"
	"context"
	"math"
	"slices"

	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/proof"
	"gridswing/machine/check/reach"
)

// plan finds the positions that keep to a side, and what is to be said of them as a whole. What
// an earlier plan says of the same positions holds here too.
func (c *sideChoice) plan(ctx context.Context, side string, earlier []SidePlan) (*SidePlan, error) {
	p := &SidePlan{Side: side, Stands: c.leastTurn(side), Whole: true}
	for i, k := range p.Stands {
		s := &c.offers[i].Stands[k]
		p.Whole = p.Whole && s.Possible && on(s, side)
	}
	c.measure(p)
	p.Lines = c.lines(p)
	for i := range earlier {
		if e := &earlier[i]; slices.Equal(e.Stands, p.Stands) {
			p.Verdict, p.Judged, p.Reason = e.Verdict, e.Judged, e.Reason
			return p, nil
		}
	}
	o := c.staged(side)
	o.Brief = true
	r, err := c.check(ctx, reach.At(c.setup, c.offers, p.Stands), o)
	if err != nil {
		return nil, err
	}
	p.Judged = judgedOf(r)
	p.Verdict, p.Reason = worstOf(p.Judged)
	for i, k := range p.Stands {
		o := &c.offers[i]
		if s := &o.Stands[k]; !s.Possible && s.Verdict == p.Verdict {
			p.Reason = c.name(o) + ": " + s.Why
			break
		}
	}
	return p, nil
}

// name tells a feature.
func (c *sideChoice) name(o *reach.Offer) string {
	op := &c.setup.Operations[o.Operation]
	return op.Name + ", " + op.Features[o.Feature].Name
}

// check asks whether the program gets to all features, and nothing else.
func (c *sideChoice) check(ctx context.Context, s *machine.Setup, o proof.Options) (*check.Report, error) {
	r := check.NewReport(s)
	err := reach.Check(ctx, s, r, o)
	return r, err
}

// judgedOf sums up the concerns that a program's positions matter to.
func judgedOf(r *check.Report) []check.Judged {
	about := []string{check.TravelConcern, check.ReachConcern, check.IndexConcern, check.ChangeConcern}
	return slices.DeleteFunc(r.Judge(), func(j check.Judged) bool { return !slices.Contains(about, j.Concern) })
}

// worstOf returns the worst verdict, and in a few words what it is about.
func worstOf(list []check.Judged) (v check.Verdict, reason string) {
	v = check.Clear
	for i := range list {
		if j := &list[i]; j.Verdict.Worse(v) {
			v, reason = j.Verdict, ""
			if j.Worst != nil {
				reason = j.Worst.Short()
			}
		}
	}
	return v, reason
}

// on reports whether a position will do for a plan.
func on(s *reach.Stand, side string) bool {
	return side == Mixed || side == Above && s.Above || side == Below && s.Below
}

// allowed lists the positions of a feature that a plan may take: of those on the side the ones
// with the best verdict that any of them has, and of all if none is on the side. No position is taken in
// order to turn less that is worse for the feature than another. Where the tool cannot be sent to
// any, it is one of those all the same: it says why.
func allowed(o *reach.Offer, side string) (list []int) {
	onSide := slices.ContainsFunc(o.Stands, func(s reach.Stand) bool { return on(&s, side) })
	best := -1
	better := func(a, b *reach.Stand) bool {
		if a.Possible != b.Possible {
			return a.Possible
		}
		return b.Verdict.Worse(a.Verdict)
	}
	for k := range o.Stands {
		s := &o.Stands[k]
		switch {
		case onSide && !on(s, side):
		case best < 0 || better(s, &o.Stands[best]):
			best, list = k, []int{k}
		case !better(&o.Stands[best], s):
			list = append(list, k)
		}
	}
	if !o.Stands[best].Possible {
		return list[:1]
	}
	return list
}

// turn is what it costs to index: how far the axes turn, in 1e-9 degrees so that what is equal
// compares as equal, then how often they do.
type turn struct{ far, times int64 }

func (a turn) add(b turn) turn { return turn{a.far + b.far, a.times + b.times} }

func (a turn) compare(b turn) int {
	return cmp.Or(cmp.Compare(a.far, b.far), cmp.Compare(a.times, b.times))
}

// leastTurn chooses, of the positions that a plan may take, those between which the axes turn
// least in all (R. Bellman, "Dynamic Programming", 1957); of those that are equal in that, the ones that
// come first, feature by feature.
func (c *sideChoice) leastTurn(side string) []int {
	n := len(c.offers)
	chosen := make([]int, n)
	var stops []int // those that the tool can be sent to
	choices := make([][]int, n)
	for i := range c.offers {
		choices[i] = allowed(&c.offers[i], side)
		chosen[i] = choices[i][0]
		if c.offers[i].Stands[chosen[i]].Possible {
			stops = append(stops, i)
		}
	}
	// togo[i][k] is what is still to be turned from choice k of stop i on.
	togo := make([][]turn, len(stops))
	next := func(at int, leave motion.Params) (best int, cost turn) {
		for k, choice := range choices[stops[at]] {
			s := &c.offers[stops[at]].Stands[choice]
			if t := c.index(leave, s.Rotary).add(togo[at][k]); k == 0 || t.compare(cost) < 0 {
				best, cost = k, t
			}
		}
		return best, cost
	}
	for at := len(stops) - 1; at >= 0; at-- {
		togo[at] = make([]turn, len(choices[stops[at]]))
		for k, choice := range choices[stops[at]] {
			if at+1 < len(stops) {
				_, togo[at][k] = next(at+1, c.offers[stops[at]].Stands[choice].Leave)
			}
		}
	}
	leave := c.home()
	for at, i := range stops {
		k, _ := next(at, leave)
		chosen[i] = choices[i][k]
		leave = c.offers[i].Stands[chosen[i]].Leave
	}
	return chosen
}

func (c *sideChoice) home() (p motion.Params) {
	for k := range c.setup.Axes {
		p[k] = c.setup.Axes[k].Home
	}
	return p
}

// nano is an angle in degrees as a number of 1e-9 degrees.
func nano(deg float64) int64 { return int64(math.Round(deg * 1e9)) }

// nanoOf is the same of an angle in rad.
func nanoOf(rad float64) int64 { return nano(rad * 180 / math.Pi) }

// way is how far an axis goes from one position to another, in 1e-9 degrees: one without ends by
// no more than half a turn, unless it goes by value. Positions are rounded, not what is between
// them, so that two ways from the one place to the other are equally far.
func (c *sideChoice) way(axis int, from, to float64) int64 {
	const full = 360_000_000_000
	a, d := &c.setup.Axes[axis], nanoOf(to)-nanoOf(from)
	d = max(d, -d)
	if a.Unlimited && a.RollOver != machine.ByValue {
		d %= full
		d = min(d, full-d)
	}
	return d
}

// index is what it costs to get from one position to the next.
func (c *sideChoice) index(from, to motion.Params) (t turn) {
	for k := range c.setup.Axes {
		if c.rotary(k) {
			t.far += c.way(k, from[k], to[k])
		}
	}
	if t.far > 0 {
		t.times = 1
	}
	return t
}

// measure adds up how far each axis turns on a plan.
func (c *sideChoice) measure(p *SidePlan) {
	var sum [motion.MaxParams]int64
	leave := c.home()
	for i, k := range p.Stands {
		s := &c.offers[i].Stands[k]
		if !s.Possible {
			continue // nothing goes there
		}
		for k := range c.setup.Axes {
			if c.rotary(k) {
				sum[k] += c.way(k, leave[k], s.Rotary[k])
			}
		}
		p.Indexes += int(c.index(leave, s.Rotary).times)
		leave = s.Leave
	}
	p.Motion = []Turned{}
	for k := range c.setup.Axes {
		if c.rotary(k) {
			p.Motion = append(p.Motion, Turned{c.setup.Axes[k].Letter, float64(sum[k]) / 1e9})
		}
	}
}
