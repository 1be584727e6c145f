package drafting

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"testing"

	"gridswing/geom"
	"gridswing/geom/shape"
	"gridswing/render/ink"
	"gridswing/render/internal/golden"
	"gridswing/render/measure"
	"gridswing/render/raster"

	"github.com/golang/geo/r3"
	"pgregory.net/rapid"
)

// pile is three invented boxes on a table, seen from the front.
func pile() *Elevation {
	e := &Elevation{Right: r3.Vector{X: 1}, Up: r3.Vector{Z: 1}, Toward: r3.Vector{Y: -1}, Lengths: mm(), Workers: 1,
		Axes: []Axis{{"X", Point{X: 1}}, {"Z", Point{Y: 1}}}}
	z := 0.0
	for i, q := range []struct {
		width, height float64
		name          string
	}{{600, 30, "plate"}, {300, 120, "riser"}, {180, 80, "vise"}} {
		box := block(q.width, q.height)
		e.Solids = append(e.Solids, Solid{Shape: raster.NewShape(box, true), Pose: geom.Shift(r3.Vector{Z: z}), Group: i + 1})
		e.Levels = append(e.Levels, Level{Height: z, Words: q.name, From: q.width / 2})
		e.Steps = append(e.Steps, Step{From: z, To: z + q.height, Words: q.name})
		z += q.height
	}
	e.Levels = append(e.Levels, Level{Height: z, Words: "top of vise", From: 90}, Level{Height: 90, Words: "axis A", Axis: true})
	e.Solids = append(e.Solids, Solid{Shape: raster.NewShape(block(1000, 100), true), Pose: geom.Shift(r3.Vector{Z: -100}), Ground: true})
	return e
}

// block stands on Z = 0, as deep as it is wide.
func block(width, height float64) *geom.Mesh {
	h := width / 2
	s, err := (&shape.Plate{Outline: shape.Contour{{X: -h, Y: -h}, {X: h, Y: -h}, {X: h, Y: h}, {X: -h, Y: h}}, Thickness: height}).Surface()
	if err != nil {
		panic(err) // the sizes are those of this file
	}
	return s.Mesh()
}

func TestGoldenElevation(t *testing.T) {
	img, err := pixels(pile())
	if err != nil {
		t.Fatal(err)
	}
	golden.Check(t, "elevation", img)
}

// Every height is told, from the datum, and words keep apart, also where twelve levels are within 5 mm.
func TestElevationWords(t *testing.T) {
	for _, crowded := range []bool{false, true} {
		e := pile()
		e.Datum = 10
		for i := range 12 {
			if crowded {
				at := 40 + 0.4*float64(i)
				e.Levels = append(e.Levels, Level{Height: at, Words: fmt.Sprintf("a level whose name is rather long, no. %d", i)})
				e.Steps = append(e.Steps, Step{From: at, To: at + 0.4, Words: fmt.Sprintf("a shim whose name is rather long, no. %d", i)})
			}
		}
		w := drawn(t, e)
		w.apart(t)
		for _, l := range e.Levels {
			if want := minus(mm().Write(l.Height - 10)); !w.has(want) {
				t.Errorf("no height %s", want)
			}
		}
		if !w.has("−10") {
			t.Error("what is below the datum has no minus sign")
		}
	}
}

// What stands on the table is drawn no smaller for it: only a strip of the table is seen.
func TestElevationGround(t *testing.T) {
	e := pile()
	b := e.extent()
	if b.high.Y != 230 || b.low.Y < -0.1*230 || b.low.Y > -10 || b.width() > 640 {
		t.Errorf("seen %+v", b)
	}
	e.Solids = e.Solids[3:]
	if b := e.extent(); b.low.Y != -100 || b.width() != 1000 {
		t.Errorf("of the table alone %+v", b)
	}
}

func TestElevationRefuses(t *testing.T) {
	e := pile()
	e.Levels[0].Height = math.NaN()
	c := ink.NewCanvas(600, 400, ink.Paper)
	if err := e.DrawOn(t.Context(), c); err == nil {
		t.Error("a height that is no number was drawn")
	}
	if err := (&Elevation{Lengths: mm(), Right: r3.Vector{X: 1}, Up: r3.Vector{Z: 1}, Toward: r3.Vector{Y: -1}}).DrawOn(t.Context(), c); err == nil {
		t.Error("nothing was drawn")
	}
}

// Rungs keep their order and their distance, stay between top and bottom, and are moved no more
// than they must: where there is room, not at all, and no other rungs so far apart are less far off
// in the sum of squares than those found (a move of any block, up or down, makes it more).
func TestRungs(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		wanted := rapid.SliceOfN(rapid.Float64Range(100, 900), 1, 20).Draw(r, "wanted")
		const apart, top, bottom = 30, 0, 1000
		got := rungs(wanted, apart, top, bottom)
		order := make([]int, len(wanted))
		for i := range order {
			order[i] = i
		}
		slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(wanted[a], wanted[b]) })
		cost := func(moved []float64) (sum float64) {
			for i := range moved {
				sum += (moved[i] - wanted[i]) * (moved[i] - wanted[i])
			}
			return sum
		}
		for k, i := range order {
			if got[i] < top-1e-9 || got[i] > bottom+1e-9 {
				r.Fatalf("%g is outside", got[i])
			}
			if k > 0 && got[i]-got[order[k-1]] < apart-1e-9 {
				r.Fatalf("%g and %g are too near", got[order[k-1]], got[i])
			}
		}
		for from := range order {
			for to := from + 1; to <= len(order); to++ {
				for _, by := range []float64{-0.5, 0.5} {
					moved := slices.Clone(got)
					for _, i := range order[from:to] {
						moved[i] += by
					}
					fits := moved[order[0]] >= top && moved[order[len(order)-1]] <= bottom
					for k := 1; k < len(order); k++ {
						fits = fits && moved[order[k]]-moved[order[k-1]] >= apart
					}
					if fits && cost(moved) < cost(got)-1e-6 {
						r.Fatalf("%v for %v: %v is better", got, wanted, moved)
					}
				}
			}
		}
	})
}

// Names of steps and of heights are whole where they have up to 24 letters and numbers as long as in
// inches; the view is smaller then. No elevation with so few heights is higher than half a page.
func TestElevationKeepsNames(t *testing.T) {
	e := pile()
	e.Lengths = measure.Lengths{Unit: geom.Inch}
	for i := range e.Steps {
		e.Steps[i].Words = fmt.Sprintf("trunnion with brake %d", i)
		e.Levels[i].Words = e.Steps[i].Words + " on"
	}
	w := drawn(t, e)
	w.apart(t)
	for _, s := range e.Steps {
		for _, words := range []string{s.Words, s.Words + " on"} {
			if !slices.ContainsFunc(w.list, func(at written) bool { return at.words == words }) {
				t.Errorf("no %q", words)
			}
		}
	}
	if high := e.Sheet().Height; high > 105 {
		t.Errorf("%g mm high", high)
	}
}
