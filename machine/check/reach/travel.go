package reach

import (
	"fmt"
	"math"

	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"
)

// travels finds for each linear axis where it comes nearest to one of its limits, at
// approach, at depth and at retract.
// What the location uncertainty can shift the tip by is taken off.
func (c *checker) travels(st *stop, cand *candidate) (list []check.Travel) {
	uses := c.spindles[st.op.Part].Uses()
	loose := make([]float64, len(cand.way.keys))
	for i := range cand.way.keys {
		loose[i] = c.loose(st, &cand.way.keys[i])
	}
	for k := range c.setup.Axes {
		a := &c.setup.Axes[k]
		if a.Kind != motion.Linear || !uses[k] || a.Free {
			continue
		}
		for _, where := range []string{check.AtApproach, check.AtDepth, check.AtRetract} {
			t, ok := c.travelAt(cand, k, where, loose)
			if !ok {
				continue // an axis without ends
			}
			if travelVerdict(&t) != check.Clear && c.tallies == nil {
				t.Cures = c.cures(st, cand, k, &t)
			}
			list = append(list, t)
		}
	}
	return list
}

// travelAt finds where on a part of its way an axis comes nearest to a limit, loose
// being what is to be taken off at each of the way's positions.
func (c *checker) travelAt(cand *candidate, axis int, where string, loose []float64) (t check.Travel, ok bool) {
	a := &c.setup.Axes[axis]
	t = check.Travel{Axis: a.Letter, Where: where, Margin: math.Inf(1), Demand: c.setup.Demand.Travel}
	for i := range cand.way.keys {
		key := &cand.way.keys[i]
		if key.where != where {
			continue
		}
		off := loose[i] + key.within[axis]
		for side, limit := range a.Travel {
			left := (limit-key.at[axis])*float64(2*side-1) - off
			if left < t.Margin-1e-9 {
				t.Position, t.Limit, t.Margin, t.Loose = key.at[axis]+0, limit, left, off // no -0
			}
		}
	}
	return t, !math.IsInf(t.Margin, 1)
}

// loose is how far the location uncertainty can shift the tip at a position, in mm.
func (c *checker) loose(st *stop, key *key) float64 {
	tool := c.setup.Tools[st.op.Tool]
	tip, _ := c.solvers[st.op.Part].Forward(key.at, tool.LPR())
	at := motion.At(key.at)
	return c.spindles[st.op.Part].Over(&at, nil).Plain(tip, 0) + tool.Within
}

// travelVerdict judges what is left of an axis' travel.
func travelVerdict(t *check.Travel) check.Verdict {
	switch {
	case t.Margin+t.Loose < -1e-9:
		return check.OverTravel
	case t.Margin < 0:
		return check.WithinPlay
	case t.Margin < t.Demand:
		return check.Tight
	}
	return check.Clear
}

// travelWords says how an axis stands to its travel.
func travelWords(t *check.Travel) string {
	nominal := t.Margin + t.Loose
	if nominal < 0 {
		return fmt.Sprintf("%s at %s would have to go to %.2f mm, %.2f mm beyond its travel", t.Axis, t.Where, t.Position, -nominal)
	}
	return fmt.Sprintf("%s at %s is at %.2f mm, %.2f mm from the end of its travel", t.Axis, t.Where, t.Position, nominal)
}

// uncommanded says which axis leaves the range that the setup commands: there,
// nothing is known of the swing.
func (c *checker) uncommanded(cand *candidate) string {
	for k := range c.setup.Axes {
		a := &c.setup.Axes[k]
		for i := range cand.way.keys {
			p, off := cand.way.keys[i].at[k], cand.way.keys[i].within[k]
			if !commands(a, p-off, p+off) {
				at, over := check.PositionOf(a, p), check.RangeOf(a, a.Commanded[0], a.Commanded[1])
				return fmt.Sprintf("%s at %.3f %s is outside the range that the setup commands, %g to %g: nothing is proven of the swing there",
					at.Axis, at.Shown(), unitWords(at.Unit), over.From, over.To)
			}
		}
	}
	return c.unswept(cand.way.whole) // an axis without ends may leave it in between
}

func unitWords(unit string) string {
	if unit == "deg" {
		return "deg"
	}
	return unit
}

// unswept says which axis of the workpiece leaves, on some legs, the range that the setup
// commands: what it carries was not looked at there.
func (c *checker) unswept(legs []leg) string {
	for i := range legs {
		low, high := legs[i].span()
		for k := range c.setup.Axes {
			low[k], high[k] = low[k]-min(0, legs[i].past[k]), high[k]-max(0, legs[i].past[k])
			if a := &c.setup.Axes[k]; !a.OnTool && !commands(a, low[k], high[k]) {
				from, over := check.RangeOf(a, low[k], high[k]), check.RangeOf(a, a.Commanded[0], a.Commanded[1])
				return fmt.Sprintf("%s goes %s, the setup commands %g to %g: nothing is proven of the swing there",
					from.Axis, stretchWords(&from), over.From, over.To)
			}
		}
	}
	return ""
}

// stretchWords words a stretch of an axis as a control shows it.
func stretchWords(r *check.Range) string {
	from, to, through, over := r.Shown()
	words := fmt.Sprintf("from %.3f to %.3f %s", from, to, unitWords(r.Unit))
	if over {
		words += fmt.Sprintf(" through %g", through)
	}
	return words
}

// commands reports whether a stretch of an axis is within the range that the setup
// commands, the same place of the turn being the same.
func commands(a *machine.Axis, low, high float64) bool {
	const rounding = 1e-9
	if a.Unlimited {
		if a.Commanded[1]-a.Commanded[0] >= 2*math.Pi*(1-1e-12) {
			return true
		}
		turns := math.Floor((low - a.Commanded[0] + rounding) / (2 * math.Pi))
		low, high = low-2*math.Pi*turns, high-2*math.Pi*turns
	}
	return low >= a.Commanded[0]-rounding && high <= a.Commanded[1]+rounding
}
