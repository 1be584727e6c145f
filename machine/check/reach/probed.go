package reach

import (
	"math"

	"gridswing/geom/motion"
	"gridswing/machine/check/offsets"

	"github.com/golang/geo/r3"
)

// skewed reports whether probing found the part of a stop turned.
func (c *checker) skewed(st *stop) bool {
	p := c.setup.Parts[st.op.Part].Probed
	return p != nil && p.Skew != (r3.Vector{})
}

// turn adds to a position, as the program has it, what is keyed in for a part that was
// found turned: there the tool is looked at.
func (c *checker) turn(st *stop, cand *candidate) {
	if cand.fault != "" || cand.doubt != "" || !c.skewed(st) {
		return
	}
	cand.turned, cand.askew = offsets.Turn(c.setup, st.op.Part, cand.rotary)
	for k := range cand.turned {
		cand.rotary[k] += cand.turned[k]
	}
	if cand.beyond = c.beyond(cand.rotary); len(cand.beyond) > 0 {
		t := &cand.beyond[0]
		cand.fault = t.Axis + " would have to stand at " + angle(t.Position) + " with what is keyed in for the part, " + excessAngle(-t.Margin) + " beyond its travel"
	}
}

// programmed is where the rotary axes stand by the program.
func (a *candidate) programmed() motion.Params { return minus(a.rotary, a.turned) }

// widen charges what no rotary axis takes out of the skew of a part. The program goes
// straight from the part's zero while the part is turned about it: a point at a
// distance r from the zero is off by at most r times the angle, whichever way.
func (c *checker) widen(st *stop, cand *candidate) {
	w := cand.way
	if w == nil || cand.askew == 0 {
		return
	}
	off := cand.askew * c.farthest(st)
	var most motion.Params
	for _, d := range []r3.Vector{{X: 1}, {Y: 1}, {Z: 1}} {
		for k, v := range c.solvers[st.op.Part].Sensitivity(cand.rotary, d) {
			most[k] += off * math.Abs(v)
		}
	}
	add := func(to *motion.Params) {
		for k := range to {
			to[k] += most[k]
		}
	}
	for _, legs := range [][]leg{w.whole, w.in, w.cut, w.find} {
		for i := range legs {
			add(&legs[i].within)
		}
	}
	for i := range w.keys {
		add(&w.keys[i].within)
	}
	add(&w.spread)
	cand.travel = c.travels(st, cand)
}

// farthest is how far from the part's zero, in mm, the foremost point gets at a feature.
func (c *checker) farthest(st *stop) (mm float64) {
	f := st.feature
	points := f.Tips
	if a := f.Area; a != nil {
		floor := a.Corner.Sub(f.Axes[0].Mul(a.Depth))
		points = []r3.Vector{floor, floor.Add(a.U), floor.Add(a.V), floor.Add(a.U).Add(a.V)}
	}
	for _, p := range points {
		top := c.stockTop(st.op.Part, f.Axes[0]) + math.Max(st.op.Retract, st.op.Approach)
		lifted := p.Add(f.Axes[0].Mul(top - p.Dot(f.Axes[0])))
		mm = max(mm, p.Norm(), lifted.Norm(), p.Add(f.Search).Norm())
	}
	return mm
}
