package geom

import (
	"math"
	"math/big"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestParseUnit(t *testing.T) {
	for name, want := range map[string]Unit{"mm": Millimetre, "inch": Inch} {
		got, err := ParseUnit(name)
		if err != nil || got != want || got.String() != name {
			t.Errorf("%s: %v (%s), error %v", name, float64(got), got, err)
		}
	}
	for _, name := range []string{"", "MM", "in", "cm"} {
		if _, err := ParseUnit(name); err == nil || !strings.Contains(err.Error(), `"mm" or "inch"`) {
			t.Errorf("%q: error %v", name, err)
		}
	}
}

func TestToMillimetres(t *testing.T) {
	m := join(box(Vertex{0, 0, 0}, Vertex{1, 2, 4}))
	if same, off, err := Millimetre.ToMillimetres(m); same != m || off != 0 || err != nil {
		t.Errorf("mm: another mesh, off by %g, error %v", off, err)
	}
	before := m.Facets[3]
	inch, off, err := Inch.ToMillimetres(m)
	if err != nil {
		t.Fatal(err)
	}
	if want := VertexOf(m.Bounds().Max.Mul(25.4)); VertexOf(inch.Bounds().Max) != want {
		t.Errorf("got %v, want %v", inch.Bounds().Max, want)
	}
	// 101.6 mm lies in 64..128, where float32 are 7.6e-6 apart.
	if off <= 0 || off > 3*7.6e-6/2 {
		t.Errorf("off by %g", off)
	}
	if m.Facets[3] != before {
		t.Error("the mesh given has changed")
	}
	m.Facets[11][2][1] = 1e38
	if _, _, err := Inch.ToMillimetres(m); err == nil || !strings.Contains(err.Error(), "facet 12") {
		t.Errorf("beyond float32: error %v", err)
	}
}

// No vertex lies further from its true place than promised: in exact arithmetic,
// an inch being 25.4 mm.
func TestToMillimetresBound(t *testing.T) {
	inch := big.NewRat(254, 10)
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.Float32Range(-1e5, 1e5)
		f := Facet{}
		for k := range 9 {
			f[k/3][k%3] = x.Draw(t, "x")
		}
		mm, off, err := Inch.ToMillimetres(join([]Facet{f}))
		if err != nil {
			t.Fatal(err)
		}
		bound := new(big.Rat).SetFloat64(off)
		bound.Mul(bound, bound)
		for i := range f {
			sum := new(big.Rat)
			for k := range 3 {
				d := new(big.Rat).SetFloat64(float64(f[i][k]))
				d.Sub(d.Mul(d, inch), new(big.Rat).SetFloat64(float64(mm.Facets[0][i][k])))
				sum.Add(sum, d.Mul(d, d))
			}
			if sum.Cmp(bound) > 0 {
				t.Fatalf("vertex %v is off by more than %g", f[i], off)
			}
		}
		if most := math.Sqrt(3) * 25.4e5 / (1 << 24); off > most*1.0001 {
			t.Fatalf("promised only %g, worst possible is %g", off, most)
		}
	})
}

func TestImplausibleSize(t *testing.T) {
	at := func(size float32) Box {
		return join(box(Vertex{-1, 0, 0}, Vertex{size - 1, size / 2, size / 3})).Bounds()
	}
	for _, test := range []struct {
		size float32 // mm
		unit Unit
		want string
	}{
		{2.5, Millimetre, ""},
		{300, Millimetre, ""},
		{2999, Inch, ""},
		{2, Millimetre, "implausibly small: largest extent 2 mm, the file being read in mm; in inch it would be 50.8 mm; in m it would be 2000 mm"},
		{0.3, Millimetre, "implausibly small: largest extent 0.3 mm, the file being read in mm; in m it would be 300 mm"},
		{3000, Millimetre, "implausibly large: largest extent 3000 mm, the file being read in mm"},
		{7620, Inch, "implausibly large: largest extent 7620 mm, the file being read in inch; in mm it would be 300 mm"},
	} {
		if got := ImplausibleSize(at(test.size), test.unit); got != test.want {
			t.Errorf("%g mm read in %s:\ngot  %s\nwant %s", test.size, test.unit, got, test.want)
		}
	}
	if got := ImplausibleSize(EmptyBox(), Millimetre); got != "" {
		t.Errorf("empty box: %s", got)
	}
}
