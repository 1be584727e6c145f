package render

import (
	"image/color"
	"math"

	"gridswing/render/ink"
)

// Of a dimension, in pixels at full size. Heads are filled and open by less than 30 degrees, as
// ISO 129-1 has them.
const (
	leastGap      = 4.0  // as long as a gap must look to be dimensioned: of a shorter one the mark itself is as large
	headLength    = 17.0 // of an arrow
	headHalf      = 4.0  // half as high as it is
	outsideLine   = 18.0 // of the line behind an arrow that stands outside
	extensionHalf = 11.0 // half as long as the lines across either end
)

// dimension is the length between two nearest points, as a draughtsman shows it.
type dimension struct {
	a, b    ink.Point
	outside bool         // too short for two arrows: they point at it from outside
	line    [2]ink.Point // all of it, arrows that stand outside included
	value   ink.Point    // beside which the value goes
}

// dimensionOf returns the dimension of a mark's gap; ok is false if it has none, or looks
// too short.
func (d *drawing) dimensionOf(m *Mark) (dim dimension, ok bool) {
	u := d.unit
	dim.a = d.onPage(m.Point.Sub(m.Gap.Mul(0.5)))
	dim.b = d.onPage(m.Point.Add(m.Gap.Mul(0.5)))
	l := math.Hypot(dim.b.X-dim.a.X, dim.b.Y-dim.a.Y)
	if l < leastGap*u {
		return dim, false
	}
	if dim.b.X < dim.a.X-1e-9 || math.Abs(dim.b.X-dim.a.X) <= 1e-9 && dim.b.Y > dim.a.Y {
		dim.a, dim.b = dim.b, dim.a // b to the right, or above
	}
	dim.line = [2]ink.Point{dim.a, dim.b}
	dim.value = between(dim.a, dim.b, 0.5)
	if dim.outside = l < 3*headLength*u; dim.outside {
		more := (headLength + outsideLine) * u / l
		dim.line = [2]ink.Point{between(dim.a, dim.b, -more), between(dim.a, dim.b, 1+more)}
		dim.value = dim.line[1]
	}
	return dim, true
}

// between is the point at a part of the way.
func between(a, b ink.Point, part float64) ink.Point {
	return ink.Point{X: a.X + (b.X-a.X)*part, Y: a.Y + (b.Y-a.Y)*part}
}

// dimension draws it, first as paper that keeps it apart from what is under it.
func (d *drawing) dimension(dim *dimension) {
	d.dimensionIn(dim, d.Theme.Paper, 2.5*d.unit)
	d.dimensionIn(dim, d.Theme.Text, 0)
}

// dimensionIn draws the line, the lines across its ends and the arrows in a colour, all grown
// by so many pixels.
func (d *drawing) dimensionIn(dim *dimension, c color.RGBA, more float64) {
	u := d.unit
	l := math.Hypot(dim.b.X-dim.a.X, dim.b.Y-dim.a.Y)
	dx, dy := (dim.b.X-dim.a.X)/l, (dim.b.Y-dim.a.Y)/l
	width := 1.8*u + 2*more
	d.page.Line(width, c, dim.line[0], dim.line[1])
	for k, end := range [2]ink.Point{dim.a, dim.b} {
		across := extensionHalf * u
		d.page.Line(width, c, ink.Point{X: end.X - dy*across, Y: end.Y + dx*across}, ink.Point{X: end.X + dy*across, Y: end.Y - dx*across})
		back := 1.0 // the way from the tip to the foot, along (dx, dy)
		if dim.outside == (k == 0) {
			back = -1
		}
		h, w := (headLength*u+more)*back, headHalf*u+more
		d.page.Polygon([]ink.Point{end, {X: end.X + dx*h - dy*w, Y: end.Y + dy*h + dx*w}, {X: end.X + dx*h + dy*w, Y: end.Y + dy*h - dx*w}}, c)
	}
}
