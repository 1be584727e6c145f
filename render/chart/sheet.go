package chart

import (
	"image"
	"math"
	"strconv"

	"gridswing/render/ink"
)

// sheet is a chart being drawn.
type sheet struct {
	*Swing
	page   ink.Surface // nil until it is drawn on
	unit   float64     // pixels; 1 at 1600 x 1200
	edge   float64     // pixels by which what is at the left edge is nearer to it
	plot   ink.Area    // where the cells are, on whole pixels
	shades *shades
}

const margin = 48 // pixels at full size

// newSheet lays out a chart whose size is known.
func newSheet(s *Swing) *sheet {
	d := &sheet{Swing: s, unit: unitOf(s.Lettering, float64(s.Width), float64(s.Height)), shades: newShades(s.Cap)}
	u := d.unit
	s.Caption = ink.Lines(s.Caption, int((0.4*float64(s.Height)-82*u)/(30*u)))
	top := 82*u + 30*u*float64(len(s.Caption))
	right := 372 * u
	if s.Bare {
		top, right, d.edge = 0, right-bareEdge*u, bareEdge*u
	}
	d.plot = ink.Area{
		X0: math.Round(150*u - d.edge), Y0: math.Round(top + 22*u),
		X1: math.Round(float64(s.Width) - right), Y1: math.Round(float64(s.Height) - 118*u),
	}
	return d
}

// bareEdge is how much nearer to the edges all is without a title, at full size.
const bareEdge = 36

// unitOf returns how many pixels are a unit of lettering, lines and margins.
func unitOf(lettering, width, height float64) float64 {
	if lettering > 0 {
		return lettering
	}
	return min(width/1600, height/1200)
}

// leastLettering is the least unit that charts are drawn with to fit a surface: letters are then
// 3 pixels high.
const leastLettering = 0.15

// fitting returns the unit that a chart is drawn with on a page: that asked for, or a smaller one
// with which it is not cramped.
func fitting(lettering float64, width, height int, cramped func(unit float64) bool) float64 {
	unit := unitOf(lettering, float64(width), float64(height))
	for unit > leastLettering && cramped(unit) {
		unit *= 0.95
	}
	return unit
}

// sized returns the size of a surface in whole pixels.
func sized(page ink.Surface) (width, height int) {
	w, h := page.Size()
	return int(w), int(h)
}

// laidOut is a chart whose places are chosen, so that it is known how large it is.
type laidOut interface {
	size() (width, height int) // pixels
	draw(page ink.Surface)
}

func (d *sheet) size() (width, height int) { return d.Swing.Width, d.Swing.Height }

// sizeOf returns the size of what was laid out, unless that failed.
func sizeOf[C laidOut](chart C, err error) (width, height int, _ error) {
	if err != nil {
		return 0, 0, err
	}
	width, height = chart.size()
	return width, height, nil
}

// pixelsOf draws what was laid out on a canvas of its size, unless that failed.
func pixelsOf[C laidOut](chart C, err error) (*image.RGBA, error) {
	width, height, err := sizeOf(chart, err)
	if err != nil {
		return nil, err
	}
	return painted(width, height, chart.draw), nil
}

// painted returns the pixels of what is drawn on a canvas.
func painted(width, height int, draw func(page ink.Surface)) *image.RGBA {
	page := ink.NewCanvas(width, height, ink.Paper)
	draw(page)
	return page.RGBA
}

func (d *sheet) title() ink.Type  { return ink.Type{Size: 36 * d.unit, Bold: true, Color: ink.Text} }
func (d *sheet) text() ink.Type   { return ink.Type{Size: 21 * d.unit, Color: ink.Text} }
func (d *sheet) strong() ink.Type { return ink.Type{Size: 21 * d.unit, Bold: true, Color: ink.Text} }
func (d *sheet) small() ink.Type  { return ink.Type{Size: 19 * d.unit, Color: ink.Text} }

func (d *sheet) header() {
	if d.Bare {
		return
	}
	u := d.unit
	width := float64(d.Width) - 2*margin*u
	d.page.Text(margin*u, 66*u, ink.Left, d.title(), ink.Shorten(d.title(), d.Title, width))
	for i, line := range d.Caption {
		d.page.Text(margin*u, (102+30*float64(i))*u, ink.Left, d.text(), ink.Shorten(d.text(), line, width))
	}
}

// across returns the x of a position on the axis that runs to the right, up the
// y on the one that runs upward.
func (d *sheet) across(a *Axis, at float64) float64 {
	return d.plot.X0 + d.plot.Width()*(at-a.Lo)/(a.Hi-a.Lo)
}

func (d *sheet) up(a *Axis, at float64) float64 {
	return d.plot.Y1 - d.plot.Height()*(at-a.Lo)/(a.Hi-a.Lo)
}

// angleSteps are the distances of ticks that a machinist expects, in degrees.
var angleSteps = []float64{0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10, 15, 30, 45, 90, 180, 360, 720, 1440, 3600}

// angles returns ticks on an axis that is so many pixels long: its ends, and
// between them the multiples of the least step that keeps them apart, those too
// near to an end left out.
func angles(a *Axis, length, apart float64) []float64 {
	step := angleSteps[len(angleSteps)-1]
	perDegree := length / (a.Hi - a.Lo)
	for _, s := range angleSteps {
		if s*perDegree >= apart {
			step = s
			break
		}
	}
	room := 0.75 * apart / perDegree
	ticks := []float64{a.Lo}
	for _, m := range multiples(a.Lo, a.Hi, step) {
		if m-a.Lo > room && a.Hi-m > room {
			ticks = append(ticks, m)
		}
	}
	if a.Hi-a.Lo > room {
		ticks = append(ticks, a.Hi)
	}
	return ticks
}

// multiples returns the multiples of step in [lo, hi], at most a thousand.
func multiples(lo, hi, step float64) []float64 {
	var m []float64
	slack := 1e-9 * step
	for k := math.Ceil(lo/step - 1e-9); k*step <= hi+slack && len(m) < 1000; k++ {
		m = append(m, k*step)
	}
	return m
}

// number prints a tick without float noise, with a real minus sign.
func number(v float64) string {
	s := strconv.FormatFloat(math.Round(v*1e4)/1e4, 'f', -1, 64)
	if s == "-0" {
		return "0"
	}
	if s[0] == '-' {
		return "−" + s[1:]
	}
	return s
}

// ticksBelow draws the axis that runs to the right.
func (d *sheet) ticksBelow(a *Axis) {
	u := d.unit
	for _, at := range angles(a, d.plot.Width(), 76*u) {
		x := d.across(a, at)
		d.page.Line(2*u, ink.Text, ink.Point{X: x, Y: d.plot.Y1}, ink.Point{X: x, Y: d.plot.Y1 + 9*u})
		d.page.Text(x, d.plot.Y1+33*u, ink.Center, d.text(), number(at)+"°")
	}
	d.page.Text((d.plot.X0+d.plot.X1)/2, d.plot.Y1+74*u, ink.Center, d.strong(), a.Name+", degrees")
}

// ticksLeft draws the axis that runs upward.
func (d *sheet) ticksLeft(a *Axis) {
	u := d.unit
	for _, at := range angles(a, d.plot.Height(), 56*u) {
		y := d.up(a, at)
		d.leftTick(y, number(at)+"°")
	}
	d.page.TextUp(64*u-d.edge, (d.plot.Y0+d.plot.Y1)/2, d.strong(), a.Name+", degrees")
}

func (d *sheet) leftTick(y float64, words string) {
	u := d.unit
	d.page.Line(2*u, ink.Text, ink.Point{X: d.plot.X0 - 9*u, Y: y}, ink.Point{X: d.plot.X0, Y: y})
	d.page.Text(d.plot.X0-16*u, y+d.text().Ascent()/2, ink.Right, d.text(), words)
}

// frame draws the border of the plot.
func (d *sheet) frame() {
	d.page.Frame(d.plot.X0, d.plot.Y0, d.plot.X1, d.plot.Y1, 2*d.unit, ink.Text)
}

// marks sets rings and labels at the given points, the labels where the cost of
// covering the ground is low.
func (d *sheet) marks(at func(m *Mark) ink.Point, cost func(ink.Area) float64) {
	l := ink.Labels{Inside: d.plot.Shrunk(8 * d.unit), Unit: d.unit, Cost: cost}
	var wanted []ink.Label
	for i := range d.Marks {
		m := &d.Marks[i]
		if p := at(m); d.plot.Shrunk(-1).Holds(p) {
			wanted = append(wanted, ink.Label{Words: m.Label, Mark: true, Anchor: p})
		}
	}
	l.Place(wanted)
	l.Draw(d.page)
}
