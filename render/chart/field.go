package chart

import (
	"image/color"

	"gridswing/render/ink"
)

// field draws tilt across and rotary upward.
func (d *sheet) field() {
	d.cells()
	d.grid()
	d.borders()
	d.frame()
	d.ticksBelow(&d.Tilt)
	d.ticksLeft(&d.Rotary)
	y := d.shadeBar(d.plot.Y0)
	d.legend(y + 46*d.unit)
	d.marks(func(m *Mark) ink.Point {
		return ink.Point{X: d.across(&d.Tilt, m.Tilt), Y: d.up(&d.Rotary, m.Rotary)}
	})
}

// cells colours the pixels of the plot: each belongs to the cell its middle is in.
func (d *sheet) cells() {
	r := d.plot.Pixels()
	for y := r.Min.Y; y < r.Max.Y; y++ {
		row := (2*(r.Max.Y-y) - 1) * d.Rows / (2 * r.Dy())
		for x := r.Min.X; x < r.Max.X; x++ {
			column := (2*(x-r.Min.X) + 1) * d.Columns / (2 * r.Dx())
			d.paint(x, y, &d.Cells[row*d.Columns+column])
		}
	}
}

// paint colours one pixel as the cell says.
func (d *sheet) paint(x, y int, c *Cell) {
	l := c.State.look()
	ground := l.ground
	if l.shaded {
		ground = d.shades.of(c.Lower)
	}
	d.page.SetRGBA(x, y, ground)
	d.page.Blend(x, y, l.stroke, l.pattern.Coverage(x, y))
}

// grid draws faint lines at the ticks.
func (d *sheet) grid() {
	u := d.unit
	thin := color.RGBA{255, 255, 255, 64}
	for _, at := range angles(&d.Tilt, d.plot.Width(), 76*u) {
		x := d.across(&d.Tilt, at)
		d.page.Line(u, thin, ink.Point{X: x, Y: d.plot.Y0}, ink.Point{X: x, Y: d.plot.Y1})
	}
	for _, at := range angles(&d.Rotary, d.plot.Height(), 56*u) {
		y := d.up(&d.Rotary, at)
		d.page.Line(u, thin, ink.Point{X: d.plot.X0, Y: y}, ink.Point{X: d.plot.X1, Y: y})
	}
}

// borders draws lines between cells of different states, along the cells' edges,
// because that is as fine as anything is known: a dark line on a light one, so
// that it shows on every shade.
func (d *sheet) borders() {
	var runs [][2]ink.Point
	at := func(column, row int) ink.Point {
		return ink.Point{
			X: d.plot.X0 + d.plot.Width()*float64(column)/float64(d.Columns),
			Y: d.plot.Y1 - d.plot.Height()*float64(row)/float64(d.Rows),
		}
	}
	state := func(column, row int) State { return d.Cells[row*d.Columns+column].State }
	for row := 1; row < d.Rows; row++ {
		spans(d.Columns, func(c int) bool { return state(c, row) != state(c, row-1) },
			func(from, to int) { runs = append(runs, [2]ink.Point{at(from, row), at(to, row)}) })
	}
	for column := 1; column < d.Columns; column++ {
		spans(d.Rows, func(r int) bool { return state(column, r) != state(column-1, r) },
			func(from, to int) { runs = append(runs, [2]ink.Point{at(column, from), at(column, to)}) })
	}
	for _, r := range runs {
		d.page.Line(6*d.unit, ink.Paper, r[0], r[1])
	}
	for _, r := range runs {
		d.page.Line(3*d.unit, ink.Text, r[0], r[1])
	}
}

// spans calls do for every longest run of i in [0, n) for which yes holds, as [from, to).
func spans(n int, yes func(i int) bool, do func(from, to int)) {
	for i := 0; i < n; i++ {
		from := i
		for i < n && yes(i) {
			i++
		}
		if i > from {
			do(from, i)
		}
	}
}
