package proof

import (
	"context"
	"slices"

	"gridswing/collide"
	"gridswing/machine/check"
)

// What is near to what it meets is measured again for each setup, to a number, although the
// motion of the two against each other is often the same but for rounding: a tool follows the
// part that it cuts. So what is measured is the rounded motion, with a margin for that; what
// differs by rounding only is then the same question to the last bit, and has the same
// answer, whether that is looked up or found again.

// unlikeness is added to the margin of a rounded motion, in mm. It is more than the rounded motion is
// off: where it were not, the motion is measured as it is.
const unlikeness = 1e-5

// measurement is a question of a rounded motion, and what a sweep found.
type measurement struct {
	moving collide.Pair
	limits collide.Limits
	out    collide.Outcome
}

// number sweeps for a number up to upTo and a little more. It may know it from a motion
// that rounds to the same.
func (e *entry) number(ctx context.Context, upTo float64) (collide.Outcome, error) {
	moving, over, course := e.moving, e.q.Over, e.course
	chain, unit := e.course.Rounded()
	rounded := chain.Course(&unit)
	same := e.course.Displacement(rounded, e.center, e.radius) < unlikeness/2
	if same {
		moving.Motion, over, course = chain, unit, rounded
		moving.Margin += unlikeness
	}
	need := sure(level(upTo, e.q.Demand), measureShare) + course.Looseness(e.center, e.radius) + 3*unlikeness
	limits := collide.Limits{
		// A little more than is needed, so that the ledger can use it for the same again.
		Enough: need*(1+measureShare) + sharpness, Absolute: sharpness, Relative: measureShare,
		Tests: e.tests, Jobs: 1,
	}
	if same && e.ledger != nil {
		page := e.ledger.at(e.place)
		for i := range page.measured {
			if m := &page.measured[i]; m.is(&moving, &limits) {
				return e.there(m.out), nil
			}
		}
	}
	out, err := collide.Sweep(ctx, moving, over, limits)
	if err != nil || !same {
		e.note(out)
		return out, err
	}
	if e.ledger != nil {
		m := measurement{moving: moving, limits: limits, out: out}
		e.ledger.change(e.place, func(p page) page {
			p.measured = inFront(m, p.measured, mostSame)
			return p
		})
	}
	e.note(out)
	return e.there(out), nil
}

// there is an outcome for the rounded motion, at the question's own parameters.
func (e *entry) there(out collide.Outcome) collide.Outcome {
	out.At = e.q.Over.Position(out.At)
	return out
}

// level is how far it is measured where numbers up to upTo are wanted: one of a few, so that
// the same is asked again although a little more or less is wanted.
func level(upTo, demand float64) float64 {
	l := demand * check.MostShare
	if upTo > l {
		return upTo
	}
	for l/2 >= upTo {
		l /= 2
	}
	return l
}

// is reports whether a measurement is of the same question, to the last bit.
func (m *measurement) is(moving *collide.Pair, limits *collide.Limits) bool {
	return m.limits == *limits && m.moving.Margin == moving.Margin &&
		m.moving.Motion.Home == moving.Motion.Home && slices.Equal(m.moving.Motion.Joints, moving.Motion.Joints)
}
