package collide

import (
	"context"
	"math"
	"runtime"
	"sync/atomic"

	"gridswing/geom/motion"
	"gridswing/geom/together"
)

// Grid divides the ranges of two parameters into cells, Columns along the
// first and Rows along the second.
type Grid struct {
	// RowParam is -1 where there is but one parameter, and Rows is 1 then.
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
	// Demanded says that every pair is proven to stay its own demand apart.
	Demanded bool
	// Pair is the pair that Upper belongs to, -1 if none.
	Pair int
}

// ChartLimits say how well the cells are to be known.
type ChartLimits struct {
	// Cap is the clearance in mm from which on nobody cares; positive, and no
	// less than any pair's demand.
	Cap float64
	// Absolute and Relative are the tolerance of Upper against Lower.
	Absolute, Relative float64
	// Tests is the budget of each cell and pair.
	Tests int64
	Jobs  int // as in Limits
	// Progress, if not nil, is told how many parts of the chart are done. It is
	// called from several goroutines.
	Progress func(done, total int)
}

// Moving is a pair and the range it is charted over. The grid's parameters
// are replaced by each cell's; others, such as X and Y, keep theirs.
type Moving struct {
	Pair
	Over motion.Box
	// Demand is the clearance in mm asked of this pair; whether a cell keeps it
	// is found to demandSharpness.
	Demand float64
}

// demandSharpness is how near to a demand, in mm, a cell may come without being
// told which side of it it is on; it counts as short of it then.
const demandSharpness = 0.01

// Chart finds the smallest clearance over every cell, row by row. Cells share
// what is known: a block of cells is proven at one stroke where it can be, and a
// pair is asked no more of than to stay above what another has left of the cell.
// The nearest pairs should come first. The only error is the context's.
func Chart(ctx context.Context, pairs []Moving, g Grid, limits ChartLimits) ([]Cell, error) {
	cells := make([]Cell, g.Columns*g.Rows)
	for i := range cells {
		cells[i] = Cell{Lower: limits.Cap, Upper: math.Inf(1), Demanded: true, Pair: -1}
	}
	jobs := limits.Jobs
	if jobs <= 0 {
		jobs = runtime.GOMAXPROCS(0)
	}
	var wg together.Group
	free := make(chan struct{}, jobs)
	tiles := g.tiles()
	var done atomic.Int64
	for _, tile := range tiles {
		free <- struct{}{}
		wg.Go(func() {
			defer func() { <-free }()
			c := charter{ctx: ctx, grid: g, limits: limits, cells: cells}
			for i := range pairs {
				c.pair(i, &pairs[i], tile)
			}
			if n := int(done.Add(1)); limits.Progress != nil {
				limits.Progress(n, len(tiles))
			}
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
	ctx             context.Context
	grid            Grid
	limits          ChartLimits
	cells           []Cell
	prover          *prover
	index           int
	moving          *Moving
	byColumn, byRow bool // which of the grid's parameters move the pair
}

func (c *charter) pair(index int, m *Moving, tile block) {
	if len(m.A.nodes) == 0 || len(m.B.nodes) == 0 {
		return
	}
	c.index, c.moving = index, m
	uses := m.Motion.Uses()
	c.byColumn = uses[c.grid.ColumnParam]
	c.byRow = c.grid.RowParam >= 0 && uses[c.grid.RowParam]
	limits := Limits{Absolute: demandSharpness, Jobs: 1}
	c.prover = newSearch(c.ctx, m.Pair, m.Over, limits).main
	c.block(tile, nil)
}

// box returns the parameters of a block of cells.
func (c *charter) box(b block) motion.Box {
	box := c.moving.Over
	g := &c.grid
	box.Lo[g.ColumnParam], box.Hi[g.ColumnParam] = g.Edge(0, b.c0), g.Edge(0, b.c1)
	if g.RowParam >= 0 {
		box.Lo[g.RowParam], box.Hi[g.RowParam] = g.Edge(1, b.r0), g.Edge(1, b.r1)
	}
	return box
}

// need is the clearance from which on this pair teaches no cell of the block
// anything: none comes below what is left of it, and each that still keeps every
// demand keeps this pair's too.
func (c *charter) need(b block) float64 {
	need := math.Inf(-1)
	for r := b.r0; r < b.r1; r++ {
		for k := b.c0; k < b.c1; k++ {
			cell := &c.cells[r*c.grid.Columns+k]
			left := min(cell.Upper, c.limits.Cap)
			if cell.Demanded {
				left = max(left, c.moving.Demand)
			}
			if !cell.Contact { // where another pair leaves nothing, this one may still meet
				left = max(left, demandSharpness)
			}
			need = max(need, left)
		}
	}
	return need
}

func (c *charter) block(b block, hint *failure) {
	need := c.need(b)
	if need <= 0 || c.ctx.Err() != nil {
		return
	}
	box := c.box(b)
	ok, fail := c.proven(&box, need, hint)
	if ok {
		return
	}
	columns := b.c1-b.c0 > 1 && c.byColumn
	rows := b.r1-b.r0 > 1 && c.byRow
	if !columns && !rows {
		c.cell(b, box, need)
		return
	}
	low, high := b, b
	e := c.prover.over(&box)
	if columns && (!rows || e.Widest(c.prover.chain, &box, fail.u, fail.center, fail.radius) == c.grid.ColumnParam) {
		low.c1 = (b.c0 + b.c1) / 2
		high.c0 = low.c1
	} else {
		low.r1 = (b.r0 + b.r1) / 2
		high.r0 = low.r1
	}
	c.block(low, &fail)
	c.block(high, &fail)
}

// proven reports whether the pair stays need apart over the box, asking the
// parts that failed before first.
func (c *charter) proven(box *motion.Box, need float64, hint *failure) (ok bool, fail failure) {
	p := c.prover
	p.limits.Enough = need
	p.best.Upper = math.Inf(1)
	if ok, _, _ := p.proveFree(box, &failure{}); ok {
		return true, fail
	}
	if hint != nil {
		e := p.over(box)
		center := box.Center()
		if ok, fail = p.again(e, &center, hint); !ok {
			return false, fail
		}
	}
	ok, fail = p.prove(box)
	// A prover is content with just below the nearest position it has seen; here
	// only what was asked for will do.
	if ok && p.best.Upper < need {
		return false, failure{} // the roots
	}
	return ok, fail
}

// cell finds the clearance over a block that this pair cannot tell apart: one
// cell, or a row of them along a parameter that does not move it.
func (c *charter) cell(b block, box motion.Box, need float64) {
	demand := c.moving.Demand
	out := c.sweep(box, c.moving.Pair, Limits{Enough: need, Absolute: c.limits.Absolute, Relative: c.limits.Relative})
	kept := out.Lower >= demand
	if out.Upper > 0 && (out.Lower <= 0 || out.Lower < demand && out.Upper >= demand) {
		sharp := c.sweep(box, c.moving.Pair, Limits{Enough: demand, Absolute: demandSharpness})
		kept = sharp.Lower >= demand
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
			cell.Demanded = cell.Demanded && kept
			if out.Upper < cell.Upper {
				cell.Upper, cell.Pair = out.Upper, c.index
			}
		}
	}
}

func (c *charter) sweep(box motion.Box, pair Pair, limits Limits) Outcome {
	limits.Tests, limits.Jobs, limits.quick = c.limits.Tests, 1, true
	out, err := Sweep(c.ctx, pair, box, limits)
	if err != nil { // the chart is thrown away; prove nothing meanwhile
		out.Lower = math.Inf(-1)
	}
	return out
}
