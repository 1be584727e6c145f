package posted

import (
	"fmt"
	"math"

	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/proof"
)

// travels looks whether every axis has the travel for a chunk, with the margin that is demanded: of linear
// axes, and not where they stand at home or where tools are changed, for there they are meant to go.
// Positions are those of the program; what is keyed in is taken as it is.
func (c *checker) travels(ch *chunk) (hits []hit) {
	if len(ch.levels) == 0 {
		return nil
	}
	over := &ch.levels[len(ch.levels)-1][0].over
	for k := range c.setup.Axes {
		a := &c.setup.Axes[k]
		enough := c.marginOf(a) + a.Accuracy
		if a.Free || over.Lo[k]-a.Travel[0] >= enough && a.Travel[1]-over.Hi[k] >= enough {
			continue
		}
		for i := range ch.legs {
			for _, p := range [2]*motion.Params{&ch.legs[i].From, &ch.legs[i].To} {
				if h, ok := c.ends(&ch.legs[i], k, p); ok {
					hits = append(hits, h)
				}
			}
		}
	}
	return hits
}

// marginOf is what an axis is to leave of its travel.
func (c *checker) marginOf(a *machine.Axis) float64 {
	if a.Kind != motion.Linear {
		return 0
	}
	return c.setup.Demand.Travel
}

// ends looks at one end of a leg.
func (c *checker) ends(l *leg, k int, p *motion.Params) (h hit, ok bool) {
	a := &c.setup.Axes[k]
	side := 0
	if a.Travel[1]-p[k] < p[k]-a.Travel[0] {
		side = 1
	}
	limit := a.Travel[side]
	nominal := (limit - p[k]) * float64(2*side-1)
	margin, demand := nominal-l.Within[k]-a.Accuracy, c.marginOf(a)
	if c.meant(k, p[k]) {
		margin, demand = nominal, 0
	}
	verdict := check.Clear
	switch {
	case math.IsNaN(margin):
		verdict = check.Unproven
	case nominal < -touching:
		verdict = check.OverTravel
	case margin < -touching:
		verdict = check.WithinPlay
	case margin < demand:
		verdict = check.Tight
	}
	if verdict == check.Clear {
		return h, false
	}
	at, accuracy := *p, l.Within[k]+a.Accuracy
	h = hit{question: check.Travels, a: -1, b: -1, what: a.Letter, verdict: verdict, left: margin - demand, step: l.step}
	h.tell = func() check.Finding {
		where := check.PositionOf(a, at[k])
		unit := "mm"
		f := check.Finding{Params: at, Demand: demand, Smallest: proof.Finite(margin), Nominal: proof.Finite(nominal), Uncertainty: accuracy}
		gap := nominal
		if a.Kind == motion.Rotary {
			unit, gap = "deg", nominal*180/math.Pi
			f.Smallest, f.Nominal, f.Uncertainty = nil, nil, 0
		}
		f.Reason = fmt.Sprintf("%s is at %.3f %s, %.3f %s from the end of its travel", a.Letter, where.Value, unit, max(gap, 0), unit)
		if math.IsNaN(margin) {
			f.Reason, f.Params = fmt.Sprintf("where %s is cannot be told", a.Letter), motion.Params{}
			return f
		}
		if nominal < -touching {
			f.Reason = fmt.Sprintf("%s would have to go to %.3f %s, %.3f %s beyond its travel", a.Letter, where.Value, unit, -gap, unit)
		}
		for k := range c.setup.Axes {
			f.At = append(f.At, check.PositionOf(&c.setup.Axes[k], at[k]))
		}
		return f
	}
	return h, true
}

// touching is how far beyond its travel, in mm or rad, rounding may put an axis that goes to the end of it.
const touching = 1e-9

// meant reports whether an axis is at home, or where tools are changed, as near as the control's decimals tell: 11.811
// inch for 300 mm.
func (c *checker) meant(k int, at float64) bool {
	near := touching
	if c.setup.Axes[k].Kind == motion.Linear {
		near += resolution(c.setup)
	}
	if math.Abs(at-c.setup.Axes[k].Home) <= near {
		return true
	}
	if tc := c.setup.ToolChange; tc != nil {
		for _, p := range tc.At {
			if p.Axis == k && math.Abs(at-p.Value) <= near {
				return true
			}
		}
	}
	return false
}
