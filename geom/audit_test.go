package geom

import "testing"

// box returns the twelve facets of an axis-parallel box.
func box(lo, hi Vertex) []Facet {
	corner := func(i int) Vertex {
		v := lo
		for k := range 3 {
			if i>>k&1 == 1 {
				v[k] = hi[k]
			}
		}
		return v
	}
	var facets []Facet
	for _, q := range [6][4]int{{0, 2, 3, 1}, {4, 5, 7, 6}, {0, 1, 5, 4}, {2, 6, 7, 3}, {0, 4, 6, 2}, {1, 3, 7, 5}} {
		a, b, c, d := corner(q[0]), corner(q[1]), corner(q[2]), corner(q[3])
		facets = append(facets, Facet{a, b, c}, Facet{a, c, d})
	}
	return facets
}

// flipped returns the facets with the other side outside.
func flipped(facets []Facet) []Facet {
	out := make([]Facet, len(facets))
	for i, f := range facets {
		out[i] = Facet{f[0], f[2], f[1]}
	}
	return out
}

// join returns a mesh of all the facets.
func join(parts ...[]Facet) *Mesh {
	m := &Mesh{}
	for _, p := range parts {
		m.Facets = append(m.Facets, p...)
	}
	return m
}

func TestAuditVerdict(t *testing.T) {
	unit := box(Vertex{0, 0, 0}, Vertex{1, 1, 1})
	outer := box(Vertex{-5, -5, -5}, Vertex{5, 5, 5})
	crossed := append([]Facet(nil), unit...)
	crossed[7] = flipped(crossed[7:8])[0]
	type want struct {
		closed, oriented, insideOut bool
		open, misoriented           int
		vertices, shells, cavities  int
		firstInsideOut, edges       int
		volume, area                float64
	}
	tests := []struct {
		name string
		mesh *Mesh
		want want
	}{
		{"nothing", join(), want{closed: true, oriented: true, firstInsideOut: -1}},
		{"box", join(unit), want{closed: true, oriented: true, vertices: 8, edges: 18, shells: 1, firstInsideOut: -1, volume: 1, area: 6}},
		{"inside out", join(flipped(unit)), want{closed: true, oriented: true, insideOut: true, vertices: 8, edges: 18, shells: 1, volume: -1, area: 6}},
		{"a facet missing", join(unit[:11]), want{oriented: true, open: 3, vertices: 8, edges: 18, shells: 1, firstInsideOut: -1, area: 5.5}},
		{"a facet flipped", join(crossed), want{closed: true, misoriented: 3, vertices: 8, edges: 18, shells: 1, firstInsideOut: -1, area: 6}},
		{"a void", join(flipped(unit), outer), want{closed: true, oriented: true, vertices: 16, edges: 36, shells: 2, cavities: 1, firstInsideOut: -1, volume: 999, area: 606}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			a := AuditOf(test.mesh)
			got := want{a.Closed, a.Oriented, a.InsideOut, a.OpenEdges, a.Misoriented,
				a.Vertices, len(a.Shells), a.Cavities, a.FirstInsideOut, a.Edges,
				float64(float32(a.Volume)), float64(float32(a.Area))}
			if got != test.want {
				t.Errorf("got  %+v\nwant %+v", got, test.want)
			}
		})
	}
}
