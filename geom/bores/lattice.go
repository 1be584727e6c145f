package bores

import (
	"cmp"
	"math"
	"slices"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
)

// lattice is a set of points counted along two directions square to each other.
type lattice struct {
	origin, u, v r2.Point // v and u as long as the pitch; v zero for a single row
	members      map[[2]int]int
}

// bestLattice finds the lattice that most of the points lie on, nil if there is none
// of 2 x 2 at least, or 3 in a row.
func bestLattice(points []r2.Point) *lattice {
	steps := commonSteps(points)
	var best *lattice
	for i, u := range steps {
		for _, v := range steps[i+1:] {
			if math.Abs(u.Dot(v)) <= 1e-3*u.Norm()*v.Norm() {
				best = better(best, newLattice(points, u, v))
			}
		}
		best = better(best, newLattice(points, u, r2.Point{}))
	}
	return best
}

func better(a, b *lattice) *lattice {
	if b == nil || a != nil && len(a.members) >= len(b.members) {
		return a
	}
	return b
}

// commonSteps returns the most frequent steps from a point to its nearest ones.
func commonSteps(points []r2.Point) []r2.Point {
	const neighbours, most = 8, 8
	type step struct {
		sum   r2.Point
		count int
	}
	near := newCluster(2 * samePlace)
	var steps []step
	for i, p := range points {
		for _, k := range nearest(points, i, neighbours) {
			d := points[k].Sub(p)
			if d.X < -samePlace || d.X <= samePlace && d.Y < 0 {
				d = d.Mul(-1)
			}
			if d.Norm() < 10*samePlace {
				continue
			}
			n := int(near.of(r3.Vector{X: d.X, Y: d.Y}))
			if n == len(steps) {
				steps = append(steps, step{})
			}
			steps[n].sum = steps[n].sum.Add(d)
			steps[n].count++
		}
	}
	slices.SortStableFunc(steps, func(a, b step) int {
		return cmp.Or(cmp.Compare(b.count, a.count), cmp.Compare(a.sum.Norm()/float64(a.count), b.sum.Norm()/float64(b.count)))
	})
	var common []r2.Point
	for _, s := range steps[:min(most, len(steps))] {
		common = append(common, s.sum.Mul(1/float64(s.count)))
	}
	return common
}

// nearest returns the indices of the n points nearest to one. Points are sorted by X.
func nearest(points []r2.Point, at, n int) []int {
	type candidate struct {
		i int
		d float64
	}
	var found []candidate
	look := func(i int) bool {
		if i < 0 || i >= len(points) {
			return false
		}
		if len(found) == n && math.Abs(points[i].X-points[at].X) > found[n-1].d {
			return false
		}
		c := candidate{i, points[i].Sub(points[at]).Norm()}
		k, _ := slices.BinarySearchFunc(found, c, func(a, b candidate) int {
			return cmp.Or(cmp.Compare(a.d, b.d), cmp.Compare(a.i, b.i))
		})
		found = slices.Insert(found, k, c)
		found = found[:min(n, len(found))]
		return true
	}
	for i := at + 1; look(i); i++ {
	}
	for i := at - 1; look(i); i-- {
	}
	indices := make([]int, len(found))
	for i, c := range found {
		indices[i] = c.i
	}
	return indices
}

// newLattice puts points on the lattice of two steps that begins at the first point
// with a neighbour on it, and keeps the largest connected piece; nil if too little is left.
func newLattice(points []r2.Point, u, v r2.Point) *lattice {
	var best *lattice
	used := make([]bool, len(points))
	const starts = 4 // points that lie on no common lattice are few
	for i, tried := 0, 0; i < len(points) && tried < starts; i++ {
		if used[i] {
			continue
		}
		l := &lattice{origin: points[i], u: u, v: v, members: map[[2]int]int{}}
		l.gather(points)
		for _, k := range l.members {
			used[k] = true
		}
		tried++
		l.connect()
		if l.good() {
			l.straighten(points)
			best = better(best, l)
		}
	}
	return best
}

// mostSteps bounds a lattice: from one end of it to the other no errors of the steps
// could be told from those of the points.
const mostSteps = 1 << 16

// place returns the place nearest to a point, and how far off the point is.
func (l *lattice) place(p r2.Point) (at [2]int, off float64) {
	q := p.Sub(l.origin)
	on := r2.Point{}
	for k, d := range [2]r2.Point{l.u, l.v} {
		if d != (r2.Point{}) {
			n := math.Round(q.Dot(d) / d.Dot(d))
			if !(math.Abs(n) <= mostSteps) {
				return at, math.Inf(1)
			}
			at[k] = int(n)
			on = on.Add(d.Mul(n))
		}
	}
	return at, q.Sub(on).Norm()
}

// gather goes out from the origin, and measures the steps anew as it gets on: over
// many steps a small error of the first ones adds up.
func (l *lattice) gather(points []r2.Point) {
	reach := 4 * max(l.u.Norm(), l.v.Norm())
	for widest := 0.0; ; reach *= 2 {
		clear(l.members)
		widest = 0
		for i, p := range points {
			d := p.Sub(l.origin).Norm()
			widest = max(widest, d)
			at, off := l.place(p)
			if _, taken := l.members[at]; d <= reach && off <= samePlace && !taken {
				l.members[at] = i
			}
		}
		l.straighten(points)
		if reach >= widest {
			return
		}
	}
}

// connect keeps the largest piece whose places are two steps apart at most.
func (l *lattice) connect() {
	var largest map[[2]int]int
	rest := l.members
	for _, start := range l.sorted() {
		piece := map[[2]int]int{}
		stack := [][2]int{start}
		for len(stack) > 0 {
			at := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			i, ok := rest[at]
			if !ok {
				continue
			}
			piece[at] = i
			delete(rest, at)
			for dx := -2; dx <= 2; dx++ {
				for dy := -2; dy <= 2; dy++ {
					stack = append(stack, [2]int{at[0] + dx, at[1] + dy})
				}
			}
		}
		if len(piece) > len(largest) {
			largest = piece
		}
	}
	l.members = largest
}

// sorted returns the places that have a point, row by row.
func (l *lattice) sorted() [][2]int {
	places := make([][2]int, 0, len(l.members))
	for at := range l.members {
		places = append(places, at)
	}
	slices.SortFunc(places, func(a, b [2]int) int { return cmp.Or(cmp.Compare(a[1], b[1]), cmp.Compare(a[0], b[0])) })
	return places
}

func (l *lattice) box() (low, high [2]int) {
	low, high = [2]int{math.MaxInt, math.MaxInt}, [2]int{math.MinInt, math.MinInt}
	for at := range l.members {
		for k := range at {
			low[k], high[k] = min(low[k], at[k]), max(high[k], at[k])
		}
	}
	return low, high
}

// good reports whether at least half of the places have a hole, and enough of them.
func (l *lattice) good() bool {
	n := len(l.members)
	if n < 3 {
		return false
	}
	low, high := l.box()
	columns, rows := high[0]-low[0]+1, high[1]-low[1]+1
	if float64(columns)*float64(rows) > 2*float64(n) {
		return false
	}
	return rows == 1 || columns > 1 && n >= 4
}
