package shape

import "fmt"

// hold makes the segment from point a to point b an edge of the triangulation,
// or a row of edges if other points lie on it, and toggles the region's bit on
// each: by the method of Sloan ("A fast algorithm for generating constrained
// Delaunay triangulations", Computers & Structures 47, 1993), which flips the
// edges that cross the segment until none does.
func (t *triangulation) hold(a, b int32, region uint8) error {
	for a != b {
		end, crossed, err := t.crossing(a, b)
		if err != nil {
			return err
		}
		if err := t.clearWay(a, end, crossed); err != nil {
			return err
		}
		tri, k := t.edge(a, end)
		f := &t.tris[tri]
		f.fixed[k] = f.fixed[k] ^ region | touched
		g := &t.tris[f.neighbour[k]]
		g.fixed[slot(g, tri)] = f.fixed[k]
		a = end
	}
	return nil
}

// touched marks an edge that some contour follows, even where two contours of
// the same region meet and so it bounds nothing.
const touched = 1 << 7

// crossing returns the edges, as pairs of points, that the way from a to b
// crosses before it meets a point, and that point: b or one on the way.
func (t *triangulation) crossing(a, b int32) (end int32, crossed [][2]int32, err error) {
	tri, k, end := t.leave(a, b)
	if end >= 0 {
		return end, nil, nil
	}
	for {
		f := &t.tris[tri]
		p, q := f.corner[(k+1)%3], f.corner[(k+2)%3]
		if f.fixed[k] != 0 {
			return 0, nil, fmt.Errorf("contours cross: %v to %v and %v to %v",
				t.points[a], t.points[b], t.points[p], t.points[q])
		}
		crossed = append(crossed, [2]int32{p, q})
		next := f.neighbour[k]
		g := &t.tris[next]
		m := slot(g, tri)
		r := g.corner[m]
		if r == b {
			return b, crossed, nil
		}
		side := t.turn(a, b, r)
		if side == 0 {
			return r, crossed, nil
		}
		// g is (r, q, p): leave across r-q when r is to the right of the way
		// (with p), across p-r when it is to the left (with q)
		tri = next
		if side < 0 {
			k = (m + 2) % 3
		} else {
			k = (m + 1) % 3
		}
	}
}

// leave returns the triangle at a whose far edge the way to b crosses, or the
// next point on the way if an edge already runs along it.
func (t *triangulation) leave(a, b int32) (tri, k, end int32) {
	start := t.at[a]
	tri = start
	for {
		f := &t.tris[tri]
		k = cornerOf(f, a)
		p, q := f.corner[(k+1)%3], f.corner[(k+2)%3]
		sp := t.turn(a, b, p)
		if sp == 0 && t.points[p].Sub(t.points[a]).Dot(t.points[b].Sub(t.points[a])) > 0 {
			return tri, k, p
		}
		if sp < 0 && t.turn(a, b, q) > 0 {
			return tri, k, -1
		}
		tri = f.neighbour[(k+1)%3] // across a-q: counter-clockwise around a
		if tri == start {
			panic("shape: no way out of a point") // the enclosing triangle surrounds every point
		}
	}
}

// clearWay flips the crossed edges until the segment a-b is an edge.
func (t *triangulation) clearWay(a, b int32, crossed [][2]int32) error {
	// Each edge is flipped or put off until a neighbour has been; the method
	// ends by construction, the limit guards the claim.
	limit := 64 * (len(crossed) + 4) * (len(crossed) + 4)
	for step := 0; len(crossed) > 0; step++ {
		if step > limit {
			return fmt.Errorf("cannot place the edge %v to %v", t.points[a], t.points[b])
		}
		e := crossed[0]
		crossed = crossed[1:]
		tri, k := t.edge(e[0], e[1])
		if !t.flip(tri, k) {
			crossed = append(crossed, e)
			continue
		}
		f := &t.tris[tri]
		p, q := f.corner[2], f.corner[0] // the new diagonal
		if p == a || p == b || q == a || q == b {
			continue
		}
		if (t.turn(a, b, p) > 0) != (t.turn(a, b, q) > 0) {
			crossed = append(crossed, [2]int32{p, q})
		}
	}
	return nil
}

// edge returns the triangle and the number of the edge that joins p and q.
func (t *triangulation) edge(p, q int32) (tri, k int32) {
	tri = t.at[p]
	for start := tri; ; {
		f := &t.tris[tri]
		c := cornerOf(f, p)
		if f.corner[(c+1)%3] == q {
			return tri, (c + 2) % 3
		}
		tri = f.neighbour[(c+1)%3]
		if tri == start {
			panic("shape: triangulation lost an edge")
		}
	}
}

func cornerOf(f *facet, p int32) int32 {
	for k, c := range f.corner {
		if c == p {
			return int32(k)
		}
	}
	panic("shape: triangulation lost a point")
}

// relax restores the Delaunay property everywhere but across held edges.
func (t *triangulation) relax() {
	for tri := range t.tris {
		for k := range int32(3) {
			t.push(int32(tri), k)
		}
	}
	t.legalize()
}
