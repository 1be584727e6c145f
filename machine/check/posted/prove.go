package posted

import (
	"context"
	"math"

	"gridswing/geom/motion"
	"gridswing/machine/check"
	"gridswing/machine/check/proof"
)

// A pair is proven over a chunk from the root of its tree down. A branch is proven as a whole where the
// demand is met over a range that holds all positions of its legs: then it is met at each of them.
// Such ranges are, from the cheapest on,
//
//   - the box of axis positions around the legs, seen to be within one that was proven before;
//   - that box, where a box of space around all that the one body passes through, as seen from
//     the other, is as far from the other;
//   - that box, swept;
//   - a line along which the legs lead, and what they are off it: see straighten.
//
// What is not proven so is divided, down to a leg, of which alone a finding is made. Where a branch
// has legs of several kinds, the largest demand is asked of all, and in the end of each its own.

// prover proves one pair over one chunk.
type prover struct {
	c    *checker
	ch   *chunk
	p    *pair
	hits []hit
	near []span
	// contacts counts the legs on which something is met, doubts those of which the budget did not tell.
	contacts, doubts int
	asked            int // questions
	// nearer counts the legs on which less is left than is demanded, tight those of which the smallest clearance was
	// found; least is the least that these leave of what is demanded.
	nearer, tight int
	least         float64
	scratch       motion.Excursion
}

// Budgets of tests of a branch, which is divided where they do not do.
const (
	rootTests   = 1000
	branchTests = 200
	lowTests    = 3000 // of the lowest branches
)

// run looks at the whole chunk.
func (v *prover) run(ctx context.Context) error {
	if len(v.ch.levels) == 0 {
		return nil
	}
	top := len(v.ch.levels) - 1
	s := &v.ch.levels[top][0]
	p := v.p
	asked := s.kinds & p.asked
	p.met |= s.kinds
	if asked == 0 {
		return nil
	}
	demand := p.most(asked)
	if p.known.holds(&s.over, &p.uses, demand) {
		return nil
	}
	if box, ok := p.known.larger(&s.over, &p.uses, &v.c.travel); ok {
		most := p.most(p.asked)
		clear, err := v.clears(ctx, &box, most, rootTests)
		if err != nil {
			return err
		}
		if clear {
			p.known.keep(box, most)
			p.known.fits()
			return nil
		}
		p.known.tooLarge()
	}
	clear, err := v.clears(ctx, &s.over, demand, rootTests)
	if err != nil {
		return err
	}
	if clear {
		p.known.keep(s.over, demand)
		return nil
	}
	return v.children(ctx, top, 0)
}

// branch looks at a branch of the tree.
func (v *prover) branch(ctx context.Context, level, i int) error {
	s := &v.ch.levels[level][i]
	asked := s.kinds & v.p.asked
	if asked == 0 {
		return nil
	}
	demand := v.p.most(asked)
	if v.p.known.holds(&s.over, &v.p.uses, demand) {
		return nil
	}
	from, to := v.ch.legsUnder(level, i)
	tests := int64(branchTests)
	if level == 0 {
		tests = lowTests
	}
	clear, err := v.holds(ctx, s, from, to, demand, tests)
	if err != nil || clear {
		return err
	}
	if rough, err := v.roughly(ctx, s, from, to); err != nil || rough {
		return err
	}
	return v.children(ctx, level, i)
}

// holds reports whether a demand is proven over a branch: along the line that its legs lead along, if they do.
func (v *prover) holds(ctx context.Context, s *stretch, from, to int, demand float64, tests int64) (bool, error) {
	if l, ok := v.c.slim(s, v.ch.legs[from:to]); ok {
		return v.clearsAlong(ctx, &l, demand, lowTests)
	}
	return v.clears(ctx, &s.over, demand, tests)
}

// roughly reports whether a branch leaves no less of what is demanded than the worst leg of the chunk so far, where there
// were many that are too near: then its legs, which are too near as far as is known, are not looked at one by one.
func (v *prover) roughly(ctx context.Context, s *stretch, from, to int) (bool, error) {
	asked := s.kinds & v.p.asked
	demand := v.p.most(asked)
	enough := demand + v.least - leastTold
	if to-from > mostRough || v.nearer < mostTight || v.p.stock || v.p.least(asked) != demand || enough < leastTold {
		return false, nil
	}
	clear, err := v.clears(ctx, &s.over, enough, branchTests)
	if !clear || err != nil {
		return false, err
	}
	for i := from; i < to; i++ {
		if v.p.asked.has(v.ch.legs[i].kind) {
			v.hits = append(v.hits, v.rough(i, demand, enough))
		}
	}
	return true, nil
}

// children looks at what a branch is made of.
func (v *prover) children(ctx context.Context, level, i int) error {
	if level == 0 {
		from, to := v.ch.legsUnder(level, i)
		for k := from; k < to; k++ {
			if v.p.stock {
				v.tooNear(k)
			} else if err := v.leg(ctx, k); err != nil {
				return err
			}
		}
		return nil
	}
	for k := i * branches; k < min((i+1)*branches, len(v.ch.levels[level-1])); k++ {
		if err := v.branch(ctx, level-1, k); err != nil {
			return err
		}
	}
	return nil
}

// clears reports whether a demand is proven over a box of axis positions.
func (v *prover) clears(ctx context.Context, over *motion.Box, demand float64, tests int64) (bool, error) {
	p := v.p
	v.asked++
	if !bounded(over) {
		return false, nil
	}
	enough := demand + p.body.Solid.ChordError + rounding
	passes := proof.SweptRoughly(p.other.Solid, &p.moving.Motion, over, &v.scratch)
	if proof.Between(passes, p.body.Solid.Audit.Bounds) >= enough+boxRounding {
		return true, nil // nothing can be inside of what is beside its box
	}
	q := proof.Question{A: p.body, B: p.other, Moving: p.moving, Over: *over, Demand: demand, Which: p.which}
	return v.c.trees.Clears(ctx, &q, tests)
}

// bounded reports whether positions are numbers.
func bounded(over *motion.Box) bool {
	for k := range over.Lo {
		if size := over.Hi[k] - over.Lo[k]; math.IsNaN(size) || math.IsInf(size, 0) {
			return false
		}
	}
	return true
}

// boxRounding is more than float64 and the float32 of a box's corners can be off, mm.
const boxRounding = 1e-2

// clearsAlong reports whether a demand is proven along a line.
func (v *prover) clearsAlong(ctx context.Context, l *line, demand float64, tests int64) (bool, error) {
	p := v.p
	v.asked++
	q := proof.Question{A: p.body, B: p.other, Moving: p.moving, Over: motion.Unit(1), Demand: demand, Which: p.which}
	q.Moving.Motion = p.moving.Motion.Along(l.from, l.within, l.way)
	return v.c.trees.Clears(ctx, &q, tests)
}

// slim returns the line along which some legs lead, if it is much slimmer than the box around them.
func (c *checker) slim(s *stretch, legs []leg) (l line, ok bool) {
	if s.boxed || len(legs) > mostStraight || !bounded(&s.over) {
		return l, false
	}
	var box, longest, thick float64
	moving := 0
	for k := range s.over.Lo {
		if size := c.weight[k] * (s.over.Hi[k] - s.over.Lo[k]); size > 0 {
			box, longest = box+size, max(longest, size)
			moving++
		}
	}
	if moving < 2 {
		return l, false // the box is a line
	}
	if l, ok = straighten(legs, &c.weight); !ok {
		return l, false
	}
	for k := range l.within {
		thick += c.weight[k] * l.within[k]
	}
	return l, thick < slimmer*(box-longest)
}

const (
	mostStraight = 256  // legs that are laid beside a line
	slimmer      = 0.25 // how thick a line may be, of the box around it without its longest side
)

// leg looks at one leg, and finds what there is.
func (v *prover) leg(ctx context.Context, i int) error {
	l := &v.ch.legs[i]
	if !v.p.asked.has(l.kind) {
		return nil
	}
	v.asked++
	a := v.p.asks[l.kind]
	if over := l.stretch().over; !bounded(&over) {
		v.hits = append(v.hits, v.lost(i, a.demand))
		return nil
	}
	q := v.question(l, a.demand)
	if wide, ok := v.wide(l, a.demand); ok {
		if clear, err := v.c.trees.Clears(ctx, &wide, v.c.options.Tests); err != nil || clear {
			return err
		}
	}
	if v.contacts >= mostContacts || v.doubts >= mostDoubts {
		v.hits = append(v.hits, v.skipped(i, &q))
		return nil
	}
	answer, err := v.c.trees.Ask(ctx, &q, v.c.options.Tests)
	if err != nil || answer.Verdict == check.Clear {
		return err
	}
	if answer, err = v.sharpened(ctx, &q, answer); err != nil {
		return err
	}
	v.hits = append(v.hits, v.met(i, &q, answer))
	return nil
}

// Where so many legs of a chunk meet something, or so many could not be told within the budget, the others
// that are not proven with their branch are not looked at: something is wrong there, and said to be.
const (
	mostContacts = 256
	mostDoubts   = 16
)

// question is what is asked of a leg.
func (v *prover) question(l *leg, demand float64) proof.Question {
	p := v.p
	q := proof.Question{A: p.body, B: p.other, Moving: p.moving, Demand: demand, Which: p.which}
	if l.Box {
		q.Over = l.stretch().over
		return q
	}
	var way motion.Params
	for k := range way {
		way[k] = l.To[k] - l.From[k]
	}
	q.Moving.Motion, q.Over = p.moving.Motion.Along(l.From, l.Within, way), motion.Unit(1)
	return q
}

// sharpened finds the smallest clearance of a leg that is not clear, where it may be less than that of those before
// it: not where what is proven is more.
func (v *prover) sharpened(ctx context.Context, q *proof.Question, a proof.Answer) (proof.Answer, error) {
	if a.Verdict != check.Tight {
		return a, nil
	}
	v.nearer++
	if v.tight > 0 && (a.Out.Lower-q.Demand >= v.least || v.tight >= mostTight && a.Out.Upper-q.Demand >= v.least) {
		return a, nil
	}
	sharp, err := v.c.trees.Sharpen(ctx, q, a, v.c.options.Tests, 1)
	if err != nil || sharp.Verdict != a.Verdict {
		return a, err
	}
	left := sharp.Out.Upper - q.Demand
	if v.tight == 0 || left < v.least {
		v.least = left
	}
	v.tight++
	return sharp, nil
}

// mostRough is how many legs are taken together where there are many that are too near: a few of them may be clear.
const mostRough = branches * branches

// mostTight is of how many legs of a pair in a chunk the smallest clearance is found, but where one is seen that is
// nearer than all before it; of others it is told to a quarter.
const mostTight = 64

// loosest is how far axes may be off a leg, mm or arm times rad, and the question still asked with that as
// location uncertainty, which is charged in full.
const loosest = 0.05

// wide is the question about all that a leg may be, as far as its axes may be off it, where that is
// much: then it can be divided. What it proves holds; what is seen on it may be where the axes do not go. It is not ok
// where nothing much is off.
func (v *prover) wide(l *leg, demand float64) (q proof.Question, ok bool) {
	p := v.p
	from, ways := l.From, make([]motion.Params, 1, motion.MaxParams)
	var within motion.Params
	for k := range l.From {
		ways[0][k] = l.To[k] - l.From[k]
		if w := l.Within[k]; w*v.c.weight[k] <= loosest || len(ways) == motion.MaxParams {
			within[k] = w
			continue
		}
		var off motion.Params
		off[k] = 2 * l.Within[k]
		ways = append(ways, off)
		from[k] -= l.Within[k]
	}
	if len(ways) == 1 || l.Box {
		return q, false
	}
	q = proof.Question{A: p.body, B: p.other, Moving: p.moving, Demand: demand, Over: motion.Unit(len(ways)), Which: p.which}
	q.Moving.Motion = p.moving.Motion.Along(from, within, ways...)
	return q, true
}

// tooNear takes down a leg for the stock as it is. There most that is near the stock cuts it, and is
// asked about leg by leg anyway, so that of the lowest branches all legs are.
func (v *prover) tooNear(i int) {
	if !v.p.asked.has(v.ch.legs[i].kind) {
		return
	}
	if n := len(v.near); n > 0 && v.near[n-1].to == int32(i) {
		v.near[n-1].to++
		return
	}
	v.near = append(v.near, span{int32(i), int32(i) + 1})
}
