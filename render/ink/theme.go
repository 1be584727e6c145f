package ink

import (
	"image"
	"image/color"
	"math"
)

// Theme is what a drawing stands on and is lettered with.
type Theme struct {
	Paper color.RGBA // the ground
	Text  color.RGBA // type and strong lines
	Faint color.RGBA // notes and thin lines
}

// The themes: one for paper, one for screens in a dark room.
var (
	Light = Theme{Paper: Paper, Text: Text, Faint: Faint}
	Dark  = Theme{Paper: color.RGBA{26, 29, 34, 255}, Text: color.RGBA{236, 238, 240, 255}, Faint: color.RGBA{150, 156, 164, 255}}
)

// Or returns the theme, or another one in place of none.
func (t Theme) Or(other Theme) Theme {
	if t == (Theme{}) {
		return other
	}
	return t
}

// Grey returns the grey that is as light as a colour: what a black-and-white printer
// makes of it. (IEC 61966-2-1: luminance, then the transfer curve.)
func Grey(c color.RGBA) color.RGBA {
	y := 0.2126*linear(c.R) + 0.7152*linear(c.G) + 0.0722*linear(c.B)
	s := 12.92 * y
	if y > 0.0031308 {
		s = 1.055*math.Pow(y, 1/2.4) - 0.055
	}
	v := uint8(math.Round(255 * s))
	return color.RGBA{v, v, v, c.A}
}

// Turned returns a colour for a dark ground in place of one for Paper: what was dark is
// light, in the hue that it had, so that everything that could be told apart still can.
func Turned(c color.RGBA) color.RGBA {
	lo, hi := Lightness(Dark.Paper), Lightness(Dark.Text)
	part := (Lightness(c) - Lightness(Text)) / (Lightness(Paper) - Lightness(Text))
	t := Ramp(c, hi+(lo-hi)*max(0, min(part, 1)))
	t.A = c.A
	return t
}

// Recolored returns a surface that draws on another one in other colours.
func Recolored(s Surface, to func(color.RGBA) color.RGBA) Surface { return &recolored{s, to} }

type recolored struct {
	Surface
	to func(color.RGBA) color.RGBA
}

func (r *recolored) Fill(x0, y0, x1, y1 float64, col color.RGBA) {
	r.Surface.Fill(x0, y0, x1, y1, r.to(col))
}

func (r *recolored) Polygon(outline []Point, col color.RGBA) { r.Surface.Polygon(outline, r.to(col)) }

func (r *recolored) Disc(at Point, radius float64, col color.RGBA) {
	r.Surface.Disc(at, radius, r.to(col))
}

func (r *recolored) Line(width float64, col color.RGBA, points ...Point) {
	r.Surface.Line(width, r.to(col), points...)
}

func (r *recolored) Dashed(width, dash, gap float64, col color.RGBA, a, b Point) {
	r.Surface.Dashed(width, dash, gap, r.to(col), a, b)
}

func (r *recolored) Frame(x0, y0, x1, y1, width float64, col color.RGBA) {
	r.Surface.Frame(x0, y0, x1, y1, width, r.to(col))
}

func (r *recolored) Pattern(at image.Rectangle, p Pattern, col color.RGBA) {
	r.Surface.Pattern(at, p, r.to(col))
}

func (r *recolored) PatternIn(outlines [][]Point, p Pattern, col color.RGBA) {
	r.Surface.PatternIn(outlines, p, r.to(col))
}

func (r *recolored) Mosaic(tiles []Tile) {
	turned := make([]Tile, len(tiles))
	for i, t := range tiles {
		turned[i] = Tile{t.Area, r.to(t.Color)}
	}
	r.Surface.Mosaic(turned)
}

func (r *recolored) Text(x, y float64, align Align, t Type, s string) {
	t.Color = r.to(t.Color)
	r.Surface.Text(x, y, align, t, s)
}

func (r *recolored) TextUp(x, y float64, t Type, s string) {
	t.Color = r.to(t.Color)
	r.Surface.TextUp(x, y, t, s)
}

func (r *recolored) Image(a Area, img *image.RGBA) {
	r.Surface.Image(a, Repainted(img, r.to))
}

// Repainted returns a picture of pixels in other colours.
func Repainted(img *image.RGBA, to func(color.RGBA) color.RGBA) *image.RGBA {
	out := image.NewRGBA(img.Rect)
	known := map[color.RGBA]color.RGBA{}
	last := color.RGBA{}
	turned := to(last) // most pixels are like the one before them
	for y := img.Rect.Min.Y; y < img.Rect.Max.Y; y++ {
		for x := img.Rect.Min.X; x < img.Rect.Max.X; x++ {
			if c := img.RGBAAt(x, y); c != last {
				t, ok := known[c]
				if !ok {
					t = to(c)
					known[c] = t
				}
				last, turned = c, t
			}
			out.SetRGBA(x, y, turned)
		}
	}
	return out
}
