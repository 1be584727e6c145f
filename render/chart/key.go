package chart

import (
	"fmt"

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

func (d *sheet) clearances() scale {
	return scale{"Proven clearance, mm", 400, 8, number(d.Demand) + " demanded"}
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
	half := 17 * u // labels this near to each other would touch
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
	for _, mm := range lengths(d.Cap, s.most) {
		if at(mm)-bar.Y0 >= half {
			label(mm, number(mm))
		}
	}
	label(d.Cap, fmt.Sprintf("%.3g or more", d.Cap))
	return bar.Y1
}

// legend explains the states that occur, from y downward.
func (d *sheet) legend(y float64) float64 {
	u := d.unit
	x := d.keyLeft()
	used := map[State]bool{}
	for i := range d.Cells {
		used[d.Cells[i].State] = true
	}
	for _, s := range byWeight {
		if !used[s] {
			continue
		}
		d.swatch(ink.Area{X0: x, Y0: y, X1: x + 44*u, Y1: y + 30*u}, s)
		words := s.look().words
		d.page.Text(x+58*u, y+15*u+d.small().Ascent()/2, ink.Left, d.small(), words)
		y += 46 * u
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
