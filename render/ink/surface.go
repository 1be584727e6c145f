package ink

import (
	"image"
	"image/color"
)

// Surface is what pictures and charts are drawn on: a Canvas, which has pixels, or a
// page.Plate, which keeps lines and words as such for a page to be printed. What is drawn
// later covers what was drawn before.
type Surface interface {
	// Size is how large the surface is, in pixels.
	Size() (width, height float64)
	Fill(x0, y0, x1, y1 float64, col color.RGBA)
	Polygon(outline []Point, col color.RGBA)
	Disc(at Point, radius float64, col color.RGBA)
	Line(width float64, col color.RGBA, points ...Point)
	Dashed(width, dash, gap float64, col color.RGBA, a, b Point)
	Frame(x0, y0, x1, y1, width float64, col color.RGBA)
	Pattern(r image.Rectangle, p Pattern, col color.RGBA)
	// PatternIn puts a pattern on what is inside of any of the outlines, which all turn the
	// same way.
	PatternIn(outlines [][]Point, p Pattern, col color.RGBA)
	// Mosaic fills areas that do not overlap, without a seam where they adjoin.
	Mosaic(tiles []Tile)
	Text(x, y float64, align Align, t Type, s string)
	TextUp(x, y float64, t Type, s string)
	// Image puts a picture of pixels, which is opaque, in an area.
	Image(a Area, img *image.RGBA)
	// Density is how many pixels of an Image there should be to one of the surface.
	Density() float64
}

// Tile is an area of one colour.
type Tile struct {
	Area
	Color color.RGBA
}

// Outline returns the corners of the area, always turning the same way.
func (a Area) Outline() []Point {
	return []Point{{a.X0, a.Y0}, {a.X1, a.Y0}, {a.X1, a.Y1}, {a.X0, a.Y1}}
}
