package layout

import "gridswing/render/page"

var stripStyle = style{page.Regular, 8, 3.8}

// strips returns a page's items with its head before and its foot behind them.
func (f *Flow) strips(items []page.Item, number int) []page.Item {
	p := &pen{}
	left, right := marginLeft, f.options.Format.Width-marginRight
	if fill := f.options.Head; fill != nil {
		s := &Strip{}
		fill(s, number, len(f.pages))
		top := bodyTop - 10.5
		s.draw(p, left, right, top)
		p.rule(left, right, top+s.height()+0.6, 0.2, black)
	}
	p.items = append(p.items, items...)
	if fill := f.options.Foot; fill != nil {
		s := &Strip{}
		fill(s, number, len(f.pages))
		top := f.bottom() + 4.6
		p.rule(left, right, top-0.8, 0.2, black)
		s.draw(p, left, right, top)
	}
	return p.items
}

// height of the lines.
func (s *Strip) height() float64 {
	if s.below != "" {
		return 2 * stripStyle.line
	}
	return stripStyle.line
}

// draw sets the strip, each part within its share of the width.
func (s *Strip) draw(p *pen, x0, x1, top float64) {
	const apart = 4.0
	wide := []float64{stripStyle.width(s.left), stripStyle.width(s.right)}
	room := x1 - x0
	if s.left != "" && s.right != "" {
		room -= apart
	}
	share := level(wide, make([]float64, len(wide)), room)
	p.words(stripStyle, page.Point{X: x0, Y: top}, page.Left, stripStyle.shorten(s.left, share[0]))
	p.words(stripStyle, page.Point{X: x1, Y: top}, page.Right, stripStyle.shorten(s.right, share[1]))
	p.words(stripStyle, page.Point{X: x0, Y: top + stripStyle.line}, page.Left, stripStyle.shorten(s.below, x1-x0))
}
