package chart

import (
	"image/color"
	"math"

	"gridswing/render/ink"
)

// curve draws clearance over the one axis that varies: what is proven as a
// heavy line with its area shaded, what was found as a thin one above it.
func (d *sheet) curve(a *Axis, position func(m *Mark) float64) {
	d.columns()
	d.heights()
	d.steps(func(c *Cell) float64 { return c.Upper }, 1.6, foundLine)
	d.steps(func(c *Cell) float64 { return c.Lower }, 3.5, provenLine)
	d.demandLine()
	d.frame()
	d.ticksBelow(a)
	d.curveKey()
	d.marks(func(m *Mark) ink.Point {
		i := int((position(m) - a.Lo) / (a.Hi - a.Lo) * float64(len(d.Cells)))
		i = max(0, min(i, len(d.Cells)-1))
		c := &d.Cells[i]
		height := c.Lower
		if !c.State.look().shaded {
			height = d.Cap / 2
		}
		return ink.Point{X: d.across(a, position(m)), Y: d.height(height)}
	}, nil)
}

var (
	provenLine = ink.Ramp(ink.Blue, 26)
	foundLine  = color.RGBA{58, 62, 68, 255}
)

// height returns the y of a clearance.
func (d *sheet) height(mm float64) float64 {
	return d.plot.Y1 - d.plot.Height()*max(0, min(mm/d.Cap, 1))
}

// columns colours each position's column: up to the proven clearance with its
// shade, or over the whole height with the pattern of its state.
func (d *sheet) columns() {
	r := d.plot.Pixels()
	m := newMosaic(d)
	n := len(d.Cells)
	for i := range d.Cells {
		c := &d.Cells[i]
		top := d.plot.Y0
		if c.State.look().shaded {
			top = max(top, math.Ceil(d.height(c.Lower)-0.5))
		}
		m.add(ink.Area{X0: float64(r.Min.X + edgeOf(i, n, r.Dx())), Y0: top, X1: float64(r.Min.X + edgeOf(i+1, n, r.Dx())), Y1: d.plot.Y1}, c)
	}
	m.draw()
}

// heights draws the scale of clearance, upward, with faint lines across.
func (d *sheet) heights() {
	u := d.unit
	for _, tick := range d.clearances(10) {
		y := d.height(tick.mm)
		d.page.Line(u, color.RGBA{0, 0, 0, 40}, ink.Point{X: d.plot.X0, Y: y}, ink.Point{X: d.plot.X1, Y: y})
		words := tick.words
		if y < d.plot.Y0+1e-6 {
			words = "≥ " + words
		}
		d.leftTick(y, words)
	}
	d.page.TextUp(64*u-d.edge, (d.plot.Y0+d.plot.Y1)/2, d.strong(), "Smallest clearance, "+d.Lengths.Name())
}

// steps draws a quantity of the cells as a stepped line, broken where a state
// gives it no meaning and held at the cap.
func (d *sheet) steps(of func(c *Cell) float64, width float64, col color.RGBA) {
	n := len(d.Cells)
	has := func(i int) int {
		c := &d.Cells[i]
		if c.State.look().shaded && !math.IsInf(of(c), -1) && of(c) <= d.Cap {
			return 1
		}
		return 0
	}
	spans(n, has, func(from, to, _ int) {
		var line []ink.Point
		for i := from; i < to; i++ {
			y := d.height(of(&d.Cells[i]))
			for _, k := range []int{i, i + 1} {
				line = append(line, ink.Point{X: d.plot.X0 + d.plot.Width()*float64(k)/float64(n), Y: y})
			}
		}
		d.page.Line(width*d.unit, col, line...)
	})
}

func (d *sheet) demandLine() {
	if d.Demand <= 0 || d.Demand > d.Cap {
		return
	}
	u, y := d.unit, d.height(d.Demand)
	a, b := ink.Point{X: d.plot.X0, Y: y}, ink.Point{X: d.plot.X1, Y: y}
	d.page.Line(5*u, ink.Paper, a, b)
	d.page.Dashed(3*u, 16*u, 9*u, ink.Text, a, b)
}

// curveAbove is how much of the key is above the states, at full size.
const curveAbove = 144

func (d *sheet) curveKey() {
	u := d.unit
	x, y := d.keyLeft(), d.plot.Y0+14*u
	line := func(words string, draw func(a, b ink.Point)) {
		draw(ink.Point{X: x, Y: y}, ink.Point{X: x + 44*u, Y: y})
		d.page.Text(x+58*u, y+d.small().Ascent()/2, ink.Left, d.small(), words)
		y += 40 * u
	}
	line("proven: at least this", func(a, b ink.Point) { d.page.Line(3.5*u, provenLine, a, b) })
	line("found: at most this", func(a, b ink.Point) { d.page.Line(1.6*u, foundLine, a, b) })
	if d.Demand > 0 {
		line(d.demanded()+" "+d.Lengths.Name()+" demanded", func(a, b ink.Point) { d.page.Dashed(3*u, 12*u, 6*u, ink.Text, a, b) })
	}
	d.legend(y + 10*u)
}
