package proof

import (
	"context"
	"math"
	"slices"

	"gridswing/collide"
	"gridswing/geom/motion"
	"gridswing/machine/check"

	"github.com/golang/geo/r3"
)

// What is proven of a question with more room than it asks for is worth something to the
// next one. So a question that the ledger knows nothing of is first asked for more than
// it needs: for much more, as far as that is to be had for next to nothing.
type step struct {
	more               float64 // than is needed, mm
	absolute, relative float64 // tolerance
	tests              int64   // at most
	least              int64   // not at a budget of less: a no is not to cost more
}

// The tests of most questions are some tens; the steps were tuned by BenchmarkSeats.
var (
	easySteps = []step{{64, 0.05, 0.25, 150, 0}, {8, 0.05, 0.25, 300, 0}}
	askSteps  = append(easySteps[:2:2], step{0.5, 0.05, 0, math.MaxInt64, 100_000})
	freeSteps = []step{{SeatLift / 2, Freed, 0.25, 300, 0}}
)

// asVain is how far from a course for which a step was in vain it is not tried again, in mm.
const asVain = 1.0

// entry is a question as the ledger sees it.
type entry struct {
	ledger *Ledger
	place  place
	q      *Question
	moving collide.Pair // as it is asked about: of AskFree, as drawn
	upTo   float64      // of Measure, else 0
	tests  int64

	course *motion.Course
	center r3.Vector // of a ball around B
	radius float64
}

// enter makes an entry for a question; it can do without a ledger.
func (t *Trees) enter(q *Question, moving collide.Pair, tests int64) *entry {
	e := &entry{
		ledger: t.Ledger, place: place{which: q.Which, a: moving.A, b: moving.B},
		q: q, moving: moving, tests: tests, course: moving.Motion.Course(&q.Over),
	}
	e.center, e.radius = ball(q.B.Solid)
	return e
}

// slack bounds how far the location uncertainty can carry any point of B, in mm, wherever
// in the range.
func (e *entry) slack() float64 { return e.course.Looseness(e.center, e.radius) }

// recall answers from the ledger: with clear, enough being asked for, if need is proven; else
// with the answer that the very same question got.
func (t *Trees) recall(e *entry, need, enough float64) (a Answer, known bool) {
	page := e.ledger.at(e.place)
	for i := range page.rooms {
		if e.within(&page.rooms[i]) >= need {
			return t.settled(e.q, Answer{Out: plenty(enough), Verdict: check.Clear}), true
		}
	}
	for i := range page.same {
		if s := &page.same[i]; s.is(e) {
			return s.answer, true
		}
	}
	return a, false
}

// within is what a proof leaves of the clearance asked about.
//
// Wherever the question's motion carries B, some position of the proof has no point of B
// more than the displacement elsewhere (see motion.Course), and there no point of B's surface is
// nearer than apart to A's. So it is nowhere nearer than apart less the displacement; the chord
// errors are taken off as a sweep takes them off.
func (e *entry) within(r *room) float64 {
	left := r.apart - e.moving.Margin
	if left < e.q.Demand && !e.place.free {
		return left
	}
	return left - e.course.Displacement(r.course, e.center, e.radius)
}

// explore tries to prove need, and more than that, which is noted.
func (e *entry) explore(ctx context.Context, need float64, steps []step) (bool, error) {
	seen, known, sharp := math.Inf(1), e.ledger.at(e.place), false
	for _, s := range steps {
		enough := need + s.more
		if e.tests < s.least || seen < need+s.absolute || sharp && s.relative > 0 || e.vain(known, enough) {
			continue
		}
		out, err := e.sweep(ctx, collide.Limits{
			Enough: enough, Absolute: s.absolute, Relative: s.relative, Tests: min(e.tests, s.tests), Jobs: 1,
		})
		switch {
		case err != nil:
			return false, err
		case out.Stopped == "" && out.Lower >= need:
			return true, nil
		case out.Upper <= 0:
			return false, nil
		}
		seen, sharp = min(seen, out.Upper), out.Stopped == ""
		e.inVain(enough)
	}
	return false, nil
}

// inVain notes that it was in vain to look for so much.
func (e *entry) inVain(enough float64) {
	if e.ledger == nil {
		return
	}
	v := vain{course: e.course, enough: enough}
	e.ledger.change(e.place, func(p page) page {
		p.vain = inFront(v, p.vain, mostVain)
		return p
	})
}

// vain reports whether it was in vain to look for so much, nearly here.
func (e *entry) vain(known *page, enough float64) bool {
	for i := range known.vain {
		v := &known.vain[i]
		if v.enough <= enough && e.course.Displacement(v.course, e.center, e.radius) < asVain {
			return true
		}
	}
	return false
}

// sweep notes what it proves.
func (e *entry) sweep(ctx context.Context, limits collide.Limits) (collide.Outcome, error) {
	out, err := collide.Sweep(ctx, e.moving, e.q.Over, limits)
	if err == nil {
		e.note(out)
	}
	return out, err
}

// note keeps what an outcome proves, where it is more than nothing.
func (e *entry) note(out collide.Outcome) {
	if e.ledger == nil || out.Stopped != "" || out.Contact || out.Lower <= 0 {
		return
	}
	r := room{course: e.course, apart: out.Lower + e.moving.Margin}
	e.ledger.change(e.place, func(p page) page {
		if len(p.rooms) > 0 && p.rooms[0].course == r.course { // proven of this very question before
			r.apart = max(r.apart, p.rooms[0].apart)
			p.rooms = p.rooms[1:]
		}
		p.rooms = inFront(r, p.rooms, mostRooms)
		return p
	})
}

// keep notes an answer for when the very same question is asked again.
func (e *entry) keep(a Answer, err error) (Answer, error) {
	if err != nil {
		return a, err
	}
	a.Stated = slices.Clip(a.Stated) // whoever appends to it gets a list of his own
	s := answered{
		names: [2]string{e.q.A.Name, e.q.B.Name}, moving: e.moving, over: e.q.Over,
		demand: e.q.Demand, upTo: e.upTo, tests: e.tests, answer: a,
	}
	e.ledger.change(e.place, func(p page) page {
		p.same = inFront(s, p.same, mostSame)
		return p
	})
	return a, nil
}

// is reports whether an entry is the same question, to the last bit.
func (s *answered) is(e *entry) bool {
	return s.demand == e.q.Demand && s.upTo == e.upTo && s.tests == e.tests &&
		s.over == e.q.Over && s.moving.Margin == e.moving.Margin &&
		s.moving.Motion.Home == e.moving.Motion.Home &&
		s.names == [2]string{e.q.A.Name, e.q.B.Name} &&
		slices.Equal(s.moving.Motion.Joints, e.moving.Motion.Joints)
}
