package chart

import (
	"image/color"
	"math"

	"gridswing/render/ink"
)

// cells draws the cells as their states look, with the share where there is one.
func (d *heatSheet) cells() {
	for i := range d.HeatMap.Cells {
		c, a := &d.HeatMap.Cells[i], d.cell(i)
		if c.Missing {
			d.cross(a)
			continue
		}
		l := d.ground(&c.Choice)
		d.page.Fill(a.X0, a.Y0, a.X1, a.Y1, l.ground)
		d.page.Pattern(a.Pixels(), l.pattern, l.stroke)
		if l.shaded && !c.Bare {
			d.share(a, c, l)
		}
	}
}

// share writes what is left of the demand into a cell, if there is room.
func (d *heatSheet) share(a ink.Area, c *Combination, l look) {
	u := d.unit
	letters := d.small()
	words := share(c.Share, d.Swing.Cap)
	if c.Share >= d.Swing.Cap {
		words = "≥ " + number(d.Swing.Cap)
	}
	if ink.Lightness(l.ground) < 60 {
		letters.Color = color.RGBA{255, 255, 255, 255}
	}
	letters.Bold = c.Rank > 0
	x, y := (a.X0+a.X1)/2, (a.Y0+a.Y1)/2+letters.Ascent()/2
	half := letters.Width(words)/2 + 4*u
	if c.Rank > 0 && d.tall < 80*u && x-half < a.X0+numberWide*u { // its number is in the upper left corner
		y = a.Y1 - 11*u
	}
	if 2*half > a.Width()-4*u || letters.Ascent() > a.Height()-8*u {
		return
	}
	if l.pattern != ink.Blank {
		d.page.Fill(x-half, y-letters.Ascent()-4*u, x+half, y+4*u, l.ground)
	}
	d.page.Text(x, y, ink.Center, letters, words)
}

const numberWide = 28 // of the mark of a rank in the corner of a cell

// borders draws thin lines between cells, and stronger ones where what is clear ends.
func (d *heatSheet) borders() {
	u, n := d.unit, len(d.columns)
	type edge struct{ a, b ink.Point }
	var ends []edge
	clear := func(i int) bool { c := &d.HeatMap.Cells[i]; return c.State == Clear && !c.Missing }
	between := func(i, k int, a, b ink.Point) {
		d.page.Line(1.6*u, ink.Paper, a, b)
		if clear(i) != clear(k) {
			ends = append(ends, edge{a, b})
		}
	}
	for i := range d.HeatMap.Cells {
		a := d.cell(i)
		if i%n > 0 {
			between(i, i-1, ink.Point{X: a.X0, Y: a.Y0}, ink.Point{X: a.X0, Y: a.Y1})
		}
		if i >= n {
			between(i, i-n, ink.Point{X: a.X0, Y: a.Y0}, ink.Point{X: a.X1, Y: a.Y0})
		}
	}
	for _, e := range ends {
		d.page.Line(5*u, ink.Paper, e.a, e.b)
	}
	for _, e := range ends {
		d.page.Line(2.6*u, ink.Text, e.a, e.b)
	}
}

// rings frames the cells that have a rank, whole, and the present one, broken.
func (d *heatSheet) rings() {
	u := d.unit
	for i := range d.HeatMap.Cells {
		c, a := &d.HeatMap.Cells[i], d.cell(i)
		if c.Missing || c.Rank == 0 && !c.Present {
			continue
		}
		d.ringed(a.Shrunk(4*u), &c.Choice)
		if c.Rank > 0 {
			d.number(ink.Point{X: a.X0 + 13*u, Y: a.Y0 + 13*u}, c.Rank)
		}
	}
}

// ringed draws the frame of one with a rank, or of the present one.
func (d *heatSheet) ringed(a ink.Area, c *Choice) {
	u := d.unit
	corners := []ink.Point{{X: a.X0, Y: a.Y0}, {X: a.X1, Y: a.Y0}, {X: a.X1, Y: a.Y1}, {X: a.X0, Y: a.Y1}}
	for i, p := range corners {
		d.page.Line(7*u, ink.Paper, p, corners[(i+1)%4])
	}
	for i, p := range corners {
		q := corners[(i+1)%4]
		if c.Present {
			dash := math.Hypot(q.X-p.X, q.Y-p.Y) / 7
			d.page.Dashed(3.4*u, dash, dash, ink.Text, p, q)
		} else {
			d.page.Line(3.4*u, ink.Text, p, q)
		}
	}
}

// explain draws what is to the right of the table.
func (d *heatSheet) explain() {
	u := d.unit
	d.listed.ring = func(at ink.Point, c *Choice) {
		if c.Present || c.Rank > 0 {
			d.ringed(ink.Area{X0: at.X - 20*u, Y0: at.Y - 14*u, X1: at.X + 20*u, Y1: at.Y + 14*u}, c)
		}
		if c.Rank > 0 {
			d.number(at, c.Rank)
		}
	}
	d.plot.X1 = max(d.plot.X1, float64(d.Swing.Width)-besideHeat*u+d.edge)
	d.listed.explain(d.plot.Y0, d.under)
}
