package layout

import "gridswing/render/page"

// Blanks sets fields to fill in by hand, as many per line as fit.
func (f *Flow) Blanks(blanks []Blank) {
	const apart = 6.0
	var line []field
	x := 0.0
	for _, b := range blanks {
		d := f.field(b)
		if len(line) > 0 && x+apart+d.wide() > f.width()+hair {
			f.fields(line)
			line, x = nil, 0
		}
		if len(line) > 0 {
			x += apart
		}
		d.x = marginLeft + x
		x += d.wide()
		line = append(line, d)
	}
	if len(line) > 0 {
		f.fields(line)
	}
	f.Space(3)
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
