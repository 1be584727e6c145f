package proof

import (
	"context"
	"math"

	"gridswing/collide"
	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"
)

// Tolerances of the smallest clearance: 0.01 mm, or 1 % where that is more. The
// first look asks for the demand; where less is left it only tells a contact from
// a gap. The number is not worth as many tests as the verdict.
const (
	sharpness      = 0.01
	sharpnessShare = 0.01
	firstShare     = 0.25 // of what is seen short of the demand, at the first look
	sharpenTests   = 30_000_000
)

// Question is whether two bodies stay apart over a range.
type Question struct {
	A, B   *machine.Body
	Moving collide.Pair // B as seen from A, with the chord errors of both
	Over   motion.Box
	Demand float64 // mm
	// Which tells the question from others about the same two bodies, and is the same for
	// the same question about another setup: where a Ledger looks for what is known.
	Which uint64
}

// Answer is what was found.
type Answer struct {
	Verdict check.Verdict
	Out     collide.Outcome
	Reason  string   // in words, where numbers do not tell
	Sharp   bool     // Out holds the smallest clearance, not only a yes or no
	Stated  []string // what the verdict rests on because the user says so
}

// Ask finds the verdict over the question's range: are the two at least the
// demanded clearance apart everywhere? Tests is the budget; the answer is
// unproven when it is used up. The only error is the context's.
func (t *Trees) Ask(ctx context.Context, q *Question, tests int64) (Answer, error) {
	if t.Ledger == nil {
		return t.ask(ctx, q, tests)
	}
	e := t.enter(q, q.Moving, tests)
	need := surelyClear(q.Demand, e.slack())
	if a, known := t.recall(e, need, q.Demand); known {
		return a, nil
	}
	roomy, err := e.explore(ctx, need, askSteps)
	if err != nil {
		return Answer{}, err
	}
	if roomy {
		return t.settled(q, Answer{Out: plenty(q.Demand), Verdict: check.Clear}), nil
	}
	a, err := t.ask(ctx, q, tests)
	return e.keep(a, err)
}

// ask is Ask without a ledger.
func (t *Trees) ask(ctx context.Context, q *Question, tests int64) (Answer, error) {
	limits := collide.Limits{Enough: q.Demand, Absolute: sharpness, Relative: firstShare, Tests: tests, Jobs: 1}
	out, err := collide.Sweep(ctx, q.Moving, q.Over, limits)
	if err == nil && out.Stopped == "" && out.Lower < q.Demand && q.Demand <= out.Upper {
		// Nothing was seen nearer than the demand, but something that is hardly farther.
		limits.Relative = 0
		var sharp collide.Outcome
		if sharp, err = collide.Sweep(ctx, q.Moving, q.Over, limits); sharp.Stopped == "" {
			out = sharp
		}
	}
	if err != nil {
		return Answer{}, err
	}
	return t.judge(ctx, q, out, tests)
}

// Sharpen finds the smallest clearance of two bodies that are not known to be in
// contact, with so many goroutines. Where it cannot be had as sharply, the first
// answer stands.
func (t *Trees) Sharpen(ctx context.Context, q *Question, first Answer, tests int64, jobs int) (Answer, error) {
	out, err := collide.Sweep(ctx, q.Moving, q.Over, collide.Limits{
		Enough: math.Inf(1), Absolute: sharpness, Relative: sharpnessShare,
		Tests: min(tests, sharpenTests), Jobs: jobs,
	})
	if err != nil {
		return first, err
	}
	if out.Stopped != "" && !out.Contact && out.Upper > 0 {
		if out.Upper < first.Out.Upper && first.Verdict != check.Clear {
			out.Lower, out.Stopped = first.Out.Lower, first.Out.Stopped
			first.Out = out
		}
		return first, nil
	}
	// The first look may have proven more than the tolerance of this one shows.
	out.Lower = max(out.Lower, first.Out.Lower)
	a, err := t.judge(ctx, q, out, tests)
	a.Sharp = out.Stopped == ""
	a.Stated = append(first.Stated, a.Stated...)
	return a, err
}

// judge turns an outcome into a verdict.
func (t *Trees) judge(ctx context.Context, q *Question, out collide.Outcome, tests int64) (Answer, error) {
	a := Answer{Out: out, Reason: out.Stopped}
	switch {
	case out.Contact:
		a.Verdict, a.Reason = check.Contact, ""
		return a, nil
	case out.Upper <= 0:
		return t.withinPlay(ctx, q, a, tests)
	case out.Stopped != "":
		a.Verdict = check.Unproven
	case out.Lower >= q.Demand:
		a.Verdict = check.Clear
	case out.Lower > 0:
		a.Verdict = check.Tight
	default:
		// Nearer than the tolerance: what is left is less than can be told.
		a.Verdict = check.WithinPlay
	}
	return t.settled(q, a), nil
}

// settled is an answer about surfaces that do not cross, once it is looked whether one
// body is inside the other.
func (t *Trees) settled(q *Question, a Answer) Answer {
	mid := q.Over.Center()
	inside, doubt, stated := t.Inside(q.A, q.B, q.Moving.Motion.Pose(mid))
	a.Stated = stated
	enough := a.Verdict == check.Clear
	switch {
	case inside != "":
		a.Verdict, a.Reason, a.Out.At = check.Contact, inside, mid
	case doubt != "" && check.Unproven.Worse(a.Verdict):
		a.Verdict, a.Reason = check.Unproven, doubt
	default:
		return a
	}
	if enough { // where the surfaces are nearest is no matter
		a.Out = plenty(a.Out.Lower)
		a.Out.At = mid
	}
	return a
}

// plenty is the outcome where the surfaces are as far apart as was asked for: nothing more
// is said of it, so that it is the same however that was found.
func plenty(enough float64) collide.Outcome {
	inf := math.Inf(1)
	return collide.Outcome{Lower: enough, Upper: inf, Near: collide.Nearest{Distance: inf, FacetA: -1, FacetB: -1}}
}

// withinPlay decides what a gap that the location uncertainty closes hides: a
// contact as drawn somewhere else in the range is worse.
func (t *Trees) withinPlay(ctx context.Context, q *Question, a Answer, tests int64) (Answer, error) {
	drawn, err := collide.Sweep(ctx, q.Moving.Nominal(), q.Over, collide.Limits{
		Enough: sharpness, Absolute: sharpness / 10, Tests: tests, Jobs: 1,
	})
	if err != nil {
		return a, err
	}
	if drawn.Contact {
		a.Verdict, a.Out = check.Contact, drawn
		return a, nil
	}
	a.Verdict = check.WithinPlay
	mid := q.Over.Center()
	inside, _, stated := t.Inside(q.A, q.B, q.Moving.Motion.Pose(mid))
	a.Stated = stated
	if inside != "" {
		a.Verdict, a.Reason, a.Out.At = check.Contact, inside, mid
	}
	return a, nil
}
