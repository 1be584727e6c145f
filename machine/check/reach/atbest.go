package reach

import (
	"context"

	"gridswing/machine"
	"gridswing/machine/check"
)

// Travel adds to a report, as findings and a margin of check.TravelConcern, what travel the
// axes have left at best. Nothing is asked of any solid, so it costs little. Check may
// have to choose a position at which they have less, and then has a worse verdict or a smaller
// share than this; it never has better ones, unless something is met at the feature as well.
// The only error is the context's.
func Travel(ctx context.Context, s *machine.Setup, r *check.Report, o Options) error {
	if len(s.Operations) == 0 && len(s.Faulty) == 0 {
		return ctx.Err()
	}
	r.Findings = append(r.Findings, faulty(s)...)
	if s.Spindle == nil {
		r.Conclude()
		return ctx.Err()
	}
	o.Brief = true
	o = o.Ready(DefaultTests)
	c := &checker{setup: s, options: o, trees: o.Trees, tallies: tallies{}, windowOf: make([]*window, len(s.Operations))}
	c.solve()
	c.present()
	for _, st := range c.stops {
		if m, ok := c.roomiest(st); ok {
			r.Tighten(m)
		}
	}
	for i := range s.Operations {
		r.Findings = append(r.Findings, c.findingsOf(i)...)
	}
	c.faultyMargins(r)
	c.offsets(r)
	r.Conclude()
	return ctx.Err()
}

// roomiest chooses of a stop's candidates one with the best verdict as far as travel tells,
// and returns the largest margin that any of them has.
func (c *checker) roomiest(st *stop) (most check.Margin, ok bool) {
	for _, cand := range st.candidates {
		switch {
		case cand.fault != "":
			cand.verdict, cand.why = check.OverTravel, cand.fault
		case cand.doubt != "":
			cand.verdict, cand.why = check.Unproven, cand.doubt
		default:
			c.conclude(cand)
		}
		if st.chosen == nil || cand.better(st.chosen) {
			st.chosen = cand
		}
	}
	for _, cand := range st.candidates {
		if (cand.way == nil) != (st.chosen.way == nil) {
			continue // where the tool can be sent at all, it is
		}
		if m, has := c.travelMargin(st, cand); !has {
			return m, false // an axis without ends bounds nothing
		} else if !ok || m.Share > most.Share {
			most, ok = m, true
		}
	}
	return most, ok
}
