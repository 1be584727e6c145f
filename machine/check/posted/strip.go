package posted

import (
	"context"
	"math"

	"gridswing/collide"
	"gridswing/geom/motion"
	"gridswing/machine/check"
	"gridswing/machine/check/proof"
)

// The strip tells the least clearance over time in so many cells at most. Where there are more, each two that
// follow each other are made one, and from then on a cell is begun of twice as many steps: so it
// takes no more memory, and little more time, for a longer program.
const stripCells = 512

// longGrain is how many steps a cell has at first where there are many.
const longGrain = 16

// stripCap is the clearance from which on the strip no longer tells, mm.
func stripCap(demand float64) float64 { return max(20, 5*demand) }

// cell is what is known of some steps that follow each other, all pairs of bodies together but those with stock
// that is cut, of which only what is not clear is told.
type cell struct {
	from, to     float64 // seconds
	first, last  int32   // steps of the chunk, while it is looked at; the second not included
	line, tool   int
	verdict      check.Verdict
	lower, upper float64 // proven, and found; at most the cap
	steps        int     // how many it is of
	still        bool    // nothing moves on it
}

// strip makes cells, chunk by chunk.
type strip struct {
	c     *checker
	cap   float64
	grain int // steps of a cell
	made  int // cells that there are of so many
}

// cells makes those of a chunk, over which all pairs were proven, or found not to be clear.
func (s *strip) cells(ctx context.Context, ch *chunk, provers []prover) ([]cell, error) {
	var list []cell
	if len(ch.steps) >= mostSteps {
		s.grain = max(s.grain, longGrain) // a long program
	}
	for first, last := 0, 0; first < len(ch.steps); first = last { // the grain may change on the way
		last = min(first+s.grain, len(ch.steps))
		x := cell{
			from: ch.steps[first].began, to: ch.steps[last-1].began + known(ch.steps[last-1].seconds), first: int32(first), last: int32(last),
			still: ch.steps[first].legs[0] == ch.steps[last-1].legs[1],
			line:  ch.steps[first].Line, tool: ch.called, verdict: check.Clear, lower: s.cap, upper: s.cap, steps: last - first,
		}
		list = append(list, x)
		if s.made++; s.made > stripCells {
			s.made, s.grain = (s.made+1)/2, 2*s.grain
		}
	}
	near := s.near(ch, provers)
	seen := make([][]float64, len(list))
	err := proof.InParallel(ctx, s.c.options.Jobs, len(list), func(i int) error {
		seen[i] = s.look(ch, near, &list[i])
		return nil
	})
	if err != nil {
		return nil, err
	}
	lowers := make([][]float64, len(near))
	err = proof.InParallel(ctx, s.c.options.Jobs, len(near), func(i int) error {
		var err error
		own := make([]float64, len(list))
		for k := range own {
			own[k] = seen[k][i]
		}
		lowers[i], err = s.lowers(ctx, ch, near[i], list, own)
		return err
	})
	for _, of := range lowers {
		for i := range of {
			list[i].lower = min(list[i].lower, of[i])
		}
	}
	for i := range list {
		list[i].upper = max(list[i].upper, list[i].lower)
	}
	return list, err
}

// near lists the pairs that are not seen to be farther apart than the cap on all of a chunk.
func (s *strip) near(ch *chunk, provers []prover) (list []*prover) {
	if len(ch.levels) == 0 {
		return nil
	}
	whole := &ch.levels[len(ch.levels)-1][0]
	var scratch motion.Excursion
	for i := range provers {
		p := provers[i].p
		if whole.kinds&p.asked == 0 || p.stock {
			continue
		}
		passes := proof.SweptRoughly(p.other.Solid, &p.moving.Motion, &whole.over, &scratch)
		if proof.Between(passes, p.body.Solid.Audit.Bounds) < s.cap+p.body.Solid.ChordError+boxRounding {
			list = append(list, &provers[i])
		}
	}
	return list
}

// look finds how near the bodies of each pair are on a cell where they are looked at: +Inf where that is farther than
// those of a pair before it.
func (s *strip) look(ch *chunk, near []*prover, x *cell) []float64 {
	from, to := ch.steps[x.first].legs[0], ch.steps[x.last-1].legs[1]
	seen := make([]float64, len(near))
	for i, v := range near {
		seen[i] = s.sample(v.p, ch.legs[from:to], x.upper)
		x.upper = min(x.upper, seen[i])
	}
	return seen
}

// lowers is how much is proven of a pair on each cell of a chunk, on which so much was seen of it; the cap where nothing
// moves.
func (s *strip) lowers(ctx context.Context, ch *chunk, v *prover, list []cell, seen []float64) ([]float64, error) {
	most, own := 0.0, math.Inf(1)
	for i := range list {
		most, own = max(most, list[i].upper), min(own, seen[i])
	}
	lowers := make([]float64, len(list))
	mine := &prover{c: s.c, p: v.p} // it counts nothing of the pair's own
	// What is far enough on all of the chunk need not be looked at cell by cell.
	if enough := max(leastTold, s.enough(most)); own > enough {
		clear, err := mine.clears(ctx, &ch.levels[len(ch.levels)-1][0].over, enough, stripTests)
		if err != nil {
			return nil, err
		}
		if clear {
			for i := range lowers {
				lowers[i] = enough
			}
			return lowers, nil
		}
	}
	for i := range lowers {
		lowers[i] = s.cap
		from, to := ch.steps[list[i].first].legs[0], ch.steps[list[i].last-1].legs[1]
		if from == to {
			continue
		}
		var err error
		if lowers[i], err = s.proven(ctx, mine, v, ch.legs[from:to], list[i].upper, seen[i]); err != nil {
			return nil, err
		}
	}
	return lowers, nil
}

// enough is how much is looked for where a clearance was seen.
func (s *strip) enough(seen float64) float64 {
	if seen == s.cap {
		return seen
	}
	return 0.95 * seen
}

// stripSamples is at how many positions of a cell bodies are looked at.
const stripSamples = 3

// sample looks at a pair at some positions: the least clearance, +Inf if it is more than limit.
func (s *strip) sample(p *pair, legs []leg, limit float64) float64 {
	n, least := min(stripSamples, len(legs)), math.Inf(1)
	off := p.moving.Margin + p.loose
	for i := range n {
		l := &legs[i*len(legs)/n]
		if over := l.stretch().over; !p.asked.has(l.kind) || !bounded(&over) {
			continue
		}
		near := collide.DistanceWithin(p.moving.A, p.moving.B, p.moving.Motion.Pose(l.at(0.5)), min(least, limit)+off)
		least = min(least, max(0, near.Distance-off))
	}
	return least
}

// proven is how much is proven of a pair on some legs, where seen was seen of some pair, and own of this one: nearly
// as much as it is worth proving, or what was demanded and proven before.
func (s *strip) proven(ctx context.Context, mine, v *prover, legs []leg, seen, own float64) (float64, error) {
	over := legs[0].stretch()
	for i := range legs[1:] {
		next := legs[1+i].stretch()
		over.join(&next)
	}
	asked := over.kinds & v.p.asked
	if asked == 0 {
		return s.cap, nil
	}
	least := v.p.least(asked)
	if v.not(legs) {
		least = 0
	}
	if len(legs) > mostStraight {
		return least, nil // they hardly lead along anything
	}
	l, straight := s.c.slim(&over, legs)
	enough := min(s.enough(seen), ownShare*own)
	tests, tries := int64(stripTests), stripTries
	if s.grain >= longGrain { // there are many
		tests, tries = longTests, 1
	}
	for range tries {
		if enough <= max(least, leastTold) {
			break
		}
		var clear bool
		var err error
		if straight {
			clear, err = mine.clearsAlong(ctx, &l, enough, tests)
		} else {
			clear, err = mine.clears(ctx, &over.over, enough, tests)
		}
		if err != nil {
			return least, err
		}
		if clear {
			return enough, nil
		}
		enough *= nextShare
	}
	return least, nil
}

const (
	leastTold  = 0.01 // mm: less is not worth proving for the strip
	stripTests = 2000
	stripTries = 4
	longTests  = 300 // the same of a long program, each cell of which is tried once
	nextShare  = 0.7 // of what was tried is tried next
	ownShare   = 0.8 // of what was seen of a pair: between the positions that were looked at it may come nearer
)

// not reports whether something was found of the pair on some of the steps of the legs.
func (v *prover) not(legs []leg) bool {
	first, last := legs[0].step, legs[len(legs)-1].step
	for i := range v.hits {
		if v.hits[i].step >= first && v.hits[i].step <= last {
			return true
		}
	}
	return false
}

// add puts the cells of a chunk behind those before it, with all that was found on the chunk, and makes
// fewer of them where there are too many.
func (t *tally) add(list []cell, hits []hit) {
	for i := range hits {
		h := &hits[i]
		for k := range list {
			if x := &list[k]; h.step >= x.first && h.step < x.last {
				x.found(h)
				break
			}
		}
	}
	for _, x := range list {
		if n := len(t.strip); x.still && n > 0 {
			x.lower, x.upper = t.strip[n-1].lower, t.strip[n-1].upper // it stands where that ends
		} else if x.still {
			x.lower = 0
		}
		t.strip = append(t.strip, x)
	}
	for len(t.strip) > stripCells {
		half := t.strip[:0]
		for i := 0; i < len(t.strip); i += 2 {
			x := t.strip[i]
			if i+1 < len(t.strip) {
				x.join(&t.strip[i+1])
			}
			half = append(half, x)
		}
		t.strip = half
	}
}

// found takes something into account that is not clear.
func (x *cell) found(h *hit) {
	if h.verdict.Worse(x.verdict) {
		x.verdict = h.verdict
	}
	if h.question != check.Posted || h.b < 0 { // of bodies only
		return
	}
	x.lower = min(x.lower, max(0, h.proven))
	if has := h.left + h.demand; !math.IsInf(has, 0) && !math.IsNaN(has) {
		x.upper = max(0, min(x.upper, has))
	}
}

// join makes the cell hold the next one.
func (x *cell) join(next *cell) {
	if next.steps > x.steps {
		x.tool = next.tool
	}
	x.to, x.steps = next.to, x.steps+next.steps
	if next.verdict.Worse(x.verdict) {
		x.verdict = next.verdict
	}
	x.lower, x.upper = min(x.lower, next.lower), min(x.upper, next.upper)
}

// report is the strip as the report has it.
func (t *tally) report(limit float64) []check.StripCell {
	list := []check.StripCell{}
	for i := range t.strip {
		x := &t.strip[i]
		out := check.StripCell{From: x.from, To: x.to, Line: x.line, Tool: x.tool, Verdict: x.verdict}
		lower, upper := x.lower, x.upper
		if lower > 0 {
			out.Proven = &lower
		}
		if upper < limit {
			out.Smallest = &upper
		}
		list = append(list, out)
	}
	return list
}
