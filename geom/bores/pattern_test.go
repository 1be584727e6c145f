package bores_test

import (
	"math"
	"slices"
	"testing"

	"gridswing/geom"
	"gridswing/geom/bores"
	"gridswing/geom/shape"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"pgregory.net/rapid"
)

// Grids of any size and pitch at any pose, with holes left out and other holes beside
// them: pitch, origin, directions, labels and what is missing come back.
func TestGridsAtRandomPoses(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		columns, rows := rapid.IntRange(3, 7).Draw(t, "columns"), rapid.IntRange(2, 6).Draw(t, "rows")
		pitch := [2]float64{rapid.Float64Range(20, 50).Draw(t, "pitch"), rapid.Float64Range(20, 50).Draw(t, "other pitch")}
		left := map[string]bool{}
		for range rapid.IntRange(0, columns*rows/4).Draw(t, "left out") {
			// A corner may be missing, but not all of an edge: then it would be another grid.
			left[bores.Label(rapid.IntRange(1, columns-2).Draw(t, "column"), rapid.IntRange(0, rows-1).Draw(t, "row"))] = true
		}
		hole := shape.Hole{Radius: 4, HeadRadius: 5, HeadDepth: 8, Depth: 15, Chamfer: 0.5}
		p := shape.Plate{Outline: shape.Rect(-30, -30, 400, 300), Thickness: 20, Round: shape.Round{Chord: 0.05},
			// Another hole of that size, on no place of the grid.
			Holes: []shape.Hole{{At: r2.Point{X: 385, Y: 285}, Radius: 5}}}
		var want []string
		for row := range rows {
			for column := range columns {
				if label := bores.Label(column, row); !left[label] {
					hole.At = r2.Point{X: float64(column) * pitch[0], Y: float64(row) * pitch[1]}
					p.Holes = append(p.Holes, hole)
					want = append(want, label)
				}
			}
		}
		s, err := p.Surface()
		if err != nil {
			t.Fatal(err)
		}
		pose := drawPose(t)
		grids, circles := bores.Find(s.Moved(pose).Mesh()).Patterns()
		if len(grids) != 1 || len(circles) != 0 {
			t.Fatalf("%d grids and %d circles, want one grid", len(grids), len(circles))
		}
		checkGrid(t, &grids[0], pose, pitch, [2]int{columns, rows}, want)
	})
}

// checkGrid compares a grid with what was drawn, in the plate's frame: from there its
// columns may run along any of the four directions.
func checkGrid(t *rapid.T, g *bores.Grid, pose geom.Pose, pitch [2]float64, size [2]int, labels []string) {
	const tolerance = 2e-3
	back := pose.Inverse()
	u, v := back.Dir(g.U), back.Dir(g.V)
	if n := u.Cross(v); !nearPoint(n, r3.Vector{Z: 1}, 1e-3) {
		t.Errorf("u x v is %v in the plate's frame, want up", n)
	}
	if math.Abs(u.Y) > 0.5 { // columns and rows exchanged
		pitch[0], pitch[1] = pitch[1], pitch[0]
		size[0], size[1] = size[1], size[0]
	}
	if g.Columns != size[0] || g.Rows != size[1] || !near(g.Pitch[0], pitch[0], tolerance) || !near(g.Pitch[1], pitch[1], tolerance) {
		t.Fatalf("%d x %d, pitch %v, want %v and %v", g.Columns, g.Rows, g.Pitch, size, pitch)
	}
	if len(g.Openings) != len(labels) || len(g.Labels) != len(labels) || len(g.Omit) != size[0]*size[1]-len(labels) {
		t.Errorf("%d holes and %d missing, want %d of %v", len(g.Openings), len(g.Omit), len(labels), size)
	}
	if !near(g.Diameter, 10, tolerance) || g.Worst > tolerance {
		t.Errorf("diameter %v, worst %v", g.Diameter, g.Worst)
	}
	for i, o := range g.Openings {
		// Every hole stands where its label says.
		column, row := place(g.Labels[i])
		at := g.Origin.Add(g.U.Mul(g.Pitch[0] * float64(column))).Add(g.V.Mul(g.Pitch[1] * float64(row)))
		if !nearPoint(at, o.At, tolerance) {
			t.Errorf("%s at %v, its hole at %v", g.Labels[i], at, o.At)
		}
	}
}

// place reads a label of one letter.
func place(label string) (column, row int) {
	for _, digit := range label[1:] {
		row = 10*row + int(digit-'0')
	}
	return int(label[0] - 'A'), row - 1
}

func TestLabels(t *testing.T) {
	for label, at := range map[string][2]int{"A1": {0, 0}, "C7": {2, 6}, "Z1": {25, 0}, "AA10": {26, 9}, "BA2": {52, 1}} {
		if got := bores.Label(at[0], at[1]); got != label {
			t.Errorf("place %v is %s, want %s", at, got, label)
		}
	}
}

// Bolt circles of 3 to 12 holes around a bore, whole and with a hole missing.
func TestBoltCircles(t *testing.T) {
	for n := 3; n <= 12; n++ {
		for _, missing := range []int{0, 1} {
			if missing > 0 && n < 5 {
				continue
			}
			var holes []shape.Hole
			for i := range n - missing {
				sin, cos := math.Sincos(2*math.Pi*float64(i)/float64(n) + 0.3)
				holes = append(holes, shape.Hole{At: r2.Point{X: 7 + 40*cos, Y: 40 * sin}, Radius: 4})
			}
			holes = append(holes, shape.Hole{At: r2.Point{X: 7}, Radius: 15})
			p := shape.Plate{Outline: shape.Rect(-70, -60, 80, 60), Thickness: 12, Round: shape.Round{Chord: 0.02}, Holes: holes}
			s, err := p.Surface()
			grids, circles := bores.Find(must(t, s, err).Mesh()).Patterns()
			if len(grids) != 0 || len(circles) != 1 {
				t.Errorf("%d of %d holes: %d grids, %d circles", n-missing, n, len(grids), len(circles))
				continue
			}
			c := &circles[0]
			first := r3.Vector{X: math.Cos(0.3), Y: math.Sin(0.3)}
			if c.Places != n || c.Missing != missing || len(c.Openings) != n-missing || !near(c.Radius, 40, 1e-4) ||
				!nearPoint(c.Centre, r3.Vector{X: 7, Z: 12}, 1e-4) || !nearPoint(c.First, first, 1e-4) || !near(c.Diameter, 8, 1e-4) {
				t.Errorf("%d of %d holes: found %+v", n-missing, n, c)
			}
		}
	}
}

// Two grids of one size in one face are two, a row of three is a grid, and holes that
// stand anywhere are none.
func TestPatternsApart(t *testing.T) {
	hole := shape.Hole{Radius: 4}
	holes := shape.HoleGrid(hole, r2.Point{X: -100}, 4, 3, 20, nil)
	holes = append(holes, shape.HoleGrid(hole, r2.Point{X: 100, Y: 3}, 3, 3, 25, nil)...)
	for _, at := range []r2.Point{{X: 0, Y: 0}, {X: 13, Y: 31}, {X: 31, Y: -8}} {
		holes = append(holes, shape.Hole{At: at, Radius: 6})
	}
	p := shape.Plate{Outline: shape.Rect(-180, -80, 180, 80), Thickness: 12, Round: shape.Round{Chord: 0.02}, Holes: holes}
	s, err := p.Surface()
	grids, circles := bores.Find(must(t, s, err).Mesh()).Patterns()
	if len(grids) != 2 || len(circles) != 0 {
		t.Fatalf("%d grids, %d circles", len(grids), len(circles))
	}
	sizes := []int{len(grids[0].Openings), len(grids[1].Openings)}
	if !slices.Equal(sizes, []int{12, 9}) || !near(grids[1].Pitch[0], 25, 1e-4) || !near(grids[0].Pitch[1], 20, 1e-4) {
		t.Errorf("grids of %v holes", sizes)
	}
	if o := grids[1].Origin; !nearPoint(o, r3.Vector{X: 75, Y: -22, Z: 12}, 1e-4) {
		t.Errorf("origin %v", o)
	}
}
