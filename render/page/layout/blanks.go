package layout

import "gridswing/render/page"

// blanksApart is how far fields of a line are apart, mm.
const blanksApart = 6.0

// Blanks sets fields to fill in by hand, as many per line as fit. Those of lines that follow each other
// and have equally many stand below each other, where that leaves all of them room.
func (f *Flow) Blanks(blanks []Blank) {
	var lines [][]field
	x := 0.0
	for _, b := range blanks {
		d := f.field(b)
		if n := len(lines); n > 0 && x+blanksApart+d.wide() <= f.width()+hair {
			lines[n-1] = append(lines[n-1], d)
			x += blanksApart + d.wide()
			continue
		}
		lines = append(lines, []field{d})
		x = d.wide()
	}
	for from := 0; from < len(lines); {
		to := from + 1
		for to < len(lines) && len(lines[to]) == len(lines[from]) {
			to++
		}
		f.inColumns(lines[from:to])
		from = to
	}
	for _, line := range lines {
		x := marginLeft
		for i := range line {
			line[i].x = x
			x += line[i].wide() + blanksApart
		}
		f.fields(line)
	}
	f.Space(3)
}

// inColumns gives fields of lines that have equally many common widths, if those fit.
func (f *Flow) inColumns(lines [][]field) {
	common := make([]field, len(lines[0]))
	for _, line := range lines {
		for i, d := range line {
			common[i].named, common[i].rule = max(common[i].named, d.named), max(common[i].rule, d.rule)
		}
	}
	wide := -blanksApart
	for _, d := range common {
		wide += blanksApart + d.wide()
	}
	if wide > f.width()+hair {
		return
	}
	for _, line := range lines {
		for i := range line {
			line[i].named, line[i].rule = common[i].named, common[i].rule
		}
	}
}

// field is a blank with its place.
type field struct {
	x     float64
	label []string
	named float64 // width of the label with the room behind it, mm
	rule  float64 // length of the line to write on, mm
}

func (d field) wide() float64 { return d.named + d.rule }

// field measures a blank. A label that leaves no room for the field is wrapped.
func (f *Flow) field(b Blank) field {
	const behind = 1.5
	d := field{rule: min(max(b.Width, 10), f.width())}
	if b.Label == "" {
		return d
	}
	most := max(f.width()-d.rule-behind, f.width()/3)
	d.label = textStyle.wrap(b.Label, most)
	for _, l := range d.label {
		d.named = max(d.named, textStyle.width(l)+behind)
	}
	d.rule = min(d.rule, f.width()-d.named)
	return d
}

// fields sets a line of fields, high enough to write in by hand.
func (f *Flow) fields(line []field) {
	const written = 8.5 // mm from one line to write on to the next
	var cells []cell
	lines := 1
	for _, d := range line {
		lines = max(lines, len(d.label))
		cells = append(cells, cell{textStyle, page.Left, d.x, d.label})
	}
	above := written - textStyle.line
	if float64(lines)*textStyle.line+above > f.height() {
		f.put(f.chunks(cells, f.height(), 0, nil)...)
		return
	}
	high := above + float64(lines)*textStyle.line
	f.put(piece{height: high, draw: func(p *pen, top float64) {
		for i, c := range cells {
			first := top + above + float64(lines-len(c.lines))*textStyle.line // labels end on one base line
			p.lines(c.style, page.Point{X: c.x, Y: first}, c.align, c.lines)
			base := top + high - textStyle.line + textStyle.ascent() + 0.6
			p.rule(line[i].x+line[i].named, line[i].x+line[i].wide(), base, 0.2, black)
		}
	}})
}
