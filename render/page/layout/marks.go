package layout

import (
	"image/color"
	"math"

	"gridswing/render/page"
)

const markSize = 2.8 // mm

// mark draws a mark round a point.
func (p *pen) mark(m Mark, at page.Point) {
	const r = markSize / 2
	const line = 0.3
	inner := r - line/2
	switch m {
	case Square:
		p.filled(black, page.Point{X: at.X - r, Y: at.Y - r}, page.Point{X: at.X + r, Y: at.Y - r},
			page.Point{X: at.X + r, Y: at.Y + r}, page.Point{X: at.X - r, Y: at.Y + r})
	case Triangle:
		p.filled(black, page.Point{X: at.X, Y: at.Y - r}, page.Point{X: at.X + r, Y: at.Y + r}, page.Point{X: at.X - r, Y: at.Y + r})
	case Half:
		p.filled(black, arc(at, inner, 0, math.Pi)...)
		p.ring(at, inner, line)
	case Dots:
		const dots = 8
		for k := range dots {
			s, c := math.Sincos(2 * math.Pi * float64(k) / dots)
			p.filled(black, arc(page.Point{X: at.X + inner*c, Y: at.Y + inner*s}, 0.32, 0, 2*math.Pi)...)
		}
	case Eye:
		p.ring(at, inner, line)
		p.filled(black, arc(at, 0.55, 0, 2*math.Pi)...)
	case Ring:
		p.ring(at, inner, line)
	case Box:
		const half = 1.6 // large enough for a pen
		p.frame(page.Area{X0: at.X - half, Y0: at.Y - half, X1: at.X + half, Y1: at.Y + half}, line)
	}
}

// filled fills an outline.
func (p *pen) filled(col color.RGBA, outline ...page.Point) {
	p.items = append(p.items, &page.Path{Lines: [][]page.Point{outline}, Closed: true, Fill: &col})
}

// ring draws a circle.
func (p *pen) ring(at page.Point, radius, width float64) {
	p.items = append(p.items, &page.Path{Lines: [][]page.Point{arc(at, radius, 0, 2*math.Pi)}, Closed: true, Stroke: &black, Width: width})
}

// arc is a part of a circle, from the right over below.
func arc(at page.Point, radius, from, to float64) []page.Point {
	steps := 8 + int(12*radius) // what they leave out is less than 0.02 mm
	points := make([]page.Point, steps+1)
	for i := range points {
		s, c := math.Sincos(from + (to-from)*float64(i)/float64(steps))
		points[i] = page.Point{X: at.X + radius*c, Y: at.Y + radius*s}
	}
	return points
}
