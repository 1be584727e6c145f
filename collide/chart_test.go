package collide

import (
	"context"
	"fmt"
	"math"
	"testing"

	"gridswing/geom"
	"gridswing/geom/motion"

	"github.com/golang/geo/r3"
)

// Every cell is held to a dense grid of positions in it: none nearer than
// Lower, none in contact where the cell is not.
func TestChartAgainstBruteForce(t *testing.T) {
	tilt := rotary(r3.Vector{X: 1}, r3.Vector{}, 0)
	turn := rotary(r3.Vector{Z: 1}, r3.Vector{}, 1)
	arm := NewTree(cuboid(r3.Vector{X: 5, Y: -4, Z: 10}, r3.Vector{X: 60, Y: 4, Z: 30}))
	wall := NewTree(joined(
		cuboid(r3.Vector{X: -100, Y: 40, Z: -100}, r3.Vector{X: 100, Y: 50, Z: 20}),
		cuboid(r3.Vector{X: -100, Y: -100, Z: -80}, r3.Vector{X: 100, Y: 100, Z: -70})))
	post := NewTree(cuboid(r3.Vector{X: 55, Y: -30, Z: 31}, r3.Vector{X: 58, Y: 30, Z: 60}))
	lone := chainOf(tilt) // moves with the first parameter only
	both := motion.Chain{Joints: []motion.Joint{tilt, turn}, Home: geom.Identity()}
	g := Grid{ColumnParam: 0, RowParam: 1, Columns: 12, Rows: 18, Lo: [2]float64{-1, 0}, Hi: [2]float64{2, 2 * math.Pi}}
	box := over(-1, 2, 0, 2*math.Pi)
	const demand = 2
	pairs := []Moving{
		{Pair{A: wall, B: arm, Motion: both}, box, demand},
		{Pair{A: wall, B: post, Motion: lone}, box, demand},
	}
	for _, absolute := range []float64{0.25, 6} {
		t.Run(fmt.Sprintf("to %g mm", absolute), func(t *testing.T) {
			checkChart(t, pairs, g, ChartLimits{Cap: 20, Absolute: absolute, Relative: 0.1, Tests: 1_000_000})
		})
	}
}

func checkChart(t *testing.T, pairs []Moving, g Grid, limits ChartLimits) {
	demand := pairs[0].Demand
	cells, err := Chart(context.Background(), pairs, g, limits)
	if err != nil {
		t.Fatal(err)
	}
	states := map[string]int{}
	for r := range g.Rows {
		for c := range g.Columns {
			cell := cells[r*g.Columns+c]
			least := math.Inf(1)
			for i := range 7 {
				for j := range 7 {
					p := motion.Params{
						g.Edge(0, c) + (g.Edge(0, c+1)-g.Edge(0, c))*float64(i)/6,
						g.Edge(1, r) + (g.Edge(1, r+1)-g.Edge(1, r))*float64(j)/6,
					}
					for _, m := range pairs {
						least = min(least, Distance(m.A, m.B, m.Motion.Pose(p)).Distance)
					}
				}
			}
			switch {
			case cell.Contact:
				states["contact"]++
				continue
			case least < cell.Lower-1e-9:
				t.Fatalf("column %d row %d: FALSE CLEAR: proven %.6f, sampled %.6f", c, r, cell.Lower, least)
			case cell.Demanded != (cell.Lower >= demand), !cell.Demanded && cell.Upper >= demand+demandSharpness:
				t.Errorf("column %d row %d: %.4f..%.4f leaves the demand open", c, r, cell.Lower, cell.Upper)
			case cell.Lower >= limits.Cap:
				states["beyond the cap"]++
			default:
				states["between"]++
				if cell.Upper < math.Inf(1) && cell.Upper-cell.Lower > max(limits.Absolute, 0.1*cell.Upper)+1e-9 {
					t.Errorf("column %d row %d: %.4f..%.4f is wider than the tolerance", c, r, cell.Lower, cell.Upper)
				}
			}
			if cell.Upper < math.Inf(1) && least > cell.Upper+5 {
				t.Errorf("column %d row %d: nothing as near as %.4f was sampled, least %.4f", c, r, cell.Upper, least)
			}
		}
	}
	if len(states) != 3 {
		t.Errorf("the chart shows only %v", states)
	}
	for _, jobs := range []int{1, 3} {
		limits.Jobs = jobs
		again, err := Chart(context.Background(), pairs, g, limits)
		if err != nil {
			t.Fatal(err)
		}
		for i := range again {
			if again[i] != cells[i] {
				t.Fatalf("%d jobs: cell %d is %+v, was %+v", jobs, i, again[i], cells[i])
			}
		}
	}
}
