package collide

import (
	"context"
	"math"
	"runtime"
	"sync"

	"gridswing/geom/motion"
)

// Grid divides the ranges of two parameters into cells, Columns along the
// first and Rows along the second.
type Grid struct {
	ColumnParam, RowParam int
	Columns, Rows         int
	Lo, Hi                [2]float64 // of the column and the row parameter
}

// Cell is what is known of the smallest clearance over one cell of a grid, all
// pairs taken together, location uncertainty taken off.
type Cell struct {
	// Lower is proven over the whole cell, -Inf if nothing is; Upper was seen
	// somewhere in it, +Inf if nothing below the chart's cap was.
	Lower, Upper float64
	// Contact says that surfaces meet somewhere in the cell as drawn.
	Contact bool
	// Pair is the pair that Upper belongs to, -1 if none.
	Pair int
}

// ChartLimits say how well the cells are to be known.
type ChartLimits struct {
	// Cap is the clearance in mm from which on nobody cares; positive.
	Cap float64
	// Demand is resolved to Absolute in every cell: no cell is left whose bounds
	// lie on different sides of it if more work can help.
	Demand float64
	// Absolute and Relative are the tolerance of Upper against Lower elsewhere.
	Absolute, Relative float64
	// Tests is the budget of each cell and pair.
	Tests int64
	Jobs  int // as in Limits
}

// Moving is a pair and the range it is charted over. The grid's parameters
// are replaced by each cell's; others, such as X and Y, keep theirs.
type Moving struct {
	Pair
	Over motion.Box
}

// Chart finds the smallest clearance over every cell, row by row. Cells share
// what is known: a block of cells is proven at one stroke where it can be, and a
// pair is asked no more of than to stay above what another has left of the cell.
// The nearest pairs should come first. The only error is the context's.
func Chart(ctx context.Context, pairs []Moving, g Grid, limits ChartLimits) ([]Cell, error) {
	cells := make([]Cell, g.Columns*g.Rows)
	for i := range cells {
		cells[i] = Cell{Lower: limits.Cap, Upper: math.Inf(1), Pair: -1}
	}
	jobs := limits.Jobs
	if jobs <= 0 {
		jobs = runtime.GOMAXPROCS(0)
	}
	var wg sync.WaitGroup
	free := make(chan struct{}, jobs)
	for _, tile := range g.tiles() {
		free <- struct{}{}
		wg.Go(func() {
			c := charter{ctx: ctx, grid: g, limits: limits, cells: cells}
			for i := range pairs {
				c.pair(i, &pairs[i], tile)
			}
			<-free
		})
	}
	wg.Wait()
	return cells, ctx.Err()
}

// block is a rectangle of cells: columns [c0, c1), rows [r0, r1).
type block struct{ c0, c1, r0, r1 int }

// tiles cuts the grid into blocks that are worked on independently; how many
// does not depend on the cores, so neither does the answer.
func (g *Grid) tiles() []block {
	const across = 4
	var tiles []block
	for i := range across {
		for j := range across {
			t := block{i * g.Columns / across, (i + 1) * g.Columns / across, j * g.Rows / across, (j + 1) * g.Rows / across}
			if t.c0 < t.c1 && t.r0 < t.r1 {
				tiles = append(tiles, t)
			}
		}
	}
	return tiles
}

// Edge returns the value of the column (along = 0) or row (1) parameter at the
// border before cell i; neighbours share it to the bit.
func (g *Grid) Edge(along, i int) float64 {
	n := g.Columns
	if along == 1 {
		n = g.Rows
	}
	if i == n {
		return g.Hi[along]
	}
	return g.Lo[along] + (g.Hi[along]-g.Lo[along])*float64(i)/float64(n)
}

// charter works through one tile.
type charter struct {
	ctx    context.Context
	grid   Grid
	limits ChartLimits
	cells  []Cell
	prover *prover
	index  int
	moving *Moving
	uses   [motion.MaxParams]bool
}

func (c *charter) pair(index int, m *Moving, tile block) {
	if len(m.A.nodes) == 0 || len(m.B.nodes) == 0 {
		return
	}
	c.index, c.moving = index, m
	c.uses = m.Motion.Uses()
	limits := Limits{Absolute: c.limits.Absolute, Jobs: 1}
	c.prover = newSearch(c.ctx, m.Pair, m.Over, limits).main
	c.block(tile, nil)
}

// box returns the parameters of a block of cells.
func (c *charter) box(b block) motion.Box {
	box := c.moving.Over
	g := &c.grid
	box.Lo[g.ColumnParam], box.Hi[g.ColumnParam] = g.Edge(0, b.c0), g.Edge(0, b.c1)
	box.Lo[g.RowParam], box.Hi[g.RowParam] = g.Edge(1, b.r0), g.Edge(1, b.r1)
	return box
}

// need is the clearance that no cell of the block can still learn from.
func (c *charter) need(b block) float64 {
	need := math.Inf(-1)
	for r := b.r0; r < b.r1; r++ {
		for k := b.c0; k < b.c1; k++ {
			need = max(need, c.cells[r*c.grid.Columns+k].Upper)
		}
	}
	return min(need, c.limits.Cap)
}

func (c *charter) block(b block, hint *failure) {
	need := c.need(b)
	if need <= 0 || c.ctx.Err() != nil {
		return
	}
	p := c.prover
	p.limits.Enough = need
	p.best.Upper = math.Inf(1)
	box := c.box(b)
	e := p.chain.Over(&box, &p.excursion)
	center := box.Center()
	var ok bool
	var fail failure
	if hint != nil {
		ok, fail = p.again(e, &center, hint)
	}
	if hint == nil || ok {
		if ok, fail = p.prove(c.ctx, &box); ok {
			return
		}
	}
	columns, rows := b.c1-b.c0 > 1 && c.uses[c.grid.ColumnParam], b.r1-b.r0 > 1 && c.uses[c.grid.RowParam]
	if !columns && !rows {
		c.cell(b, box)
		return
	}
	low, high := b, b
	e = p.chain.Over(&box, &p.excursion)
	if columns && (!rows || e.Widest(p.chain, &box, fail.u, fail.center, fail.radius) == c.grid.ColumnParam) {
		low.c1 = (b.c0 + b.c1) / 2
		high.c0 = low.c1
	} else {
		low.r1 = (b.r0 + b.r1) / 2
		high.r0 = low.r1
	}
	c.block(low, &fail)
	c.block(high, &fail)
}

// cell finds the clearance over a block that this pair cannot tell apart: one
// cell, or a row of them along a parameter that does not move it.
func (c *charter) cell(b block, box motion.Box) {
	out := c.sweep(box, c.moving.Pair, Limits{Enough: c.need(b), Absolute: c.limits.Absolute, Relative: c.limits.Relative})
	if out.Lower < c.limits.Demand && out.Upper >= c.limits.Demand {
		sharp := c.sweep(box, c.moving.Pair, Limits{Enough: c.limits.Demand, Absolute: 0.01})
		out.Lower = max(out.Lower, sharp.Lower)
		if sharp.Upper < out.Upper {
			out.Upper, out.Contact = sharp.Upper, sharp.Contact
		}
	}
	if out.Upper <= 0 && !out.Contact {
		drawn := c.sweep(box, c.moving.Pair.Nominal(), Limits{Enough: 0.01, Absolute: 0.001})
		out.Contact = drawn.Contact
	}
	for r := b.r0; r < b.r1; r++ {
		for k := b.c0; k < b.c1; k++ {
			cell := &c.cells[r*c.grid.Columns+k]
			cell.Lower = min(cell.Lower, out.Lower)
			cell.Contact = cell.Contact || out.Contact
			if out.Upper < cell.Upper {
				cell.Upper, cell.Pair = out.Upper, c.index
			}
		}
	}
}

func (c *charter) sweep(box motion.Box, pair Pair, limits Limits) Outcome {
	limits.Tests, limits.Jobs = c.limits.Tests, 1
	out, err := Sweep(c.ctx, pair, box, limits)
	if err != nil { // the chart is thrown away; prove nothing meanwhile
		out.Lower = math.Inf(-1)
	}
	return out
}
