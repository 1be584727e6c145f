package material

import (
	"cmp"
	"slices"

	"gridswing/geom"

	"github.com/golang/geo/r3"
)

// Surface is the facets of a solid, to be asked where a model tells too little. Read-only once made.
type Surface struct {
	facets []geom.Facet
	nodes  []bough
}

// bough is a node of a tree of boxes, in preorder.
type bough struct {
	box         geom.Box
	first, last int32 // facets, the second not included
	past        int32 // the first node behind all of its own
	leaf        bool
}

// leafFacets is how many facets a leaf has at most.
const leafFacets = 4

// NewSurface arranges the facets of a mesh.
func NewSurface(mesh *geom.Mesh) *Surface {
	s := &Surface{facets: slices.Clone(mesh.Facets)}
	if len(s.facets) > 0 {
		s.grow(0, len(s.facets))
	}
	return s
}

// grow adds the node of some facets, halved along the longest edge of its box.
func (s *Surface) grow(first, last int) {
	box := geom.EmptyBox()
	for i := first; i < last; i++ {
		for _, v := range &s.facets[i] {
			box = box.Include(v.Vector())
		}
	}
	at := len(s.nodes)
	s.nodes = append(s.nodes, bough{box: box, first: int32(first), last: int32(last)})
	if last-first <= leafFacets {
		s.nodes[at].leaf, s.nodes[at].past = true, int32(len(s.nodes))
		return
	}
	size, along := box.Size(), 0
	if size.Y > size.X {
		along = 1
	}
	if size.Z > max(size.X, size.Y) {
		along = 2
	}
	slices.SortStableFunc(s.facets[first:last], func(a, b geom.Facet) int {
		return cmp.Compare(a[0][along]+a[1][along]+a[2][along], b[0][along]+b[1][along]+b[2][along])
	})
	mid := (first + last) / 2
	s.grow(first, mid)
	s.grow(mid, last)
	s.nodes[at].past = int32(len(s.nodes))
}

// Apart reports whether every facet is proven to stay at least gap away from a body on all of its ways, and
// wherever within w.Off it is, mm: for each there is a plane between the two. Otherwise it tells a point of
// the first facet of which that was not shown. A body within the solid is apart from its surface, too.
func (s *Surface) Apart(b *Body, w *Sweep, gap float64) (r3.Vector, bool) {
	f := figureOf(b, w)
	if len(s.nodes) == 0 || f.empty() {
		return r3.Vector{}, true
	}
	gap += w.Off
	q := asking{f: &f}
	lo, hi := f.bounds()
	room := r3.Vector{X: gap, Y: gap, Z: gap}
	lo, hi = lo.Sub(room), hi.Add(room)
	for i := 0; i < len(s.nodes); {
		n := &s.nodes[i]
		if beyond(&n.box, lo, hi) {
			i = int(n.past)
			continue
		}
		if n.leaf {
			for k := n.first; k < n.last; k++ {
				if p, ok := q.facetApart(&s.facets[k], gap); !ok {
					return p, false
				}
			}
		}
		i++
	}
	return r3.Vector{}, true
}

// beyond reports whether a box is beside all between two corners.
func beyond(b *geom.Box, lo, hi r3.Vector) bool {
	return b.Min.X > hi.X || b.Max.X < lo.X || b.Min.Y > hi.Y || b.Max.Y < lo.Y || b.Min.Z > hi.Z || b.Max.Z < lo.Z
}

// facetApart looks for a plane between the figure and a facet, gap apart; first among those that have done
// for others.
func (q *asking) facetApart(f *geom.Facet, gap float64) (c r3.Vector, ok bool) {
	v := [3]r3.Vector{f[0].Vector(), f[1].Vector(), f[2].Vector()}
	for i := range q.known {
		d := &q.recent[i]
		if min(d.u.Dot(v[0]), d.u.Dot(v[1]), d.u.Dot(v[2])) >= d.far+gap {
			return c, true
		}
	}
	c = v[0].Add(v[1]).Add(v[2]).Mul(1. / 3)
	q.hull.corners = len(v)
	for i := range v {
		q.hull.corner[i] = v[i].Sub(c)
	}
	return c, q.hullApart(&q.hull, c, gap, mostSteps)
}
