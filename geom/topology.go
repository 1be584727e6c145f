package geom

// Topology says how the facets of a mesh hang together. Corners and half-edges
// have the same numbers: corner c is corner c%3 of facet c/3, and half-edge c
// runs from it to the next corner of its facet.
type Topology struct {
	Vertices int
	// Vertex of each corner. Corners are welded as in Audit: where their
	// coordinates are exactly equal.
	Vertex []int32
	// Across is, for each half-edge, the one that runs the other way along the same
	// edge; -1 where there is none, or more than one, or where the neighbour is not
	// turned alike.
	Across []int32
}

// TopologyOf finds the neighbours of each facet of m, in time linear in its
// facets but for a logarithm. It never fails.
func TopologyOf(m *Mesh) *Topology {
	t := newEdgeTable(weld(m))
	across := make([]int32, len(t.vertex))
	for h := range across {
		across[h] = -1
	}
	t.all(func(edge []int32, _, _ int) {
		edge = t.withoutFolded(edge)
		if len(edge) != 2 || t.vertex[edge[0]] == t.vertex[edge[1]] {
			return
		}
		across[edge[0]], across[edge[1]] = edge[1], edge[0]
	})
	return &Topology{Vertices: t.vertices, Vertex: t.vertex, Across: across}
}

// Next returns the corner, and the half-edge, after c in its facet.
func (*Topology) Next(c int32) int32 { return next(c) }
