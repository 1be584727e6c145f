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
	Text(x, y float64, align Align, t Type, s string)
	TextUp(x, y float64, t Type, s string)
	// Image puts a picture of pixels, which is opaque, in an area.
	Image(a Area, img *image.RGBA)
}
