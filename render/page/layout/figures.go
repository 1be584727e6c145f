package layout

import "gridswing/render/page"

// Figure sets a figure, centred.
func (f *Flow) Figure(fig Figure) { f.Figures([]Figure{fig}) }

// sized is a figure with the size it gets.
type sized struct {
	Figure
	width, height float64
	caption       []string
}

// Figures sets figures side by side, as many per line as fit at their widths. One that is
// alone on its line has its caption across the page.
func (f *Flow) Figures(figs []Figure) {
	const apart = 6.0
	var line []sized
	wide := 0.0
	for _, fig := range figs {
		s := f.size(fig)
		if len(line) > 0 && wide+apart+s.width > f.width()+hair {
			f.figureLine(line, wide, apart)
			line, wide = nil, 0
		}
		if len(line) > 0 {
			wide += apart
		}
		wide += s.width
		line = append(line, s)
	}
	if len(line) > 0 {
		f.figureLine(line, wide, apart)
	}
	f.Space(3)
}

// size fits a figure into what it may take, and what a page has beside its caption.
func (f *Flow) size(fig Figure) sized {
	s := sized{Figure: fig}
	most := f.width()
	if fig.Width > 0 {
		most = min(most, fig.Width)
	}
	high := f.height() - 6*smallStyle.line
	if fig.Height > 0 {
		high = min(high, fig.Height)
	}
	if d := fig.Drawing; d != nil && d.Width > 0 && d.Height > 0 {
		s.width = min(most, high*d.Width/d.Height)
		s.height = s.width * d.Height / d.Width
	} else {
		s.width = most
	}
	if fig.Caption != "" {
		s.caption = smallStyle.wrap(fig.Caption, max(s.width, 30))
		s.width = max(s.width, min(30, f.width()))
	}
	return s
}

// captionWidth is how wide a caption may be below a figure that is narrower, mm.
const captionWidth = 110.0

// below is where the caption of a single figure begins: at its left, or in the middle of the
// page if it is wider.
func (f *Flow) below(s sized, left float64) float64 {
	wide := 0.0
	for _, l := range s.caption {
		wide = max(wide, smallStyle.width(l))
	}
	if wide <= s.width {
		return left
	}
	return marginLeft + (f.width()-wide)/2
}

// figureLine sets a line of figures with their captions.
func (f *Flow) figureLine(line []sized, wide, apart float64) {
	high, lines := 0.0, 0
	if len(line) == 1 && line[0].Caption != "" {
		line[0].caption = smallStyle.wrap(line[0].Caption, max(line[0].width, captionWidth))
	}
	for _, s := range line {
		high, lines = max(high, s.height), max(lines, len(s.caption))
	}
	const above = 1.2 // between a figure and its caption
	left := marginLeft + (f.width()-wide)/2
	drawn := piece{height: high + above, before: 2, sticky: lines > 0, draw: func(p *pen, top float64) {
		x := left
		for _, s := range line {
			if s.height > 0 {
				at := x + (s.width-s.height*s.Drawing.Width/s.Drawing.Height)/2
				p.items = append(p.items, s.Drawing.Placed(page.Point{X: at, Y: top}, s.height*s.Drawing.Width/s.Drawing.Height)...)
			}
			x += s.width + apart
		}
	}}
	f.put(drawn)
	var cells []cell
	x := left
	for _, s := range line {
		if len(line) == 1 {
			x = f.below(s, x)
		}
		cells = append(cells, cell{smallStyle, page.Left, x, s.caption})
		x += s.width + apart
	}
	if lines > 0 {
		f.put(f.chunks(cells, f.height()-high-above, 0, nil)...)
	}
}
