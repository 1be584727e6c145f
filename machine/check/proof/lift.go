package proof

import (
	"context"

	"gridswing/collide"
	"gridswing/machine/check"
)

// SeatLift is how far a body is lifted off what it belongs on, in mm, to see
// whether it comes free: well above what float32 vertices are off, and well
// below anything that matters. Declared mating faces may touch; if the bodies
// still meet when lifted by this and the stated bite, one has sunk into the other.
const SeatLift = 0.05

// Freed is the distance in mm from which on lifted bodies count as apart.
const Freed = SeatLift / 1000

// AskFree finds whether two bodies that belong together, one of them lifted off its
// seat, stay apart as drawn over the question's range: clear if they do. No clearance
// is asked of them, so the demand of the question does not count, nor do play
// and chord errors. The only error is the context's.
func (t *Trees) AskFree(ctx context.Context, q *Question, tests int64) (Answer, error) {
	if t.Ledger == nil {
		return t.askFree(ctx, q, tests)
	}
	e := t.enter(q, q.Moving.Nominal(), tests)
	e.place.free = true
	const need = 2 * Freed // what a sweep sees of that, and the tolerance off, is Freed at least
	if a, known := t.recall(e, need, Freed); known {
		return a, nil
	}
	roomy, err := e.explore(ctx, need, freeSteps)
	if err != nil {
		return Answer{}, err
	}
	if roomy {
		return t.settled(q, Answer{Out: plenty(Freed), Verdict: check.Clear}), nil
	}
	a, err := t.askFree(ctx, q, tests)
	return e.keep(a, err)
}

// askFree is AskFree without a ledger.
func (t *Trees) askFree(ctx context.Context, q *Question, tests int64) (Answer, error) {
	out, err := collide.Sweep(ctx, q.Moving.Nominal(), q.Over, collide.Limits{
		Enough: Freed, Absolute: Freed / 4, Tests: tests, Jobs: 1,
	})
	if err != nil {
		return Answer{}, err
	}
	a := Answer{Out: out, Verdict: check.Clear, Reason: out.Stopped}
	if out.Contact || out.Stopped == "" && out.Lower < Freed {
		a.Verdict, a.Out.Contact, a.Reason = check.Contact, true, ""
		return a, nil
	}
	if out.Stopped != "" {
		a.Verdict = check.Unproven
	}
	return t.settled(q, a), nil
}
