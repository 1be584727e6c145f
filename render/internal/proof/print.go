// Package proof prints drawings for pages on pixels, by means of its own, and compares them with
// what was drawn on pixels in the first place.
package proof

import (
	"bytes"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"math"
	"testing"

	"gridswing/render/ink"
	"gridswing/render/page"

	xdraw "golang.org/x/image/draw"
)

// Print returns a drawing on white paper, so many pixels wide, its letters fitted to pixels as
// those of a canvas are.
func Print(t *testing.T, d *page.Drawing, width int) *image.RGBA {
	t.Helper()
	return printed(t, d, width, true)
}

// OnPaper is Print with letters as they are on paper, not fitted to anything.
func OnPaper(t *testing.T, d *page.Drawing, width int) *image.RGBA {
	t.Helper()
	return printed(t, d, width, false)
}

func printed(t *testing.T, d *page.Drawing, width int, fitted bool) *image.RGBA {
	t.Helper()
	scale := float64(width) / d.Width
	p := &press{T: t, fitted: fitted, Canvas: ink.NewCanvas(width, int(math.Round(d.Height*scale)), white)}
	for _, it := range d.Placed(page.Point{}, float64(width)) {
		switch it := it.(type) {
		case *page.Path:
			p.path(it)
		case *page.Text:
			p.text(it)
		case *page.Image:
			p.image(it)
		default:
			t.Errorf("a drawing has a %T", it)
		}
	}
	return p.RGBA
}

var white = color.RGBA{255, 255, 255, 255}

// press prints items whose mm are pixels.
type press struct {
	*testing.T
	*ink.Canvas
	fitted bool
}

func (p *press) path(path *page.Path) {
	to := p.Canvas
	if path.Clip != nil { // on a canvas of its own, of which only the area is kept
		to = ink.NewCanvas(p.Rect.Dx(), p.Rect.Dy(), white)
		draw.Draw(to, to.Rect, p.RGBA, image.Point{}, draw.Src)
	}
	for _, col := range []*color.RGBA{path.Fill, path.Stroke} {
		if col != nil && col.A != 255 {
			p.Errorf("a path has the colour %v: paper cannot let anything shine through", *col)
		}
	}
	if path.Fill != nil {
		outlines := make([][]ink.Point, len(path.Lines))
		for i, line := range path.Lines {
			outlines[i] = points(line)
		}
		to.Polygons(outlines, *path.Fill)
	}
	if path.Stroke != nil {
		for _, line := range path.Lines {
			stroke(to, path, points(line))
		}
	}
	if path.Clip != nil {
		r := ink.Area(*path.Clip).Pixels()
		draw.Draw(p.RGBA, r, to, r.Min, draw.Src)
	}
}

func points(line []page.Point) []ink.Point {
	list := make([]ink.Point, len(line))
	for i, q := range line {
		list[i] = ink.Point(q)
	}
	return list
}

// stroke draws a line with round ends, in dashes or through.
func stroke(to *ink.Canvas, path *page.Path, line []ink.Point) {
	if path.Closed {
		line = append(line, line[0])
	}
	piece := func(line []ink.Point) {
		to.Line(path.Width, *path.Stroke, line...)
		for _, end := range []ink.Point{line[0], line[len(line)-1]} {
			if path.Width > 1.5 {
				to.Disc(end, path.Width/2, *path.Stroke)
			}
		}
	}
	if len(path.Dash) == 0 {
		piece(line)
		return
	}
	k, left := 0, path.Dash[0]
	part := []ink.Point{line[0]}
	for i := 1; i < len(line); i++ {
		a, b := line[i-1], line[i]
		length := math.Hypot(b.X-a.X, b.Y-a.Y)
		for s := 0.0; s < length; {
			step := min(left, length-s)
			s, left = s+step, left-step
			at := ink.Point{X: a.X + (b.X-a.X)*s/length, Y: a.Y + (b.Y-a.Y)*s/length}
			part = append(part, at)
			if left > 0 {
				continue
			}
			if k%2 == 0 {
				piece(part)
			}
			k++
			left, part = path.Dash[k%len(path.Dash)], []ink.Point{at}
		}
	}
	if k%2 == 0 && len(part) > 1 {
		piece(part)
	}
}

func (p *press) text(t *page.Text) {
	if !p.fitted {
		p.letters(t)
		return
	}
	letters := ink.Type{Size: t.Size * 25.4 / 72, Bold: t.Face == page.Bold, Color: t.Color}
	if t.Upward {
		if t.Align != page.Center {
			p.Errorf("%q runs upward from its end", t.Words)
		}
		p.TextUp(t.At.X, t.At.Y, letters, t.Words)
		return
	}
	p.Text(t.At.X, t.At.Y, ink.Align(t.Align), letters, t.Words)
}

func (p *press) image(m *page.Image) {
	img, err := png.Decode(bytes.NewReader(m.PNG))
	if err != nil {
		p.Error(err)
		return
	}
	xdraw.CatmullRom.Scale(p.RGBA, ink.Area(m.Area).Pixels(), img, img.Bounds(), xdraw.Src, nil)
}
