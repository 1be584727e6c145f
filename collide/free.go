package collide

import (
	"context"
	"math"

	"gridswing/geom/motion"

	"github.com/golang/geo/r3"
)

// Where two linear axes carry a body about under another, such as the table under
// the spindle, most of what can be proven is proven square to both, whatever the
// two do. So a box is first asked along that direction alone: the slides then need
// not be split, and a question in four parameters becomes one in two. Where the
// bodies are not kept apart that way, the box is asked the general question.

// freeSplits is how often a box is split for the free direction before the
// general question is asked of it all the same.
const freeSplits = 24

// proveFree reports whether the bodies stay at least cut apart along the free
// direction over the box. possible says that at the centre they do, so that splitting
// may help; it is false for a motion without two slides.
//
// hint, if it is a pair of facets, is asked first.
func (p *prover) proveFree(ctx context.Context, bx *motion.Box, hint *failure) (ok, possible bool, fail failure) {
	e := p.chain.Over(bx, &p.excursion)
	var rootA, rootB box
	p.a.nodes[0].load(&rootA)
	p.b.nodes[0].loadPosed(&e.Pose, &rootB)
	w, has := e.Free(rootB.center.Sub(rootA.center))
	if !has {
		return false, false, fail
	}
	if hint.leaf {
		if ok, possible, fail = p.facetsFree(e, hint.a, hint.b, w); !ok {
			return false, possible, fail
		}
	}
	p.stack = append(p.stack[:0], nodePair{0, 0, math.Inf(-1)})
	for steps := 1; len(p.stack) > 0; steps++ {
		if steps%4096 == 0 && ctx.Err() != nil {
			return false, false, fail
		}
		top := p.stack[len(p.stack)-1]
		p.stack = p.stack[:len(p.stack)-1]
		na, nb := &p.a.nodes[top.a], &p.b.nodes[top.b]
		if na.leaf() && nb.leaf() {
			ok, possible, fail = p.leavesFree(e, na, nb, w)
		} else {
			ok, fail = p.openFree(e, top, w)
			possible = true
		}
		if !ok {
			return false, possible, fail
		}
	}
	return true, true, fail
}

// openFree is open along one direction.
func (p *prover) openFree(e *motion.Excursion, top nodePair, w r3.Vector) (ok bool, fail failure) {
	var boxA, boxB [2]box
	var idA, idB [2]int32
	na, nb := children(p.a, p.b, top, &idA, &idB)
	for i := range na {
		p.a.nodes[idA[i]].load(&boxA[i])
	}
	for j := range nb {
		p.b.nodes[idB[j]].loadPosed(&e.Pose, &boxB[j])
	}
	base, cut := len(p.stack), p.cut()+p.off()
	for i := range na {
		for j := range nb {
			p.tests++
			gap, _ := along(&boxA[i], &boxB[j], boxB[j].center.Sub(boxA[i].center), w)
			bound := e.Toward(w, boxB[j].center, boxB[j].radius)
			if gap-bound >= cut {
				continue
			}
			if boxA[i].radius+boxB[j].radius < bound {
				return false, failure{a: idA[i], b: idB[j], u: w, center: boxB[j].center, radius: boxB[j].radius, value: gap - bound}
			}
			p.push(base, nodePair{idA[i], idB[j], gap - bound})
		}
	}
	return true, fail
}

// leavesFree looks at the facets of two leaves along one direction.
func (p *prover) leavesFree(e *motion.Excursion, na, nb *node, w r3.Vector) (ok, possible bool, fail failure) {
	for i := na.next; i < na.next+na.count; i++ {
		for j := nb.next; j < nb.next+nb.count; j++ {
			if ok, possible, fail = p.facetsFree(e, i, j, w); !ok {
				return false, possible, fail
			}
		}
	}
	return true, true, fail
}

func (p *prover) facetsFree(e *motion.Excursion, i, j int32, w r3.Vector) (ok, possible bool, fail failure) {
	p.tests++
	var ta, tb triangle
	ta.load(&p.a.facets[i])
	tb.loadPosed(&p.b.facets[j], &e.Pose)
	gap, bound := p.facetGap(e, &ta, &tb, w)
	if gap-bound >= p.cut() {
		return true, true, fail
	}
	fail = failure{a: i, b: j, leaf: true, u: w, value: gap - bound}
	fail.center, fail.radius = tb.ball()
	return false, gap > p.cut(), fail
}
