package pdf

import (
	"image/color"

	"gridswing/render/page"
)

// path writes lines, filled or drawn.
func (p *writer) path(l *page.Path) {
	fills, draws := l.Fill != nil, l.Stroke != nil && l.Width > 0
	switch {
	case fills && draws && l.Fill.A == l.Stroke.A:
		p.paint(l, l.Fill, l.Stroke, "B")
	default: // one over the other, each as transparent as it is
		if fills {
			p.paint(l, l.Fill, nil, "f")
		}
		if draws {
			p.paint(l, nil, l.Stroke, "S")
		}
	}
}

// paint draws the outline once, by a painting operator of PDF.
func (p *writer) paint(l *page.Path, fill, stroke *color.RGBA, operator string) {
	if fill != nil {
		if p.set.fill != *fill {
			p.pdf.SetFillColor(int(fill.R), int(fill.G), int(fill.B))
			p.set.fill = *fill
		}
		p.opaque(fill.A)
	}
	if stroke != nil {
		p.pen(*stroke, l.Width, l.Dashes())
		p.opaque(stroke.A)
	}
	if c := l.Clip; c != nil {
		p.pdf.ClipRect(c.X0, c.Y0, c.X1-c.X0, c.Y1-c.Y0, false)
		defer p.pdf.ClipEnd()
	}
	drawn := false
	for _, line := range l.Lines {
		for i, q := range line {
			if i == 0 {
				p.pdf.MoveTo(q.X, q.Y)
			} else {
				p.pdf.LineTo(q.X, q.Y)
			}
		}
		if len(line) == 1 {
			p.pdf.LineTo(line[0].X, line[0].Y) // a dot, as its ends are round
		}
		if l.Closed && len(line) > 1 {
			p.pdf.ClosePath()
		}
		drawn = drawn || len(line) > 0
	}
	if drawn {
		p.pdf.DrawPath(operator)
	}
}
