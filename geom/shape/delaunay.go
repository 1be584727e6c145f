package shape

import (
	"github.com/golang/geo/r2"
)

// triangulation is an incremental Delaunay triangulation of points (Lawson
// 1977) that can be made to hold given edges (constrain.go). Every decision
// about its topology rests on the exact sign of orientation; inCircle only
// improves the looks.
type triangulation struct {
	points []r2.Point // the last three are the corners of an all-enclosing triangle
	tris   []facet
	at     []int32 // a triangle at each point
	last   int32   // where the next search starts
	stack  []edgeOf
}

// facet is a triangle, corners counter-clockwise. Edge k and neighbour k are
// opposite to corner k; -1 is no neighbour.
type facet struct {
	corner, neighbour [3]int32
	fixed             [3]uint8 // mask of the regions that the edge bounds; 0 may be flipped
}

type edgeOf struct{ tri, k int32 }

// triangulate returns the Delaunay triangulation of distinct points.
func triangulate(points []r2.Point) *triangulation {
	box := r2.RectFromPoints(points...)
	c, size := box.Center(), 16*(box.X.Length()+box.Y.Length())
	n := int32(len(points))
	t := &triangulation{points: make([]r2.Point, 0, n+3), at: make([]int32, n+3)}
	t.points = append(t.points, points...)
	t.points = append(t.points,
		r2.Point{X: c.X - 2*size, Y: c.Y - size}, r2.Point{X: c.X + 2*size, Y: c.Y - size}, r2.Point{X: c.X, Y: c.Y + 2*size})
	t.tris = append(t.tris, facet{corner: [3]int32{n, n + 1, n + 2}, neighbour: [3]int32{-1, -1, -1}})
	for p := range n {
		t.insert(p)
	}
	return t
}

func (t *triangulation) turn(a, b, c int32) float64 {
	return orientation(t.points[a], t.points[b], t.points[c])
}

// locate returns the triangle that holds the point and the edge on which it
// lies, or -1 for the interior: a walk that leaves each triangle across an edge
// with the point beyond it. A Delaunay triangulation has no cycles for such a
// walk; ties at the rounding limit could make one, so the start of the edge
// order moves on at each step.
func (t *triangulation) locate(p int32) (tri, edge int32) {
	tri = t.last
	for step := int32(0); ; step++ {
		f := &t.tris[tri]
		edge = -1
		next := int32(-1)
		for i := range int32(3) {
			k := (i + step) % 3
			switch s := t.turn(f.corner[(k+1)%3], f.corner[(k+2)%3], p); {
			case s < 0:
				next = f.neighbour[k]
			case s == 0:
				edge = k
			}
			if next >= 0 {
				break
			}
		}
		if next < 0 {
			return tri, edge
		}
		tri = next
	}
}

// insert adds point p: it splits the triangle it falls into, or the two on
// whose common edge it lies, and restores the Delaunay property around.
func (t *triangulation) insert(p int32) {
	tri, edge := t.locate(p)
	if edge < 0 {
		t.splitTriangle(tri, p)
	} else {
		t.splitEdge(tri, edge, p)
	}
	t.last = t.at[p]
	t.legalize()
}

func (t *triangulation) splitTriangle(tri, p int32) {
	f := t.tris[tri]
	ids := [3]int32{tri, t.grow(), t.grow()}
	for k := range int32(3) { // ids[k] keeps edge k of the old triangle
		a, b := f.corner[(k+1)%3], f.corner[(k+2)%3]
		t.tris[ids[k]] = facet{
			corner:    [3]int32{p, a, b},
			neighbour: [3]int32{f.neighbour[k], ids[(k+1)%3], ids[(k+2)%3]},
		}
		t.relink(f.neighbour[k], tri, ids[k])
		t.at[a] = ids[k]
		t.push(ids[k], 0)
	}
	t.at[p] = tri
}

// splitEdge turns the two triangles on the edge into four around p.
func (t *triangulation) splitEdge(tri, k, p int32) {
	f := t.tris[tri]
	other := f.neighbour[k]
	g := t.tris[other]
	m := slot(&g, tri)
	a, b, c := f.corner[k], f.corner[(k+1)%3], f.corner[(k+2)%3] // edge b-c
	d := g.corner[m]                                             // g is d, c, b
	fab, fca := f.neighbour[(k+2)%3], f.neighbour[(k+1)%3]
	gbd, gdc := g.neighbour[(m+1)%3], g.neighbour[(m+2)%3]
	t1, t2, t3, t4 := tri, t.grow(), other, t.grow()
	t.tris[t1] = facet{corner: [3]int32{p, a, b}, neighbour: [3]int32{fab, t4, t2}}
	t.tris[t2] = facet{corner: [3]int32{p, c, a}, neighbour: [3]int32{fca, t1, t3}}
	t.tris[t3] = facet{corner: [3]int32{p, d, c}, neighbour: [3]int32{gdc, t2, t4}}
	t.tris[t4] = facet{corner: [3]int32{p, b, d}, neighbour: [3]int32{gbd, t3, t1}}
	t.relink(fab, tri, t1)
	t.relink(fca, tri, t2)
	t.relink(gdc, other, t3)
	t.relink(gbd, other, t4)
	t.at[p], t.at[a], t.at[b], t.at[c], t.at[d] = t1, t1, t4, t2, t3
	for _, id := range [4]int32{t1, t2, t3, t4} {
		t.push(id, 0)
	}
}

func (t *triangulation) grow() int32 {
	t.tris = append(t.tris, facet{})
	return int32(len(t.tris) - 1)
}

func (t *triangulation) push(tri, k int32) { t.stack = append(t.stack, edgeOf{tri, k}) }

// relink tells a neighbour that the triangle beyond its edge has a new number.
func (t *triangulation) relink(tri, from, to int32) {
	if tri >= 0 {
		f := &t.tris[tri]
		f.neighbour[slot(f, from)] = to
	}
}

// slot returns the edge of f beyond which the triangle lies.
func slot(f *facet, tri int32) int32 {
	for k, n := range f.neighbour {
		if n == tri {
			return int32(k)
		}
	}
	panic("shape: triangulation lost a neighbour")
}

// legalize flips the edges on the stack, and those around what it flips, until
// no circle around a triangle holds the point across a flippable edge.
func (t *triangulation) legalize() {
	for len(t.stack) > 0 {
		e := t.stack[len(t.stack)-1]
		t.stack = t.stack[:len(t.stack)-1]
		f := &t.tris[e.tri]
		if f.fixed[e.k] != 0 || f.neighbour[e.k] < 0 {
			continue
		}
		g := &t.tris[f.neighbour[e.k]]
		d := g.corner[slot(g, e.tri)]
		if !inCircle(t.points[f.corner[0]], t.points[f.corner[1]], t.points[f.corner[2]], t.points[d]) {
			continue
		}
		if t.flip(e.tri, e.k) {
			a, b := e.tri, t.tris[e.tri].neighbour[1]
			t.push(a, 0)
			t.push(a, 2)
			t.push(b, 0)
			t.push(b, 1)
		}
	}
}

// flip exchanges the diagonal of the quadrilateral around edge k, if that is
// strictly convex. Afterwards tri is (a, b, d), the new diagonal its edge 1, and
// the other is (a, d, c), the diagonal its edge 2.
func (t *triangulation) flip(tri, k int32) bool {
	f := t.tris[tri]
	other := f.neighbour[k]
	g := t.tris[other]
	m := slot(&g, tri)
	a, b, c := f.corner[k], f.corner[(k+1)%3], f.corner[(k+2)%3]
	d := g.corner[m]
	if t.turn(a, b, d) <= 0 || t.turn(a, d, c) <= 0 {
		return false
	}
	ab, ca := (k+2)%3, (k+1)%3
	bd, dc := (m+1)%3, (m+2)%3
	t.tris[tri] = facet{
		corner:    [3]int32{a, b, d},
		neighbour: [3]int32{g.neighbour[bd], other, f.neighbour[ab]},
		fixed:     [3]uint8{g.fixed[bd], 0, f.fixed[ab]},
	}
	t.tris[other] = facet{
		corner:    [3]int32{a, d, c},
		neighbour: [3]int32{g.neighbour[dc], f.neighbour[ca], tri},
		fixed:     [3]uint8{g.fixed[dc], f.fixed[ca], 0},
	}
	t.relink(g.neighbour[bd], other, tri)
	t.relink(f.neighbour[ca], tri, other)
	t.at[a], t.at[b], t.at[d], t.at[c] = tri, tri, tri, other
	return true
}
