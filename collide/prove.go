package collide

import (
	"context"
	"math"

	"gridswing/geom"
	"gridswing/geom/motion"

	"github.com/golang/geo/r3"
)

// prover asks one question of one box of parameters after another: do the
// bodies stay at least the cut-off apart, at the worst location within the
// slack of the motion? It remembers the nearest position met on the way.
type prover struct {
	ctx      context.Context
	a, b     *Tree
	chain    *motion.Chain
	hasSlack bool
	slides   [motion.MaxParams]bool // parameters that move a linear joint

	limits   Limits
	rounding float64 // what float64 arithmetic can add to a gap
	margin   float64 // taken off every clearance

	// How far a reaches along the free directions asked of last.
	supports    [4]support
	nextSupport int

	walker
	excursion, play motion.Excursion
	best            Outcome // Upper, Nominal, At, points; +Inf before anything is met
	tests           int64   // pairs of boxes or facets looked at
	slid            int64   // positions looked at because bodies, slid, are near there
	boxesDone       int64
	unresolved      bool // a box was met that can be divided no further
}

// failure is a pair of parts that cannot be shown clear over a box.
type failure struct {
	a, b int32 // nodes, or facets in tree order
	leaf bool  // a and b are facets
	// Where the motion came in: the direction between nearest points, and the
	// ball that was carried.
	u, center r3.Vector
	radius    float64
	// value is the gap less what the motion can take from it.
	value float64
}

// cut is the clearance that is enough now: what was asked for, or just below the
// nearest position seen.
func (p *prover) cut() float64 {
	return min(p.limits.Enough, p.best.Upper-p.limits.tolerance(p.best.Upper))
}

// done reports whether the search need not go on: the location uncertainty, or
// nothing at all, lies between the bodies somewhere; or less than is enough, where that is all that
// is asked.
func (p *prover) done() bool {
	return p.best.Upper <= 0 || p.limits.YesOrNo && p.best.Upper < p.limits.Enough
}

// prove reports whether the bodies stay at least cut apart over the box; if it
// cannot tell, fail names the parts it stumbled over.
func (p *prover) prove(bx *motion.Box) (ok bool, fail failure) {
	e := p.over(bx)
	center := bx.Center()
	p.stack = append(p.stack[:0], nodePair{0, 0, math.Inf(-1)})
	for steps := 1; len(p.stack) > 0; steps++ {
		if steps%1024 == 0 && p.ctx.Err() != nil {
			return false, fail
		}
		top := p.stack[len(p.stack)-1]
		p.stack = p.stack[:len(p.stack)-1]
		na, nb := &p.a.nodes[top.a], &p.b.nodes[top.b]
		if na.leaf() && nb.leaf() {
			ok, fail = p.leaves(e, &center, na, nb)
		} else {
			ok, fail = p.open(e, top)
		}
		if !ok {
			return false, fail
		}
	}
	return true, fail
}

// over returns the excursion of the chain over the box.
func (p *prover) over(bx *motion.Box) *motion.Excursion {
	e := p.chain.Over(bx, &p.excursion)
	var root box
	p.b.nodes[0].loadPosed(&e.Pose, &root)
	e.Hold(root.center, root.radius)
	return e
}

// again looks once more at the parts that failed over a larger box: they
// mostly fail again, and then at once.
func (p *prover) again(e *motion.Excursion, center *motion.Params, hint *failure) (bool, failure) {
	if hint.leaf {
		return p.facets(e, center, hint.a, hint.b)
	}
	var ba, bb box
	p.a.nodes[hint.a].load(&ba)
	p.b.nodes[hint.b].loadPosed(&e.Pose, &bb)
	return p.boxes(e, hint.a, hint.b, &ba, &bb)
}

// boxes looks at a pair of nodes: ok if it is clear over the box, or may still
// turn out to be when opened.
func (p *prover) boxes(e *motion.Excursion, ia, ib int32, ba, bb *box) (ok bool, fail failure) {
	p.tests++
	gap, u, bound := p.boxGap(e, ba, bb)
	if gap-bound-p.off() >= p.cut() {
		return true, fail
	}
	_, hopeless, fail := p.hopeless(e, ba, bb, [2]int32{ia, ib}, gap, bound, u)
	return !hopeless, fail
}

// boxGap returns the gap of two boxes at the centre pose along the direction u
// between their nearest points, and how much of it the motion can take.
func (p *prover) boxGap(e *motion.Excursion, ba, bb *box) (gap float64, u r3.Vector, bound float64) {
	d := bb.center.Sub(ba.center)
	dist := math.Sqrt(d.Dot(d))
	cut := p.cut() + p.off()
	if dist > 0 {
		u = d.Mul(1 / dist)
		gap = dist - ba.radius - bb.radius
		if gap > cut {
			if bound = e.TowardUpTo(gap-cut, u, bb.center, bb.radius); gap-bound >= cut {
				return gap, u, bound
			}
		}
	}
	if g, w := separation(ba, bb, cut); g > gap {
		gap, u = g, w
	} else if dist == 0 {
		return gap, u, e.Plain(bb.center, bb.radius)
	}
	return gap, u, e.TowardUpTo(gap-cut, u, bb.center, bb.radius)
}

// hopeless reports whether a pair of boxes that is not clear cannot become so
// by being opened: the motion takes more than the size of its parts. Before it says
// so it tries other directions; clear says that one of them showed the pair clear.
func (p *prover) hopeless(e *motion.Excursion, ba, bb *box, ids [2]int32, gap, bound float64, u r3.Vector) (clear, hopeless bool, fail failure) {
	if ba.radius+bb.radius >= bound {
		return false, false, fail
	}
	cut := p.cut() + p.off()
	d := bb.center.Sub(ba.center)
	value, w := gap-bound, u
	for try := 0; try < asides && gap > cut; try++ {
		var ok bool
		if w, ok = another(e, u, w, bb.center, try); !ok {
			continue
		}
		g, _ := along(ba, bb, d, w)
		if value = max(value, g-e.TowardUpTo(g-cut, w, bb.center, bb.radius)); value >= cut {
			return true, false, fail
		}
	}
	return false, true, failure{a: ids[0], b: ids[1], u: u, center: bb.center, radius: bb.radius, value: value - p.off()}
}

// asides is how many other directions are tried where the motion, not the
// distance, is what keeps two parts from being clear.
const asides = 4

// another proposes a direction along which the motion may take less than along
// u: first square to two slides, then u turned away from one joint after another.
func another(e *motion.Excursion, u, last, center r3.Vector, try int) (w r3.Vector, ok bool) {
	switch try {
	case 0:
		return e.Free(u)
	case 1:
		return e.Aside(u, center)
	}
	return e.Aside(last, center)
}

// open pushes those children of a pair that are not clear over the box,
// nearest on top; it fails at the first that is beyond hope.
func (p *prover) open(e *motion.Excursion, top nodePair) (ok bool, fail failure) {
	var boxA, boxB [2]box
	var idA, idB [2]int32
	na, nb := children(p.a, p.b, top, &idA, &idB)
	for i := range na {
		p.a.nodes[idA[i]].load(&boxA[i])
	}
	for j := range nb {
		p.b.nodes[idB[j]].loadPosed(&e.Pose, &boxB[j])
	}
	base, cut := len(p.stack), p.cut()
	for i := range na {
		for j := range nb {
			p.tests++
			gap, u, bound := p.boxGap(e, &boxA[i], &boxB[j])
			value := gap - bound - p.off()
			if value >= cut {
				continue
			}
			clear, hopeless, fail := p.hopeless(e, &boxA[i], &boxB[j], [2]int32{idA[i], idB[j]}, gap, bound, u)
			if hopeless {
				return false, fail
			}
			if !clear {
				p.push(base, nodePair{idA[i], idB[j], value})
			}
		}
	}
	return true, fail
}

func (p *prover) leaves(e *motion.Excursion, center *motion.Params, na, nb *node) (ok bool, fail failure) {
	for i := na.next; i < na.next+na.count; i++ {
		for j := nb.next; j < nb.next+nb.count; j++ {
			if ok, fail = p.facets(e, center, i, j); !ok {
				return false, fail
			}
		}
	}
	return true, fail
}

// facets looks at one pair of facets: exactly at the centre, where it may
// improve on the nearest position seen, and with its bound over the box. The
// bound is taken corner by corner, which is enough: at every position the motion is
// affine, so a facet gets no farther along -u than one of its corners.
func (p *prover) facets(e *motion.Excursion, center *motion.Params, i, j int32) (ok bool, fail failure) {
	p.tests++
	var ta, tb triangle
	ta.load(&p.a.facets[i])
	tb.loadPosed(&p.b.facets[j], &e.Pose)
	if p.u != (r3.Vector{}) && gapAlong(&ta, &tb, p.u) >= p.cut()+p.off() { // along the neighbours' direction, mostly
		if gap, bound := p.facetGap(e, &ta, &tb, p.u); gap-bound >= p.cut() {
			return true, fail
		}
	}
	d2, pa, pb := nearestPoints(&ta, &tb)
	d := math.Sqrt(d2)
	middle, radius := tb.ball()
	fail = failure{a: i, b: j, leaf: true, center: middle, radius: radius, value: math.Inf(-1)}
	if d <= p.rounding {
		p.meet(center, i, j, 0, 0, pa, pb)
		return false, fail
	}
	u := pb.Sub(pa).Mul(1 / d)
	p.u = u
	gap, bound := p.facetGap(e, &ta, &tb, u)
	fail.u, fail.value = u, gap-bound
	cut, w := p.cut(), u
	for try := 0; try < asides && gap > cut && fail.value < cut; try++ {
		var ok bool
		if w, ok = another(e, u, w, middle, try); ok {
			g, b := p.facetGap(e, &ta, &tb, w)
			fail.value = max(fail.value, g-b)
		}
	}
	if fail.value >= p.cut() {
		return true, fail
	}
	worst := d - p.margin
	if p.hasSlack {
		worst -= p.slackBound(center, u, pb, &tb)
	}
	if worst < p.best.Upper {
		p.meet(center, i, j, worst, d, pa, pb)
	}
	return fail.value >= p.cut(), fail
}

// facetGap returns the gap along u at the centre pose, rounding and margin
// taken off, and how much of it the motion can take.
func (p *prover) facetGap(e *motion.Excursion, ta, tb *triangle, u r3.Vector) (gap, bound float64) {
	floor := max(u.Dot(ta[0]), u.Dot(ta[1]), u.Dot(ta[2])) + p.off()
	gap, value := math.Inf(1), math.Inf(1)
	cut := p.cut()
	for _, corner := range tb {
		g := u.Dot(corner) - floor
		gap, value = min(gap, g), min(value, g-e.TowardUpTo(g-cut, u, corner, 0))
	}
	return gap, gap - value
}

// slackBound returns how much of the gap along u the location uncertainty can
// take: what it takes at a corner, less how much farther off than pb that corner is.
func (p *prover) slackBound(center *motion.Params, u, pb r3.Vector, tb *triangle) (taken float64) {
	at := motion.At(*center)
	e := p.chain.Over(&at, &p.play)
	for _, corner := range tb {
		taken = max(taken, e.Toward(u, corner, 0)-u.Dot(corner.Sub(pb)))
	}
	return taken
}

// meet records the nearest position seen so far.
func (p *prover) meet(at *motion.Params, i, j int32, worst, nominal float64, pa, pb r3.Vector) {
	p.best.Upper, p.best.Nominal, p.best.At = worst, nominal, *at
	p.best.Contact = nominal == 0
	p.best.Near = Nearest{
		Distance: nominal, A: pa, B: pb,
		FacetA: int(p.a.index[i]), FacetB: int(p.b.index[j]),
	}
}

// off is what is taken from every gap before it counts.
func (p *prover) off() float64 { return p.rounding + p.margin }

// roundingOver adapts roundingError to a chain: the largest coordinate any pose
// of the chain can give.
func roundingOver(a, b *Tree, chain *motion.Chain, bx *motion.Box) float64 {
	e := chain.Over(bx, nil)
	far := geom.Identity()
	far.T = r3.Vector{X: e.Pose.T.Norm() + e.Plain(e.Pose.T, 0)}
	return roundingError(a, b, &far, len(chain.Joints))
}
