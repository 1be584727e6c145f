package geom

import "slices"

// A half-edge is one side of a facet, from one corner to the next; it has the
// number of the corner that it leaves. edgeTable gathers the half-edges that run
// along the same edge, in either direction.
//
// It is a list per vertex, of the half-edges whose lower-numbered end the vertex
// is: built by counting, it needs 24 bytes a facet and no hashing.
type edgeTable struct {
	*welded
	start   []int32  // where the list of each vertex begins in entries; one more at the end
	entries []uint64 // higher vertex << 32 | half-edge << 1 | 1 if it runs from lower to higher
}

// newEdgeTable leaves out sides of no length, from a vertex to itself.
func newEdgeTable(w *welded) *edgeTable {
	t := &edgeTable{welded: w, start: make([]int32, w.vertices+1)}
	for c := range w.vertex {
		if from, to := w.ends(int32(c)); from != to {
			t.start[min(from, to)]++
		}
	}
	total := int32(0)
	for v, n := range t.start {
		total += n
		t.start[v] = total // one past the list; filling it from the back leads to its start
	}
	t.entries = make([]uint64, total)
	for c := len(w.vertex) - 1; c >= 0; c-- {
		from, to := w.ends(int32(c))
		if from == to {
			continue
		}
		low, entry := min(from, to), uint64(max(from, to))<<32|uint64(c)<<1
		if from < to {
			entry |= 1
		}
		t.start[low]--
		t.entries[t.start[low]] = entry
	}
	return t
}

// ends returns the vertices from and to which half-edge h runs.
func (w *welded) ends(h int32) (from, to int32) {
	return w.vertex[h], w.vertex[next(h)]
}

// next returns the corner after c in its facet.
func next(c int32) int32 {
	if c%3 == 2 {
		return c - 2
	}
	return c + 1
}

// all calls do with the half-edges of every edge, in ascending order, and with
// how many of them run in either direction. The slice is do's only for the call.
func (t *edgeTable) all(do func(halfEdges []int32, forward, backward int)) {
	var edge []int32
	for v := range t.vertices {
		list := t.entries[t.start[v]:t.start[v+1]]
		slices.Sort(list)
		for len(list) > 0 {
			edge = edge[:0]
			high, forward := list[0]>>32, 0
			for _, e := range list {
				if e>>32 != high {
					break
				}
				edge = append(edge, int32(uint32(e)>>1))
				forward += int(e & 1)
			}
			do(edge, forward, len(edge)-forward)
			list = list[len(edge):]
		}
	}
}
