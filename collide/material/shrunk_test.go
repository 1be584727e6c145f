package material

import (
	"math/rand/v2"
	"testing"

	"gridswing/collide"
	"gridswing/geom"
	"gridswing/geom/shape"

	"github.com/golang/geo/r3"
)

// bracket is a solid with an open pocket, a hole, and a step: inner edges of all kinds.
func bracket(t testing.TB) *geom.Mesh {
	t.Helper()
	pocket := shape.RoundRect(3, 3, 13, 12, 2, shape.Round{Chord: 0.01})
	low := shape.Region{{{X: 0, Y: 0}, {X: 16, Y: 0}, {X: 22, Y: 0}, {X: 22, Y: 15}, {X: 16, Y: 15}, {X: 0, Y: 15}}}
	high := shape.Region{shape.Rect(0, 0, 16, 15), pocket}
	s, err := shape.Stack(0, shape.Layer{Height: 4, Bottom: low, Top: low}, shape.Layer{Height: 5, Bottom: high, Top: high})
	if err != nil {
		t.Fatal(err)
	}
	return s.Mesh()
}

// depthIn returns how deep p is in the solid, negative outside, to 1e-4 mm.
func depthIn(tree *collide.Tree, p r3.Vector) float64 {
	const tiny = 1e-5
	speck := &geom.Mesh{Facets: []geom.Facet{{geom.VertexOf(p), geom.VertexOf(p.Add(v(tiny, 0, 0))), geom.VertexOf(p.Add(v(0, tiny, 0)))}}}
	d := collide.Distance(tree, collide.NewTree(speck), geom.Identity()).Distance
	if !tree.Contains(p) {
		return -d
	}
	return d
}

func TestShrunkHoldsWhatIsDeep(t *testing.T) {
	mesh := bracket(t)
	tree := collide.NewTree(mesh)
	const by = 0.05
	m, err := Shrunk(mesh, 0, by, 0.5)
	if err != nil {
		t.Fatal(err)
	}
	parts, coarse, either := 0, 0, 0
	for _, b := range m.bricks {
		if b == nil {
			continue
		}
		for i := range b.parts {
			parts++
			if b.parts[i].coarse {
				coarse++
			}
			if b.parts[i].either {
				either++
			}
		}
	}
	t.Logf("%d parts, %d of two pieces, %d coarse", parts, either, coarse)
	r := rand.New(rand.NewPCG(1, 2))
	held, loose := 0, 0
	for range 20000 {
		p := v(24*r.Float64()-1, 17*r.Float64()-1, 11*r.Float64()-1)
		if r.IntN(2) == 0 { // near the surface, inner edges among it
			f := r.IntN(len(mesh.Facets))
			a, b, c := mesh.Triangle(f)
			p = a.Add(b.Sub(a).Mul(r.Float64())).Add(c.Sub(a).Mul(r.Float64() / 2)).Add(v(r.Float64()-0.5, r.Float64()-0.5, r.Float64()-0.5).Mul(0.3))
		}
		d := depthIn(tree, p)
		switch {
		case d > by+1e-4 && !m.holds(p):
			t.Fatalf("%v is %g deep and not held", p, d)
		case m.holds(p) && d < by/2-1e-4:
			loose++
		case m.holds(p):
			held++
		}
	}
	t.Logf("of %d places held %d are not half as deep", held+loose, loose)
	if 12*loose > held || 25*coarse > parts {
		t.Errorf("%d of %d places held are not half as deep as asked, %d of %d parts are coarse", loose, held+loose, coarse, parts)
	}
}
