package bores_test

import (
	"math"
	"path/filepath"
	"slices"
	"testing"

	"gridswing/geom/bores"
	"gridswing/geom/stl"

	"github.com/golang/geo/r3"
)

const demo = "../../models/demo/solids"

func demoSolid(t *testing.T, file string) *bores.Found {
	t.Helper()
	m, err := stl.ReadFile(filepath.Join(demo, file))
	if err != nil {
		t.Fatal(err)
	}
	return bores.Find(m)
}

// want is what models/generate says of a solid: the first number of steps is that at
// the mouth, as diameters.
type want struct {
	file    string
	bosses  int
	arcs    int
	holes   []wantHole
	grids   []wantGrid
	circles int
}

type wantHole struct {
	count  int
	steps  []float64
	bottom bores.Bottom
	depth  float64
}

type wantGrid struct {
	origin        r3.Vector
	columns, rows int
	pitch         [2]float64
	diameter      float64
	omit          []string
}

// The numbers are those of models/generate: gridplate.go, trunnion.go, part.go, vise.go.
var demoSolids = []want{
	{"grid-plate.stl", 0, 0, []wantHole{
		{133, []float64{16, 10.2}, bores.Through, 30}, {2, []float64{16}, bores.Through, 30}, {8, []float64{26, 17.5}, bores.Through, 30},
	}, []wantGrid{
		{r3.Vector{X: -350, Y: -200, Z: 30}, 15, 9, [2]float64{50, 50}, 16, nil},
		{r3.Vector{X: -375, Y: -100, Z: 30}, 4, 2, [2]float64{250, 200}, 26, nil},
	}, 0},
	{"riser.stl", 0, 0, []wantHole{
		{9, []float64{16, 10.2}, bores.Blind, 40}, {2, []float64{16}, bores.Through, 50}, {4, []float64{20, 13.5}, bores.Through, 50},
	}, []wantGrid{
		{r3.Vector{X: -100, Y: -50, Z: 50}, 5, 3, [2]float64{50, 50}, 16, []string{"A1", "E1", "A3", "E3"}},
		{r3.Vector{X: -100, Y: -50, Z: 50}, 2, 2, [2]float64{200, 100}, 20, nil},
	}, 0},
	{"trunnion-faceplate.stl", 2, 0, []wantHole{{25, []float64{16, 10.2}, bores.Blind, 28}}, []wantGrid{
		{r3.Vector{X: -100, Y: -100, Z: 205}, 5, 5, [2]float64{50, 50}, 16, nil},
	}, 0},
	{"bracket.stl", 1, 4, []wantHole{{4, []float64{11, 6.6}, bores.Through, 12}, {1, []float64{16}, bores.Through, 36}}, []wantGrid{
		{r3.Vector{X: -8, Y: -39, Z: 12}, 2, 2, [2]float64{16, 78}, 11, nil},
	}, 0},
	{"vise-body.stl", 0, 0, []wantHole{{2, []float64{16}, bores.Through, 30}, {2, []float64{20, 13.5}, bores.Through, 75}}, nil, 0},
	{"trunnion-bearing.stl", 7, 1, []wantHole{{1, []float64{92}, bores.Blind, 26}}, nil, 0},
}

func TestDemoSolids(t *testing.T) {
	for _, w := range demoSolids {
		f := demoSolid(t, w.file)
		if len(f.Bosses) != w.bosses || len(f.Arcs) != w.arcs {
			t.Errorf("%s: %d bosses, %d arcs, want %d and %d", w.file, len(f.Bosses), len(f.Arcs), w.bosses, w.arcs)
		}
		total := 0
		for _, k := range w.holes {
			total += k.count
			n := 0
			for i := range f.Holes {
				if k.is(&f.Holes[i]) {
					n++
				}
			}
			if n != k.count {
				t.Errorf("%s: %d holes %v %s %v deep, want %d", w.file, n, k.steps, k.bottom, k.depth, k.count)
			}
		}
		if len(f.Holes) != total {
			t.Errorf("%s: %d holes, want %d", w.file, len(f.Holes), total)
		}
		grids, circles := f.Patterns()
		if len(grids) != len(w.grids) || len(circles) != w.circles {
			t.Errorf("%s: %d grids, %d circles, want %d and %d", w.file, len(grids), len(circles), len(w.grids), w.circles)
			continue
		}
		for i, k := range w.grids {
			k.check(t, w.file, &grids[i])
		}
	}
}

func (w *wantHole) is(h *bores.Hole) bool {
	return len(h.Steps) == len(w.steps) && h.Bottom == w.bottom && near(h.Depth, w.depth, 1e-4) &&
		slices.EqualFunc(h.Steps, w.steps, func(s bores.Step, d float64) bool { return near(s.Diameter, d, 1e-4) })
}

func (w *wantGrid) check(t *testing.T, file string, g *bores.Grid) {
	if g.Columns != w.columns || g.Rows != w.rows || !near(g.Pitch[0], w.pitch[0], 1e-4) || !near(g.Pitch[1], w.pitch[1], 1e-4) ||
		!nearPoint(g.Origin, w.origin, 1e-3) || !near(g.Diameter, w.diameter, 1e-4) || !slices.Equal(g.Omit, w.omit) ||
		!nearPoint(g.U, r3.Vector{X: 1}, 1e-6) || !nearPoint(g.V, r3.Vector{Y: 1}, 1e-6) {
		t.Errorf("%s: found %d x %d of %v at %v, pitch %v, without %v; want %+v", file, g.Columns, g.Rows, g.Diameter, g.Origin, g.Pitch, g.Omit, *w)
	}
}

// A published gear wheel (npm package stl-models 0.12.0, objects/gearwheel; see
// testdata/solids/README.md). Its surface has the topology of a ring (Euler number 0, as
// geom/stl's tests have it), so one hole goes through; the file's own vertices put the
// wall at 6.000000 mm about the Z axis from z = 0 to 8, but for a keyway. It is told as
// an arc, not as a bore, and no tooth as anything.
func TestGearWheel(t *testing.T) {
	m, err := stl.ReadFile("../../testdata/solids/stl-models/objects/gearwheel.bin.stl")
	if err != nil {
		t.Fatal(err)
	}
	f := bores.Find(m)
	if len(f.Holes) != 0 || len(f.Bosses) != 0 || len(f.Arcs) != 1 {
		t.Fatalf("%d holes, %d bosses, %d arcs, want one arc", len(f.Holes), len(f.Bosses), len(f.Arcs))
	}
	a := &f.Arcs[0]
	if a.Boss || !near(a.Diameter, 12, 1e-5) || !near(a.Length, 8, 1e-5) || !nearPoint(a.Middle, r3.Vector{Z: 4}, 1e-5) ||
		!near(math.Abs(a.Axis.Z), 1, 1e-9) || a.Coverage < 325*math.Pi/180 || a.Coverage > 335*math.Pi/180 {
		t.Errorf("found %+v", a)
	}
}
