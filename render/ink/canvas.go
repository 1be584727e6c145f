// Package ink puts type, lines and patterns on a surface: what a picture and a
// chart have in common. Coordinates are pixels, x to the right, y down; pixel
// (0, 0) covers the square from (0, 0) to (1, 1).
//
// Start with Surface. A Canvas has pixels; page.Plate keeps what is drawn as lines and words.
package ink

import (
	"image"
	"image/color"
	"image/draw"
	"math"

	xdraw "golang.org/x/image/draw"
	"golang.org/x/image/vector"
)

// Point is a place on the canvas, in pixels.
type Point struct{ X, Y float64 }

// Canvas is an opaque image that one goroutine draws on.
type Canvas struct {
	*image.RGBA
	fill vector.Rasterizer
}

// NewCanvas returns a canvas covered with the colour.
func NewCanvas(width, height int, paper color.RGBA) *Canvas {
	c := On(image.NewRGBA(image.Rect(0, 0, width, height)))
	for i := 0; i < len(c.Pix); i += 4 {
		c.Pix[i], c.Pix[i+1], c.Pix[i+2], c.Pix[i+3] = paper.R, paper.G, paper.B, 255
	}
	return c
}

// On returns a canvas that draws on an existing image with its origin at (0, 0).
func On(img *image.RGBA) *Canvas { return &Canvas{RGBA: img} }

var _ Surface = (*Canvas)(nil)

// Size is how large the canvas is, in pixels.
func (c *Canvas) Size() (width, height float64) {
	return float64(c.Rect.Dx()), float64(c.Rect.Dy())
}

// Image puts a picture in an area; if it has not the area's size in pixels, it is scaled.
func (c *Canvas) Image(a Area, img *image.RGBA) {
	to := a.Pixels()
	if to.Size() == img.Rect.Size() {
		draw.Draw(c.RGBA, to, img, img.Rect.Min, draw.Src)
		return
	}
	xdraw.CatmullRom.Scale(c.RGBA, to, img, img.Rect, xdraw.Src, nil)
}

// Blend covers the pixel with the colour to the given part, 0 to 1; what lies
// outside of the canvas is left alone.
func (c *Canvas) Blend(x, y int, col color.RGBA, part float64) {
	if part <= 0 || !(image.Pt(x, y).In(c.Rect)) {
		return
	}
	i := c.PixOffset(x, y)
	p := c.Pix[i : i+3 : i+3]
	a := int(math.Round(min(part, 1) * float64(col.A) * 257))
	mix := func(old, new uint8) uint8 { return uint8((int(old)*(65535-a) + int(new)*a + 32767) / 65535) }
	p[0], p[1], p[2] = mix(p[0], col.R), mix(p[1], col.G), mix(p[2], col.B)
}

// Fill covers the rectangle, whose edges may lie between pixels.
func (c *Canvas) Fill(x0, y0, x1, y1 float64, col color.RGBA) {
	c.Polygon([]Point{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}}, col)
}

// Polygon covers the inside of the outline (non-zero winding).
func (c *Canvas) Polygon(outline []Point, col color.RGBA) {
	c.paths([][]Point{outline}, col)
}

// Polygons covers the inside of any of the outlines, which all turn the same way.
func (c *Canvas) Polygons(outlines [][]Point, col color.RGBA) { c.paths(outlines, col) }

// Disc covers a circle.
func (c *Canvas) Disc(at Point, radius float64, col color.RGBA) {
	c.Polygon(disc(at, radius), col)
}

// Line draws a polyline of the given width with round ends and joints.
func (c *Canvas) Line(width float64, col color.RGBA, points ...Point) {
	var shapes [][]Point
	r := width / 2
	for i, p := range points {
		if i > 0 {
			if q := quad(points[i-1], p, r); q != nil {
				shapes = append(shapes, q)
			}
		}
		if r > 0.75 && i > 0 && i < len(points)-1 {
			shapes = append(shapes, disc(p, r))
		}
	}
	c.paths(shapes, col)
}

// Dashed draws a straight line in dashes of the given length and gap.
func (c *Canvas) Dashed(width, dash, gap float64, col color.RGBA, a, b Point) {
	length := math.Hypot(b.X-a.X, b.Y-a.Y)
	for s := 0.0; s < length; s += dash + gap {
		e := min(s+dash, length)
		c.Line(width, col, along(a, b, s/length), along(a, b, e/length))
	}
}

// Frame draws the outline of a rectangle.
func (c *Canvas) Frame(x0, y0, x1, y1, width float64, col color.RGBA) {
	h := width / 2
	c.paths([][]Point{
		{{x0 - h, y0 - h}, {x1 + h, y0 - h}, {x1 + h, y0 + h}, {x0 - h, y0 + h}},
		{{x0 - h, y1 - h}, {x1 + h, y1 - h}, {x1 + h, y1 + h}, {x0 - h, y1 + h}},
		{{x0 - h, y0 + h}, {x0 + h, y0 + h}, {x0 + h, y1 - h}, {x0 - h, y1 - h}},
		{{x1 - h, y0 + h}, {x1 + h, y0 + h}, {x1 + h, y1 - h}, {x1 - h, y1 - h}},
	}, col)
}

// Mosaic covers areas; where they meet between pixels, the later one is blended over the
// earlier one.
func (c *Canvas) Mosaic(tiles []Tile) {
	for _, t := range tiles {
		c.Fill(t.X0, t.Y0, t.X1, t.Y1, t.Color)
	}
}

// Density is 1: a canvas has no finer pixels than its own.
func (c *Canvas) Density() float64 { return 1 }

// PatternIn covers the inside of the outlines with a pattern.
func (c *Canvas) PatternIn(outlines [][]Point, p Pattern, col color.RGBA) {
	box := c.trace(outlines)
	if box.Empty() {
		return
	}
	mask := image.NewAlpha(box)
	c.fill.Draw(mask, box, image.Opaque, image.Point{})
	for y := box.Min.Y; y < box.Max.Y; y++ {
		for x := box.Min.X; x < box.Max.X; x++ {
			if a := mask.AlphaAt(x, y).A; a > 0 {
				c.Blend(x, y, col, p.Coverage(x, y)*float64(a)/255)
			}
		}
	}
}

// Pattern covers the rectangle of pixels with a pattern.
func (c *Canvas) Pattern(r image.Rectangle, p Pattern, col color.RGBA) {
	r = r.Intersect(c.Rect)
	for y := r.Min.Y; y < r.Max.Y; y++ {
		for x := r.Min.X; x < r.Max.X; x++ {
			c.Blend(x, y, col, p.Coverage(x, y))
		}
	}
}

func along(a, b Point, t float64) Point {
	return Point{a.X + (b.X-a.X)*t, a.Y + (b.Y-a.Y)*t}
}

// quad is the rectangle of half width r round the segment, always turning the
// same way, so that overlapping pieces of a stroke add up and never cancel.
func quad(a, b Point, r float64) []Point {
	dx, dy := b.X-a.X, b.Y-a.Y
	l := math.Hypot(dx, dy)
	if l == 0 {
		return nil
	}
	nx, ny := -dy/l*r, dx/l*r
	return []Point{{a.X - nx, a.Y - ny}, {b.X - nx, b.Y - ny}, {b.X + nx, b.Y + ny}, {a.X + nx, a.Y + ny}}
}

func disc(at Point, r float64) []Point {
	n := 12 + int(2*r)
	pts := make([]Point, n)
	for i := range pts {
		s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		pts[i] = Point{at.X + r*c, at.Y + r*s}
	}
	return pts
}

// paths covers the union of outlines that all turn the same way.
func (c *Canvas) paths(outlines [][]Point, col color.RGBA) {
	box := c.trace(outlines)
	if box.Empty() {
		return
	}
	premultiplied := color.RGBAModel.Convert(color.NRGBA(col))
	c.fill.Draw(c.RGBA, box, image.NewUniform(premultiplied), image.Point{})
}

// trace readies the rasteriser to fill outlines, and returns the pixels that they may cover.
func (c *Canvas) trace(outlines [][]Point) image.Rectangle {
	x0, y0, x1, y1 := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, o := range outlines {
		for _, p := range o {
			x0, y0, x1, y1 = min(x0, p.X), min(y0, p.Y), max(x1, p.X), max(y1, p.Y)
		}
	}
	if !(x0 <= x1 && y0 <= y1) {
		return image.Rectangle{}
	}
	box := image.Rect(whole(x0), whole(y0), whole(x1)+1, whole(y1)+1).Intersect(c.Rect)
	if box.Empty() {
		return box
	}
	c.fill.Reset(box.Dx(), box.Dy())
	for _, o := range outlines {
		for i, p := range o {
			x, y := float32(p.X-float64(box.Min.X)), float32(p.Y-float64(box.Min.Y))
			if i == 0 {
				c.fill.MoveTo(x, y)
			} else {
				c.fill.LineTo(x, y)
			}
		}
		c.fill.ClosePath()
	}
	return box
}

// whole rounds down, and holds what is far outside of any canvas.
func whole(v float64) int { return int(math.Floor(max(-1e6, min(v, 1e6)))) }
