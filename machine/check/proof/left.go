package proof

import (
	"context"

	"gridswing/machine/check"
)

// Left is the proven clearance of an answer in mm, 0 where nothing is left, or nothing is
// proven.
func (a *Answer) Left() float64 {
	if a.Verdict != check.Clear && a.Verdict != check.Tight {
		return 0
	}
	return max(0, a.Out.Lower)
}

// MeasureSharply is Measure where the verdict is to be the one that Ask and, of what is not
// clear, Sharpen give.
func (t *Trees) MeasureSharply(ctx context.Context, q *Question, upTo float64, tests int64) (Answer, error) {
	a, err := t.Measure(ctx, q, upTo, tests)
	// What is seen to be nearer than demanded and proven to be apart stays what it is.
	tight := a.Verdict == check.Tight && a.Out.Upper < q.Demand
	if err != nil || a.Verdict == check.Clear || a.Verdict == check.Contact || a.Reason != "" || tight {
		return a, err
	}
	sharp, err := t.Ask(ctx, q, tests)
	if err == nil && sharp.Reason == "" {
		sharp, err = t.Sharpen(ctx, q, sharp, tests, 1)
	}
	if err != nil {
		return a, err
	}
	if sharp.Verdict == check.Tight {
		sharp.Out.Lower = max(sharp.Out.Lower, a.Left())
	}
	return sharp, nil
}
