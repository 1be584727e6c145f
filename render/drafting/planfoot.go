package drafting

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"gridswing/render/ink"
)

// Of the foot, in pixels of the layout: where the compass is, and the key beside it.
const (
	compassWide = 250.0
	scaleWide   = 420.0
	keyWide     = planWide - compassWide - scaleWide
)

// shortest prints a number with as many digits as it takes.
func shortest(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }

// keyRows is how many lines the key takes.
func keyRows(p *Plan) int { return len(keyOf(p)) }

// foot draws directions, key and scale below the face.
func (d *planSheet) foot() {
	top := d.plot.Y1 + below
	d.line(faint, ink.Point{X: 10, Y: top + 14}, ink.Point{X: planWide - 10, Y: top + 14})
	d.compass(ink.Point{X: compassWide / 2, Y: top + 108})
	for i, e := range keyOf(d.Plan) {
		y := top + 44 + leastFoot*float64(i)
		e.draw(d, ink.Point{X: compassWide + 34, Y: y})
		d.board.write(compassWide+74, y+8, ink.Left, small, false, ink.Shorten(d.type_(small, false), e.words, (keyWide-84)*d.unit))
	}
	d.scale(planWide-scaleWide+20, top)
	if len(d.notes.left) > 0 {
		words := "no room for: " + strings.Join(d.notes.left, ", ")
		d.board.write(planWide-20, top+2, ink.Right, small-3, false, ink.Shorten(d.type_(small-3, false), words, (planWide-40)*d.unit))
	}
}

// compass shows directions of the machine, every axis at zero, and where the operator stands.
func (d *planSheet) compass(at ink.Point) {
	const long = 52
	taken := d.notes
	taken.inside = ink.Area{X0: 0, Y0: at.Y - 100, X1: compassWide, Y1: at.Y + 100}
	taken.taken, taken.lines, taken.placed = nil, nil, nil
	tip := func(q Point) ink.Point {
		q = d.turned(q)
		return ink.Point{X: at.X + long*q.X, Y: at.Y - long*q.Y}
	}
	name := func(words string, end ink.Point, bold bool) {
		l := max(math.Hypot(end.X-at.X, end.Y-at.Y), 1)
		ux, uy := (end.X-at.X)/l, (end.Y-at.Y)/l
		w := note{words: words, at: end, size: small, bold: bold}
		width, height := d.width(small, bold, words), 0.76*small
		for _, away := range []float64{10, 22, 34, 46} {
			if taken.settles(&w, ink.Point{X: end.X + ux*(away+width/2), Y: end.Y + uy*(away+height/2)}, width, height, true) {
				return
			}
		}
	}
	for _, a := range d.Axes {
		if math.Hypot(a.Along.X, a.Along.Y) < 0.3 {
			continue // it leads out of the face
		}
		end := tip(a.Along)
		d.arrow(at, end)
		taken.lines = append(taken.lines, [2]ink.Point{at, end})
		name(a.Name, end, true)
	}
	if math.Hypot(d.Operator.X, d.Operator.Y) > 0.3 {
		end := tip(Point{0.75 * d.Operator.X, 0.75 * d.Operator.Y})
		d.line(broad, at, end)
		d.head(at, ink.Point{X: end.X + (end.X-at.X)*0.3, Y: end.Y + (end.Y-at.Y)*0.3})
		taken.lines = append(taken.lines, [2]ink.Point{at, end})
		name("operator", ink.Point{X: end.X + (end.X-at.X)*0.3, Y: end.Y + (end.Y-at.Y)*0.3}, false)
	}
	taken.draw()
}

// scale draws a bar that stays true however the plan is printed, and says at which width it is
// to scale.
func (d *planSheet) scale(x, top float64) {
	long := barLength(d.Lengths.Unit, (scaleWide-120)/d.pixels)
	y := top + 80
	for i := range 4 {
		x0, x1 := x+float64(i)*long*d.pixels/4, x+float64(i+1)*long*d.pixels/4
		d.Fill(x0*d.unit, (y-5)*d.unit, x1*d.unit, (y+5)*d.unit, ink.Text)
		if i%2 == 1 {
			d.Fill((x0)*d.unit, (y-3)*d.unit, (x1-1.5)*d.unit, (y+3)*d.unit, ink.Paper)
		}
	}
	d.board.write(x, y-16, ink.Left, small, false, "0")
	d.board.write(x+long*d.pixels, y-16, ink.Center, small, false, d.Lengths.Write(long)+" "+d.Lengths.Unit)
	d.board.write(x, y+44, ink.Left, letter, true, "1 : "+shortest(d.sheet.Scale))
	d.board.write(x, y+74, ink.Left, small-3, false, fmt.Sprintf("if printed %s %s wide", d.Lengths.Write(d.sheet.Width), d.Lengths.Unit))
}

// barLength returns the longest round length, in mm, that is no longer than most.
func barLength(unit string, most float64) float64 {
	one := 1.0
	if unit != "mm" {
		one = 25.4
	}
	best := one * 1e-3
	for power := -3; power < 6; power++ {
		for _, m := range []float64{1, 2, 5} {
			if l := one * m * math.Pow10(power); l <= most {
				best = l
			}
		}
	}
	return best
}
