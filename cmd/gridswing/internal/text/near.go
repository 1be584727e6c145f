package text

import (
	"fmt"
	"math"

	"gridswing/machine/check"
)

// closest writes the clear pairs that come nearest, or that none comes near.
func (p *page) closest(r *check.Report) {
	if len(r.Closest) == 0 {
		if words := NothingNear(r); words != "" {
			p.heading("Closest of what is clear")
			p.wrapped("", 3, words)
		}
		return
	}
	p.heading("Closest of what is clear")
	for i := range r.Closest {
		p.near(&r.Closest[i])
	}
}

// near writes one clear pair in a line or two: what is proven first, and what was
// found where that is more.
func (p *page) near(f *check.Finding) {
	proven, found := "?", ""
	if f.Proven != nil {
		proven = Down(*f.Proven)
	}
	at := Positions(f.At)
	if f.Smallest != nil && Down(*f.Smallest) != proven {
		found = Down(*f.Smallest) + " found"
		if at != "" {
			found += " at " + at
		}
		found += "; "
	} else if at != "" {
		found = "at " + at + "; "
	}
	demand := "demanded " + Demanded(f.Demand) + " mm"
	if f.DemandReason != "" {
		demand += ": " + f.DemandReason
	}
	p.wrapped(fmt.Sprintf("   - at least %s mm", proven), 23, fmt.Sprintf("%s and %s (%s%s)", f.Bodies[0], f.Bodies[1], found, demand))
}

// NothingNear says how far apart what is clear is proven to stay, where no
// pair was found near; "" if nothing is clear. What belongs together and touches
// does not count.
func NothingNear(r *check.Report) string {
	swings, others := math.Inf(1), math.Inf(1)
	for i := range r.Pairs {
		q := &r.Pairs[i]
		switch {
		case q.Verdict != check.Clear || q.Proven == nil:
		case q.Question == check.Swing:
			swings = min(swings, *q.Proven)
		default:
			others = min(others, *q.Proven)
		}
	}
	// The chart proves more of what the rotary axes move, but only if all of
	// them are on it.
	if limit, all := charted(r); all && !math.IsInf(swings, 1) && limit > swings {
		swings = limit
	}
	least := func(mm float64) string { return short(floor(mm), 2) }
	switch all := min(swings, others); {
	case math.IsInf(all, 1):
		return ""
	case math.IsInf(swings, 1) || least(swings) == least(all):
		return "Nothing clear comes nearer than " + least(all) + " mm, seats and grips aside."
	default:
		return "Nothing clear that only rotary axes move comes nearer than " + least(swings) +
			" mm; of all else that is clear, seats and grips aside, at least " + least(all) + " mm is proven."
	}
}

// charted returns the least clearance that the chart proves, at most its cap; all
// is false if some rotary axis that moves is not on it.
func charted(r *check.Report) (mm float64, all bool) {
	c := r.Chart
	if c == nil {
		return 0, false
	}
	for i := range r.Axes {
		a := &r.Axes[i].Commanded
		onChart := a.Axis == c.Tilt.Axis || c.Rotary != nil && a.Axis == c.Rotary.Axis
		if a.Unit == "deg" && a.From < a.To && !onChart {
			return 0, false
		}
	}
	mm = c.Cap
	for i := range c.Cells {
		switch cell := &c.Cells[i]; {
		case cell.Proven != nil:
			mm = min(mm, *cell.Proven)
		case cell.Verdict != check.Clear:
			return 0, true
		}
	}
	return mm, true
}
