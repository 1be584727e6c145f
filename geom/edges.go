package geom

import (
	"math"

	"github.com/golang/geo/r3"
)

// Edge is an edge worth drawing, from A to B as its first facet runs.
type Edge struct {
	A, B Vertex

	// Normals are the unit normals of the facets on both sides. Seen along a
	// direction d, the edge is part of the outline if d . Normals[0] and
	// d . Normals[1] differ in sign. An open edge has its one normal twice, and is
	// always part of the outline.
	Normals [2]r3.Vector

	Open   bool // an odd number of facets meet here; see Audit
	Crease bool // sharp, or open, or where more than two facets meet
}

// flatAngle is the turn in radians, 0.06 degrees, below which two facets lie in
// one plane. A cylinder of 6,000 sides turns by more; what turns by less is mostly
// a plane whose corners float32 has rounded.
const flatAngle = 1e-3

// EdgesOf returns the edges of m, each once, but for those between two facets in
// one plane. Where the facets turn by creaseAngle (radians) or more, the edge is
// marked Crease; the others can show in an outline only. Their order depends on
// the mesh alone.
//
// A facet without area (see Audit) has no normal of its own: it takes that of its
// neighbour across its longest side, so a sliver in a flat face shows no edge.
func EdgesOf(m *Mesh, creaseAngle float64) []Edge {
	t := newEdgeTable(weld(m))
	n := newNormals(t)
	flat, sharp := math.Cos(flatAngle), math.Cos(creaseAngle)
	var edges []Edge
	t.all(func(edge []int32, _, _ int) {
		edge = t.withoutFolded(edge)
		if len(edge) == 0 {
			return
		}
		h, g := edge[0], edge[0]
		if len(edge) > 1 {
			g = edge[1]
		}
		normals := [2]r3.Vector{n.of(h / 3), n.of(g / 3)}
		cos := normals[0].Dot(normals[1])
		crease := len(edge) != 2 || cos <= sharp
		if crease || cos < flat {
			edges = append(edges, Edge{
				A: t.corner(h), B: t.corner(next(h)),
				Normals: normals, Open: len(edge)%2 == 1, Crease: crease,
			})
		}
	})
	return edges
}

// withoutFolded drops the half-edges of facets with two equal corners. Such a
// facet is a line, there and back: its neighbours are each other's.
func (w *welded) withoutFolded(edge []int32) []int32 {
	kept := edge[:0]
	for _, h := range edge {
		if a, b, c := w.facet(int(h / 3)); a != b && b != c && c != a {
			kept = append(kept, h)
		}
	}
	return kept
}

// normals gives the unit normals of facets.
type normals struct {
	mesh *Mesh
	// across leads from each facet without area, but with three corners, to its
	// neighbour across its longest side; -1 if it has none there.
	across map[int32]int32
}

func newNormals(t *edgeTable) *normals {
	n := &normals{mesh: t.mesh, across: map[int32]int32{}}
	for f := range t.mesh.Facets {
		p, q, r := t.mesh.Triangle(f)
		if a, b, c := t.facet(f); a != b && b != c && c != a && collinear(p, q, r, q.Sub(p).Cross(r.Sub(p))) {
			n.across[int32(f)] = -1
		}
	}
	if len(n.across) == 0 {
		return n
	}
	t.all(func(edge []int32, _, _ int) {
		edge = t.withoutFolded(edge)
		if len(edge) != 2 {
			return
		}
		for i, h := range edge {
			if _, ok := n.across[h/3]; ok && h == longestSide(t.mesh, h/3) {
				n.across[h/3] = edge[1-i] / 3
			}
		}
	})
	return n
}

func longestSide(m *Mesh, f int32) int32 {
	a, b, c := m.Triangle(int(f))
	ab, bc, ca := b.Sub(a).Norm2(), c.Sub(b).Norm2(), a.Sub(c).Norm2()
	switch max(ab, bc, ca) {
	case ab:
		return 3 * f
	case bc:
		return 3*f + 1
	}
	return 3*f + 2
}

// of returns the normal of facet f, zero if it has none and borrows none.
func (n *normals) of(f int32) r3.Vector {
	const most = 64 // slivers can lie side by side, and then lead in a circle
	for range most {
		g, flat := n.across[f]
		if !flat {
			a, b, c := n.mesh.Triangle(int(f))
			return b.Sub(a).Cross(c.Sub(a)).Normalize()
		}
		if g < 0 {
			break
		}
		f = g
	}
	return r3.Vector{}
}
