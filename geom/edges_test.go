package geom

import (
	"math"
	"testing"
)

// prism returns a closed prism of n sides about the z axis.
func prism(n int, radius, height float64) *Mesh {
	m := &Mesh{}
	for _, t := range revolved(n, false, [2]float64{0, 0}, [2]float64{radius, 0}, [2]float64{radius, height}, [2]float64{0, height}) {
		m.Facets = append(m.Facets, Facet{VertexOf(t[0]), VertexOf(t[1]), VertexOf(t[2])})
	}
	return m
}

func TestEdgesOf(t *testing.T) {
	unit := box(Vertex{0, 0, 0}, Vertex{1, 1, 1})
	crossed := append([]Facet(nil), unit...)
	crossed[7] = flipped(crossed[7:8])[0]
	mid := Vertex{0.5, 0, 0}
	var sliver []Facet // the sides along (0,0,0)-(1,0,0) of one facet has a corner more
	for _, f := range unit {
		if f[0] == (Vertex{}) && f[1] == (Vertex{1, 0, 0}) {
			sliver = append(sliver, Facet{f[0], mid, f[2]}, Facet{mid, f[1], f[2]}, Facet{f[0], f[1], mid})
			continue
		}
		sliver = append(sliver, f)
	}
	for _, test := range []struct {
		name                string
		mesh                *Mesh
		edges, crease, open int
	}{
		{"nothing", join(), 0, 0, 0},
		{"box: no diagonals", join(unit), 12, 12, 0},
		{"a facet missing", join(unit[:11]), 13, 13, 3},
		{"a facet flipped: its diagonal shows", join(crossed), 13, 13, 0},
		{"two boxes touching along an edge", join(unit, moved(unit, Vertex{1, 1, 0})), 23, 23, 0},
		{"folded facets are not there", join(unit, []Facet{{{0, 0, 0}, {1, 0, 0}, {1, 0, 0}}}), 12, 12, 0},
		// The sliver belongs to the face across its long side; on its other side the
		// edge is in two halves.
		{"a sliver takes its neighbour's plane", join(sliver), 13, 13, 0},
		{"a sliver on its own", join([]Facet{{{0, 0, 0}, mid, {1, 0, 0}}}), 3, 3, 3},
		{"a folded facet on its own", join([]Facet{{{0, 0, 0}, {1, 0, 0}, {1, 0, 0}}}), 0, 0, 0},
		{"prism of 36 sides: two rims, and sides for outlines", prism(36, 20, 50), 3 * 36, 2 * 36, 0},
		{"prism of 6 sides: all sharp", prism(6, 20, 50), 3 * 6, 3 * 6, 0},
	} {
		t.Run(test.name, func(t *testing.T) {
			edges, crease, open := 0, 0, 0
			for _, e := range EdgesOf(test.mesh, math.Pi/6) {
				edges++
				if e.Crease {
					crease++
				}
				if e.Open {
					open++
				}
				for _, n := range e.Normals {
					if math.Abs(n.Norm()-1) > 1e-12 && test.name != "a sliver on its own" {
						t.Errorf("normal %v of length %g", n, n.Norm())
					}
				}
			}
			if edges != test.edges || crease != test.crease || open != test.open {
				t.Errorf("%d edges, %d creases, %d open; want %d, %d, %d", edges, crease, open, test.edges, test.crease, test.open)
			}
		})
	}
}

// The edges in whose facets face towards and away from the viewer make the
// outline: of a cylinder from the side, the two sides farthest out.
func TestEdgesOutline(t *testing.T) {
	n := 36
	sides := 0
	for _, e := range EdgesOf(prism(n, 20, 50), math.Pi/6) {
		if a, b := e.Normals[0].Y, e.Normals[1].Y; a*b < 0 && e.A[2] != e.B[2] {
			sides++
			if math.Abs(math.Abs(float64(e.A[0]))-20) > 20*(1-math.Cos(2*math.Pi/float64(n))) {
				t.Errorf("outline at x = %g", e.A[0])
			}
		}
	}
	if sides != 2 {
		t.Errorf("%d sides in the outline, want 2", sides)
	}
}

// Flat faces cut up by slivers, each beginning with any of its corners, and lying
// side by side, show no edge within.
func TestEdgesOfSlivers(t *testing.T) {
	for first := range 3 {
		// A square in z = 0 in two halves, its diagonal taken up by three slivers.
		a, b, c, d := Vertex{0, 0, 0}, Vertex{8, 0, 0}, Vertex{8, 8, 0}, Vertex{0, 8, 0}
		p, q := Vertex{2, 2, 0}, Vertex{4, 4, 0}
		m := join([]Facet{{a, b, c}, {a, p, d}, {p, q, d}, {q, c, d}, {a, c, q}, {a, q, p}})
		for i := 4; i < 6; i++ {
			f := m.Facets[i]
			m.Facets[i] = Facet{f[first], f[(first+1)%3], f[(first+2)%3]}
		}
		for _, e := range EdgesOf(m, 0.5) {
			if !e.Open {
				t.Errorf("first corner %d: edge from %v to %v, normals %v", first, e.A, e.B, e.Normals)
			}
		}
	}
}
