package collide

import (
	"math"
	"sync"

	"gridswing/geom"

	"github.com/golang/geo/r3"
)

// Nearest is where two bodies are closest.
type Nearest struct {
	// Distance in mm; 0 where the surfaces meet; +Inf where nothing is nearer
	// than what was asked for, or one body has no facets.
	Distance float64
	// A and B are nearest points of each body, in a's frame.
	A, B r3.Vector
	// FacetA and FacetB are the facets of the meshes they lie on, -1 if none.
	FacetA, FacetB int
}

// Distance returns the smallest distance between the surfaces of a and b, with
// b standing at pose as seen from a. It is right to 1e-9 of itself or 1e-7 mm,
// whichever is larger. A body wholly inside another is not noticed here: see
// Tree.Contains.
func Distance(a, b *Tree, pose geom.Pose) Nearest {
	return DistanceWithin(a, b, pose, math.Inf(1))
}

// DistanceWithin is Distance for those who do not care beyond limit: where the
// bodies are at least limit apart, its Distance is +Inf. Smaller limits are faster.
func DistanceWithin(a, b *Tree, pose geom.Pose, limit float64) Nearest {
	w := walkers.Get().(*walker)
	defer walkers.Put(w)
	return w.distance(a, b, &pose, limit)
}

// Apart reports whether the surfaces are at least d apart, d > 0, at pose.
func Apart(a, b *Tree, pose geom.Pose, d float64) bool {
	w := walkers.Get().(*walker)
	defer walkers.Put(w)
	return w.apart(a, b, &pose, d)
}

var walkers = sync.Pool{New: func() any { return new(walker) }}

// walker is the memory of a walk over pairs of nodes, reused between queries.
type walker struct {
	stack []nodePair
	// u is the direction between the nearest points found so far, zero before
	// there are any: what lies far along it is far, and that is soon seen.
	u r3.Vector
}

// nodePair is a pair of nodes yet to be opened, and how far apart they are at least.
type nodePair struct {
	a, b int32
	gap  float64
}

// ref names a pair of facets by their places in the trees; -1 where there is none.
type ref struct{ facetA, facetB int32 }

// cutoff is the gap from which on nothing can improve on best by more than the
// accuracy promised. Without the margin two parallel flat faces, all of whose
// parts are equally far, would be walked whole.
func cutoff(best float64) float64 {
	if math.IsInf(best, 1) {
		return best
	}
	return best - max(1e-9*best, 0.5e-7)
}

func (w *walker) distance(a, b *Tree, pose *geom.Pose, limit float64) Nearest {
	near := Nearest{Distance: math.Inf(1), FacetA: -1, FacetB: -1}
	if len(a.nodes) == 0 || len(b.nodes) == 0 {
		return near
	}
	best := ref{-1, -1}
	best2 := limit * limit
	var ta triangle
	var tb [leafFacets]triangle
	cut := cutoff(limit)
	w.u = r3.Vector{}
	take := func(i, j int32, ta, tb *triangle) {
		if gapAlong(ta, tb, w.u) >= cut {
			return
		}
		d2, p, q := nearestPoints(ta, tb)
		if d2 >= best2 {
			return
		}
		best2 = d2
		near.Distance, near.A, near.B = math.Sqrt(d2), p, q
		best = ref{i, j}
		cut = cutoff(near.Distance)
		if d2 > 0 {
			w.u = q.Sub(p).Mul(1 / near.Distance)
		}
	}
	w.stack = append(w.stack[:0], nodePair{0, 0, math.Inf(-1)})
	for len(w.stack) > 0 && best2 > 0 {
		top := w.stack[len(w.stack)-1]
		w.stack = w.stack[:len(w.stack)-1]
		if top.gap >= cut {
			continue
		}
		na, nb := &a.nodes[top.a], &b.nodes[top.b]
		if na.leaf() && nb.leaf() {
			for j := range nb.count {
				tb[j].loadPosed(&b.facets[nb.next+j], pose)
			}
			for i := na.next; i < na.next+na.count; i++ {
				ta.load(&a.facets[i])
				for j := range nb.count {
					take(i, nb.next+j, &ta, &tb[j])
				}
			}
			continue
		}
		w.open(a, b, pose, top, cut)
	}
	if best.facetA >= 0 {
		near.FacetA, near.FacetB = int(a.index[best.facetA]), int(b.index[best.facetB])
	}
	return near
}

// open pushes the children of a pair that may come nearer than cut, the
// nearest on top.
func (w *walker) open(a, b *Tree, pose *geom.Pose, top nodePair, cut float64) {
	var boxA, boxB [2]box
	var idA, idB [2]int32
	na, nb := children(a, b, top, &idA, &idB)
	for i := range na {
		a.nodes[idA[i]].load(&boxA[i])
	}
	for j := range nb {
		b.nodes[idB[j]].loadPosed(pose, &boxB[j])
	}
	base := len(w.stack)
	for i := range na {
		for j := range nb {
			var gap float64
			if w.u == (r3.Vector{}) {
				gap = quickGap(&boxA[i], &boxB[j])
			} else {
				gap, _ = along(&boxA[i], &boxB[j], boxB[j].center.Sub(boxA[i].center), w.u)
			}
			if gap < cut {
				if g, _ := separation(&boxA[i], &boxB[j], cut); g > gap {
					gap = g
				}
			}
			if gap < cut {
				w.push(base, nodePair{idA[i], idB[j], gap})
			}
		}
	}
}

// push inserts a pair above base so that the nearest ends on top.
func (w *walker) push(base int, p nodePair) {
	w.stack = append(w.stack, p)
	for k := len(w.stack) - 1; k > base && w.stack[k-1].gap < w.stack[k].gap; k-- {
		w.stack[k-1], w.stack[k] = w.stack[k], w.stack[k-1]
	}
}

// quickGap is the gap between the balls around two boxes.
func quickGap(a, b *box) float64 {
	d := b.center.Sub(a.center)
	return math.Sqrt(d.Dot(d)) - a.radius - b.radius
}

// children returns the node pairs to look at next, as the two sides of a
// product: both nodes are opened, or only the one that is much larger.
func children(a, b *Tree, p nodePair, idA, idB *[2]int32) (na, nb int) {
	x, y := &a.nodes[p.a], &b.nodes[p.b]
	openA, openB := !x.leaf(), !y.leaf()
	if openA && openB {
		sa, sb := x.size2(), y.size2()
		openA = sb < 4*sa
		openB = sa < 4*sb
	}
	idA[0], na = p.a, 1
	if openA {
		idA[0], idA[1], na = p.a+1, x.next, 2
	}
	idB[0], nb = p.b, 1
	if openB {
		idB[0], idB[1], nb = p.b+1, y.next, 2
	}
	return na, nb
}

// size2 is the squared diagonal of the node's box, roughly.
func (n *node) size2() float32 {
	x, y, z := n.hi[0]-n.lo[0], n.hi[1]-n.lo[1], n.hi[2]-n.lo[2]
	return x*x + y*y + z*z
}

// apart walks like distance, but gives up at the first facets nearer than d
// and concludes only from separating directions.
func (w *walker) apart(a, b *Tree, pose *geom.Pose, d float64) bool {
	if len(a.nodes) == 0 || len(b.nodes) == 0 {
		return true
	}
	d += roundingError(a, b, pose, 0)
	w.u = r3.Vector{}
	var ta, tb triangle
	w.stack = append(w.stack[:0], nodePair{0, 0, math.Inf(-1)})
	for len(w.stack) > 0 {
		top := w.stack[len(w.stack)-1]
		w.stack = w.stack[:len(w.stack)-1]
		na, nb := &a.nodes[top.a], &b.nodes[top.b]
		if !na.leaf() || !nb.leaf() {
			w.open(a, b, pose, top, d)
			continue
		}
		for i := na.next; i < na.next+na.count; i++ {
			ta.load(&a.facets[i])
			for j := nb.next; j < nb.next+nb.count; j++ {
				tb.loadPosed(&b.facets[j], pose)
				if gapAlong(&ta, &tb, w.u) >= d {
					continue
				}
				gap, u := facetGap(&ta, &tb)
				if gap < d {
					return false
				}
				w.u = u
			}
		}
	}
	return true
}

// facetGap returns the gap of two triangles along the direction between their
// nearest points, and that direction; 0 where they meet.
func facetGap(a, b *triangle) (gap float64, u r3.Vector) {
	d2, p, q := nearestPoints(a, b)
	if d2 == 0 {
		return 0, u
	}
	u = q.Sub(p).Mul(1 / math.Sqrt(d2))
	return gapAlong(a, b, u), u
}

// roundingError bounds what float64 arithmetic can add to a gap: some 64
// operations a joint, each off by half a unit in the last place of the largest
// coordinate.
func roundingError(a, b *Tree, pose *geom.Pose, joints int) float64 {
	largest := a.reach + b.reach + pose.T.Norm()
	return 64 * float64(joints+1) * 0x1p-53 * largest
}
