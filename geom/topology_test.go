package geom

import (
	"testing"

	"pgregory.net/rapid"
)

// A tetrahedron: every half-edge has its other side, which runs the other way.
func TestTopologyOfATetrahedron(t *testing.T) {
	p := [4]Vertex{{0, 0, 0}, {1, 0, 0}, {0, 1, 0}, {0, 0, 1}}
	m := &Mesh{Facets: []Facet{{p[0], p[2], p[1]}, {p[0], p[1], p[3]}, {p[1], p[2], p[3]}, {p[2], p[0], p[3]}}}
	top := TopologyOf(m)
	if top.Vertices != 4 {
		t.Fatalf("%d vertices, want 4", top.Vertices)
	}
	for h, g := range top.Across {
		if g < 0 {
			t.Fatalf("half-edge %d has no other side", h)
		}
	}
	checkTopology(t, top)
	// One facet turned over: its three edges are shared by none that runs the other way.
	m.Facets[0][1], m.Facets[0][2] = m.Facets[0][2], m.Facets[0][1]
	top = TopologyOf(m)
	checkTopology(t, top)
	if top.Across[0] >= 0 || top.Across[1] >= 0 || top.Across[2] >= 0 {
		t.Errorf("the facet turned over has neighbours %v", top.Across[:3])
	}
}

func checkTopology(t interface{ Errorf(string, ...any) }, top *Topology) {
	for h, g := range top.Across {
		if g < 0 {
			continue
		}
		if top.Across[g] != int32(h) {
			t.Errorf("half-edge %d leads to %d, which leads to %d", h, g, top.Across[g])
		}
		if top.Vertex[h] != top.Vertex[next(g)] || top.Vertex[next(int32(h))] != top.Vertex[g] {
			t.Errorf("half-edges %d and %d do not run along one edge in opposite directions", h, g)
		}
	}
}

// Facets between few vertices: edges with many facets, folded facets, and both senses.
func TestTopologyIsMutual(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		corner := rapid.Custom(func(t *rapid.T) Vertex {
			var v Vertex
			for k := range v {
				v[k] = float32(rapid.IntRange(0, 2).Draw(t, "x"))
			}
			return v
		})
		facet := rapid.Custom(func(t *rapid.T) Facet {
			return Facet{corner.Draw(t, "a"), corner.Draw(t, "b"), corner.Draw(t, "c")}
		})
		checkTopology(t, TopologyOf(&Mesh{Facets: rapid.SliceOfN(facet, 0, 40).Draw(t, "facets")}))
	})
}
