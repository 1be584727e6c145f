package choose

import (
	"cmp"
	"context"
	"math"
	"slices"

	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/loads"
	"gridswing/machine/check/reach"
	"gridswing/machine/check/swing"
)

// heightLook is what was found of one height, or of a stretch of them.
type heightLook struct {
	at      float64
	verdict check.Verdict
	concern string
	reason  string
	key     string // what the reason is about, the same for the same two bodies
	loads   *check.Loads
	setup   *machine.Setup // of one height
}

// firmer is by how much more than is demanded, in mm, is to be proven over a stretch: a check of
// a single height looks to 0.01 mm, and must not find it short.
const firmer = 0.011

// Budgets of a question about a stretch, in tests: of narrow stretches, which are not cut any
// further or hardly, and of all others.
const (
	narrowTests = 1_000_000
	wideTests   = 60_000
	narrowSteps = 4
)

// lookAtOne looks at the spacer of one height, as at any other component of that height.
func (h *heightSearch) lookAtOne(ctx context.Context, rung int) (*heightLook, error) {
	mm := h.at(rung)
	s, err := h.d.Spacer(h.place, mm, mm)
	if err != nil {
		return nil, err
	}
	r := check.NewReport(s)
	l := &heightLook{at: mm, setup: s, verdict: check.Clear}
	if err := loads.Check(ctx, s, r, h.hard(0)); err != nil {
		return nil, err
	}
	l.loads = r.Loads
	return l, h.lookFurther(ctx, s, r, l, h.options.Tests)
}

// lookAtAll looks at all heights of a piece at once.
func (h *heightSearch) lookAtAll(ctx context.Context, p *heightPiece) (*heightLook, error) {
	low, high := h.single[p.low], h.single[p.high]
	l := &heightLook{at: math.NaN(), verdict: check.Clear}
	if why := loadsBetween(low, high); why != "" {
		l.verdict, l.concern, l.reason = check.Unproven, check.LoadConcern, why
		return l, nil
	}
	s, err := h.d.Spacer(h.place, low.at, high.at)
	if err != nil {
		return nil, err
	}
	s.Demand = firm(s.Demand)
	tests := int64(wideTests)
	if p.high-p.low <= narrowSteps {
		tests = narrowTests
	}
	if h.options.Tests > 0 {
		tests = min(tests, h.options.Tests)
	}
	return l, h.lookFurther(ctx, s, check.NewReport(s), l, tests)
}

// firm returns demands that are a little more.
func firm(d machine.Demand) machine.Demand {
	for _, mm := range []*float64{&d.Default, &d.Swing, &d.Rest, &d.Rapid, &d.Approach, &d.Cutting, &d.Holder, &d.Change, &d.Loading} {
		*mm += firmer
	}
	pairs := make([]machine.PairDemand, len(d.Pairs))
	for i, p := range d.Pairs {
		pairs[i] = p
		pairs[i].Clearance += firmer
	}
	d.Pairs = pairs
	return d
}

// lookFurther adds what swing and reach say, and stops at the first that is not clear.
func (h *heightSearch) lookFurther(ctx context.Context, s *machine.Setup, r *check.Report, l *heightLook, tests int64) error {
	defer func() {
		h.trees.Forget(s.Bodies[s.Spacer.Below].Solid)
		h.trees.Forget(s.Bodies[s.Spacer.Above].Solid)
	}()
	l.judge(r)
	for _, room := range []func(context.Context, *machine.Setup, *check.Report, swing.Options) error{swing.Check, reach.Check} {
		if l.verdict != check.Clear {
			return nil
		}
		if err := room(ctx, s, r, h.hard(tests)); err != nil {
			return err
		}
		l.judge(r)
	}
	return nil
}

// hard says how hard to look at one of the many.
func (h *heightSearch) hard(tests int64) swing.Options {
	return swing.Options{Jobs: 1, Tests: tests, Trees: h.trees, Brief: true, Verdicts: true}
}

// judge takes over the worst of a report; of equally bad concerns the first.
func (l *heightLook) judge(r *check.Report) {
	for _, j := range r.Judge() {
		if !j.Verdict.Worse(l.verdict) {
			continue
		}
		l.verdict, l.concern = j.Verdict, j.Concern
		if f := j.Worst; f != nil {
			l.reason = f.Short()
			l.key = j.Concern + "|" + f.Question + "|" + f.Bodies[0] + "|" + f.Bodies[1] + "|" + f.Operation
		}
	}
}

// stretches lists the settled pieces upward, those that say the same as one.
func (h *heightSearch) stretches() []HeightStretch {
	list := []HeightStretch{}
	var last *heightPiece
	slices.SortFunc(h.pieces, func(a, b heightPiece) int { return cmp.Compare(a.low, b.low) })
	for i := range h.pieces {
		p := &h.pieces[i]
		if last != nil && last.state == p.state && sameLook(last.look, p.look) {
			list[len(list)-1].To = h.at(p.high)
			last = p
			continue
		}
		st := HeightStretch{From: h.at(p.low), To: h.at(p.high), State: p.state, Verdict: check.Clear}
		if l := p.look; l != nil && p.state != GoodHeights {
			st.Verdict, st.Concern, st.Reason = l.verdict, l.concern, l.reason
			if !math.IsNaN(l.at) {
				at := l.at
				st.At = &at
			}
			if p.state == UnprovenHeights && st.Verdict == check.Clear {
				st.Verdict = check.Unproven
			}
		}
		list = append(list, st)
		last = p
	}
	return list
}

func sameLook(a, b *heightLook) bool {
	if a == nil || b == nil {
		return a == b
	}
	return a.key == b.key && a.concern == b.concern && a.verdict == b.verdict
}
