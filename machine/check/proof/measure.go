package proof

import (
	"context"
	"math"

	"gridswing/collide"
	"gridswing/machine"
	"gridswing/machine/check"

	"github.com/golang/geo/r3"
)

// measureShare is the tolerance of a measured clearance, of itself: a fiftieth, and a little
// less for the margin of what is rounded.
const measureShare = 0.0199

// Measure finds the verdict over the question's range, exactly as Ask gives it, and how
// much is left: Out.Lower is proven, and within a fiftieth or 0.01 mm of the smallest
// clearance seen where that is below upTo mm, else it is upTo at least. Where two bodies meet,
// or play may close the gap, nothing is left: then Out is that of Ask. Sharp says that
// Out.Lower is measured; where it is not, as when the budget of tests is used up, it is only
// proven. The only error is the context's.
func (t *Trees) Measure(ctx context.Context, q *Question, upTo float64, tests int64) (Answer, error) {
	upTo = max(upTo, q.Demand)
	e := t.enter(q, q.Moving, tests)
	if t.Ledger == nil {
		return t.measure(ctx, e, upTo)
	}
	e.upTo = upTo
	need := e.upToNeeds(upTo)
	if a, known := t.recall(e, need, upTo); known {
		a.Sharp = a.Sharp || a.Verdict == check.Clear
		return a, nil
	}
	roomy, err := e.explore(ctx, need, easySteps)
	if err != nil {
		return Answer{}, err
	}
	if roomy {
		return t.measured(q, plenty(upTo), upTo), nil
	}
	a, err := t.measure(ctx, e, upTo)
	return e.keep(a, err)
}

// measure is Measure where nothing is known.
func (t *Trees) measure(ctx context.Context, e *entry, upTo float64) (Answer, error) {
	q := e.q
	out, err := e.number(ctx, upTo)
	if err != nil {
		return Answer{}, err
	}
	proven := out.Lower
	out.Lower = min(proven, upTo) // nobody is told more
	if out.Stopped == "" && proven >= surelyClear(q.Demand, e.slack()) {
		return t.measured(q, out, upTo), nil
	}
	ask := t.ask // what would serve the ledger was seen not to be there
	if out.Stopped != "" {
		ask = t.Ask
	}
	a, err := ask(ctx, q, e.tests)
	if err != nil || a.Verdict != check.Clear && a.Verdict != check.Tight {
		return a, err
	}
	if out.Stopped == "" && !out.Contact && out.Upper > 0 {
		out.Lower = max(out.Lower, a.Out.Lower)
		if a.Verdict == check.Tight { // this search may have proven all of the demand, where Ask did not quite
			out.Lower = min(out.Lower, math.Nextafter(q.Demand, 0))
		}
		out.Upper = max(out.Upper, out.Lower)
		a.Out, a.Sharp = out, true
	}
	return a, nil
}

// upToNeeds is the proven clearance from which on measure, which may see nothing of what
// proved it, proves upTo: see surelyClear.
func (e *entry) upToNeeds(upTo float64) float64 {
	return sure(upTo, measureShare) + e.slack() + 3*unlikeness
}

// measured is the answer where the demand is surely met.
func (t *Trees) measured(q *Question, out collide.Outcome, upTo float64) Answer {
	if out.Lower >= upTo {
		out = plenty(upTo)
	}
	a := t.settled(q, Answer{Out: out, Verdict: check.Clear})
	a.Sharp = a.Verdict == check.Clear
	return a
}

// surelyClear is the proven clearance from which on Ask, which may see nothing of what
// proved it, finds the demand met too. Any clearance that Ask sees is that of a
// position as drawn, less the margin, less at most what the location uncertainty can do to
// any point, which is slack; the proven one is no more than that of any position as drawn,
// less the margin. So what Ask sees is never nearer than the proven clearance less slack.
// While that is the tolerance above the demand, the demand stays what Ask proves. It
// may stop before that for its budget, and only then.
func surelyClear(demand, slack float64) float64 { return sure(demand, 0) + slack }

// sure is the clearance from which on a sweep that looks for enough, and sees nothing
// nearer, proves enough; a little more for rounding.
func sure(enough, relative float64) float64 {
	return max(enough+sharpness, enough/(1-relative))*(1+1e-9) + 1e-6
}

// slack bounds how far the location uncertainty can carry any point of B, in mm, wherever
// in the range.
func (q *Question) slack() float64 {
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
