package chart

import (
	"image/color"
	"math"

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
	y := d.shadeBar(d.plot.Y0, d.clearanceScale())
	d.legend(y + 46*d.unit)
	d.marks(func(m *Mark) ink.Point {
		return ink.Point{X: d.across(&d.Tilt, m.Tilt), Y: d.up(&d.Rotary, m.Rotary)}
	}, d.bad)
}

// cells colours the plot: a pixel belongs to the cell its middle is in.
func (d *sheet) cells() {
	r := d.plot.Pixels()
	m := newMosaic(d)
	for row := d.Rows - 1; row >= 0; row-- {
		y0, y1 := r.Max.Y-edgeOf(row+1, d.Rows, r.Dy()), r.Max.Y-edgeOf(row, d.Rows, r.Dy())
		for column := range d.Columns {
			x0, x1 := r.Min.X+edgeOf(column, d.Columns, r.Dx()), r.Min.X+edgeOf(column+1, d.Columns, r.Dx())
			m.add(ink.Area{X0: float64(x0), Y0: float64(y0), X1: float64(x1), Y1: float64(y1)}, &d.Cells[row*d.Columns+column])
		}
	}
	m.draw()
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

// border is a run of edges between cells of different states.
type border struct {
	a, b   ink.Point
	weight int
}

// Weights of borders: between states that are both bad, round contact, and
// where what is clear ends.
const (
	minor = iota + 1
	roundContact
	endOfClear
)

func weight(s, t State) int {
	switch {
	case s == t:
		return 0
	case s == Clear || t == Clear:
		return endOfClear
	case s == Contact || t == Contact:
		return roundContact
	}
	return minor
}

// borders draws lines between cells of different states, along the cells' edges,
// because that is as fine as anything is known. The end of what is clear is a
// dark line on a light one, so that it shows on every shade.
func (d *sheet) borders() {
	borders := d.findBorders()
	u := d.unit
	for _, b := range borders {
		if b.weight == endOfClear {
			d.border(b, 5*u, ink.Paper)
		}
	}
	for _, b := range borders {
		d.border(b, [...]float64{minor: 1.2, roundContact: 2, endOfClear: 2.6}[b.weight]*u, ink.Text)
	}
}

// border draws a line that reaches half of its width beyond its ends, so that corners are whole;
// but not out of the plot.
func (d *sheet) border(b border, width float64, col color.RGBA) {
	l := math.Hypot(b.b.X-b.a.X, b.b.Y-b.a.Y)
	x, y := (b.b.X-b.a.X)/l*width/2, (b.b.Y-b.a.Y)/l*width/2
	held := func(p ink.Point) ink.Point {
		return ink.Point{X: max(d.plot.X0, min(p.X, d.plot.X1)), Y: max(d.plot.Y0, min(p.Y, d.plot.Y1))}
	}
	d.page.Line(width, col, held(ink.Point{X: b.a.X - x, Y: b.a.Y - y}), held(ink.Point{X: b.b.X + x, Y: b.b.Y + y}))
}

func (d *sheet) findBorders() []border {
	var found []border
	at := func(column, row int) ink.Point {
		return ink.Point{
			X: d.plot.X0 + d.plot.Width()*float64(column)/float64(d.Columns),
			Y: d.plot.Y1 - d.plot.Height()*float64(row)/float64(d.Rows),
		}
	}
	state := func(column, row int) State { return d.Cells[row*d.Columns+column].State }
	for row := 1; row < d.Rows; row++ {
		spans(d.Columns, func(c int) int { return weight(state(c, row), state(c, row-1)) },
			func(from, to, w int) { found = append(found, border{at(from, row), at(to, row), w}) })
	}
	for column := 1; column < d.Columns; column++ {
		spans(d.Rows, func(r int) int { return weight(state(column, r), state(column-1, r)) },
			func(from, to, w int) { found = append(found, border{at(column, from), at(column, to), w}) })
	}
	return found
}

// spans calls do for every longest run [from, to) within [0, n) of equal class,
// those of class 0 left out.
func spans(n int, class func(i int) int, do func(from, to, class int)) {
	for from := 0; from < n; {
		c, to := class(from), from+1
		for to < n && class(to) == c {
			to++
		}
		if c != 0 {
			do(from, to, c)
		}
		from = to
	}
}

// bad is the part of an area of the plot whose cells are not clear, 0 to 1.
func (d *sheet) bad(a ink.Area) float64 {
	n, hits := 0, 0
	for v := range 3 {
		for h := range 9 {
			x, y := a.X0+a.Width()*float64(h)/8, a.Y0+a.Height()*float64(v)/2
			column := int((x - d.plot.X0) / d.plot.Width() * float64(d.Columns))
			row := int((d.plot.Y1 - y) / d.plot.Height() * float64(d.Rows))
			column, row = max(0, min(column, d.Columns-1)), max(0, min(row, d.Rows-1))
			n++
			if d.Cells[row*d.Columns+column].State != Clear {
				hits++
			}
		}
	}
	return float64(hits) / float64(n)
}
