package drafting

import (
	"strconv"
	"strings"

	"gridswing/render/ink"
)

// Of the foot, in pixels of the layout: where the compass is, and the key beside it.
const (
	compassWide = 270.0
	scaleWide   = 420.0
	keyWide     = planWide - compassWide - scaleWide
)

// shortest prints a number with as many digits as it takes.
func shortest(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }

// foot draws directions, key and scale below the face, or beside it.
func (d *planSheet) foot() {
	top := d.plot.Y1 + below
	compass, rule, key := ink.Point{X: compassWide / 2, Y: top + 108}, ink.Point{X: planWide - scaleWide + 20, Y: top}, ink.Point{X: compassWide + 34, Y: top + 44}
	width, most := keyWide-84, scaleWide-120.0
	if d.aside {
		x := planWide - asideWide
		d.line(faint, ink.Point{X: x, Y: 20}, ink.Point{X: x, Y: d.sheet.Height*perMM - 20})
		compass, rule, key = ink.Point{X: x + compassWide/2, Y: 118}, ink.Point{X: x + compassWide + 20, Y: 10}, ink.Point{X: x + 44, Y: asideKey}
		width, most = asideWide-94, asideWide-compassWide-130
	} else {
		d.line(faint, ink.Point{X: 10, Y: top + 14}, ink.Point{X: planWide - 10, Y: top + 14})
	}
	var arrows []arrowTo
	for _, a := range d.Axes {
		arrows = append(arrows, arrowTo{name: a.Name, along: d.turned(a.Along)})
	}
	arrows = append(arrows, arrowTo{name: "operator", along: d.turned(d.Operator), heavy: true})
	d.compass(compass, arrows)
	for i, e := range keyOf(d.Plan) {
		y := key.Y + leastFoot*float64(i)
		e.draw(d, ink.Point{X: key.X, Y: y})
		d.board.write(key.X+40, y+8, ink.Left, small, false, ink.Shorten(d.type_(small, false), e.words, width*d.unit))
	}
	d.ruler(rule.X, rule.Y, most, d.sheet, d.Lengths)
	if len(d.notes.left) > 0 {
		words := "no room for: " + strings.Join(d.notes.left, ", ")
		d.board.write(d.notes.inside.X1-10, top-3, ink.Right, small, false, ink.Shorten(d.type_(small, false), words, (d.notes.inside.Width()-20)*d.unit))
	}
}
