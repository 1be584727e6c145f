package layout

import (
	"gridswing/render/page"
	"gridswing/render/page/face"
)

// Styles of what is set.
var (
	titleStyle      = style{page.Bold, 18, 7.6}
	belowStyle      = style{page.Regular, 11, 5}
	headingStyle    = style{page.Bold, 12, 5.4}
	subheadingStyle = style{page.Bold, 9.5, 4.5}
	textStyle       = style{page.Regular, 9.5, 4.5}
	smallStyle      = style{page.Regular, 8, 3.75}
	frameStyle      = style{page.Regular, 9.5, 4.5}
)

// Title sets a title, large, and what stands below it.
func (f *Flow) Title(words, below string) {
	f.paragraph(titleStyle, words, true)
	if below != "" {
		f.Space(0.6)
		f.paragraph(belowStyle, below, false)
	}
	f.Space(3)
}

// Heading begins a section; it stays with what follows.
func (f *Flow) Heading(words string) {
	f.Space(6)
	f.paragraph(headingStyle, words, true)
	f.Space(1.8)
}

// Subheading begins a part of a section; it stays with what follows.
func (f *Flow) Subheading(words string) {
	f.Space(3.5)
	f.paragraph(subheadingStyle, words, true)
	f.Space(0.8)
}

// Text sets a paragraph.
func (f *Flow) Text(words string) { f.paragraph(textStyle, words, false); f.Space(1.5) }

// Strong sets a paragraph in bold.
func (f *Flow) Strong(words string) { f.paragraph(textStyle.bold(), words, false); f.Space(1.5) }

// Small sets a paragraph in small type.
func (f *Flow) Small(words string) { f.paragraph(smallStyle, words, false); f.Space(1) }

// paragraph sets wrapped words. Its first two lines stay together, and its last two.
func (f *Flow) paragraph(s style, words string, sticky bool) {
	lines := s.wrap(words, f.width())
	for i, l := range lines {
		f.put(piece{
			height: s.line, sticky: sticky || tied(i, len(lines)),
			draw: func(p *pen, top float64) { p.words(s, page.Point{X: marginLeft, Y: top}, page.Left, l) },
		})
	}
}

// tied reports whether a line of a paragraph stays with the next.
func tied(i, lines int) bool { return i < lines-1 && (i == 0 || i == lines-2) }

// Bullets sets a list.
func (f *Flow) Bullets(lines []string) {
	f.list(lines, 4, func(p *pen, top float64) {
		p.words(textStyle, page.Point{X: marginLeft + 0.8, Y: top}, page.Left, "•")
	})
}

// Ticks sets a list with boxes to tick in front of its lines.
func (f *Flow) Ticks(lines []string) {
	const side = 3.6
	f.list(lines, 6.5, func(p *pen, top float64) {
		middle := top + textStyle.ascent() - face.Cap*textStyle.size*face.Point/2
		p.frame(page.Area{X0: marginLeft + 0.3, Y0: middle - side/2, X1: marginLeft + 0.3 + side, Y1: middle + side/2}, 0.3)
	})
}

// list sets lines that are drawn in, a sign in front of each.
func (f *Flow) list(lines []string, in float64, sign func(p *pen, top float64)) {
	for _, words := range lines {
		wrapped := textStyle.wrap(words, f.width()-in)
		for i, l := range wrapped {
			f.put(piece{
				height: textStyle.line, sticky: tied(i, len(wrapped)),
				draw: func(p *pen, top float64) {
					if i == 0 {
						sign(p, top)
					}
					p.words(textStyle, page.Point{X: marginLeft + in, Y: top}, page.Left, l)
				},
			})
		}
		f.Space(1.1)
	}
	f.Space(2)
}

// Framed sets words in a frame; a heavy one, in bold, for what must not be overlooked.
func (f *Flow) Framed(heavy bool, words string) {
	const in, above, apart = 2.5, 1.6, 1.5
	s, width := frameStyle, 0.25
	if heavy {
		s, width = s.bold(), 0.9
	}
	most := int((f.height() - 2*above) / s.line)
	lines := s.wrap(words, f.width()-2*in)
	for len(lines) > 0 {
		part := lines[:min(most, len(lines))]
		lines = lines[len(part):]
		high := float64(len(part))*s.line + 2*above
		f.put(piece{height: high, before: apart, draw: func(p *pen, top float64) {
			h := width / 2
			p.frame(page.Area{X0: marginLeft + h, Y0: top + h, X1: marginLeft + f.width() - h, Y1: top + high - h}, width)
			p.lines(s, page.Point{X: marginLeft + in, Y: top + above}, page.Left, part)
		}})
	}
	f.Space(3)
}

// Link sets a line of words that leads to a file or, with "#3", to a page.
func (f *Flow) Link(words, target string) {
	for _, l := range textStyle.wrap(words, f.width()) {
		f.put(piece{height: textStyle.line, draw: func(p *pen, top float64) {
			p.link(textStyle, page.Point{X: marginLeft, Y: top}, l, target)
		}})
	}
	f.Space(1)
}

// link sets underlined words that lead to a target.
func (p *pen) link(s style, at page.Point, words, target string) {
	p.words(s, at, page.Left, words)
	to := at.X + s.width(words)
	p.rule(at.X, to, at.Y+s.ascent()+0.5, 0.15, black)
	p.items = append(p.items, &page.Link{Area: page.Area{X0: at.X, Y0: at.Y, X1: to, Y1: at.Y + s.line}, Target: target})
}
