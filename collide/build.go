package collide

import (
	"cmp"
	"math"
	"runtime"
	"slices"
	"sync"

	"gridswing/geom"

	"github.com/golang/geo/r3"
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
		var wg sync.WaitGroup
		wg.Go(func() {
			br.left = b.build(lo, mid, left, least, spare)
			<-spare
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

// aligned returns a node whose box is parallel to the frame.
func aligned(b geom.Box) node {
	return node{
		axis0: [3]float32{1, 0, 0},
		axis1: [3]float32{0, 1, 0},
		lo:    geom.VertexOf(b.Min), // exact: the corners of a box around vertices
		hi:    geom.VertexOf(b.Max),
	}
}

// fitFacets is the most facets that a box is turned for. Larger nodes stand
// high in the tree, are few, and are mostly opened anyway.
const fitFacets = 64

// fit returns a node around the facets: parallel to the frame, or turned if
// that makes its surface clearly smaller.
func fit(facets []geom.Facet, bounds geom.Box) node {
	best := aligned(bounds)
	if len(facets) > fitFacets {
		return best
	}
	s := bounds.Size()
	area := s.X*s.Y + s.Y*s.Z + s.Z*s.X
	if a0, a1, ok := turnedAxes(facets); ok {
		if n, a := around(facets, a0, a1); a < 0.9*area {
			return n
		}
	}
	return best
}

// turnedAxes proposes two axes: the mean normal of the facets where they face
// one way, else that of the largest facet, and that facet's longest edge made
// perpendicular to it.
func turnedAxes(facets []geom.Facet) (a0, a1 r3.Vector, ok bool) {
	var sum, largest, edge r3.Vector
	most, total := 0.0, 0.0
	for i := range facets {
		p, q, r := facets[i][0].Vector(), facets[i][1].Vector(), facets[i][2].Vector()
		n := q.Sub(p).Cross(r.Sub(p))
		size := n.Norm()
		total += size
		sum = sum.Add(n)
		if size > most {
			most, largest = size, n
			edge = longest(q.Sub(p), r.Sub(q), p.Sub(r))
		}
	}
	if most == 0 {
		return a0, a1, false
	}
	normal := largest
	if sum.Norm() > 0.5*total {
		normal = sum
	}
	a0 = normal.Normalize()
	a1 = edge.Sub(a0.Mul(edge.Dot(a0)))
	if a1.Norm() <= 1e-6*edge.Norm() {
		return a0, a1, false
	}
	if len(facets) > leafFacets {
		a1 = spread(facets, a0, a1.Normalize())
	}
	return a0, a1.Normalize(), true
}

func longest(a, b, c r3.Vector) r3.Vector {
	if b.Dot(b) > a.Dot(a) {
		a = b
	}
	if c.Dot(c) > a.Dot(a) {
		a = c
	}
	return a
}

// spread returns the direction perpendicular to the unit vector n along which
// the vertices spread most: the larger eigenvector of their 2 x 2 covariance.
func spread(facets []geom.Facet, n, e r3.Vector) r3.Vector {
	f := n.Cross(e)
	o := facets[0][0].Vector()
	var sx, sy, sxx, sxy, syy, count float64
	for i := range facets {
		for _, v := range &facets[i] {
			d := v.Vector().Sub(o)
			x, y := d.Dot(e), d.Dot(f)
			sx, sy, sxx, sxy, syy, count = sx+x, sy+y, sxx+x*x, sxy+x*y, syy+y*y, count+1
		}
	}
	sxx, sxy, syy = sxx-sx*sx/count, sxy-sx*sy/count, syy-sy*sy/count
	sin, cos := math.Sincos(math.Atan2(2*sxy, sxx-syy) / 2)
	return e.Mul(cos).Add(f.Mul(sin))
}

// around returns the box with the given axes around the facets and half its
// surface. Its faces are moved outward by what the rounded axes can err: with A
// the stored axes, |A A^T - I| <= axisError per entry, so a vertex v is off by
// little more than 3 axisError |v| from the point its coordinates describe.
func around(facets []geom.Facet, a0, a1 r3.Vector) (node, float64) {
	n := node{axis0: geom.VertexOf(a0), axis1: geom.VertexOf(a1)}
	a0, a1 = geom.Vertex(n.axis0).Vector(), geom.Vertex(n.axis1).Vector()
	axes := [3]r3.Vector{a0, a1, a0.Cross(a1)}
	inf := math.Inf(1)
	lo, hi := [3]float64{inf, inf, inf}, [3]float64{-inf, -inf, -inf}
	far := 0.0
	for i := range facets {
		for _, w := range &facets[i] {
			v := w.Vector()
			far = max(far, v.Dot(v))
			for k := range axes {
				s := v.Dot(axes[k])
				lo[k], hi[k] = min(lo[k], s), max(hi[k], s)
			}
		}
	}
	slack := 3.1 * axisError * math.Sqrt(far)
	for k := range axes {
		n.lo[k], n.hi[k] = below(lo[k]-slack), above(hi[k]+slack)
	}
	x, y, z := hi[0]-lo[0], hi[1]-lo[1], hi[2]-lo[2]
	return n, x*y + y*z + z*x
}

// below returns the largest float32 not above x.
func below(x float64) float32 {
	f := float32(x)
	if float64(f) > x {
		f = math.Nextafter32(f, float32(math.Inf(-1)))
	}
	return f
}

// above returns the smallest float32 not below x.
func above(x float64) float32 { return -below(-x) }
