package chart

import "gridswing/render/ink"

// compassHeight is how much of the key the orientations take, at full size.
const compassHeight = 190

// explain draws what is to the right of the map.
func (d *seatSheet) explain() {
	d.listed.ring = func(at ink.Point, c *Choice) {
		if c.Rank > 0 {
			d.ring(at, 15*d.unit, c)
			d.number(at, c.Rank)
		} else {
			d.ring(at, 14*d.unit, c)
		}
	}
	right := d.plot.X1
	d.plot.X1 = float64(d.Swing.Width) - besideKey*d.unit + d.edge
	y := d.plot.Y0
	if d.several {
		y = d.compass(y)
	}
	d.listed.explain(y, d.plot.Y1+belowPlot*d.unit)
	d.plot.X1 = right
}

// compass shows which part of a mark stands for which orientation.
func (d *seatSheet) compass(y float64) float64 {
	u, x := d.unit, d.keyLeft()
	d.page.Text(x, y+d.strong().Ascent(), ink.Left, d.strong(), "Turned, degrees")
	turns := d.turns()
	if len(turns) > 8 {
		turns = []float64{0, 90, 180, 270}
	}
	p := &place{}
	for _, t := range turns {
		p.seats = append(p.seats, &Seat{Choice: Choice{State: Clear, Share: d.Swing.Cap}, Turned: t})
	}
	at := ink.Point{X: x + 100*u, Y: y + 96*u}
	d.mark(at, 30*u, p)
	for _, t := range turns {
		end := ahead(at, t, 44*u)
		sin := (at.Y - end.Y) / (44 * u)
		words, align := number(t), ink.Center
		if t > 180 {
			words = number(t - 360)
		}
		if end.X > at.X+10*u {
			align = ink.Left
		} else if end.X < at.X-10*u {
			align = ink.Right
		}
		d.page.Text(end.X, end.Y+d.small().Ascent()*(0.5-0.5*sin), align, d.small(), words)
	}
	return y + compassHeight*u
}
