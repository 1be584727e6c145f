package proof

import (
	"image"

	"gridswing/render/ink"
	"gridswing/render/page"
	"gridswing/render/page/face"

	"golang.org/x/image/font"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"golang.org/x/image/vector"
)

// letters draws words by the outlines of their font.
func (p *press) letters(t *page.Text) {
	f, err := opentype.Parse(face.TTF(t.Face))
	if err != nil {
		p.Error(err)
		return
	}
	size := t.Size * face.Point
	wide := face.Width(t.Face, t.Size, t.Words)
	at := map[page.Align]float64{page.Left: 0, page.Center: -wide / 2, page.Right: -wide}[t.Align]
	onPage := func(x, y float64) ink.Point { // along the base line, and up from it
		if t.Upward {
			return ink.Point{X: t.At.X - y, Y: t.At.Y - x}
		}
		return ink.Point{X: t.At.X + x, Y: t.At.Y - y}
	}
	fill := vector.NewRasterizer(p.Rect.Dx(), p.Rect.Dy())
	var buffer sfnt.Buffer
	em := fixed.I(int(f.UnitsPerEm()))
	scale := size / float64(em)
	for _, r := range face.Shown(t.Words) {
		i, err := f.GlyphIndex(&buffer, r)
		if err != nil {
			p.Error(err)
			return
		}
		segments, err := f.LoadGlyph(&buffer, i, em, nil)
		if err != nil {
			p.Error(err)
			return
		}
		point := func(q fixed.Point26_6) (x, y float32) {
			o := onPage(at+float64(q.X)*scale, -float64(q.Y)*scale)
			return float32(o.X), float32(o.Y)
		}
		for _, s := range segments {
			x, y := point(s.Args[0])
			switch s.Op {
			case sfnt.SegmentOpMoveTo:
				fill.ClosePath()
				fill.MoveTo(x, y)
			case sfnt.SegmentOpLineTo:
				fill.LineTo(x, y)
			case sfnt.SegmentOpQuadTo:
				u, v := point(s.Args[1])
				fill.QuadTo(x, y, u, v)
			default:
				p.Errorf("a letter of %q has a curve that TrueType has not", t.Words)
			}
		}
		fill.ClosePath()
		advance, err := f.GlyphAdvance(&buffer, i, em, font.HintingNone)
		if err != nil {
			p.Error(err)
			return
		}
		at += float64(advance) * scale
	}
	fill.Draw(p.RGBA, p.Rect, image.NewUniform(t.Color), image.Point{})
}
