package reach

import (
	"math"
	"slices"

	"gridswing/geom/motion"
	"gridswing/machine/check"
	"gridswing/machine/kinematics"

	"github.com/golang/geo/r3"
)

// A setup with a spacer stands for one at every height. With all heights told from the middle
// one, and e between -half and half, the tool that keeps its place at a part which the
// spacer carries stands, at fixed rotary positions, at
//
//	p(e) = p(0) + e D,    D the sensitivity of the linear axes to a shift along the spacer's
//	                      normal, and 1 for the height itself,
//
// exactly: the linear axes are affine in where the part is, and a part that is shifted keeps
// its orientation. So a leg gets one more way, from -half D by 2 half D, and travel, which is
// affine less a looseness that is convex (sums of distances from lines that move evenly), is
// least at an end.
//
// Where the tool's axis tilts on a leg, D changes with it. Seen from the part the normal n
// stands still, and three slides with nothing that turns between them are turned as one, by Q:
//
//	D = C^-1 Q^T n,    |D_k(p) - D_k(q)| <= |row k of C^-1| |Q_p^T n - Q_q^T n| <= row_k turn,
//
// turn being the sum of what the rotary axes turn between p and q. So D is taken in the middle of
// the leg, and half row_k min(2, turn) is added to how far the axes may be off, turn over the
// whole interval between two points of the contour: where axes go evenly from point to point,
// so does D, between its values there.

// half is how far a spacer's height goes either way, in mm; 0 without one.
func (c *checker) half() float64 {
	if c.setup.Spacer == nil {
		return 0
	}
	return c.setup.Spacer.Half()
}

// rise returns how much each axis changes with 1 mm of height, the axes standing at p.
func (l *leader) rise(p motion.Params) (d motion.Params) {
	axis, chain := l.c.setup.Spacer.Axis, &l.c.setup.Parts[l.st.op.Part].Chain
	if chain.Uses()[axis] {
		up, level := p, p
		up[axis], level[axis] = 1, 0
		d = l.solver.Sensitivity(p, chain.Pose(up).T.Sub(chain.Pose(level).T))
	}
	d[axis] = 1
	return d
}

// rows returns how much each linear axis changes at most with a shift of the part of 1 mm,
// whichever way.
func (l *leader) rows(p motion.Params) (most motion.Params) {
	for _, d := range []r3.Vector{{X: 1}, {Y: 1}, {Z: 1}} {
		for k, v := range l.solver.Sensitivity(p, d) {
			most[k] = math.Hypot(most[k], v)
		}
	}
	return most
}

// spread makes the way one over all heights of a spacer.
func (l *leader) spread(cand *candidate) {
	half, w := l.c.half(), l.way
	if half == 0 || l.c.setup.Spacer == nil {
		return
	}
	if w.tilts && !l.slidesTogether() {
		cand.doubt = "how the axes follow the height is not known while the tool tilts: something turns between the linear axes"
		return
	}
	for _, legs := range []*[]leg{&w.whole, &w.in, &w.cut, &w.find, &w.aside} {
		*legs = l.spreadLegs(*legs, half)
	}
	var keys []key
	for _, k := range w.keys {
		d := l.rise(k.at)
		off := l.off(k.at, half, k.turn)
		for _, e := range []float64{-half, half} {
			keys = append(keys, key{where: k.where, at: along(k.at, d, e), within: along(k.within, off, 1)})
		}
	}
	w.keys = keys
	w.enters, w.leaves = l.rise(w.enter), l.rise(w.leave)
}

func (l *leader) spreadLegs(legs []leg, half float64) []leg {
	spread := make([]leg, len(legs))
	for i, g := range legs {
		middle := g.at(motion.Params{0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5})
		g.within = along(g.within, l.off(middle, half, g.turn), 1)
		spread[i] = g.raised(l.rise(middle), half)
	}
	return spread
}

// off is how far axes may be off since what they change with the height changes on a tilting leg.
func (l *leader) off(p motion.Params, half, turn float64) (off motion.Params) {
	if turn == 0 || !l.c.setup.Parts[l.st.op.Part].Chain.Uses()[l.c.setup.Spacer.Axis] {
		return off
	}
	return along(off, l.rows(p), half*min(2, turn))
}

// slidesTogether reports whether nothing turns between the linear axes.
func (l *leader) slidesTogether() bool {
	s := l.c.setup
	seen := motion.Between(s.Parts[l.st.op.Part].Chain, s.Spindle.Chain)
	first, last := len(seen.Joints), -1
	for i, j := range seen.Joints {
		for k := range s.Axes {
			if j.Gain[k] != 0 && s.Axes[k].Kind == motion.Linear && !s.Axes[k].Free {
				first, last = min(first, i), i
			}
		}
	}
	return !slices.ContainsFunc(seen.Joints[min(first, last+1):last+1], func(j motion.Joint) bool {
		return j.Kind == motion.Rotary && j.Gain != motion.Params{}
	})
}

// turnOf is how far, in rad, the rotary axes turn between two points of a contour, all in all.
func (c *checker) turnOf(p *kinematics.Path, piece *kinematics.Leg) (sum float64) {
	a, b := p.Positions[piece.Interval], p.Positions[piece.Interval+1]
	for k := range c.setup.Axes {
		if c.setup.Axes[k].Kind == motion.Rotary {
			sum += max(math.Abs(b[k]-a[k]), math.Abs(piece.To[k]-piece.From[k])) + 2*piece.Within[k]
		}
	}
	return sum
}

// raised returns the leg over all heights, each axis changing by d with 1 mm of them.
func (g leg) raised(d motion.Params, half float64) leg {
	g.from = along(g.from, d, -half)
	g.ways = append(slices.Clip(g.ways), along(motion.Params{}, d, 2*half))
	g.tied = true
	return g
}

// carried returns a chain led along the leg. What several linear axes and the height do
// together, where one follows the other, is charged together.
func (g *leg) carried(c motion.Chain) motion.Chain {
	led := c.Along(g.from, g.within, g.ways...)
	if g.tied {
		return led.Coupled(len(g.ways) - 1)
	}
	return led
}

// along returns p + t d.
func along(p, d motion.Params, t float64) motion.Params {
	for k := range p {
		p[k] += t * d[k]
	}
	return p
}

// Why nothing is said of all heights at once.
const (
	otherPosition = "which rotary position is chosen depends on the height"
	otherWay      = "which way the tool goes depends on the height"
)

// alwaysFirst looks whether the candidate that is first over all heights, judged by the worst
// of them, is so at each, and whether so is the first that can do. At a height a candidate
// promises no less than over all, and no more than its best.
func (c *checker) alwaysFirst(st *stop, turning func(*candidate) float64) {
	if c.half() == 0 {
		return
	}
	can := slices.DeleteFunc(slices.Clone(st.candidates), c.ruledOut)
	for _, list := range [][]*candidate{st.candidates, can} {
		for i := 1; i < len(list); i++ {
			first, other := list[0], list[i]
			best, nearer := c.bestPromise(st, other), turning(first)-turning(other)
			switch {
			case first.promise() < best:
			case first.promise() == best && (nearer < 0 || nearer == 0 && other.promise() == best):
			default:
				st.unsure = otherPosition
			}
		}
	}
}

// ruledOut reports whether a candidate of a feature along which nothing tilts is unproven, or worse,
// whatever the height: a rotary axis stands beyond what the setup commands, see uncommanded.
func (c *checker) ruledOut(cand *candidate) bool {
	for k := range c.setup.Axes {
		if a := &c.setup.Axes[k]; a.Kind == motion.Rotary && !commands(a, cand.rotary[k], cand.rotary[k]) {
			return true
		}
	}
	return false
}

// bestPromise is no worse than what a candidate promises at any height. It is beyond travel
// only if some position on its way is so at both ends, and thus at all heights between them, by
// more than the position with the least margin can be better for being looser: looseness is
// largest at an end as well.
func (c *checker) bestPromise(st *stop, cand *candidate) int {
	if cand.way == nil {
		return impossible
	}
	loosest, keys := 0.0, cand.way.keys
	for i := range keys {
		loosest = max(loosest, c.loose(st, &keys[i])+slices.Max(keys[i].within[:]))
	}
	for k := range c.setup.Axes {
		a := &c.setup.Axes[k]
		if a.Kind != motion.Linear || a.Free {
			continue
		}
		for i := 0; i+1 < len(keys); i += 2 {
			low, high := keys[i].at[k], keys[i+1].at[k]
			if beyond := max(min(low, high)-a.Travel[1], a.Travel[0]-max(low, high)); beyond > loosest+1e-6 {
				return beyondTravel
			}
		}
	}
	return promising
}

// overHeights makes unproven what was found of a stop if at some height something else may
// be chosen there.
func (c *checker) overHeights(st *stop) {
	if c.half() == 0 {
		return
	}
	why := st.unsure
	for _, before := range st.candidates {
		if before == st.chosen {
			break
		}
		if st.tilts() || !c.ruledOut(before) {
			why = otherPosition
		}
	}
	if why != "" && check.Unproven.Worse(st.chosen.verdict) {
		st.chosen.verdict, st.chosen.why = check.Unproven, why
	}
}
