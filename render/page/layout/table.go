package layout

import (
	"gridswing/render/page"
)

var cellStyle = style{page.Regular, 8.75, 3.95}

// Of a table, mm.
const (
	columnGap  = 3.4 // at least
	rowPadding = 1.3 // above and below the words of a row, together
	markRoom   = 5.0 // for the mark in front of a row
	written    = 7.5 // height of a row at least that is to be filled in by hand
)

// Table sets a table. Its head is repeated on each page; a row stays whole unless it is
// higher than a page. One with more columns than fit, however narrow, is parted into several
// below each other, each with the first column.
func (f *Flow) Table(t Table) {
	if len(t.Columns) == 0 {
		return
	}
	all := extents(&t)
	for _, part := range f.parts(&t, all) {
		g := f.grid(&t, all, part)
		f.put(g.head...)
		for i := range t.Rows {
			pieces := g.row(i)
			last := &pieces[len(pieces)-1]
			switch left := len(t.Rows) - 1 - i; {
			case left == 0:
				last.sticky = t.Note != "" // a note does not stand on a page by itself
			case i == 0 || left == 1:
				last.sticky = true // nor does the first row or the last one
			}
			f.put(pieces...)
		}
		f.Space(2)
	}
	if t.Note != "" {
		f.Space(1.2)
		f.paragraph(smallStyle, t.Note, false)
	}
	f.Space(3.5)
}

// grid is a table, or the part of one that is as wide as a page.
type grid struct {
	flow    *Flow
	table   *Table
	columns []int // of the table's, in their order
	x, wide []float64
	marks   bool
	left    float64
	right   float64
	head    []piece
	hand    bool // something is filled in by hand
}

// grid lays out the columns and the head.
func (f *Flow) grid(t *Table, all []extent, columns []int) *grid {
	g := &grid{flow: f, table: t, columns: columns, left: marginLeft, marks: marked(t)}
	x := g.left
	if g.marks {
		x += markRoom
	}
	g.wide = f.widths(t, all, columns)
	gap := columnGap + f.spread(t, g.wide)
	for k, i := range columns {
		g.x = append(g.x, x)
		x += g.wide[k] + gap
		g.hand = g.hand || t.Columns[i].Fill
	}
	g.right = x - gap
	g.setHead()
	return g
}

// setHead sets the words over the columns. A head that takes much of a page is not repeated.
func (g *grid) setHead() {
	var cells []cell
	for k, i := range g.columns {
		if c := g.table.Columns[i]; c.Head != "" {
			cells = append(cells, g.cell(k, c.Head, cellStyle.bold()))
		}
	}
	if len(cells) == 0 {
		g.head = []piece{{height: 0.3, sticky: true, draw: func(p *pen, top float64) { p.rule(g.left, g.right, top, 0.3, black) }}}
		return
	}
	lines := 0
	for _, c := range cells {
		lines = max(lines, len(c.lines))
	}
	for i := range cells { // they end on one base line
		cells[i].lines = append(make([]string, lines-len(cells[i].lines)), cells[i].lines...)
	}
	g.head = g.flow.chunks(cells, g.flow.height()/3, rowPadding, nil)
	last := &g.head[len(g.head)-1]
	words := last.draw
	last.draw = func(p *pen, top float64) {
		words(p, top)
		p.rule(g.left, g.right, top+last.height, 0.3, black)
	}
	for i := range g.head {
		g.head[i].sticky = true
	}
}

// repeated is the head that stands over what comes to the top of a page.
func (g *grid) repeated() []piece {
	if len(g.head) == 1 {
		return g.head
	}
	return nil
}

// cell wraps words for a column.
func (g *grid) cell(k int, words string, s style) cell {
	c := cell{style: s, align: g.table.Columns[g.columns[k]].Align, x: g.x[k], lines: s.wrap(words, g.wide[k])}
	switch c.align {
	case page.Center:
		c.x += g.wide[k] / 2
	case page.Right:
		c.x += g.wide[k]
	}
	return c
}

// row sets a row.
func (g *grid) row(i int) []piece {
	r := &g.table.Rows[i]
	s := cellStyle
	if r.Strong || r.Group {
		s = s.bold()
	}
	var cells []cell
	if r.Group {
		words := ""
		if len(r.Cells) > 0 {
			words = r.Cells[0]
		}
		x := g.left
		if g.marks {
			x += markRoom
		}
		cells = []cell{{s, page.Left, x, s.wrap(words, g.right-x)}}
	} else {
		for k, c := range g.columns {
			if c < len(r.Cells) && r.Cells[c] != "" {
				cells = append(cells, g.cell(k, r.Cells[c], s))
			}
		}
	}
	below := rowPadding
	if g.hand && !r.Group {
		below = max(below, written-cellStyle.line)
	}
	pieces := g.flow.chunks(cells, g.flow.height()-tall(g.repeated()), below, func(p *pen, top, height float64, first bool) {
		g.decorate(p, r, top, height, below, first)
	})
	for k := range pieces {
		pieces[k].head = g.repeated()
		if r.Group {
			pieces[k].sticky = i < len(g.table.Rows)-1
		}
	}
	if r.Group && i > 0 {
		pieces[0].before = 1.6
	}
	return pieces
}

// decorate draws what goes with a row: its mark, the line below it, the lines to write on,
// the link.
func (g *grid) decorate(p *pen, r *Row, top, height, below float64, first bool) {
	bottom := top + height
	width := 0.12
	if r.Group {
		width = 0.2
	}
	p.rule(g.left, g.right, bottom, width, grey)
	base := top + below/2 + cellStyle.ascent()
	if first {
		p.mark(r.Mark, page.Point{X: g.left + markSize/2 + 0.3, Y: base - 1.05})
	}
	if !r.Group {
		for k, i := range g.columns {
			if g.table.Columns[i].Fill {
				p.rule(g.x[k], g.x[k]+g.wide[k], bottom, 0.25, black)
			}
		}
	}
	if r.Link != "" {
		if first {
			g.underline(p, r, base)
		}
		p.items = append(p.items, &page.Link{Area: page.Area{X0: g.left, Y0: top, X1: g.right, Y1: bottom}, Target: r.Link})
	}
}

// underline shows, below the first words of a row, that it leads somewhere.
func (g *grid) underline(p *pen, r *Row, base float64) {
	for k, c := range g.columns {
		if c == 0 && len(r.Cells) > 0 && r.Cells[0] != "" && g.table.Columns[0].Align == page.Left {
			s := cellStyle
			if r.Strong {
				s = s.bold()
			}
			words := g.cell(k, r.Cells[0], s)
			p.rule(words.x, words.x+s.width(words.lines[0]), base+0.55, 0.12, black)
		}
	}
}

// marked reports whether a row of the table has a mark.
func marked(t *Table) bool {
	for i := range t.Rows {
		if t.Rows[i].Mark != NoMark {
			return true
		}
	}
	return false
}
