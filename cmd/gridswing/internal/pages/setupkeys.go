package pages

import (
	"fmt"

	"gridswing/cmd/gridswing/internal/text"
	"gridswing/machine/check"
	"gridswing/render/page"
	"gridswing/render/page/layout"
)

// keyIn sets what is keyed into the control, with room for what is measured, and where to begin to
// probe. Its numbers are in the control's unit, whatever that of the pages is.
func (s *sheet) keyIn() {
	o := s.Report.Offsets
	if o == nil {
		return
	}
	s.section("What to key in ("+o.Method+")", 60)
	about := ""
	for _, l := range text.KeyIn(o) {
		if l.Strong {
			s.flow.Framed(true, l.Words)
			continue
		}
		about += l.Words + " "
	}
	if s.u.Name() != o.Unit {
		about += "Here and in the lengths of tools the unit is the control's, " + o.Unit + ", also where these pages have another one."
	}
	s.flow.Text(about)
	axes := text.KeyAxes(o)
	s.offsets(o, axes)
	s.centres(o, axes)
	s.probing(o, axes)
	if len(o.Notes) > 0 {
		s.flow.Bullets(o.Notes)
	}
}

// columnsOf are a column for each axis, and beside it one for what is measured.
func columnsOf(o *check.Offsets, axes []string) (list []layout.Column) {
	for _, a := range axes {
		list = append(list, layout.Column{Head: a + ", " + o.Unit, Align: page.Right, Least: 16}, layout.Column{Head: a + " measured", Fill: true, Least: 18, Most: 24})
	}
	return list
}

// cellsOf are the values for such columns.
func cellsOf(o *check.Offsets, axes []string, at []check.Position) []string {
	cells := make([]string, 0, 2*len(axes))
	for _, a := range axes {
		words := ""
		for _, p := range at {
			if p.Axis == a {
				words = text.Keyed(p.Value, o.Decimals)
			}
		}
		cells = append(cells, words, "")
	}
	return cells
}

// offsets sets the work offsets, those of a part below its name.
func (s *sheet) offsets(o *check.Offsets, axes []string) {
	if len(o.Offsets) == 0 {
		return
	}
	t := layout.Table{Columns: append([]layout.Column{{Head: "offset"}, {Head: "rotary, deg"}}, columnsOf(o, axes)...)}
	group := ""
	var turns, notes []string
	for i := range o.Offsets {
		w := &o.Offsets[i]
		if words := w.Part + ", " + w.Basis; words != group {
			group = words
			t.Rows = append(t.Rows, layout.Row{Group: true, Cells: []string{words}})
		}
		t.Rows = append(t.Rows, layout.Row{Cells: append([]string{w.Number, orNot(text.Rotary(w.Rotary), dash)}, cellsOf(o, axes, w.Linear)...)})
		for _, turn := range w.Turn {
			turns = append(turns, fmt.Sprintf("%s: %s offset %s deg, as the part was found turned", w.Number, turn.Axis, text.Signed(turn.Value, 4)))
		}
		for _, words := range w.Notes {
			notes = append(notes, w.Number+": "+words)
		}
	}
	s.flow.Subheading("Work offsets")
	s.flow.Table(t)
	for _, words := range turns { // it is keyed in with the others
		s.flow.Strong(words)
	}
	if len(notes) > 0 {
		s.flow.Bullets(notes)
	}
}

// centres sets the rotary centres, for a control that turns offsets itself.
func (s *sheet) centres(o *check.Offsets, axes []string) {
	if len(o.Centres) == 0 {
		return
	}
	t := layout.Table{Columns: []layout.Column{{Head: "axis"}, {Head: "basis"}, {Head: "position of"}, {Head: o.Unit, Align: page.Right, Least: 16}, {Head: "measured", Fill: true, Least: 24, Most: 24}}}
	for i := range o.Centres {
		c := &o.Centres[i]
		lead := []string{c.Axis, c.Basis}
		for _, a := range axes {
			for _, p := range c.Linear {
				if p.Axis == a {
					t.Rows = append(t.Rows, layout.Row{Cells: append(lead, a, text.Keyed(p.Value, o.Decimals))})
					lead = []string{"", ""}
				}
			}
		}
	}
	s.flow.Subheading("Rotary centres: positions at which the spindle stands on the axis")
	s.flow.Table(t)
}

// probing sets where to begin to probe each part.
func (s *sheet) probing(o *check.Offsets, axes []string) {
	if len(o.Probing) == 0 {
		return
	}
	t := layout.Table{Columns: []layout.Column{{Head: "part"}, {Head: "rotary, deg"}, {Head: "way"}}}
	for _, a := range axes {
		t.Columns = append(t.Columns, layout.Column{Head: a + ", " + o.Unit, Align: page.Right})
	}
	t.Columns = append(t.Columns, layout.Column{Head: "after", Align: page.Right}, layout.Column{Head: "within", Align: page.Right},
		layout.Column{Head: "found at", Fill: true, Least: 20, Most: 24})
	for i := range o.Probing {
		q := &o.Probing[i]
		cells := []string{q.Part, orNot(text.Rotary(q.Rotary), dash), q.Along}
		for k, words := range cellsOf(o, axes, q.Start) {
			if k%2 == 0 {
				cells = append(cells, words)
			}
		}
		t.Rows = append(t.Rows, layout.Row{Cells: append(cells, text.Keyed(q.Find, o.Decimals), text.Keyed(q.Within, o.Decimals))})
	}
	s.flow.Subheading("Where to begin to probe")
	t.Note = sentence(text.ProbingMeans)
	s.flow.Table(t)
}
