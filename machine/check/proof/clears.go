package proof

import (
	"context"

	"gridswing/collide"
	"gridswing/machine/check"
)

// Clears reports whether two bodies are proven to keep the question's demand over its range, without
// any doubt whether one is inside the other. It looks no further once it has seen them nearer, and a no
// means nothing: that a range holds something near does not say of a way through it that it leads there.
// The only error is the context's.
func (t *Trees) Clears(ctx context.Context, q *Question, tests int64) (bool, error) {
	out, err := collide.Sweep(ctx, q.Moving, q.Over, collide.Limits{
		Enough: q.Demand, Absolute: sharpness, Tests: tests, YesOrNo: true, Jobs: 1,
	})
	if err != nil || out.Stopped != "" || out.Lower < q.Demand {
		return false, err
	}
	return t.settled(q, Answer{Verdict: check.Clear}).Verdict == check.Clear, nil
}
