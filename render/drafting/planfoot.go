package drafting

import (
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
	var arrows []arrowTo
	for _, a := range d.Axes {
		arrows = append(arrows, arrowTo{name: a.Name, along: d.turned(a.Along)})
	}
	arrows = append(arrows, arrowTo{name: "operator", along: d.turned(d.Operator), heavy: true})
	d.compass(ink.Point{X: compassWide / 2, Y: top + 108}, arrows)
	for i, e := range keyOf(d.Plan) {
		y := top + 44 + leastFoot*float64(i)
		e.draw(d, ink.Point{X: compassWide + 34, Y: y})
		d.board.write(compassWide+74, y+8, ink.Left, small, false, ink.Shorten(d.type_(small, false), e.words, (keyWide-84)*d.unit))
	}
	d.ruler(planWide-scaleWide+20, top, d.sheet, d.Lengths)
	if len(d.notes.left) > 0 {
		words := "no room for: " + strings.Join(d.notes.left, ", ")
		d.board.write(planWide-20, top-3, ink.Right, small-3, false, ink.Shorten(d.type_(small-3, false), words, (planWide-40)*d.unit))
	}
}
