package layout

import "gridswing/render/page"

// Facts sets names and what belongs to them, in so many columns, across.
func (f *Flow) Facts(columns int, facts []Fact) {
	const apart = 6.0
	columns = max(1, columns)
	wide := (f.width() - apart*float64(columns-1)) / float64(columns)
	name := 0.0
	bold := textStyle.bold()
	for _, fact := range facts {
		name = max(name, bold.width(fact.Name)+3)
	}
	name = min(name, 0.42*wide)
	for len(facts) > 0 {
		row := facts[:min(columns, len(facts))]
		facts = facts[len(row):]
		var cells []cell
		for k, fact := range row {
			x := marginLeft + float64(k)*(wide+apart)
			s := textStyle
			if fact.Strong {
				s = bold
			}
			cells = append(cells,
				cell{bold, page.Left, x, bold.wrap(fact.Name, name-3)},
				cell{s, page.Left, x + name, s.wrap(fact.Value, wide-name)})
		}
		f.put(f.chunks(cells, f.height(), 0.9, nil)...)
	}
	f.Space(3)
}

// cell is wrapped words at a place of a row.
type cell struct {
	style style
	align page.Align
	x     float64
	lines []string
}

// chunks returns a row of cells as pieces, each no higher than most: one, unless it is
// higher than a page. below is the room left below the row's words; decorate, which may be
// nil, draws what goes with each piece.
func (f *Flow) chunks(cells []cell, most, below float64, decorate func(p *pen, top, height float64, first bool)) []piece {
	count := 1
	for _, c := range cells {
		count = max(count, len(c.lines))
	}
	line := textStyle.line
	if len(cells) > 0 {
		line = cells[0].style.line
	}
	each := max(1, int((most-below)/line))
	var pieces []piece
	for from := 0; from < count; from += each {
		to := min(from+each, count)
		high := float64(to-from)*line + below
		pieces = append(pieces, piece{height: high, draw: func(p *pen, top float64) {
			if decorate != nil {
				decorate(p, top, high, from == 0)
			}
			for _, c := range cells {
				if from < len(c.lines) {
					p.lines(c.style, page.Point{X: c.x, Y: top + below/2}, c.align, c.lines[from:min(to, len(c.lines))])
				}
			}
		}})
	}
	return pieces
}
