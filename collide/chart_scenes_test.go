package collide

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
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
	case cell.Contact && cell.Lower > 0, cell.Upper < cell.Lower-1e-9, cell.Lower > c.limits.Cap:
		return fmt.Errorf("the cell contradicts itself")
	case (cell.Pair < 0) != math.IsInf(cell.Upper, 1):
		return fmt.Errorf("pair %d for a clearance of %g", cell.Pair, cell.Upper)
	}
	return nil
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
