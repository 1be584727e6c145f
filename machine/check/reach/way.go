package reach

import (
	"fmt"
	"math"

	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/kinematics"

	"github.com/golang/geo/r3"
)

// leg is a stretch of a way: axis positions from + s[0] ways[0] + ... for s from 0
// to 1, each axis off by no more than within.
type leg struct {
	from, within motion.Params
	ways         []motion.Params
	// level is set where the axes stand as high as the machine has them, not as the
	// feature: there a longer tool hangs lower.
	level bool
	// ends is set where it begins or ends so.
	ends bool
	// tied is set where the last way is that of a spacer's height, as leg.raised has it; turn is
	// how far, in rad, rotary axes turn between the points of a contour that it is part of.
	tied bool
	turn float64
	tie  tie
	// past is how much farther than anything goes each axis is taken to go, at the upper end where it
	// is more than 0, at the lower one where it is less: see journey.widen.
	past motion.Params
}

// line is the straight leg between two positions.
func line(a, b motion.Params) leg {
	return leg{from: a, ways: []motion.Params{minus(b, a)}}
}

// room is the leg over all positions between two, each axis by itself: where a
// rapid may go whose axes do not arrive together.
func room(a, b motion.Params) leg {
	l := leg{from: a}
	for k := range a {
		if a[k] != b[k] {
			var w motion.Params
			w[k] = b[k] - a[k]
			l.ways = append(l.ways, w)
		}
	}
	return l
}

// span returns the least and the greatest that each axis takes on the leg.
func (l *leg) span() (low, high motion.Params) {
	for k := range low {
		low[k], high[k] = l.from[k]-l.within[k], l.from[k]+l.within[k]
		for _, w := range l.ways {
			low[k], high[k] = low[k]+min(0, w[k]), high[k]+max(0, w[k])
		}
	}
	return low, high
}

// hullOf is the leg over all axis positions of some legs, and those in between.
func hullOf(legs []leg) leg {
	low, high := legs[0].span()
	for i := range legs[1:] {
		l, h := legs[1+i].span()
		for k := range low {
			low[k], high[k] = min(low[k], l[k]), max(high[k], h[k])
		}
	}
	return room(low, high)
}

func minus(b, a motion.Params) (d motion.Params) {
	for k := range a {
		d[k] = b[k] - a[k]
	}
	return d
}

// at returns the axis positions of the leg at s.
func (l *leg) at(s motion.Params) motion.Params {
	p := l.from
	for w := range l.ways {
		for k := range p {
			p[k] += s[w] * l.ways[w][k]
		}
	}
	return p
}

// way is what the tool does at a feature.
type way struct {
	// whole covers everything from the first retract position to the last. For
	// the stock that is to be cut it is told apart: in, without cutting, and cut.
	whole, in, cut []leg
	// find is where a probe goes until it should have found the part.
	find []leg
	// aside is where it goes sideways in stock that it is not said to clear in layers.
	aside        []leg
	keys         []key
	enter, leave motion.Params // retract positions, where it begins and ends
	spread       motion.Params // how far from these it may begin and end as well
	deep         motion.Params // where it is looked how near everything is
	// enters and leaves are how enter and leave change with 1 mm of a spacer's height.
	enters, leaves motion.Params
	tilts          bool // the tool's axis changes on the way
}

// key is a position at which travel is looked at.
type key struct {
	where  string
	at     motion.Params
	within motion.Params
	turn   float64 // see leg
}

// lead finds the legs of a candidate and what travel they leave.
func (c *checker) lead(st *stop, cand *candidate, solver *kinematics.Machine) {
	if cand.fault != "" || cand.doubt != "" {
		return
	}
	l := leader{
		c: c, st: st, solver: solver, rotary: cand.rotary,
		length: c.setup.Tools[st.op.Tool].LPR(), way: new(way),
	}
	var err error
	switch f := st.feature; {
	case f.Area != nil:
		err = l.area()
	case st.tilts():
		err = l.contour(cand)
	default:
		err = l.path()
	}
	if err != nil {
		cand.fault = err.Error()
	}
	if cand.fault != "" || cand.doubt != "" {
		return
	}
	if l.spread(cand); cand.doubt != "" {
		return
	}
	cand.way = l.way
	cand.travel = c.travels(st, cand)
}

// leader works out one way.
type leader struct {
	c      *checker
	st     *stop
	solver *kinematics.Machine
	rotary motion.Params
	length float64
	way    *way
	err    error
}

// stand returns the axis positions that put the foremost point at tip.
func (l *leader) stand(tip r3.Vector) motion.Params {
	p, err := l.solver.Linear(l.rotary, tip, l.length)
	if err != nil && l.err == nil {
		l.err = err
	}
	return p
}

// above returns a tip lifted along the axis to a height over the stock.
func (l *leader) above(tip, axis r3.Vector, height float64) r3.Vector {
	return tip.Add(axis.Mul(l.c.stockTop(l.st.op.Part, axis) + height - tip.Dot(axis)))
}

func (l *leader) key(where string, at motion.Params) {
	l.way.keys = append(l.way.keys, key{where: where, at: at})
}

// path leads down over the first tip, along all tips, and out over the last.
func (l *leader) path() error {
	f, w := l.st.feature, l.way
	axis := f.Axes[0]
	first, last := f.Tips[0], f.Tips[len(f.Tips)-1]
	w.enter = l.stand(l.above(first, axis, l.st.op.Retract))
	approach := l.stand(l.above(first, axis, l.st.op.Approach))
	deep := l.stand(first)
	w.deep = deep
	w.in = append(w.in, line(w.enter, approach))
	w.cut = append(w.cut, line(approach, deep))
	l.key(check.AtRetract, w.enter)
	l.key(check.AtApproach, approach)
	l.key(check.AtDepth, deep)
	at := deep
	for _, tip := range f.Tips[1:] {
		next := l.stand(tip)
		w.cut = append(w.cut, line(at, next))
		l.key(check.AtDepth, next)
		at = next
	}
	w.leave = w.enter
	w.whole = append([]leg{line(w.enter, deep)}, w.cut[1:]...)
	if !f.InLayers {
		w.aside = w.cut[1:]
	}
	if f.Search != (r3.Vector{}) {
		// Until the search begins the probe may not meet the part either.
		w.in = append(w.in, w.cut...)
		end := l.stand(last.Add(f.Search))
		w.cut = []leg{line(at, end)}
		w.find = []leg{line(at, l.stand(last.Add(f.Search.Normalize().Mul(f.Find))))}
		w.whole = append(w.whole, w.cut...)
		l.key(check.AtDepth, end)
	} else if len(f.Tips) > 1 {
		w.leave = l.stand(l.above(last, axis, l.st.op.Retract))
		out := l.stand(l.above(last, axis, l.st.op.Approach))
		w.in = append(w.in, line(out, w.leave))
		w.cut = append(w.cut, line(at, out))
		w.whole = append(w.whole, line(at, w.leave))
		l.key(check.AtRetract, w.leave)
	}
	return l.err
}

// area leads over everything that the tip may do within an area, from the retract
// height down. Positions are affine in the tip, so its corners bound the travel.
func (l *leader) area() error {
	f, w := l.st.feature, l.way
	a, axis := f.Area, f.Axes[0]
	corner := l.stand(a.Corner)
	u, v := minus(l.stand(a.Corner.Add(a.U)), corner), minus(l.stand(a.Corner.Add(a.V)), corner)
	over := func(from, to r3.Vector) leg {
		p := l.stand(from)
		g := leg{from: p, ways: []motion.Params{minus(l.stand(to), p)}}
		for _, side := range []motion.Params{u, v} {
			if side != (motion.Params{}) {
				g.ways = append(g.ways, side)
			}
		}
		return g
	}
	floor := a.Corner.Sub(axis.Mul(a.Depth))
	approach := l.above(a.Corner, axis, l.st.op.Approach)
	retract := l.above(a.Corner, axis, l.st.op.Retract)
	w.whole = []leg{over(floor, retract)}
	w.in = []leg{over(approach, retract)}
	w.cut = []leg{over(floor, approach)}
	for _, g := range []struct {
		where string
		tip   r3.Vector
	}{{check.AtRetract, retract}, {check.AtApproach, approach}, {check.AtDepth, floor}} {
		for _, to := range []r3.Vector{{}, a.U, a.V, a.U.Add(a.V)} {
			l.key(g.where, l.stand(g.tip.Add(to)))
		}
	}
	middle := a.U.Add(a.V).Mul(0.5)
	w.deep = l.stand(floor.Add(middle))
	w.enter = l.stand(retract.Add(middle))
	w.leave = w.enter
	for k := range w.spread {
		w.spread[k] = (math.Abs(u[k]) + math.Abs(v[k])) / 2
	}
	return l.err
}

// contour leads along tips with an axis for each.
func (l *leader) contour(cand *candidate) error {
	f, w := l.st.feature, l.way
	w.tilts = true
	p, err := l.follow(cand.side)
	if err != nil {
		return err
	}
	cand.rotary = p.Positions[0]
	if cand.fault, cand.doubt = l.wrong(p); cand.fault != "" || cand.doubt != "" {
		return nil
	}
	n := len(f.Tips)
	if stated := l.strays(p); stated != nil && cand.side == 0 {
		at, axis := cand.rotary[stated.Axis], &l.c.setup.Axes[stated.Axis]
		begins, states := check.PositionOf(axis, at), check.PositionOf(axis, stated.Value)
		cand.doubt = fmt.Sprintf("the position that the operation states does not present it: the contour begins with %s at %s, %s is stated",
			axis.Letter, angle(begins.Shown()), angle(states.Shown()))
		return nil
	}
	deep, last := p.Positions[0], p.Positions[n-1]
	l.rotary = deep
	w.deep = deep
	w.enter = l.stand(l.above(f.Tips[0], f.Axes[0], l.st.op.Retract))
	approach := l.stand(l.above(f.Tips[0], f.Axes[0], l.st.op.Approach))
	l.rotary = last
	w.leave = l.stand(l.above(f.Tips[n-1], f.Axes[n-1], l.st.op.Retract))
	out := l.stand(l.above(f.Tips[n-1], f.Axes[n-1], l.st.op.Approach))
	w.in = []leg{line(w.enter, approach), line(out, w.leave)}
	w.cut = []leg{line(approach, deep)}
	l.key(check.AtRetract, w.enter)
	l.key(check.AtApproach, approach)
	l.key(check.AtDepth, deep)
	for _, piece := range p.Legs {
		g := line(piece.From, piece.To)
		g.within, g.turn = piece.Within, l.c.turnOf(p, &piece)
		w.cut = append(w.cut, g)
		w.keys = append(w.keys,
			key{where: check.AtDepth, at: piece.From, within: g.within, turn: g.turn},
			key{where: check.AtDepth, at: piece.To, within: g.within, turn: g.turn})
	}
	w.cut = append(w.cut, line(last, out))
	w.whole = append(append([]leg{w.in[0]}, w.cut...), w.in[1])
	l.key(check.AtRetract, w.leave)
	return l.err
}

// follow finds the positions along a contour, from the side on which it is to begin: of a
// position that the operation states that on which this is.
func (l *leader) follow(side int) (*kinematics.Path, error) {
	f := l.st.feature
	sides := []int{side}
	if side == 0 && len(l.st.op.Positions) > 0 {
		sides = []int{0, 1, -1}
	}
	var first *kinematics.Path
	for _, side := range sides {
		p, err := l.solver.ContourFrom(side, f.Tips, f.Axes, f.TipControl, l.length, l.rotary)
		if err != nil {
			return nil, err
		}
		if l.strays(p) == nil {
			return p, nil
		}
		if first == nil {
			first = p
		}
	}
	return first, nil
}

// strays returns a position that the operation states and at which a contour does not
// begin, nil if there is none.
func (l *leader) strays(p *kinematics.Path) *machine.AxisPosition {
	for i := range l.st.op.Positions {
		stated := &l.st.op.Positions[i]
		if math.Abs(math.Remainder(p.Positions[0][stated.Axis]-stated.Value, 2*math.Pi)) > missed && l.solver.Moves(stated.Axis) {
			return stated
		}
	}
	return nil
}

// wrong says why a contour cannot be followed, or why nothing can be proven of it.
func (l *leader) wrong(p *kinematics.Path) (fault, doubt string) {
	for i, miss := range p.Miss {
		if miss > missed {
			return fmt.Sprintf("no rotary position presents point %d: the nearest one misses by %.3f deg", i+1, degrees(miss)), ""
		}
	}
	if !p.Within {
		return "the rotary axes have not the travel to follow it without turning the tool away in between", ""
	}
	if len(p.Jumps) > 0 {
		return "", fmt.Sprintf("between points %d and %d the tool turns away farther than the two directions are apart", p.Jumps[0]+1, p.Jumps[0]+2)
	}
	for _, leg := range p.Legs {
		for _, mm := range leg.Within {
			if math.IsInf(mm, 0) || math.IsNaN(mm) {
				return "", fmt.Sprintf("between points %d and %d no bound is known of how far the axes leave their line", leg.Interval+1, leg.Interval+2)
			}
		}
	}
	return "", ""
}
