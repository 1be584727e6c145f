package chart

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"gridswing/render/ink"
)

// x returns where a height is.
func (d *stripSheet) x(at float64) float64 {
	lo, hi := d.ends()
	return d.plot.X0 + d.plot.Width()*(at-lo)/(hi-lo)
}

// clearShade is the share whose shade stands for clear on a strip, which tells no shares.
const clearShade = 4

// bar draws the stretches.
func (d *stripSheet) bar() {
	u := d.unit
	for i := range d.Stretches {
		s := &d.Stretches[i]
		a := ink.Area{X0: math.Round(d.x(s.From)), Y0: d.plot.Y0, X1: math.Round(d.x(s.To)), Y1: d.plot.Y1}
		if a.Width() < 2*u { // never lost, however narrow
			a.X1 = a.X0 + 2*u
		}
		d.fill(a, s.State)
	}
	for i := range d.Stretches {
		if i == 0 {
			continue
		}
		a, b := ink.Point{X: d.x(d.Stretches[i].From), Y: d.plot.Y0}, ink.Point{X: d.x(d.Stretches[i].From), Y: d.plot.Y1}
		d.page.Line(4.4*u, ink.Paper, a, b)
		d.page.Line(2*u, ink.Text, a, b)
	}
	d.frame()
}

func (d *stripSheet) fill(a ink.Area, s State) {
	l := d.ground(&Choice{State: s, Share: clearShade})
	if s == Tight {
		l = d.ground(&Choice{State: s, Share: 0.5})
	}
	d.page.Fill(a.X0, a.Y0, a.X1, a.Y1, l.ground)
	d.page.Pattern(a.Pixels(), l.pattern, l.stroke)
}

// steps returns ticks from lo to hi at least so far apart: both ends, and between them
// multiples of 1, 2 or 5 times a power of ten.
func steps(lo, hi, apart float64) []float64 {
	p := math.Pow(10, math.Floor(math.Log10(apart)))
	step := 10 * p
	for _, m := range []float64{1, 2, 5} {
		if m*p >= apart*(1-1e-9) {
			step = m * p
			break
		}
	}
	ticks := []float64{lo}
	for _, m := range multiples(lo, hi, step) {
		if m-lo > 0.75*apart && hi-m > 0.75*apart {
			ticks = append(ticks, m)
		}
	}
	return append(ticks, hi)
}

// scale draws the axis below the strip.
func (d *stripSheet) scale() {
	u := d.unit
	lo, hi := d.ends()
	for _, at := range steps(lo, hi, 90*u*(hi-lo)/d.plot.Width()) {
		d.page.Line(2*u, ink.Text, ink.Point{X: d.x(at), Y: d.plot.Y1}, ink.Point{X: d.x(at), Y: d.plot.Y1 + 9*u})
		d.page.Text(d.x(at), d.plot.Y1+33*u, ink.Center, d.text(), number(at))
	}
	d.page.Text((d.plot.X0+d.plot.X1)/2, d.plot.Y1+68*u, ink.Center, d.strong(), d.Name+", "+d.Unit)
	note, y := d.note(), d.plot.Y1+68*u
	if d.small().Width(note)+d.strong().Width(d.Name+", "+d.Unit)/2 > d.plot.Width()/2-20*u {
		y += 27 * u // below what the axis is called
	}
	d.page.Text(d.plot.X1, y, ink.Right, d.small(), note)
}

// note explains the names of heights.
func (d *stripSheet) note() string {
	var notes []string
	if slices.ContainsFunc(d.labels, func(l stripLabel) bool { return l.good }) {
		notes = append(notes, "in bold: clear at this height")
	}
	if n := len(d.unnamed); n > 0 {
		notes = append(notes, strconv.Itoa(n)+" more are marked without a name")
	}
	return strings.Join(notes, "; ")
}

// named writes the heights that have a name above the strip, and draws where they are.
func (d *stripSheet) named() {
	u := d.unit
	for _, at := range d.unnamed {
		d.across(&stripLabel{}, d.x(at))
	}
	for i := range d.labels {
		l := &d.labels[i]
		letters := d.letters(l)
		top := ink.Point{X: d.x(l.At), Y: d.plot.Y0 - 8*u}
		foot := ink.Point{X: d.middles[i], Y: d.plot.Y0 - d.leader + 8*u}
		d.page.Line(1.6*u, ink.Text, ink.Point{X: foot.X, Y: foot.Y - 4*u}, foot, top, ink.Point{X: top.X, Y: d.plot.Y0})
		d.across(l, top.X)
		d.page.TextUp(foot.X+letters.Ascent()/2, foot.Y-10*u-letters.Width(l.words)/2, letters, l.words)
	}
}

// across draws a height over the strip: a line; broken for the present one, heavy for the
// recommended one.
func (d *stripSheet) across(l *stripLabel, x float64) {
	u := d.unit
	a, b := ink.Point{X: x, Y: d.plot.Y0}, ink.Point{X: x, Y: d.plot.Y1}
	switch {
	case l.best:
		d.page.Line(10*u, ink.Paper, a, b)
		d.page.Line(6*u, ink.Text, a, b)
		d.page.Polygon([]ink.Point{{X: x - 11*u, Y: d.plot.Y0 - 12*u}, {X: x + 11*u, Y: d.plot.Y0 - 12*u}, {X: x, Y: d.plot.Y0 + 4*u}}, ink.Text)
	case l.present:
		d.page.Line(6*u, ink.Paper, a, b)
		d.page.Dashed(3*u, 10*u, 7*u, ink.Text, a, b)
	default:
		b.Y = d.plot.Y0 + 30*u
		d.page.Line(6*u, ink.Paper, a, b)
		d.page.Line(2.4*u, ink.Text, a, b)
	}
}

// numbers draws what each stretch is called in the list.
func (d *stripSheet) numbers() {
	u := d.unit
	wanted := make([]float64, len(d.Stretches))
	for i := range d.Stretches {
		wanted[i] = d.x((d.Stretches[i].From + d.Stretches[i].To) / 2)
	}
	at := spread(wanted, 30*u, d.plot.X0+16*u, d.plot.X1-16*u)
	y := d.plot.Y1 - 42*u
	for i := range at {
		if abs(at[i]-wanted[i]) < 2*u {
			continue
		}
		foot := ink.Point{X: wanted[i], Y: d.plot.Y1 - 10*u}
		d.page.Line(5*u, ink.Paper, ink.Point{X: at[i], Y: y}, foot)
		d.page.Line(2*u, ink.Text, ink.Point{X: at[i], Y: y}, foot)
		d.page.Disc(foot, 4*u, ink.Text)
	}
	for i := range at {
		d.number(ink.Point{X: at[i], Y: y}, i+1)
	}
}

// list writes what is known of each stretch below the strip.
func (d *stripSheet) list() {
	u := d.unit
	y := d.plot.Y1 + stripBelow*u
	for i := range d.entries {
		e := &d.entries[i]
		x := d.plot.X0
		d.number(ink.Point{X: x + 14*u, Y: y + 15*u}, i+1)
		a := ink.Area{X0: x + 46*u, Y0: y, X1: x + 90*u, Y1: y + 30*u}
		d.fill(a, e.State)
		d.page.Frame(a.X0, a.Y0, a.X1, a.Y1, 1.6*u, ink.Text)
		base := y + 15*u + d.text().Ascent()/2
		letters := d.text()
		letters.Bold = e.State == Clear
		d.page.Text(x+spanIndent*u, base, ink.Left, letters, e.span)
		for k, line := range e.lines {
			d.page.Text(x+d.indent, base+listLine*u*float64(k), ink.Left, letters, line)
		}
		y += (listLine*float64(len(e.lines)) + listRow) * u
	}
}
