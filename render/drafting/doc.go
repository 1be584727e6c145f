// Package drafting makes line drawings that are true to scale, for people with the thing in
// front of them: Plan is a face with holes and what is set in them, Elevation a stack from the
// side with its heights.
//
// Drawings are laid out for paper: Sheet tells how many mm wide one is meant to be printed,
// and DrawOn fills any surface of that shape. Nothing is told by colour.
package drafting

import (
	"math"

	"gridswing/render/ink"
)

// perMM is how many pixels of the layout are a mm on paper.
const perMM = 10

// Sheet is how large a drawing is on paper.
type Sheet struct {
	Width, Height float64 // mm
	// Scale is how many mm of the thing one mm on paper is.
	Scale float64
}

// pixels is the sheet's size in the layout.
func (s Sheet) pixels() (width, height float64) { return s.Width * perMM, s.Height * perMM }

// Point is a place on a face, or in a view, in mm; Y points up.
type Point struct{ X, Y float64 }

// Label is a name at a place along a direction.
type Label struct {
	Name string
	At   float64
}

// scales are those that drawings are made to: ISO 5455 with 1 : 2.5 and others between, since a
// sheet is small.
var scales = []float64{1, 2, 2.5, 4, 5, 8, 10, 15, 20, 25, 40, 50, 75, 100, 200, 500, 1000}

// scaleFor returns the largest scale at which a length fits so many mm of paper both ways.
func scaleFor(width, height, wide, high float64) float64 {
	for _, s := range scales {
		if width <= wide*s && height <= high*s {
			return s
		}
	}
	return math.Ceil(max(width/wide, height/high))
}

// board is a surface with a layout's pixels on it.
type board struct {
	ink.Surface
	unit float64 // pixels of the surface in one of the layout
}

// Widths of lines and sizes of type, in pixels of the layout: ISO 128 wants two widths, the
// broad one twice the thin one.
const (
	thin   = 1.8
	broad  = 4.0
	faint  = 1.2
	letter = 26.0 // 7.4 pt
	small  = 24.0 // 6.8 pt: nothing is smaller, so that it can be read at arm's length
)

func (b *board) at(p ink.Point) ink.Point { return ink.Point{X: p.X * b.unit, Y: p.Y * b.unit} }

func (b *board) type_(size float64, bold bool) ink.Type {
	return ink.Type{Size: size * b.unit, Bold: bold, Color: ink.Text}
}

func (b *board) line(width float64, points ...ink.Point) {
	moved := make([]ink.Point, len(points))
	for i, p := range points {
		moved[i] = b.at(p)
	}
	b.Line(width*b.unit, ink.Text, moved...)
}

func (b *board) write(x, y float64, align ink.Align, size float64, bold bool, words string) {
	b.Text(x*b.unit, y*b.unit, align, b.type_(size, bold), words)
}

// width is how wide words are, in pixels of the layout.
func (b *board) width(size float64, bold bool, words string) float64 {
	return b.type_(size, bold).Width(words) / b.unit
}

// finite reports whether all values are numbers.
func finite(values ...float64) bool {
	for _, v := range values {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return false
		}
	}
	return true
}
