package collide

import (
	"math"

	"gridswing/geom/motion"

	"github.com/golang/geo/r3"
)

// Where two linear axes carry a body about under another, such as the table under
// the spindle, most of what can be proven is proven square to both, whatever the
// two do. So a box is first asked along that direction alone: the slides then need
// not be split, and a question in four parameters becomes one in two. Along one
// direction the bodies do not need to be compared part by part either: the whole of
// one must stay beyond the farthest point of the other. Where they are not kept
// apart that way, the box is asked the general question.

// freeSplits is how often a box is split for the free direction before the
// general question is asked of it all the same.
const freeSplits = 24

// proveFree reports whether the bodies stay at least cut apart along the free
// direction over the box. If not, splitting may help where gap, which is how far the
// parts that failed are apart at the centre at most, is more than cut; it is -Inf for
// a motion without two slides. hint, if it names a facet, is asked first.
func (p *prover) proveFree(bx *motion.Box, hint *failure) (ok bool, gap float64, fail failure) {
	e := p.over(bx)
	w, has := p.freest(e)
	if !has {
		return false, math.Inf(-1), fail
	}
	floor := p.support(w) + p.off()
	if hint.leaf {
		if ok, gap, fail = p.facetFree(e, hint.b, w, floor); !ok {
			return false, gap, fail
		}
	}
	p.stack = append(p.stack[:0], nodePair{b: 0})
	for steps := 1; len(p.stack) > 0; steps++ {
		if steps%1024 == 0 && p.ctx.Err() != nil {
			return false, math.Inf(-1), fail
		}
		i := p.stack[len(p.stack)-1].b
		p.stack = p.stack[:len(p.stack)-1]
		n := &p.b.nodes[i]
		var b box
		n.loadPosed(&e.Pose, &b)
		p.tests++
		gap = b.least(w) - floor
		bound := e.TowardUpTo(gap-p.cut(), w, b.center, b.radius)
		switch {
		case gap-bound >= p.cut():
		case b.radius < bound:
			return false, gap + 2*b.radius, failure{b: i, u: w, center: b.center, radius: b.radius, value: gap - bound}
		case !n.leaf():
			p.stack = append(p.stack, nodePair{b: n.next}, nodePair{b: i + 1})
		default:
			for j := n.next; j < n.next+n.count; j++ {
				if ok, gap, fail = p.facetFree(e, j, w, floor); !ok {
					return false, gap, fail
				}
			}
		}
	}
	return true, gap, fail
}

// freest returns the free direction along which, by their boxes, most is left
// between the bodies; of those along which they are apart at the centre, where there are
// any: splitting helps along no other one.
func (p *prover) freest(e *motion.Excursion) (w r3.Vector, ok bool) {
	if len(e.Frees()) == 0 {
		return w, false
	}
	var rootA, rootB box
	p.a.nodes[0].load(&rootA)
	p.b.nodes[0].loadPosed(&e.Pose, &rootB)
	between := rootB.center.Sub(rootA.center)
	most, parted := math.Inf(-1), false
	for _, f := range e.Frees() {
		if f.Dot(between) < 0 {
			f = f.Mul(-1)
		}
		gap := rootB.least(f) + rootA.least(f.Mul(-1))
		left, part := gap-e.Toward(f, rootB.center, rootB.radius), gap > p.cut()
		if part && !parted || part == parted && left > most {
			most, parted, w = left, part, f
		}
	}
	return w, true
}

// facetFree looks at one facet of b against all of a, whose farthest point
// along w is at floor.
func (p *prover) facetFree(e *motion.Excursion, j int32, w r3.Vector, floor float64) (ok bool, gap float64, fail failure) {
	p.tests++
	var tb triangle
	tb.loadPosed(&p.b.facets[j], &e.Pose)
	gap = math.Inf(1)
	value, cut := math.Inf(1), p.cut()
	for _, corner := range &tb {
		g := w.Dot(corner) - floor
		gap, value = min(gap, g), min(value, g-e.TowardUpTo(g-cut, w, corner, 0))
	}
	if value >= p.cut() {
		return true, gap, fail
	}
	fail = failure{b: j, leaf: true, u: w, value: value}
	fail.center, fail.radius = tb.ball()
	return false, gap, fail
}

// support returns how far a reaches along w, which hardly ever changes.
func (p *prover) support(w r3.Vector) float64 {
	for i := range p.supports {
		if s := &p.supports[i]; s.along == w {
			return s.at
		}
	}
	at := p.a.support(w)
	p.supports[p.nextSupport] = support{w, at}
	p.nextSupport = (p.nextSupport + 1) % len(p.supports)
	return at
}

// support is how far a body reaches along a direction.
type support struct {
	along r3.Vector
	at    float64
}

// support returns the largest w.v over the vertices of the tree.
func (t *Tree) support(w r3.Vector) float64 {
	most := math.Inf(-1)
	stack := []int32{0}
	for len(stack) > 0 {
		i := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		n := &t.nodes[i]
		var b box
		n.load(&b)
		if -b.least(w.Mul(-1)) <= most {
			continue
		}
		if !n.leaf() {
			stack = append(stack, n.next, i+1)
			continue
		}
		for f := n.next; f < n.next+n.count; f++ {
			for _, v := range &t.facets[f] {
				most = max(most, w.Dot(v.Vector()))
			}
		}
	}
	return most
}

// least returns the smallest w.x over the box.
func (b *box) least(w r3.Vector) float64 {
	return w.Dot(b.center) -
		math.Abs(w.Dot(b.axis[0]))*b.half[0] - math.Abs(w.Dot(b.axis[1]))*b.half[1] - math.Abs(w.Dot(b.axis[2]))*b.half[2]
}
