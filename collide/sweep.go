package collide

import (
	"context"
	"math"
	"runtime"

	"gridswing/geom/motion"
	"gridswing/geom/together"
)

// Pair is two bodies and how the second moves as seen from the first.
type Pair struct {
	A, B   *Tree
	Motion motion.Chain
	// Margin in mm is taken off every clearance: how far the true surfaces can
	// be from the facets.
	Margin float64
}

// Limits say when a sweep knows enough.
type Limits struct {
	// Enough is the clearance in mm from which on nobody cares: a yes/no question
	// asks for the demanded clearance, the smallest clearance is found with +Inf.
	// It must be positive.
	Enough float64
	// The smallest clearance is found to Absolute mm, or to Relative of itself
	// where that is more. Absolute must be positive: exactly equal never ends.
	Absolute, Relative float64
	// Tests ends the search after so many pairs of parts; 0 means never.
	Tests int64
	// YesOrNo ends it as soon as less than Enough was seen: then nothing is proven, and Upper is that
	// of some position, not the smallest.
	YesOrNo bool
	// Jobs is how many goroutines may work at once; 0 means one a core. The
	// answer is the same for any number.
	Jobs int

	// quick begins the search for a good first guess at the middle only.
	quick bool
}

func (l *Limits) tolerance(upper float64) float64 {
	if math.IsInf(upper, 1) {
		return l.Absolute
	}
	return max(l.Absolute, l.Relative*upper)
}

// Outcome is what a sweep found. Clearances are worst-case: the location
// uncertainty (the slack of the motion) and the pair's margin are taken off.
type Outcome struct {
	// Lower is proven: at every position in the range the surfaces are at least
	// this far apart. -Inf where nothing is proven. Never above Limits.Enough.
	Lower float64
	// Upper is the smallest clearance seen, at At; +Inf if no position had to be
	// looked at. Negative where what is taken off is more than the gap.
	Upper float64
	// Nominal is the clearance as drawn at At, Near where it is (in A's frame).
	Nominal float64
	At      motion.Params
	Near    Nearest
	// Contact says that the surfaces meet at At as drawn.
	Contact bool
	// Stopped is why the search ended before it knew enough; empty if it did not.
	Stopped string
	// Boxes and Tests count the work: boxes of parameters, and pairs of parts.
	Boxes, Tests int64
}

// Why a sweep can end early.
const (
	StoppedBudget     = "the budget of tests was used up"
	StoppedResolution = "the range could not be divided any further"
)

// Sweep finds how close the surfaces of a pair get over the box of parameters:
// a branch and bound over boxes, depth first. Each box asks the hierarchy whether
// every pair of parts stays clear; at the first that may not, the box is split,
// and both halves first ask the parts that failed. It ends as soon as it has proven
// Limits.Enough, has met a contact, or knows the smallest clearance to the
// tolerance. The only error is the context's.
func Sweep(ctx context.Context, pair Pair, over motion.Box, limits Limits) (Outcome, error) {
	s := newSearch(ctx, pair, over, limits)
	if len(pair.A.nodes) == 0 || len(pair.B.nodes) == 0 {
		return Outcome{Lower: limits.Enough, Upper: math.Inf(1)}, nil
	}
	pending := []task{{box: over}}
	if limits.Enough < math.Inf(1) {
		// Most questions of yes or no are answered sooner than a guess is made.
		pending = s.run(s.main, pending, s.share(easyShare))
	}
	if len(pending) > 0 && !s.over() && (s.short() || s.main.twoSlides()) {
		// Begun anew, the large boxes profit from the guess too.
		s.guess(over)
		pending = []task{{box: over}}
	}
	guessed := s.short()
	pending = s.run(s.main, pending, s.share(firstShare))
	if len(pending) > 0 && !s.over() && s.short() && !guessed {
		s.guess(over)
	}
	for len(pending) > 0 && !s.over() {
		pending = s.round(pending)
	}
	return s.outcome(pending), ctx.Err()
}

// A search shares one question among provers. Rounds are synchronous: a fixed
// number of boxes, all knowing the same nearest position, merged in order, so
// that the answer does not depend on who finished first.
type search struct {
	ctx     context.Context
	limits  Limits
	main    *prover
	helpers []*prover
}

const (
	easyShare  = 2_000  // tests before a good guess is worth looking for
	slideTests = 600    // tests that a look at a slid position costs about as much as
	firstShare = 30_000 // tests before a question is worth several goroutines
	roundShare = 10_000 // tests a task may use in a round
	roundTasks = 16
)

// task is a box yet to be proven, and the parts it is already known to fail on.
type task struct {
	box    motion.Box
	failed bool
	fail   failure
	// general says that the free direction is no use here, where the bodies are
	// only freeGap apart along it; frees counts the splits made for its sake.
	general bool
	freeGap float64
	frees   int
}

func newSearch(ctx context.Context, pair Pair, over motion.Box, limits Limits) *search {
	if limits.Jobs <= 0 {
		limits.Jobs = runtime.GOMAXPROCS(0)
	}
	p := &prover{
		ctx: ctx, a: pair.A, b: pair.B, chain: &pair.Motion, margin: pair.Margin, limits: limits,
		rounding: roundingOver(pair.A, pair.B, &pair.Motion, &over),
		best:     Outcome{Upper: math.Inf(1), Near: Nearest{Distance: math.Inf(1), FacetA: -1, FacetB: -1}},
	}
	for i := range pair.Motion.Joints {
		j := &pair.Motion.Joints[i]
		p.hasSlack = p.hasSlack || j.Slack > 0
		for k, g := range j.Gain {
			p.slides[k] = p.slides[k] || g != 0 && j.Kind == motion.Linear
		}
	}
	return &search{ctx: ctx, limits: limits, main: p}
}

// short reports whether Enough is more than there is, as far as is seen: then
// the search is for the smallest clearance, or for a contact.
func (s *search) short() bool {
	return s.limits.Enough == math.Inf(1) || s.main.best.Upper < s.limits.Enough
}

// share is what a run may use of so many tests: no more than is left of the budget.
func (s *search) share(tests int64) int64 {
	if s.limits.Tests > 0 {
		return min(tests, s.limits.Tests-s.main.tests)
	}
	return tests
}

// over reports whether the search must or may end now.
func (s *search) over() bool {
	return s.main.done() || s.ctx.Err() != nil || s.limits.Tests > 0 && s.main.tests >= s.limits.Tests
}

// run works depth first through tasks on one prover, up to a share of tests,
// and returns what is left.
func (s *search) run(p *prover, tasks []task, share int64) []task {
	stop := p.tests + share
	for len(tasks) > 0 && p.tests < stop && !p.done() && s.ctx.Err() == nil {
		t := tasks[len(tasks)-1]
		tasks = tasks[:len(tasks)-1]
		p.boxesDone++
		if !t.general || t.freeGap > p.cut() && t.frees < freeSplits {
			tasks = p.free(t, tasks)
			continue
		}
		if !t.failed {
			ok, fail := p.prove(&t.box)
			if ok {
				continue
			}
			t.fail = fail
		} else if t.fail.value >= p.cut() {
			// What was too little then is enough now, for these parts: ask the rest.
			t.failed = false
			tasks = append(tasks, t)
			continue
		}
		if p.done() {
			break
		}
		tasks = p.divide(t, tasks)
	}
	return tasks
}

// free asks a box along the free direction, splits it for its sake, or hands it
// to the general question.
func (p *prover) free(t task, tasks []task) []task {
	ok, gap, fail := p.proveFree(&t.box, &t.fail)
	if ok {
		return tasks
	}
	// Splitting cannot make less of what the location uncertainty takes.
	e := &p.excursion // over the box, as proveFree has left it
	if gap > p.cut() && t.frees < freeSplits && gap-e.Loose(fail.u, fail.center, fail.radius) > p.cut() {
		if k := e.Widest(p.chain, &t.box, fail.u, fail.center, fail.radius); k >= 0 {
			lower, upper := t.box.Split(k)
			return append(tasks, task{box: lower, frees: t.frees + 1, fail: fail}, task{box: upper, frees: t.frees + 1, fail: fail})
		}
	}
	if gap > 0 && p.slid*slideTests <= p.tests {
		p.slid++
		p.slideWithin(&t.box)
	}
	return append(tasks, task{box: t.box, general: true, freeGap: gap, frees: t.frees + 1})
}

// divide splits a failed box and pushes both halves, the less hopeful one on
// top: that is where the smallest clearance is found early.
func (p *prover) divide(t task, tasks []task) []task {
	e := p.over(&t.box)
	k := e.Widest(p.chain, &t.box, t.fail.u, t.fail.center, t.fail.radius)
	if k < 0 {
		p.unresolved = true
		return tasks
	}
	lower, upper := t.box.Split(k)
	halves := [2]task{{box: lower}, {box: upper}}
	for i := range halves {
		h := &halves[i]
		h.general, h.freeGap, h.frees = true, t.freeGap, t.frees
		e := p.over(&h.box)
		center := h.box.Center()
		ok, fail := p.again(e, &center, &t.fail)
		h.failed, h.fail = !ok, fail
	}
	if halves[0].failed && (!halves[1].failed || halves[0].fail.value < halves[1].fail.value) {
		halves[0], halves[1] = halves[1], halves[0]
	}
	return append(tasks, halves[0], halves[1])
}

// round gives the topmost tasks to as many goroutines as may work, and merges
// what they found in the order of the tasks.
func (s *search) round(pending []task) []task {
	n := min(roundTasks, len(pending))
	top := pending[len(pending)-n:]
	rest := pending[: len(pending)-n : len(pending)-n]
	for len(s.helpers) < n {
		s.helpers = append(s.helpers, &prover{})
	}
	left := make([][]task, n)
	var wg together.Group
	free := make(chan struct{}, s.limits.Jobs)
	for i := range n {
		s.helpers[i].follow(s.main)
		free <- struct{}{}
		wg.Go(func() {
			defer func() { <-free }()
			left[i] = s.run(s.helpers[i], []task{top[i]}, roundShare)
		})
	}
	wg.Wait()
	for i := range n {
		s.main.learn(s.helpers[i])
		rest = append(rest, left[i]...)
	}
	return rest
}

// follow takes over the question and what is known from another prover.
func (p *prover) follow(q *prover) {
	stack, excursion, play := p.stack, p.excursion, p.play
	*p = *q
	p.stack, p.excursion, p.play = stack, excursion, play
	p.tests, p.boxesDone = 0, 0
}

// learn takes over what another prover found.
func (p *prover) learn(q *prover) {
	p.tests += q.tests
	p.boxesDone += q.boxesDone
	p.unresolved = p.unresolved || q.unresolved
	if q.best.Upper < p.best.Upper {
		p.best = q.best
	}
}

// outcome says what is known once the search has ended.
func (s *search) outcome(pending []task) Outcome {
	p := s.main
	cut := p.cut()
	p.settle()
	out := p.best
	out.Boxes, out.Tests = p.boxesDone, p.tests
	switch {
	case p.done():
		out.Lower = math.Inf(-1)
	case len(pending) > 0:
		out.Lower, out.Stopped = math.Inf(-1), StoppedBudget
	case p.unresolved:
		out.Lower, out.Stopped = math.Inf(-1), StoppedResolution
	default:
		out.Lower, out.Upper = cut, max(out.Upper, cut)
	}
	return out
}

// Nominal returns the pair without location uncertainty and margin: as drawn.
func (p Pair) Nominal() Pair {
	joints := make([]motion.Joint, len(p.Motion.Joints))
	copy(joints, p.Motion.Joints)
	for i := range joints {
		joints[i].Slack = 0
	}
	p.Motion.Joints, p.Margin = joints, 0
	return p
}
