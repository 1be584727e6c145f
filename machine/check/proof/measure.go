package proof

import (
	"context"

	"gridswing/collide"
	"gridswing/machine"
	"gridswing/machine/check"

	"github.com/golang/geo/r3"
)

// measureShare is the tolerance of a measured clearance, of itself.
const measureShare = 0.02

// Measure finds the verdict over the question's range, exactly as Ask gives it, and how
// much is left: Out.Lower is proven, and within a fiftieth or 0.01 mm of the smallest
// clearance seen where that is below upTo mm, else it is upTo at least. Where two bodies meet,
// or play may close the gap, nothing is left: then Out is that of Ask. Sharp says that
// Out.Lower is measured; where it is not, as when the budget of tests is used up, it is only
// proven. The only error is the context's.
func (t *Trees) Measure(ctx context.Context, q *Question, upTo float64, tests int64) (Answer, error) {
	upTo = max(upTo, q.Demand)
	out, err := collide.Sweep(ctx, q.Moving, q.Over, collide.Limits{
		Enough: upTo, Absolute: sharpness, Relative: measureShare, Tests: tests, Jobs: 1,
	})
	if err != nil {
		return Answer{}, err
	}
	if out.Stopped == "" && out.Lower >= surelyClear(q) {
		a := t.settled(q, Answer{Out: out, Verdict: check.Clear})
		a.Sharp = true
		return a, nil
	}
	a, err := t.Ask(ctx, q, tests)
	if err != nil || a.Verdict != check.Clear && a.Verdict != check.Tight {
		return a, err
	}
	if out.Stopped == "" && !out.Contact && out.Upper > 0 {
		out.Lower = max(out.Lower, a.Out.Lower)
		out.Upper = max(out.Upper, out.Lower)
		a.Out, a.Sharp = out, true
	}
	return a, nil
}

// surelyClear is the proven clearance from which on Ask, which may see nothing of what
// proved it, finds the question clear too. Any clearance that Ask sees is that of a
// position as drawn, less the margin, less at most what the location uncertainty can do to
// any point; the proven one is no more than that of any position as drawn, less the
// margin. So what Ask sees is never nearer than the proven clearance less the uncertainty.
// While that is the tolerance above the demand, the demand stays what Ask proves.
func surelyClear(q *Question) float64 {
	return sure(q.Demand, 0) + slackOf(q)
}

// sure is the clearance from which on a sweep that looks for enough, and finds nothing
// nearer, proves enough; a little more for rounding.
func sure(enough, relative float64) float64 {
	return max(enough+sharpness, enough/(1-relative))*(1+1e-9) + 1e-6
}

// slackOf bounds how far the location uncertainty can carry any point of B, in mm, wherever
// in the range.
func slackOf(q *Question) float64 {
	center, radius := ball(q.B.Solid)
	return q.Moving.Motion.Course(&q.Over).Looseness(center, radius)
}

// ball returns a ball around a solid, in its own frame.
func ball(s *machine.Solid) (center r3.Vector, radius float64) {
	b := s.Audit.Bounds
	if b.Empty() {
		return center, 0
	}
	return b.Center(), b.Size().Norm() / 2 * (1 + 1e-12)
}
