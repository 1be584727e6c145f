package swing

import (
	"cmp"
	"context"
	"math"
	"slices"

	"gridswing/collide"
	"gridswing/geom/motion"
	"gridswing/machine/check"
	"gridswing/machine/check/proof"
)

// Sizes of the chart's cells, in radians, and how well each is known. The chart
// is for the eye: what it says of a cell is proven, but its shade need not be
// finer than the eye can tell.
const (
	tiltStep   = 2.5 * math.Pi / 180
	rotaryStep = 5 * math.Pi / 180
	maxCells   = 144 // along one side

	chartCapLeast  = 10.0 // mm
	chartCapShare  = 5.0  // times the demand
	chartSharpness = 0.5  // mm
	chartShare     = 0.15
	chartTests     = 2_000_000 // of one cell and pair
)

// chart fills in the clearance over tilt and rotary, where anything turns.
func (c *checker) chart(ctx context.Context) error {
	c.nearest = map[*pair]float64{}
	grid, ok := c.grid()
	if !ok {
		return nil
	}
	var moving []collide.Moving
	var charted []*pair
	demand := 0.0
	for _, p := range c.pairs {
		uses := p.Moving.Motion.Uses()
		turns := uses[grid.ColumnParam] || grid.RowParam >= 0 && uses[grid.RowParam]
		if p.question == check.Rest || !turns {
			continue
		}
		charted = append(charted, p)
		demand = max(demand, p.Demand)
	}
	if len(charted) == 0 {
		return nil
	}
	orderByFirstLook(charted)
	for _, p := range charted {
		moving = append(moving, collide.Moving{Pair: p.Moving, Over: p.Over, Demand: p.Demand})
	}
	limits := collide.ChartLimits{
		Cap:      max(chartCapLeast, chartCapShare*demand),
		Absolute: chartSharpness, Relative: chartShare,
		Tests: chartTests, Jobs: c.options.Jobs,
		Progress: func(done, total int) { c.options.Tell("chart", done, total) },
	}
	cells, err := collide.Chart(ctx, moving, grid, limits)
	if err != nil {
		return err
	}
	c.charted = c.draw(grid, limits.Cap, c.setup.Demand.Swing, cells)
	for i := range cells {
		if k := cells[i].Pair; k >= 0 {
			if d, seen := c.nearest[charted[k]]; !seen || cells[i].Upper < d {
				c.nearest[charted[k]] = cells[i].Upper
			}
		}
	}
	return nil
}

// grid divides the ranges of the first two commanded rotary axes, the one with
// ends (the tilt) across. A single axis makes a single row.
func (c *checker) grid() (g collide.Grid, ok bool) {
	var rotary []int
	for k := range c.setup.Axes {
		a := &c.setup.Axes[k]
		if a.Kind == motion.Rotary && a.Commanded[1] > a.Commanded[0] {
			rotary = append(rotary, k)
		}
	}
	if len(rotary) == 0 {
		return g, false
	}
	if len(rotary) > 1 && c.setup.Axes[rotary[0]].Unlimited && !c.setup.Axes[rotary[1]].Unlimited {
		rotary[0], rotary[1] = rotary[1], rotary[0]
	}
	side := func(along, k int, step float64) int {
		r := c.setup.Axes[k].Commanded
		g.Lo[along], g.Hi[along] = r[0], r[1]
		return min(maxCells, max(1, int(math.Ceil((r[1]-r[0])/step-1e-9))))
	}
	g.ColumnParam, g.RowParam, g.Rows = rotary[0], -1, 1
	g.Columns = side(0, rotary[0], tiltStep)
	if len(rotary) > 1 {
		g.RowParam = rotary[1]
		g.Rows = side(1, rotary[1], rotaryStep)
	}
	return g, true
}

// draw turns cells into the report's chart.
func (c *checker) draw(g collide.Grid, limit, demand float64, cells []collide.Cell) *check.Chart {
	tilt := &c.setup.Axes[g.ColumnParam]
	chart := &check.Chart{
		Tilt:    check.RangeOf(tilt, g.Lo[0], g.Hi[0]),
		Columns: g.Columns, Rows: g.Rows, Cap: limit, Demand: demand,
	}
	if g.RowParam >= 0 {
		rotary := check.RangeOf(&c.setup.Axes[g.RowParam], g.Lo[1], g.Hi[1])
		chart.Rotary = &rotary
	}
	for i := range cells {
		chart.Cells = append(chart.Cells, check.Cell{
			Verdict: cellVerdict(&cells[i]), Proven: proof.Finite(cells[i].Lower), Smallest: proof.Finite(cells[i].Upper),
		})
	}
	return chart
}

func cellVerdict(c *collide.Cell) check.Verdict {
	switch {
	case c.Contact:
		return check.Contact
	case math.IsInf(c.Lower, -1) && c.Upper > 0:
		return check.Unproven
	case c.Lower <= 0: // or nearer than can be told
		return check.WithinPlay
	case c.Demanded:
		return check.Clear
	}
	return check.Tight
}

// locate finds the positions that a contact concerns: of the rotary axes from a
// chart of this pair alone, of each linear axis along its range.
func (c *checker) locate(ctx context.Context, p *pair) error {
	uses := p.Moving.Motion.Uses()
	grids := c.linear(p)
	if g, ok := c.grid(); ok && (uses[g.ColumnParam] || g.RowParam >= 0 && uses[g.RowParam]) {
		grids = append(grids, g)
	}
	for _, g := range grids {
		cells, err := collide.Chart(ctx, []collide.Moving{{Pair: p.Moving.Nominal(), Over: p.Over, Demand: sharpness}}, g,
			collide.ChartLimits{Cap: sharpness, Absolute: sharpness / 2, Tests: chartTests, Jobs: 1})
		if err != nil {
			return err
		}
		if uses[g.ColumnParam] {
			p.where = append(p.where, c.stretches(&g, 0, cells)...)
		}
		if g.RowParam >= 0 && uses[g.RowParam] {
			p.where = append(p.where, c.stretches(&g, 1, cells)...)
		}
	}
	return nil
}

// linear returns a row of cells along each linear axis that moves the pair.
func (c *checker) linear(p *pair) (grids []collide.Grid) {
	uses := p.Moving.Motion.Uses()
	for k := range c.setup.Axes {
		if lo, hi := p.Over.Lo[k], p.Over.Hi[k]; uses[k] && lo < hi && c.setup.Axes[k].Kind == motion.Linear {
			grids = append(grids, collide.Grid{
				ColumnParam: k, RowParam: -1, Columns: check.LinearParts, Rows: 1,
				Lo: [2]float64{lo}, Hi: [2]float64{hi},
			})
		}
	}
	return grids
}

// stretches returns the ranges of the column (along = 0) or row (1) axis in
// which some cell is in contact.
func (c *checker) stretches(g *collide.Grid, along int, cells []collide.Cell) (found []check.Range) {
	axis, n := &c.setup.Axes[g.ColumnParam], g.Columns
	if along == 1 {
		axis, n = &c.setup.Axes[g.RowParam], g.Rows
	}
	touched := make([]bool, n)
	for i := range cells {
		if at := [2]int{i % g.Columns, i / g.Columns}; cells[i].Contact {
			touched[at[along]] = true
		}
	}
	for i := 0; i < n; i++ {
		if !touched[i] {
			continue
		}
		from := i
		for i+1 < n && touched[i+1] {
			i++
		}
		found = append(found, check.RangeOf(axis, g.Edge(along, from), g.Edge(along, i+1)))
	}
	return found
}

// orderByFirstLook puts the pairs that the first look saw nearest first: what
// they leave of a cell is all that is asked of the others.
func orderByFirstLook(pairs []*pair) {
	slices.SortStableFunc(pairs, func(a, b *pair) int { return cmp.Compare(a.Out.Upper, b.Out.Upper) })
}
