package choose

import (
	"context"
	"math"

	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/proof"
)

// heightSearch finds the stretches. Heights are those of a ladder with a rung every
// resolution, and at To.
type heightSearch struct {
	d        *machine.Draft
	place    string
	from, to float64
	options  Options
	trees    *proof.Trees
	rungs    int // the last one

	single map[int]*heightLook // by rung
	pieces []heightPiece       // settled
	asked  int                 // stretches that were looked at as a whole
}

// heightPiece is from one rung to another.
type heightPiece struct {
	low, high int
	state     string
	look      *heightLook // what is known where it is not good
}

func newHeightSearch(d *machine.Draft, place string, from, to float64, o Options) *heightSearch {
	h := &heightSearch{d: d, place: place, from: from, to: to, options: o, single: map[int]*heightLook{}}
	if o.Trees == nil {
		o.Trees = proof.NewTrees()
		o.Trees.Ledger = proof.NewLedger()
	}
	h.options.Options = o.Ready(0)
	h.trees = h.options.Trees
	h.rungs = int(math.Ceil((to-from)/heightStep - 1e-9))
	return h
}

// at is the height of a rung.
func (h *heightSearch) at(rung int) float64 {
	switch {
	case rung == 0:
		return h.from
	case rung >= h.rungs:
		return h.to
	}
	// Printed as it is meant: 62.3, not 62.300000000000004.
	return math.Min(math.Round((h.from+float64(rung)*heightStep)*1e6)/1e6, h.to)
}

// run settles all pieces, in rounds: what a round asks does not depend on the order in which
// its answers come.
func (h *heightSearch) run(ctx context.Context) error {
	open := []heightPiece{{low: 0, high: h.rungs}}
	for len(open) > 0 {
		if err := h.lookAtEnds(ctx, open); err != nil {
			h.leave(open)
			return err
		}
		proven := make([]bool, len(open))
		whys := make([]*heightLook, len(open))
		err := proof.InParallel(ctx, h.options.Jobs, len(open), func(i int) (err error) {
			if p := &open[i]; h.bothGood(p) && p.low < p.high {
				whys[i], err = h.lookAtAll(ctx, p)
				proven[i] = err == nil && whys[i].verdict == check.Clear
			}
			return err
		})
		if err != nil {
			h.leave(open)
			return err
		}
		var next []heightPiece
		for i := range open {
			if whys[i] != nil {
				h.asked++
			}
			next = append(next, h.settle(open[i], proven[i], whys[i])...)
		}
		open = next
		left := 0
		for i := range open {
			left += open[i].high - open[i].low
		}
		h.options.Tell("heights", h.rungs-left, h.rungs)
	}
	return nil
}

// lookAtEnds looks at the ends of pieces, each once, and at the middle of those whose ends fail.
func (h *heightSearch) lookAtEnds(ctx context.Context, open []heightPiece) error {
	ends := func(p *heightPiece) []int { return []int{p.low, p.high} }
	if err := h.lookAt(ctx, open, ends); err != nil {
		return err
	}
	return h.lookAt(ctx, open, func(p *heightPiece) []int {
		if h.bothFail(p) {
			return []int{(p.low + p.high) / 2}
		}
		return nil
	})
}

func (h *heightSearch) lookAt(ctx context.Context, open []heightPiece, which func(*heightPiece) []int) error {
	var missing []int
	wanted := map[int]bool{}
	for i := range open {
		for _, rung := range which(&open[i]) {
			if h.single[rung] == nil && !wanted[rung] {
				wanted[rung] = true
				missing = append(missing, rung)
			}
		}
	}
	found := make([]*heightLook, len(missing))
	err := proof.InParallel(ctx, h.options.Jobs, len(missing), func(i int) (err error) {
		found[i], err = h.lookAtOne(ctx, missing[i])
		return err
	})
	for i, rung := range missing {
		if found[i] != nil && err == nil {
			h.single[rung] = found[i]
		}
	}
	return err
}

func (h *heightSearch) good(rung int) bool { return h.single[rung].verdict == check.Clear }

func (h *heightSearch) bothGood(p *heightPiece) bool { return h.good(p.low) && h.good(p.high) }

func (h *heightSearch) bothFail(p *heightPiece) bool { return !h.good(p.low) && !h.good(p.high) }

// settle keeps a piece of which enough is known, and returns the halves of any other.
func (h *heightSearch) settle(p heightPiece, proven bool, why *heightLook) []heightPiece {
	middle := (p.low + p.high) / 2
	switch width := h.at(p.high) - h.at(p.low); {
	case proven || p.low == p.high && h.good(p.low):
		p.state = GoodHeights
	case h.bothFail(&p) && !h.good(middle) && width <= 2*failingStep:
		p.state, p.look = FailingHeights, h.single[middle]
	case p.high-p.low > 1:
		return []heightPiece{{low: p.low, high: middle}, {low: middle, high: p.high}}
	default:
		p.state, p.look = UnprovenHeights, why
		if !h.good(p.low) {
			p.look = h.single[p.low]
		} else if !h.good(p.high) {
			p.look = h.single[p.high]
		}
	}
	h.pieces = append(h.pieces, p)
	return nil
}

// leave keeps what nothing is known of.
func (h *heightSearch) leave(open []heightPiece) {
	for _, p := range open {
		p.state = UnprovenHeights
		p.look = &heightLook{verdict: check.Unproven, reason: "not looked at", at: math.NaN()}
		h.pieces = append(h.pieces, p)
	}
}
