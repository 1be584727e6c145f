package collide

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"gridswing/geom/motion"

	"github.com/golang/geo/r3"
)

// A chart of two pairs from random scenes, over the first two parameters that
// vary; other parameters are free in every cell.
type chartScene struct {
	seed   uint64
	pairs  []Moving
	grid   Grid
	limits ChartLimits
}

func randomChart(seed uint64) *chartScene {
	r := rand.New(rand.NewPCG(seed, 23))
	c := &chartScene{seed: seed}
	s := randomScene(seed)
	other := &scene{over: s.over}
	other.pair = Pair{A: NewTree(randomBody(r)), B: NewTree(randomBody(r)), Motion: s.pair.Motion, Margin: 0.1 * r.Float64()}
	other.pair.Motion.Home = other.pair.Motion.Home.Mul(randomPose(r, 10))
	if seed%2 == 1 { // it moves with the columns only
		other.pair.Motion.Joints = append([]motion.Joint(nil), s.pair.Motion.Joints...)
		if vary := newAdversary(s.pair, s.over).vary; len(vary) > 1 {
			for i := range other.pair.Motion.Joints {
				other.pair.Motion.Joints[i].Gain[vary[1]] = 0
			}
		}
	}
	c.pairs = []Moving{{s.pair, s.over, 2 * r.Float64()}, {other.pair, s.over, 2 * r.Float64()}}
	c.grid = Grid{RowParam: -1, Columns: 4, Rows: 1}
	if vary := newAdversary(s.pair, s.over).vary; len(vary) > 0 {
		c.grid.ColumnParam = vary[0]
		if len(vary) > 1 {
			c.grid.RowParam, c.grid.Rows = vary[1], 5
		}
	}
	for along, k := range [2]int{c.grid.ColumnParam, c.grid.RowParam} {
		if k >= 0 {
			c.grid.Lo[along], c.grid.Hi[along] = s.over.Lo[k], s.over.Hi[k]
		}
	}
	c.limits = ChartLimits{Cap: 8, Absolute: 0.25, Relative: 0.1, Tests: 30_000}
	return c
}

// No cell may claim more than brute force finds in it, none in which a contact is
// sampled may be called clear, and what a cell says must not contradict itself.
func TestChartsOfScenesAgainstBruteForce(t *testing.T) {
	charts := *sceneCount / 10
	if testing.Short() {
		charts = 2
	}
	contacts, clear := 0, 0
	for seed := range charts {
		c := randomChart(seed)
		cells, err := Chart(context.Background(), c.pairs, c.grid, c.limits)
		if err != nil {
			t.Fatal(err)
		}
		for i := range cells {
			if cells[i].Contact {
				contacts++
			}
			if cells[i].Demanded {
				clear++
			}
			if err := c.check(i, &cells[i]); err != nil {
				t.Errorf("chart %d, column %d, row %d: %v\n%+v\npairs %+v", seed, i%c.grid.Columns, i/c.grid.Columns, err, cells[i], c.pairs)
			}
		}
	}
	if contacts == 0 || clear == 0 {
		t.Errorf("%d cells in contact, %d as demanded: the charts prove nothing", contacts, clear)
	}
}

func (c *chartScene) check(i int, cell *Cell) error {
	worst, touched := math.Inf(1), false
	for k := range c.pairs {
		m := &c.pairs[k]
		box := m.Over
		col, row := i%c.grid.Columns, i/c.grid.Columns
		box.Lo[c.grid.ColumnParam], box.Hi[c.grid.ColumnParam] = c.grid.Edge(0, col), c.grid.Edge(0, col+1)
		if c.grid.RowParam >= 0 {
			box.Lo[c.grid.RowParam], box.Hi[c.grid.RowParam] = c.grid.Edge(1, row), c.grid.Edge(1, row+1)
		}
		search := func(v *adversary) float64 {
			v.starts = 2
			least, _ := v.least(60, c.seed, box.Lo)
			return least
		}
		drawn, loose := search(newAdversary(m.Pair.Nominal(), box)), search(looseAdversary(m.Pair, box))
		touched = touched || drawn == 0
		near := min(drawn, loose) - m.Margin
		worst = min(worst, near)
		if cell.Demanded && near < m.Demand-1e-9 {
			return fmt.Errorf("FALSE CLEAR: pair %d comes as near as %.9f, demand %.9f", k, near, m.Demand)
		}
	}
	switch {
	case worst < cell.Lower-1e-9:
		return fmt.Errorf("FALSE CLEAR: proven %.9f, but %.9f", cell.Lower, worst)
	case touched && (cell.Lower > 0 || cell.Demanded):
		return fmt.Errorf("a contact is called clear")
	case touched && !cell.Contact && cell.Upper <= 0:
		return fmt.Errorf("a contact is called a gap that play closes")
	case cell.Contact && cell.Lower > 0, cell.Upper < cell.Lower-1e-9, cell.Lower > c.limits.Cap:
		return fmt.Errorf("the cell contradicts itself")
	case (cell.Pair < 0) != math.IsInf(cell.Upper, 1):
		return fmt.Errorf("pair %d for a clearance of %g", cell.Pair, cell.Upper)
	}
	return nil
}

// A pair that is nearer, but near enough, hides none that is farther, but too near.
func TestChartKeepsEveryDemand(t *testing.T) {
	block := NewTree(centered(10, 10, 10))
	at := func(gap, demand float64) Moving {
		beside := NewTree(cuboid(r3.Vector{X: 5 + gap, Y: -5, Z: -5}, r3.Vector{X: 20, Y: 5, Z: 5}))
		return Moving{Pair{A: beside, B: block, Motion: chainOf(linear(r3.Vector{Y: 1}, 0))}, over(-1, 1), demand}
	}
	g := Grid{RowParam: -1, Columns: 4, Rows: 1, Lo: [2]float64{-1}, Hi: [2]float64{1}}
	limits := ChartLimits{Cap: 8, Absolute: 0.01, Tests: 100_000}
	for _, tt := range []struct {
		name     string
		pairs    []Moving
		demanded bool
	}{
		{"both near enough", []Moving{at(1, 0.5), at(2, 1.5)}, true},
		{"the farther too near", []Moving{at(1, 0.5), at(2, 3)}, false},
		{"the nearer too near", []Moving{at(1, 1.5), at(2, 0.5)}, false},
		{"the farther first", []Moving{at(2, 3), at(1, 0.5)}, false},
	} {
		cells, err := Chart(context.Background(), tt.pairs, g, limits)
		if err != nil {
			t.Fatal(err)
		}
		for i, c := range cells {
			if c.Demanded != tt.demanded || c.Contact || c.Lower > 1 || c.Upper < 1 || c.Upper-c.Lower > 0.02 {
				t.Errorf("%s: cell %d is %+v, want 1 mm and demanded %v", tt.name, i, c, tt.demanded)
			}
		}
	}
}

// A contact stays one where a pair comes after it that is only near, over a whole
// column at once.
func TestChartKeepsContacts(t *testing.T) {
	block := NewTree(centered(10, 10, 10))
	slides := chainOf(linear(r3.Vector{X: 1}, 0), linear(r3.Vector{Y: 1}, 1))
	post := NewTree(cuboid(r3.Vector{X: 8.5, Y: 8.5, Z: -5}, r3.Vector{X: 20, Y: 20, Z: 5}))
	end := NewTree(cuboid(r3.Vector{X: 10, Y: -5, Z: -5}, r3.Vector{X: 20, Y: 5, Z: 5}))
	pairs := []Moving{
		{Pair{A: post, B: block, Motion: slides}, over(0, 4, 0, 4), 0.25},
		{Pair{A: end, B: block, Motion: chainOf(slides.Joints[0])}, over(0, 4, 0, 4), 0.25},
	}
	g := Grid{ColumnParam: 0, RowParam: 1, Columns: 4, Rows: 4, Hi: [2]float64{4, 4}}
	cells, err := Chart(context.Background(), pairs, g, ChartLimits{Cap: 8, Absolute: 0.01, Tests: 100_000})
	if err != nil {
		t.Fatal(err)
	}
	for i, c := range cells {
		// The post is met beyond x = y = 3.5 only.
		if c.Contact != (i == 15) {
			t.Errorf("cell %d is %+v", i, c)
		}
	}
}

// The same answers for any number of goroutines, to the bit.
func TestScenesAreTheSameForAnyJobs(t *testing.T) {
	rounds := 0
	for seed := range uint64(8) {
		s, c := randomScene(100+seed), randomChart(seed)
		s.limits.Enough, s.limits.Tests = math.Inf(1), 150_000
		s.limits.Absolute, s.limits.Relative = 1e-4, 0
		var first Outcome
		var cells []Cell
		for _, jobs := range []int{1, 2, 3, 8} {
			s.limits.Jobs, c.limits.Jobs = jobs, jobs
			out := s.sweep(t)
			got, err := Chart(context.Background(), c.pairs, c.grid, c.limits)
			if err != nil {
				t.Fatal(err)
			}
			if jobs == 1 {
				first, cells = out, got
				if out.Tests > 2*firstShare {
					rounds++
				}
				continue
			}
			if out != first {
				t.Errorf("%v\n%d jobs: %+v\none job: %+v", s, jobs, out, first)
			}
			for i := range got {
				if got[i] != cells[i] {
					t.Errorf("chart %d, cell %d, %d jobs: %+v\none job: %+v", seed, i, jobs, got[i], cells[i])
				}
			}
		}
	}
	if rounds == 0 {
		t.Error("no scene takes several goroutines: the scenes prove nothing")
	}
}
