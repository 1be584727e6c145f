package pages

import (
	"fmt"
	"slices"
	"strings"

	"gridswing/cmd/gridswing/internal/pictures"
	"gridswing/cmd/gridswing/internal/text"
	"gridswing/machine/check"
	"gridswing/render/page"
	"gridswing/render/page/layout"
)

// planHigh is how high a plan may be: higher than any that is as wide as it should be.
const planHigh = 220.0

// plans sets each grid as one sees it from above, with what stands in its holes.
func (s *sheet) plans() {
	list := s.ofKind(pictures.PlanFigure)
	if len(list) == 0 {
		return
	}
	s.section("Pins and holes", 90)
	for _, i := range list {
		s.figure(i, 0, planHigh)
	}
	s.pins()
}

// pins lists the retractable pins to set and to withdraw, grid by grid.
func (s *sheet) pins() {
	t := layout.Table{Columns: []layout.Column{{Head: "pins of"}, {Head: "to be set"}, {Head: "to be withdrawn"}}}
	for _, p := range s.m.Pins {
		grid := p.Unit + "/" + p.Grid
		n := len(t.Rows)
		if n == 0 || t.Rows[n-1].Cells[0] != grid {
			t.Rows = append(t.Rows, layout.Row{Cells: []string{grid, "", ""}})
			n++
		}
		at, words := 1, p.Hole
		if p.Withdrawn {
			at = 2
		} else if p.Locates != "" {
			words += " (" + p.Locates + ")"
		}
		cell := &t.Rows[n-1].Cells[at]
		if *cell != "" {
			*cell += ", "
		}
		*cell += words
	}
	if len(t.Rows) > 0 {
		s.flow.Table(t)
	}
}

// seats sets how each component is located, and how far off that lets it be.
func (s *sheet) seats() {
	stack := s.Report.Stack
	if stack == nil || len(stack.Seats) == 0 {
		return
	}
	s.section("Seats", 50)
	t := layout.Table{
		Columns: []layout.Column{{Head: "component"}, {Head: "stands on"}, {Head: "located by"},
			{Head: "shift, " + s.u.Name(), Align: page.Right, Least: 15}, {Head: "angle, deg", Align: page.Right, Least: 15}, {Head: "verdict"}},
		Note: "Shift and angle are how far the locators, and the positions of their holes, let the component be off, either way, at worst.",
	}
	var about []string
	for i := range stack.Seats {
		seat := &stack.Seats[i]
		shift, angle := dash, dash
		if p := seat.Play; p != nil {
			shift, angle = s.u.Fine(max(p.Along, p.Across[0], p.Across[1])), text.Angle(p.Angle)
		}
		t.Rows = append(t.Rows, layout.Row{Mark: markOf(seat.Verdict),
			Cells: []string{seat.Unit, seat.On, text.Located(seat), shift, angle, seat.Verdict.String()}})
		for _, words := range slices.Concat(text.Locating(seat), text.Standing(seat)) {
			about = append(about, seat.Unit+": "+s.words(words))
		}
	}
	s.flow.Table(t)
	if len(about) > 0 {
		s.flow.Bullets(about)
	}
}

// screws sets all screws, those that are alike in one row, with what they are tightened with.
func (s *sheet) screws() {
	f := s.Report.Fastening
	if f == nil || len(f.Screws) == 0 {
		return
	}
	s.section("Screws", 45)
	t := layout.Table{
		Columns: []layout.Column{{Head: "component"}, {Head: "screws", Align: page.Right}, {Head: "size"}, {Head: "class"}, {Head: "into"},
			{Head: s.torqueHead(), Align: page.Right, Least: 20}, {Head: "driver"}, {Head: "tight", Align: page.Center}},
		Note: fmt.Sprintf("In the order of loading. Torques are the greatest for class and size at a friction of %s; a dash: not known.", number(f.Friction)),
	}
	for i := 0; i < len(f.Screws); {
		first, into, n := &f.Screws[i], []string{}, 0
		mark := s.screwMark(first)
		for ; i < len(f.Screws) && text.Alike(first, &f.Screws[i]) && s.screwMark(&f.Screws[i]) == mark; i++ {
			n++
			into = append(into, orNot(f.Screws[i].Into, "no. "+f.Screws[i].Name))
		}
		row := layout.Row{Mark: mark, Cells: []string{first.Of, fmt.Sprint(n), s.screwSize(first), orNot(first.Class, dash), text.HoleList(into),
			s.torque(first.Torque), s.driver(first), tick}}
		if t.Rows = append(t.Rows, row); mark != layout.NoMark && !strings.Contains(t.Note, screwMarks) {
			t.Note += screwMarks
		}
	}
	s.flow.Table(t)
	s.threads()
}

const screwMarks = " A mark is the worse of two: whether the screw holds, and whether a driver gets to it."

// screwMark is the mark of the worse of two: whether a driver gets to a screw, and whether the screw
// holds. Where drivers were not looked at, nothing says that all is well.
func (s *sheet) screwMark(c *check.Screw) layout.Mark {
	held := check.Clear
	if st := s.Report.Stack; st != nil {
		for i := range st.Seats {
			for k := range st.Seats[i].Fasteners {
				if f := &st.Seats[i].Fasteners[k]; st.Seats[i].Unit == c.Of && f.Name == c.Name && f.Verdict.Worse(held) {
					held = f.Verdict
				}
			}
		}
	}
	switch {
	case c.Verdict != nil && !held.Worse(*c.Verdict):
		return markOf(*c.Verdict)
	case c.Verdict != nil || held != check.Clear:
		return markOf(held)
	}
	return layout.NoMark
}

// screwSize is the designation of a screw. Of a metric thread it is in mm on all pages.
func (s *sheet) screwSize(c *check.Screw) string {
	if strings.HasPrefix(c.Thread, "M") || c.Length == nil {
		return text.Thread(c)
	}
	words := c.Thread + " x " + s.u.Stated(*c.Length)
	if c.Below {
		words += " from below"
	}
	return words
}

// driver is what gets to a screw.
func (s *sheet) driver(c *check.Screw) string {
	if len(s.Report.Fastening.Drivers) == 0 {
		return dash
	}
	return text.Driven(c)
}

// threads says how much of their threads holds, seat by seat, where anything is known or wrong.
func (s *sheet) threads() {
	if s.Report.Stack == nil {
		return
	}
	var lines []string
	for i := range s.Report.Stack.Seats {
		seat := &s.Report.Stack.Seats[i]
		told := slices.ContainsFunc(seat.Fasteners, func(f check.Fastener) bool { return f.Engaged != nil || f.Verdict != check.Clear })
		if !told {
			continue
		}
		for _, words := range text.ScrewLines(seat) {
			lines = append(lines, seat.Unit+": "+s.words(words))
		}
	}
	if len(lines) > 0 {
		s.flow.Bullets(lines)
	}
}

// number prints a number without needless digits.
func number(v float64) string { return fmt.Sprintf("%.5g", v) }
