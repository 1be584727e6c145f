package chart

import (
	"fmt"
	"slices"

	"gridswing/render/ink"
)

// keyLeft is where the explanations begin, to the right of the plot.
func (d *sheet) keyLeft() float64 { return d.plot.X1 + 44*d.unit }

// scale is what a bar of shades says of them.
type scale struct {
	title    string
	height   float64 // at full size
	most     int     // intervals between ticks
	demanded string  // at the demand
}

// clearanceScale is the scale of a chart over two axes: as long as what is below it leaves room for.
func (d *sheet) clearanceScale() scale {
	tall := max(leastScale, min(400, d.keyRoom()-scaleAbove-stateStep*float64(len(d.states()))))
	return scale{"Proven clearance, " + d.Lengths.Name(), tall, int(tall / 50), d.demanded() + " demanded"}
}

// Of the key, in pixels at full size.
const (
	scaleAbove = 44 + 46 // of the scale's title, and from it to the states
	leastScale = 150     // of the scale itself
	stateStep  = 46      // from one state to the next
)

// keyRoom is how high the key may be, at full size.
func (d *sheet) keyRoom() float64 { return (float64(d.Height)-d.plot.Y0)/d.unit - 4 }

// cramped reports whether a chart with a key so high, at full size, has no room for it, or too
// little for its plot, in pixels across: all must be drawn smaller then.
func (d *sheet) cramped(key, across float64) bool {
	return key > d.keyRoom() || across < leastPlot*d.unit
}

// leastPlot is how wide a plot is at least, at full size.
const leastPlot = 320

// states lists those that occur, worst first.
func (d *sheet) states() (used []State) {
	for _, s := range byWeight {
		if slices.ContainsFunc(d.Cells, func(c Cell) bool { return c.State == s }) {
			used = append(used, s)
		}
	}
	return used
}

// shadeBar explains the shades, from y downward; it returns its lower end.
func (d *sheet) shadeBar(y float64, s scale) float64 {
	u := d.unit
	x := d.keyLeft()
	d.page.Text(x, y+d.strong().Ascent(), ink.Left, d.strong(), s.title)
	bar := ink.Area{X0: x, Y0: y + 44*u, X1: x + 44*u, Y1: y + (44+s.height)*u}
	r := bar.Pixels()
	var tiles []ink.Tile
	for py := r.Min.Y; py < r.Max.Y; py++ {
		mm := d.Cap * (float64(r.Max.Y-py) - 0.5) / float64(r.Dy())
		tiles = append(tiles, ink.Tile{Area: ink.Area{X0: float64(r.Min.X), Y0: float64(py), X1: float64(r.Max.X), Y1: float64(py + 1)}, Color: d.shades.of(mm)})
	}
	d.page.Mosaic(tiles)
	d.page.Frame(bar.X0, bar.Y0, bar.X1, bar.Y1, 1.6*u, ink.Text)
	at := func(mm float64) float64 { return bar.Y1 - bar.Height()*mm/d.Cap }
	ascent := d.small().Ascent() / 2
	half := 21 * u // labels nearer to each other would touch
	demanded := at(min(d.Demand, d.Cap))
	if d.Demand > 0 {
		d.page.Line(5*u, ink.Paper, ink.Point{X: bar.X0, Y: demanded}, ink.Point{X: bar.X1, Y: demanded})
		d.page.Line(3*u, ink.Text, ink.Point{X: bar.X0 - 8*u, Y: demanded}, ink.Point{X: bar.X1 + 8*u, Y: demanded})
		d.page.Text(bar.X1+16*u, demanded+ascent, ink.Left, ink.Type{Size: 19 * u, Bold: true, Color: ink.Text},
			s.demanded)
	}
	label := func(mm float64, words string) {
		if d.Demand > 0 && abs(at(mm)-demanded) < half {
			return
		}
		d.page.Line(1.6*u, ink.Text, ink.Point{X: bar.X1, Y: at(mm)}, ink.Point{X: bar.X1 + 8*u, Y: at(mm)})
		d.page.Text(bar.X1+16*u, at(mm)+ascent, ink.Left, d.small(), words)
	}
	for _, tick := range d.clearances(s.most) {
		if at(tick.mm)-bar.Y0 >= half {
			label(tick.mm, tick.words)
		}
	}
	label(d.Cap, fmt.Sprintf("%.3g or more", d.Lengths.In(d.Cap)))
	return bar.Y1
}

// legend explains the states that occur, from y downward.
func (d *sheet) legend(y float64) float64 {
	u := d.unit
	x := d.keyLeft()
	for _, s := range d.states() {
		d.swatch(ink.Area{X0: x, Y0: y, X1: x + 44*u, Y1: y + 30*u}, s)
		words := s.look().words
		d.page.Text(x+58*u, y+15*u+d.small().Ascent()/2, ink.Left, d.small(), words)
		y += stateStep * u
	}
	return y
}

func (d *sheet) swatch(a ink.Area, s State) {
	r := a.Pixels()
	m := newMosaic(d)
	for x := r.Min.X; x < r.Max.X; x++ {
		c := Cell{State: s, Lower: d.Demand / 2}
		if s == Clear {
			c.Lower = d.Demand + (d.Cap-d.Demand)*(float64(x-r.Min.X)+0.5)/float64(r.Dx())
		}
		m.add(ink.Area{X0: float64(x), Y0: float64(r.Min.Y), X1: float64(x + 1), Y1: float64(r.Max.Y)}, &c)
	}
	m.draw()
	d.page.Frame(a.X0, a.Y0, a.X1, a.Y1, 1.6*d.unit, ink.Text)
}

func abs(v float64) float64 { return max(v, -v) }
