package material

import (
	"math"
	"math/rand/v2"
	"testing"

	"gridswing/collide"
	"gridswing/geom"

	"github.com/golang/geo/r3"
)

// All that is within the chord error of the solid is held, and what is held is not much farther off.
func TestChordErrorIsHeld(t *testing.T) {
	const chord = 0.07
	for i, solid := range solids {
		mesh := solid()
		tree := collide.NewTree(mesh)
		m := mustNew(t, mesh, chord, 0.6)
		r := rand.New(rand.NewPCG(3, uint64(i)))
		far, held := 0, 0
		for range 4000 {
			a, b, c := mesh.Triangle(r.IntN(len(mesh.Facets)))
			s := math.Sqrt(r.Float64())
			u := r.Float64()
			p := a.Mul(1 - s).Add(b.Mul(s * (1 - u))).Add(c.Mul(s * u))
			p = p.Add(v(r.NormFloat64(), r.NormFloat64(), r.NormFloat64()).Mul(0.1))
			d := depthIn(tree, p)
			if d > -chord+1e-4 && !m.holds(p) {
				t.Fatalf("solid %d: %v is %g deep and not held", i, p, d)
			}
			if m.holds(p) {
				held++
				if d < -2*chord {
					far++
				}
			}
		}
		if far*20 > held {
			t.Errorf("solid %d: %d of %d places held are more than twice the chord error outside", i, far, held)
		}
	}
}

func TestWhatCannotBeTold(t *testing.T) {
	open := &geom.Mesh{Facets: block(v(0, 0, 0), v(1, 1, 1)).Facets[1:]}
	solid := block(v(0, 0, 0), v(1000, 1000, 1000))
	for name, f := range map[string]func() error{
		"open":     func() error { _, err := New(open, 0, 0, 0.5); return err },
		"no cell":  func() error { _, err := New(solid, 0, 0, 0); return err },
		"NaN":      func() error { _, err := New(solid, math.NaN(), 0, 1); return err },
		"too fine": func() error { _, err := New(solid, 0, 0, 0.01); return err },
		"grown":    func() error { _, err := New(solid, 0, -1, 10); return err },
	} {
		if err := f(); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
	none, err := New(&geom.Mesh{}, 0, 0, 1)
	if err != nil || none.Volume() != 0 || len(none.Mesh().Facets) != 0 || !none.Bounds().Empty() {
		t.Errorf("a mesh without facets: %v, %g mm3", err, none.Volume())
	}
	s := Sweep{Axis: v(0, 0, 1)}
	if got := none.Cut(endMill(5, 5), &s); got.Any || got.Volume != 0 {
		t.Errorf("cutting nothing gives %v", got)
	}
	if _, ok := none.Keeps(&Body{Outline: endMill(5, 5)}, &s, 1); !ok {
		t.Error("something is near nothing")
	}
}

// A body beside a face is clear up to the distance that there is, less the play; what covers solid material is sure.
func TestKeepsByNumbers(t *testing.T) {
	solid := block(v(0, 0, 0), v(30, 20, 10))
	m := mustNew(t, solid, 0, 0.7)
	pin := Body{Outline: Outline{{3, 0}, {3, 20}}}
	on := func(x, y, z float64) *Sweep {
		return &Sweep{Origin: v(x, y, z), Axis: v(0, 0, 1), Ways: []r3.Vector{{X: 8}}}
	}
	for _, c := range []struct {
		gap, play float64
		want      bool
	}{{0.999, 0, true}, {1.001, 0, false}, {0.9, 0.099, true}, {0.9, 0.101, false}, {0, 0.99, true}, {0, 1.01, false}} {
		loose := mustNewLoose(t, solid, c.play, 0.7)
		cube := Body{Points: []r3.Vector{{X: -1, Y: -1, Z: 0}, {X: 1, Y: -1, Z: 0}, {X: 0, Y: 1, Z: 0}, {X: 0, Y: 0, Z: 3}}}
		for _, body := range []*Body{&pin, &cube} {
			if _, ok := loose.Keeps(body, on(10, 10, 11), c.gap); ok != c.want {
				t.Errorf("1 mm above: gap %g, play %g gives %v", c.gap, c.play, ok)
			}
			// Along an edge too: that is no cell farther off, either.
			if _, ok := loose.Keeps(body, on(10, 0, 11), c.gap); ok != c.want {
				t.Errorf("1 mm above the edge: gap %g, play %g gives %v", c.gap, c.play, ok)
			}
			if c.play > 0 && (!loose.ApartAsDrawn(body, on(10, 10, 11), 0.999) || loose.ApartAsDrawn(body, on(10, 10, 11), 1.001)) {
				t.Errorf("play %g: as drawn it is not 1 mm above", c.play)
			}
		}
	}
	near, ok := m.Keeps(&pin, on(10, 10, 5), 0)
	if ok || !near.Sure || near.Depth < 1.5 {
		t.Errorf("5 mm deep: %v, %+v", ok, near)
	}
	s := on(10, 10, 11)
	s.Off = 0.5
	if _, ok := m.Keeps(&pin, s, 0.501); ok {
		t.Error("what can be anywhere within 0.5 mm is as far as what is where it is said to be")
	}
	line(m, endMill(10, 20), v(0, 0, 1), v(-6, 10, 9), v(36, 10, 9), 6)
	if _, ok := m.Keeps(&pin, on(10, 10, 10), 0.99); !ok {
		t.Error("not clear of the floor of a slot 1 mm below")
	}
	if _, ok := m.Keeps(&pin, on(10, 10, 8.5), 0); ok {
		t.Error("clear in the floor")
	}
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
