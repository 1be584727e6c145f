package geom

import (
	"math"
	"slices"
	"testing"

	"github.com/golang/geo/r3"
)

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

func moved(facets []Facet, by Vertex) []Facet {
	out := slices.Clone(facets)
	for i := range out {
		for k := range 9 {
			out[i][k/3][k%3] += by[k%3]
		}
	}
	return out
}

func TestAuditVerdict(t *testing.T) {
	unit := box(Vertex{0, 0, 0}, Vertex{1, 1, 1})
	outer := box(Vertex{-5, -5, -5}, Vertex{5, 5, 5})
	outermost := box(Vertex{-8, -8, -8}, Vertex{8, 8, 8})
	crossed := slices.Clone(unit)
	crossed[7] = flipped(crossed[7:8])[0]
	minusZero := slices.Clone(unit)
	for k := range 9 {
		if x := &minusZero[2][k/3][k%3]; *x == 0 {
			*x = float32(math.Copysign(0, -1))
		}
	}
	gap := slices.Clone(unit)
	gap[0][0][2] = math.SmallestNonzeroFloat32
	point := Facet{{1, 1, 1}, {1, 1, 1}, {1, 1, 1}}
	stray := Facet{{9, 9, 9}, {9, 9, 9}, {9, 9, 9}}
	folded := Facet{{0, 0, 0}, {1, 0, 0}, {1, 0, 0}}
	// The side from (0,0,0) to (1,0,0) of one facet has a third corner on it, taken
	// up by a facet without area: what some programs do where faces meet unevenly.
	sliver := slices.Clone(unit)
	split := slices.IndexFunc(sliver, func(f Facet) bool { return f[0] == Vertex{} && f[1] == Vertex{1, 0, 0} })
	f := sliver[split]
	mid := Vertex{0.5, 0, 0}
	sliver[split] = Facet{f[0], mid, f[2]}
	sliver = append(sliver, Facet{mid, f[1], f[2]}, Facet{f[0], f[1], mid})

	type want struct {
		closed, oriented, insideOut bool
		open, misoriented           int
		vertices, edges             int
		shells, cavities            int
		firstInsideOut              int
		degenerate, firstDegenerate int
		volume, area                float64
	}
	tests := []struct {
		name string
		mesh *Mesh
		want want
	}{
		{"nothing", join(),
			want{closed: true, oriented: true, firstInsideOut: -1, firstDegenerate: -1}},
		{"box", join(unit),
			want{closed: true, oriented: true, vertices: 8, edges: 18, shells: 1, firstInsideOut: -1, firstDegenerate: -1, volume: 1, area: 6}},
		{"minus zero is zero", join(minusZero),
			want{closed: true, oriented: true, vertices: 8, edges: 18, shells: 1, firstInsideOut: -1, firstDegenerate: -1, volume: 1, area: 6}},
		{"nearly equal is not equal", join(gap),
			want{oriented: true, open: 4, vertices: 9, edges: 20, shells: 1, firstInsideOut: -1, firstDegenerate: -1, area: 6}},
		{"inside out", join(flipped(unit)),
			want{closed: true, oriented: true, insideOut: true, vertices: 8, edges: 18, shells: 1, firstDegenerate: -1, volume: -1, area: 6}},
		{"a facet missing", join(unit[:11]),
			want{oriented: true, open: 3, vertices: 8, edges: 18, shells: 1, firstInsideOut: -1, firstDegenerate: -1, area: 5.5}},
		{"a facet flipped", join(crossed),
			want{closed: true, misoriented: 3, vertices: 8, edges: 18, shells: 1, firstInsideOut: -1, firstDegenerate: -1, area: 6}},
		{"a facet twice", join(unit, unit[3:4]),
			want{oriented: true, open: 3, vertices: 8, edges: 18, shells: 1, firstInsideOut: -1, firstDegenerate: -1, area: 6.5}},
		{"apart", join(unit, moved(unit, Vertex{3, 0, 0})),
			want{closed: true, oriented: true, vertices: 16, edges: 36, shells: 2, firstInsideOut: -1, firstDegenerate: -1, volume: 2, area: 12}},
		{"touching in a corner", join(unit, moved(unit, Vertex{1, 1, 1})),
			want{closed: true, oriented: true, vertices: 15, edges: 36, shells: 2, firstInsideOut: -1, firstDegenerate: -1, volume: 2, area: 12}},
		{"touching along an edge", join(unit, moved(unit, Vertex{1, 1, 0})),
			want{closed: true, oriented: true, vertices: 14, edges: 35, shells: 1, firstInsideOut: -1, firstDegenerate: -1, volume: 2, area: 12}},
		{"a void", join(flipped(unit), outer),
			want{closed: true, oriented: true, vertices: 16, edges: 36, shells: 2, cavities: 1, firstInsideOut: -1, firstDegenerate: -1, volume: 999, area: 606}},
		{"a solid in a solid", join(unit, outer),
			want{closed: true, oriented: true, vertices: 16, edges: 36, shells: 2, firstInsideOut: -1, firstDegenerate: -1, volume: 1001, area: 606}},
		{"a solid in a void", join(outermost, flipped(outer), unit),
			want{closed: true, oriented: true, vertices: 24, edges: 54, shells: 3, cavities: 1, firstInsideOut: -1, firstDegenerate: -1, volume: 3097, area: 2142}},
		{"inside out in a void", join(outermost, flipped(outer), flipped(unit)),
			want{closed: true, oriented: true, insideOut: true, vertices: 24, edges: 54, shells: 3, cavities: 1, firstInsideOut: 2, firstDegenerate: -1, volume: 3095, area: 2142}},
		{"a void inside out throughout", join(unit, flipped(outer)),
			want{closed: true, oriented: true, insideOut: true, vertices: 16, edges: 36, shells: 2, firstInsideOut: 1, firstDegenerate: -1, volume: -999, area: 606}},
		{"inside out beside a solid", join(outer, flipped(moved(unit, Vertex{7, 0, 0}))),
			want{closed: true, oriented: true, insideOut: true, vertices: 16, edges: 36, shells: 2, firstInsideOut: 1, firstDegenerate: -1, volume: 999, area: 606}},
		{"inside out, half way into a solid", join(outer, flipped(moved(unit, Vertex{4.5, 0, 0}))),
			want{closed: true, oriented: true, insideOut: true, vertices: 16, edges: 36, shells: 2, firstInsideOut: 1, firstDegenerate: -1, volume: 999, area: 606}},
		{"inside out in an open solid", join(outer[1:], flipped(unit)),
			want{oriented: true, insideOut: true, open: 3, vertices: 16, edges: 36, shells: 2, firstInsideOut: 1, firstDegenerate: -1, volume: -1, area: 556}},
		{"a facet that is a point", join(unit, []Facet{point}),
			want{closed: true, oriented: true, vertices: 8, edges: 18, shells: 1, firstInsideOut: -1, degenerate: 1, firstDegenerate: 12, volume: 1, area: 6}},
		{"a point on its own", join(unit, []Facet{stray, stray}),
			want{closed: true, oriented: true, vertices: 9, edges: 18, shells: 2, firstInsideOut: -1, degenerate: 2, firstDegenerate: 12, volume: 1, area: 6}},
		{"a facet that is a line", join(unit, []Facet{folded}),
			want{closed: true, oriented: true, vertices: 8, edges: 18, shells: 1, firstInsideOut: -1, degenerate: 1, firstDegenerate: 12, volume: 1, area: 6}},
		{"a facet of three corners in a line", join(sliver),
			want{closed: true, oriented: true, vertices: 9, edges: 21, shells: 1, firstInsideOut: -1, degenerate: 1, firstDegenerate: 13, volume: 1, area: 6}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			a := AuditOf(test.mesh)
			got := want{a.Closed, a.Oriented, a.InsideOut, a.OpenEdges, a.Misoriented,
				a.Vertices, a.Edges, len(a.Shells), a.Cavities, a.FirstInsideOut, a.Degenerate, a.FirstDegenerate,
				float64(float32(a.Volume)), float64(float32(a.Area))}
			if got != test.want {
				t.Errorf("got  %+v\nwant %+v", got, test.want)
			}
			if (len(a.Faults()) == 0) != (a.Closed && a.Oriented && !a.InsideOut && a.Degenerate == 0 && a.Facets > 0) {
				t.Errorf("faults %q of %+v", a.Faults(), a)
			}
		})
	}
}

func TestAuditShells(t *testing.T) {
	unit := box(Vertex{0, 0, 0}, Vertex{1, 1, 1})
	outer := box(Vertex{-5, -5, -5}, Vertex{5, 5, 5})
	crossed := slices.Clone(unit)
	crossed[7] = flipped(crossed[7:8])[0]
	a := AuditOf(join(flipped(unit), outer, moved(unit[:11], Vertex{20, 0, 0}), moved(crossed, Vertex{30, 0, 0})))
	lo, hi := func(x float64) r3.Vector { return r3.Vector{X: x} }, func(x float64) r3.Vector { return r3.Vector{X: x + 1, Y: 1, Z: 1} }
	want := []Shell{
		{First: 0, Facets: 12, Closed: true, Oriented: true, Volume: -1, Cavity: true, Bounds: Box{lo(0), hi(0)}},
		{First: 12, Facets: 12, Closed: true, Oriented: true, Volume: 1000, Point: r3.Vector{X: -5, Y: -5, Z: -5},
			Bounds: Box{r3.Vector{X: -5, Y: -5, Z: -5}, r3.Vector{X: 5, Y: 5, Z: 5}}},
		{First: 24, Facets: 11, Oriented: true, Point: lo(20), Bounds: Box{lo(20), hi(20)}},
		{First: 35, Facets: 12, Closed: true, Point: lo(30), Bounds: Box{lo(30), hi(30)}},
	}
	for i := range a.Shells {
		a.Shells[i].Volume = float64(float32(a.Shells[i].Volume))
	}
	if !slices.Equal(a.Shells, want) {
		t.Errorf("got  %+v\nwant %+v", a.Shells, want)
	}
	if all := (Box{r3.Vector{X: -5, Y: -5, Z: -5}, r3.Vector{X: 31, Y: 5, Z: 5}}); a.Bounds != all {
		t.Errorf("bounds %v, want %v", a.Bounds, all)
	}
	if got := [][2]r3.Vector{a.FirstOpen, a.FirstMisoriented}; !slices.Equal(got, [][2]r3.Vector{
		{{X: 21, Y: 0, Z: 1}, {X: 21, Y: 1, Z: 1}}, {{X: 30, Y: 1, Z: 0}, {X: 31, Y: 1, Z: 0}}}) {
		t.Errorf("first open and misoriented edges %v", got)
	}
}

func TestFaults(t *testing.T) {
	unit := box(Vertex{0, 0, 0}, Vertex{1, 1, 1})
	crossed := slices.Clone(unit)
	crossed[7] = flipped(crossed[7:8])[0]
	point := Facet{{9, 9, 9.5}, {9, 9, 9.5}, {9, 9, 9.5}}
	a := AuditOf(join(unit[:11], moved(crossed, Vertex{3, 0, 0}), moved(flipped(unit), Vertex{6, 0, 0}), []Facet{point}))
	want := []string{
		"open: 3 open edges, the first from (1, 0, 1) to (1, 1, 1)",
		"not consistently oriented: 3 misoriented edges, the first from (3, 1, 0) to (4, 1, 0)",
		"inside out: the shell of 12 facets at (6, 0, 0) has its outside within",
		"1 facet without area, the first is facet 36",
	}
	if got := a.Faults(); !slices.Equal(got, want) {
		t.Errorf("got  %q\nwant %q", got, want)
	}
	sound, none := AuditOf(join(unit)), AuditOf(join())
	if got := sound.Faults(); len(got) != 0 {
		t.Errorf("a sound box: %q", got)
	}
	if got := none.Faults(); !slices.Equal(got, []string{"no facets"}) {
		t.Errorf("nothing: %q", got)
	}
}

// A sliver counts as without area when float32 cannot tell its height from none
// at its place, and not before.
func TestDegenerateResolution(t *testing.T) {
	const at = 512 // where float32 are 2^-14 apart
	for _, test := range []struct {
		height float32
		want   int
	}{{0, 1}, {1. / (1 << 14), 1}, {3. / (1 << 14), 0}, {0.01, 0}} {
		f := Facet{{at, 0, 0}, {at, 100, 0}, {at - test.height, 40, 0}}
		if a := AuditOf(join([]Facet{f})); a.Degenerate != test.want {
			t.Errorf("height %g at %d: %d degenerate, want %d", test.height, at, a.Degenerate, test.want)
		}
	}
}
