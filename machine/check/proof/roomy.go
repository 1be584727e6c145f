package proof

import (
	"context"

	"gridswing/collide"
	"gridswing/machine/check"
)

// Roomy reports whether two bodies are proven, at little cost, to keep at least enough mm over
// the question's range, which must be more than its demand, without any doubt whether
// one is inside the other. A no means nothing. With a ledger it may be yes more often, but
// only where Measure finds enough, too. The only error is the context's.
func (t *Trees) Roomy(ctx context.Context, q *Question, enough float64, tests int64) (bool, error) {
	e := t.enter(q, q.Moving, tests)
	proven := false
	if t.Ledger != nil {
		need := sure(enough, measureShare) + e.slack()
		page := e.ledger.at(e.place)
		for i := range page.rooms {
			proven = proven || e.within(&page.rooms[i]) >= need
		}
		if !proven {
			var err error
			if proven, err = e.explore(ctx, need, easySteps); err != nil {
				return false, err
			}
		}
	}
	if !proven && (t.Ledger == nil || !e.vain(e.ledger.at(e.place), enough)) {
		out, err := e.sweep(ctx, collide.Limits{Enough: enough, Absolute: sharpness, Relative: firstShare, Tests: tests, Jobs: 1})
		if err != nil {
			return false, err
		}
		if proven = out.Stopped == "" && out.Lower >= enough; !proven {
			e.inVain(enough)
		}
	}
	return proven && t.settled(q, Answer{Verdict: check.Clear}).Verdict == check.Clear, nil
}

// Surely is the proven clearance, in mm, from which on Ask finds a question's demand met, and that
// of any question about a part of its range.
func (q *Question) Surely() float64 { return surelyClear(q.Demand, q.slack()) }

// SurelyMeasured is the proven clearance from which on Measure finds at least upTo, too.
func (q *Question) SurelyMeasured(upTo float64) float64 {
	return sure(max(upTo, q.Demand), measureShare) + q.slack()
}

// SurelyClear is Question.Surely of a demand where the location uncertainty can carry no point
// of one body, seen from the other, farther than slack.
func SurelyClear(demand, slack float64) float64 { return surelyClear(demand, slack) }
