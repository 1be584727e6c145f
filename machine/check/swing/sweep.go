package swing

import (
	"context"
	"math"

	"gridswing/collide"
	"gridswing/machine/check"
)

// Tolerances of the smallest clearance: 0.01 mm, or 1 % where that is more. The
// first look asks for the demand; where less is left it only tells a contact from
// a gap. The number is not worth as many tests as the verdict.
const (
	sharpness      = 0.01
	sharpnessShare = 0.01
	firstShare     = 0.25 // of what is short of the demand, at the first look
	sharpenTests   = 30_000_000
)

// sweep finds the verdict over the pair's range: is it at least the demanded
// clearance apart everywhere?
func (c *checker) sweep(ctx context.Context, p *pair) error {
	out, err := collide.Sweep(ctx, p.moving, p.over, collide.Limits{
		Enough: p.demand, Absolute: sharpness, Relative: firstShare, Tests: c.options.Tests, Jobs: 1,
	})
	if err != nil {
		return err
	}
	return c.judge(ctx, p, out)
}

// sharpen finds the smallest clearance of a pair that is not known to be in
// contact, with all cores.
func (c *checker) sharpen(ctx context.Context, p *pair) error {
	out, err := collide.Sweep(ctx, p.moving, p.over, collide.Limits{
		Enough: math.Inf(1), Absolute: sharpness, Relative: sharpnessShare,
		Tests: min(c.options.Tests, sharpenTests), Jobs: c.options.Jobs,
	})
	if err != nil {
		return err
	}
	if out.Stopped != "" && !out.Contact && out.Upper > 0 {
		// The first verdict stands; only the number could not be had as sharply.
		if out.Upper < p.out.Upper && p.verdict != check.Clear {
			out.Lower, out.Stopped = p.out.Lower, p.out.Stopped
			p.out = out
		}
		return nil
	}
	p.sharp = out.Stopped == ""
	// The first look may have proven more than the tolerance of this one shows.
	out.Lower = max(out.Lower, p.out.Lower)
	return c.judge(ctx, p, out)
}

// judge turns an outcome into a verdict.
func (c *checker) judge(ctx context.Context, p *pair, out collide.Outcome) error {
	p.out, p.reason = out, out.Stopped
	switch {
	case out.Contact:
		p.verdict, p.reason = check.Contact, ""
	case out.Upper <= 0:
		return c.withinPlay(ctx, p)
	case out.Stopped != "":
		p.verdict = check.Unproven
	case out.Lower >= p.demand:
		p.verdict = check.Clear
	case out.Lower > 0:
		p.verdict = check.Tight
	default:
		// Nearer than the tolerance: what is left is less than can be told.
		p.verdict = check.WithinPlay
	}
	if p.verdict == check.Contact {
		return nil
	}
	mid := p.over.Center()
	switch inside, doubt := c.inside(p, p.moving.Motion.Pose(mid)); {
	case inside != "":
		p.verdict, p.reason, p.out.At = check.Contact, inside, mid
	case doubt != "" && check.Unproven.Worse(p.verdict):
		p.verdict, p.reason = check.Unproven, doubt
	}
	return nil
}

// withinPlay decides what a gap that the location uncertainty closes hides: a
// contact as drawn somewhere else in the range is worse.
func (c *checker) withinPlay(ctx context.Context, p *pair) error {
	drawn, err := collide.Sweep(ctx, p.moving.Nominal(), p.over, collide.Limits{
		Enough: sharpness, Absolute: sharpness / 10, Tests: c.options.Tests, Jobs: 1,
	})
	if err != nil {
		return err
	}
	if drawn.Contact {
		p.verdict, p.out = check.Contact, drawn
		return nil
	}
	p.verdict = check.WithinPlay
	mid := p.over.Center()
	if inside, _ := c.inside(p, p.moving.Motion.Pose(mid)); inside != "" {
		p.verdict, p.reason, p.out.At = check.Contact, inside, mid
	}
	return nil
}
