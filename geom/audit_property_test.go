package geom

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// bruteAudit counts what AuditOf counts, by maps and by the definitions.
type bruteAudit struct {
	vertices, edges, open, misoriented, shells, closedShells int
	firstOpen, firstMisoriented                              [2]Vertex
}

func bruteAuditOf(m *Mesh) bruteAudit {
	plus := func(v Vertex) Vertex { // Go compares -0 == +0, but maps do too
		return Vertex{v[0] + 0, v[1] + 0, v[2] + 0}
	}
	type side struct {
		facet   int
		forward bool
		ends    [2]Vertex
	}
	vertices := map[Vertex]bool{}
	edges := map[[2]Vertex][]side{}
	for f := range m.Facets {
		for k := range 3 {
			a, b := plus(m.Facets[f][k]), plus(m.Facets[f][(k+1)%3])
			vertices[a] = true
			if a == b {
				continue
			}
			key, forward := [2]Vertex{a, b}, slices.Compare(a[:], b[:]) < 0
			if !forward {
				key = [2]Vertex{b, a}
			}
			edges[key] = append(edges[key], side{f, forward, [2]Vertex{a, b}})
		}
	}
	label := make([]int, len(m.Facets))
	for f := range label {
		label[f] = f
	}
	relabel := func(f, g int) {
		from, to := label[f], label[g]
		for i := range label {
			if label[i] == from {
				label[i] = to
			}
		}
	}
	out := bruteAudit{vertices: len(vertices), edges: len(edges)}
	faulty := map[int]bool{}
	firstOpen, firstMisoriented := math.MaxInt, math.MaxInt
	for _, sides := range edges {
		forward := 0
		for _, s := range sides {
			relabel(s.facet, sides[0].facet)
			if s.forward {
				forward++
			}
		}
		at := 3*sides[0].facet + slices.IndexFunc([]int{0, 1, 2}, func(k int) bool {
			return plus(m.Facets[sides[0].facet][k]) == sides[0].ends[0] && plus(m.Facets[sides[0].facet][(k+1)%3]) == sides[0].ends[1]
		})
		switch {
		case len(sides)%2 == 1:
			out.open++
			faulty[sides[0].facet] = true
			if at < firstOpen {
				firstOpen, out.firstOpen = at, sides[0].ends
			}
		case 2*forward != len(sides):
			out.misoriented++
			if at < firstMisoriented {
				firstMisoriented, out.firstMisoriented = at, sides[0].ends
			}
		}
	}
	for f := range m.Facets { // a facet that is a point belongs to a shell with a corner there
		if v := m.Facets[f]; plus(v[0]) == plus(v[1]) && plus(v[1]) == plus(v[2]) {
			best := -1
			for g, w := range m.Facets {
				isPoint := plus(w[0]) == plus(w[1]) && plus(w[1]) == plus(w[2])
				touches := plus(w[0]) == plus(v[0]) || plus(w[1]) == plus(v[0]) || plus(w[2]) == plus(v[0])
				if g != f && touches && (best < 0 || !isPoint) {
					if best = g; !isPoint {
						break
					}
				}
			}
			if best >= 0 {
				relabel(f, best)
			}
		}
	}
	closed := map[int]bool{}
	for f := range label {
		closed[label[f]] = true
	}
	out.shells = len(closed)
	for f := range faulty {
		closed[label[f]] = false
	}
	for _, c := range closed {
		if c {
			out.closedShells++
		}
	}
	return out
}

// Facets drawn from few points, so that everything that can meet does: edges of
// one to many facets, points, lines, duplicates, both zeros.
func TestAuditAgainstBruteForce(t *testing.T) {
	coordinate := rapid.SampledFrom([]float32{0, float32(math.Copysign(0, -1)), 1, 2})
	facet := rapid.Custom(func(t *rapid.T) (f Facet) {
		for k := range 9 {
			f[k/3][k%3] = coordinate.Draw(t, "x")
		}
		return f
	})
	rapid.Check(t, func(t *rapid.T) {
		m := join(rapid.SliceOfN(facet, 0, 60).Draw(t, "facets"))
		if rapid.Bool().Draw(t, "closed") { // every facet and its opposite, in any order
			m = join(m.Facets, flipped(m.Facets))
			m.Facets = rapid.Permutation(m.Facets).Draw(t, "order")
		}
		a, want := AuditOf(m), bruteAuditOf(m)
		got := bruteAudit{
			vertices: a.Vertices, edges: a.Edges, open: a.OpenEdges, misoriented: a.Misoriented, shells: len(a.Shells),
			firstOpen:        [2]Vertex{VertexOf(a.FirstOpen[0]), VertexOf(a.FirstOpen[1])},
			firstMisoriented: [2]Vertex{VertexOf(a.FirstMisoriented[0]), VertexOf(a.FirstMisoriented[1])},
		}
		facets := 0
		for _, s := range a.Shells {
			facets += s.Facets
			if s.Closed {
				got.closedShells++
			}
		}
		if got != want {
			t.Fatalf("got  %+v\nwant %+v", got, want)
		}
		if facets != len(m.Facets) || a.Closed != (want.open == 0) || a.Oriented != (want.misoriented == 0) {
			t.Fatalf("%d of %d facets in shells, closed %v, oriented %v", facets, len(m.Facets), a.Closed, a.Oriented)
		}
	})
}

// Any number of boxes, apart or one in the other, each turned out or in: how
// deep a box is says what it must be.
func TestAuditNestedBoxes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var parts [][]Facet
		cavities, insideOut := 0, false
		volume := 0.0
		for place := range rapid.IntRange(1, 4).Draw(t, "places") {
			material := 0 // how often what is around the next box is filled
			for depth := range rapid.IntRange(1, 5).Draw(t, "depth") {
				half := float32(10 - 2*depth)
				x := float32(40 * place)
				b := box(Vertex{x - half, -half, -half}, Vertex{x + half, half, half})
				size := 8 * float64(half) * float64(half) * float64(half)
				if rapid.Bool().Draw(t, "inside out") {
					b = flipped(b)
					if material > 0 {
						cavities++
					} else {
						insideOut = true
					}
					material--
					volume -= size
				} else {
					material++
					volume += size
				}
				parts = append(parts, b)
			}
		}
		m := join(rapid.Permutation(parts).Draw(t, "order")...)
		a := AuditOf(m)
		if !a.Closed || !a.Oriented || a.InsideOut != insideOut || a.Cavities != cavities || len(a.Shells) != len(parts) {
			t.Fatalf("%d cavities, inside out %v, %d shells; want %d, %v, %d", a.Cavities, a.InsideOut, len(a.Shells), cavities, insideOut, len(parts))
		}
		if math.Abs(a.Volume-volume) > 1e-9 {
			t.Fatalf("volume %g, want %g", a.Volume, volume)
		}
	})
}

// The order of the facets and of each facet's corners says nothing of the solid.
func TestAuditDoesNotMindOrder(t *testing.T) {
	base := torus(40, 10, 12, 7)
	want := AuditOf(base)
	rapid.Check(t, func(t *rapid.T) {
		m := join(rapid.Permutation(base.Facets).Draw(t, "facets"))
		for i, f := range m.Facets {
			k := rapid.IntRange(0, 2).Draw(t, "corner")
			m.Facets[i] = Facet{f[k], f[(k+1)%3], f[(k+2)%3]}
		}
		got := AuditOf(m)
		if !got.Closed || !got.Oriented || got.InsideOut || got.Vertices != want.Vertices || got.Edges != want.Edges ||
			math.Abs(got.Volume-want.Volume) > 1e-9*want.Volume || math.Abs(got.Area-want.Area) > 1e-9*want.Area {
			t.Fatalf("got %+v, want %+v", got, want)
		}
		if got.Vertices-got.Edges+got.Facets != 0 {
			t.Fatalf("V - E + F = %d, want 0 for a torus", got.Vertices-got.Edges+got.Facets)
		}
	})
}

// Ten thousand separate boxes make a table that grows, and as many shells.
func TestAuditManyShells(t *testing.T) {
	m := &Mesh{}
	for i := range 10000 {
		x, y := float32(i%100)*3, float32(i/100)*3
		m.Facets = append(m.Facets, box(Vertex{x, y, 0}, Vertex{x + 1, y + 1, 1})...)
	}
	a := AuditOf(m)
	if !a.Closed || len(a.Shells) != 10000 || a.Vertices != 80000 || a.Edges != 180000 {
		t.Errorf("closed %v, %d shells, %d vertices, %d edges", a.Closed, len(a.Shells), a.Vertices, a.Edges)
	}
	for i, s := range a.Shells {
		if s.First != 12*i || s.Facets != 12 || math.Abs(s.Volume-1) > 1e-12 {
			t.Fatalf("shell %d: %+v", i, s)
		}
	}
}
