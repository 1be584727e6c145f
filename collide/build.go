package collide

import (
	"cmp"
	"math"
	"runtime"
	"slices"

	"gridswing/geom"
	"gridswing/geom/together"
)

// NewTree arranges the mesh for queries, on all cores; the tree is the same
// for any number of them. The mesh is copied, not kept. A mesh without facets
// gives a tree that is infinitely far from everything.
func NewTree(m *geom.Mesh) *Tree {
	t := &Tree{
		facets: append([]geom.Facet(nil), m.Facets...),
		index:  make([]int32, len(m.Facets)),
	}
	for i := range t.index {
		t.index[i] = int32(i)
	}
	if len(t.facets) == 0 {
		return t
	}
	b := builder{facets: t.facets, index: t.index}
	bounds := b.bounds(0, len(t.facets))
	t.reach = max(bounds.Max.Norm(), bounds.Min.Norm())
	least := max(parallelFacets, len(t.facets)/parallelParts)
	grown := b.build(0, len(t.facets), bounds, least, make(chan struct{}, runtime.GOMAXPROCS(0)-1))
	t.nodes = grown.join(make([]node, 0, grown.size()))
	return t
}

// builder sorts the facets in place, top down, by the surface-area heuristic
// over binned centroids (Wald, "On fast construction of SAH-based bounding
// volume hierarchies", 2007).
type builder struct {
	facets []geom.Facet
	index  []int32
}

// A subtree is worth a goroutine from parallelFacets facets on, and a part of
// so many in a large tree.
const (
	parallelFacets = 8192
	parallelParts  = 24
)

// branch is a subtree on its way: grown whole, or divided in two.
type branch struct {
	nodes       []node // grown, with indices of its own
	bounds      geom.Box
	left, right *branch
}

// build grows the subtree over facets [lo, hi), divided among goroutines down
// to so many facets.
func (b *builder) build(lo, hi int, bounds geom.Box, least int, spare chan struct{}) *branch {
	if hi-lo < least {
		nodes := make([]node, 0, 3*(hi-lo)/leafFacets+2)
		b.grow(lo, hi, bounds, &nodes)
		return &branch{nodes: nodes}
	}
	mid, left, right := b.split(lo, hi, bounds)
	br := &branch{bounds: bounds}
	select {
	case spare <- struct{}{}:
		var wg together.Group
		wg.Go(func() {
			defer func() { <-spare }()
			br.left = b.build(lo, mid, left, least, spare)
		})
		br.right = b.build(mid, hi, right, least, spare)
		wg.Wait()
	default:
		br.left = b.build(lo, mid, left, least, spare)
		br.right = b.build(mid, hi, right, least, spare)
	}
	return br
}

// size returns how many nodes the subtree has.
func (br *branch) size() int {
	if br.left == nil {
		return len(br.nodes)
	}
	return 1 + br.left.size() + br.right.size()
}

// join appends the subtree in preorder, its child references moved to where it lands.
func (br *branch) join(nodes []node) []node {
	self := len(nodes)
	if br.left == nil {
		nodes = append(nodes, br.nodes...)
		for i := self; i < len(nodes); i++ {
			if !nodes[i].leaf() {
				nodes[i].next += int32(self)
			}
		}
		return nodes
	}
	nodes = br.left.join(append(nodes, aligned(br.bounds)))
	nodes[self].next = int32(len(nodes))
	return br.right.join(nodes)
}

// grow appends the subtree over facets [lo, hi) in preorder.
func (b *builder) grow(lo, hi int, bounds geom.Box, nodes *[]node) {
	self := len(*nodes)
	*nodes = append(*nodes, fit(b.facets[lo:hi], bounds))
	if hi-lo <= leafFacets {
		(*nodes)[self].next = int32(lo)
		(*nodes)[self].count = int32(hi - lo)
		return
	}
	mid, left, right := b.split(lo, hi, bounds)
	b.grow(lo, mid, left, nodes)
	(*nodes)[self].next = int32(len(*nodes))
	b.grow(mid, hi, right, nodes)
}

func (b *builder) bounds(lo, hi int) geom.Box {
	m := geom.Mesh{Facets: b.facets[lo:hi]}
	return m.Bounds()
}

// bounds32 is a box of float32, exact for vertices and cheap to grow.
type bounds32 struct{ lo, hi geom.Vertex }

var empty32 = bounds32{
	lo: geom.Vertex{math.MaxFloat32, math.MaxFloat32, math.MaxFloat32},
	hi: geom.Vertex{-math.MaxFloat32, -math.MaxFloat32, -math.MaxFloat32},
}

func (b *bounds32) facet(f *geom.Facet) {
	for k := range 3 {
		b.lo[k] = min(b.lo[k], f[0][k], f[1][k], f[2][k])
		b.hi[k] = max(b.hi[k], f[0][k], f[1][k], f[2][k])
	}
}

func (b *bounds32) union(c *bounds32) {
	for k := range 3 {
		b.lo[k] = min(b.lo[k], c.lo[k])
		b.hi[k] = max(b.hi[k], c.hi[k])
	}
}

func (b *bounds32) halfArea() float64 {
	x, y, z := float64(b.hi[0])-float64(b.lo[0]), float64(b.hi[1])-float64(b.lo[1]), float64(b.hi[2])-float64(b.lo[2])
	return x*y + y*z + z*x
}

func (b *bounds32) box() geom.Box { return geom.Box{Min: b.lo.Vector(), Max: b.hi.Vector()} }

// bins is the most bins an axis is divided into; small nodes use no more than
// they have facets.
const bins = 16

type bin struct {
	bounds bounds32
	count  int
}

// centroid3 is three times the centroid along axis k.
func centroid3(f *geom.Facet, k int) float32 { return f[0][k] + f[1][k] + f[2][k] }

// split partitions facets [lo, hi) in two and returns the bounds of each part.
// Neither part is ever empty, and neither holds more than 7/8 of a large range,
// which bounds the depth.
func (b *builder) split(lo, hi int, bounds geom.Box) (mid int, left, right geom.Box) {
	low := [3]float64{bounds.Min.X, bounds.Min.Y, bounds.Min.Z}
	s := bounds.Size()
	size := [3]float64{s.X, s.Y, s.Z}
	order := [3]int{0, 1, 2}
	slices.SortStableFunc(order[:], func(i, j int) int { return cmp.Compare(size[j], size[i]) })
	used := min(bins, hi-lo)
	var table, best [bins]bin
	var along binning
	at, least := 0, math.Inf(1)
	for _, k := range order {
		g := binning{axis: k, low: 3 * float32(low[k]), scale: float32(used) / (3 * float32(size[k])), last: used - 1}
		g.fill(b.facets[lo:hi], table[:used])
		if i, cost := cheapest(table[:used], hi-lo); cost < least {
			at, least, along, best = i, cost, g, table
		}
		if hi-lo > threeWays && least < math.Inf(1) {
			break
		}
	}
	if least == math.Inf(1) { // all centroids in one place, or nearly
		return b.halve(lo, hi)
	}
	l, r := empty32, empty32
	for n := range used {
		if n < at {
			l.union(&best[n].bounds)
		} else {
			r.union(&best[n].bounds)
		}
	}
	return b.partition(lo, hi, &along, at), l.box(), r.box()
}

// threeWays is the most facets of a node that is tried along all three axes;
// larger ones are divided along their longest side, which costs a third.
const threeWays = 64

// partition moves the facets of bins below at to the front, and returns where
// the others begin.
func (b *builder) partition(lo, hi int, g *binning, at int) int {
	i, j := lo, hi
	for i < j {
		if g.of(&b.facets[i]) < at {
			i++
		} else {
			j--
			b.facets[i], b.facets[j] = b.facets[j], b.facets[i]
			b.index[i], b.index[j] = b.index[j], b.index[i]
		}
	}
	return i
}

// binning sorts facets by their centroid along an axis.
type binning struct {
	axis       int
	low, scale float32 // in thirds, as centroid3 is
	last       int
}

func (g *binning) of(f *geom.Facet) int {
	return max(0, min(g.last, int((centroid3(f, g.axis)-g.low)*g.scale)))
}

// fill counts and bounds the facets of each bin.
func (g *binning) fill(facets []geom.Facet, table []bin) {
	for i := range table {
		table[i] = bin{bounds: empty32}
	}
	for i := range facets {
		bn := &table[g.of(&facets[i])]
		bn.count++
		bn.bounds.facet(&facets[i])
	}
}

// cheapest returns the bin border with the least surface-area cost.
func cheapest(table []bin, total int) (at int, cost float64) {
	var rightCost [bins]float64
	right, n := empty32, 0
	for i := len(table) - 1; i > 0; i-- {
		right.union(&table[i].bounds)
		n += table[i].count
		rightCost[i] = float64(n) * right.halfArea()
	}
	cost = math.Inf(1)
	left, n := empty32, 0
	least := 1
	if total > 64 {
		least = total / 8
	}
	for i := 1; i < len(table); i++ {
		left.union(&table[i-1].bounds)
		n += table[i-1].count
		if n < least || total-n < least {
			continue
		}
		if c := float64(n)*left.halfArea() + rightCost[i]; c < cost {
			at, cost = i, c
		}
	}
	return at, cost
}

// halve cuts the range in the middle of its present order.
func (b *builder) halve(lo, hi int) (mid int, left, right geom.Box) {
	mid = lo + (hi-lo)/2
	return mid, b.bounds(lo, mid), b.bounds(mid, hi)
}
