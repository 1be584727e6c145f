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
	words := []string{s.left, s.center, s.right}
	var wide []float64
	parts := 0
	for _, w := range words {
		wide = append(wide, stripStyle.width(w))
		if w != "" {
			parts++
		}
	}
	room := x1 - x0 - float64(max(parts-1, 0))*apart
	share := level(wide, make([]float64, len(wide)), room)
	for i := range words {
		words[i] = stripStyle.shorten(words[i], share[i])
		wide[i] = stripStyle.width(words[i])
	}
	p.words(stripStyle, page.Point{X: x0, Y: top}, page.Left, words[0])
	// In the middle of the page where there is room, else between the other two.
	from, to := x0, x1
	if words[0] != "" {
		from += wide[0] + apart
	}
	if words[2] != "" {
		to -= wide[2] + apart
	}
	middle := min(max((x0+x1)/2, from+wide[1]/2), to-wide[1]/2)
	p.words(stripStyle, page.Point{X: middle, Y: top}, page.Center, words[1])
	p.words(stripStyle, page.Point{X: x1, Y: top}, page.Right, words[2])
	p.words(stripStyle, page.Point{X: x0, Y: top + stripStyle.line}, page.Left, stripStyle.shorten(s.below, x1-x0))
}
