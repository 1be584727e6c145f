package pages

import (
	"slices"

	"gridswing/cmd/gridswing/internal/pictures"
	"gridswing/cmd/gridswing/internal/text"
	"gridswing/machine/check"
	"gridswing/render/page"
	"gridswing/render/page/layout"
)

// elevation sets the stack from the side, with heights to hold against a rule.
func (s *sheet) elevation() {
	list := s.ofKind(pictures.ElevationFigure)
	if len(list) == 0 {
		return
	}
	s.section("The stack from the side", 90)
	for len(list) > 0 {
		next := 0
		for k, i := range list {
			if s.figureHigh(i, elevationHigh) < s.flow.Left()-2 { // the first that the page has room for
				next = k
				break
			}
		}
		s.figure(list[next], 0, elevationHigh)
		list = slices.Delete(list, next, next+1)
	}
}

// elevationHigh is how high an elevation may be, mm: higher than any but one with so many heights that
// their names need it. It is to scale, and is not drawn smaller.
const elevationHigh = 220.0

// loads sets what is carried against what it is rated for.
func (s *sheet) loads() {
	l := s.Report.Loads
	if l == nil {
		return
	}
	s.section("Loads, the largest over the commanded ranges", 50)
	t := layout.Table{Columns: []layout.Column{{Head: "load"}, {Head: "largest", Align: page.Right, Least: 14}, {Head: "rated", Align: page.Right, Least: 14},
		{Head: "margin", Align: page.Right, Least: 14}, {Head: "where"}, {Head: "verdict"}}}
	for i := range l.Rated {
		t.Rows = append(t.Rows, s.rated(&l.Rated[i]))
	}
	if len(t.Rows) > 0 {
		s.flow.Table(t)
	}
	var lines []string
	for i := range l.Units {
		lines = append(lines, text.UnitLoad(&l.Units[i]))
	}
	lines = append(lines, l.Notes...)
	for _, c := range text.Counterweight(l.Counterweight) {
		if c.Strong {
			s.flow.Strong(s.words(c.Words))
			continue
		}
		lines = append(lines, c.Words)
	}
	s.flow.Bullets(s.all(lines))
	for _, i := range s.ofKind(pictures.MomentFigure) {
		s.figure(i, 0, 64)
	}
}

// rated is one line of the table of loads.
func (s *sheet) rated(q *check.Rated) layout.Row {
	where := q.Reason
	if where == "" {
		where = text.Positions(q.At)
	}
	row := layout.Row{Cells: []string{q.Unit + ": " + q.Words() + ", " + q.Measure, s.amount(q.Load, q.Measure, text.Up, text.Up), s.amount(q.Rating, q.Measure, number, text.Down),
		s.amount(q.Margin, q.Measure, text.Down, text.Down), s.words(where), text.NotJudged}}
	if q.Verdict != nil {
		row.Mark, row.Cells[5] = markOf(*q.Verdict), q.Verdict.String()
	}
	return row
}

// amount prints a mass or a moment; on inch pages also in pounds, in its own way.
func (s *sheet) amount(v *float64, measure string, print, pounds func(float64) string) string {
	switch {
	case v == nil:
		return dash
	case !s.inches():
		return print(*v)
	case measure == "kg":
		return print(*v) + " (" + pounds(*v/pound) + " lb)"
	}
	return print(*v) + " (" + pounds(*v/poundFoot) + " lbf ft)"
}
