package pages

import (
	"slices"

	"gridswing/cmd/gridswing/internal/text"
	"gridswing/machine/check"
	"gridswing/render/page"
	"gridswing/render/page/layout"
)

// location sets how far off a part can be before it is probed, and whether the probe finds it.
func (s *sheet) location() {
	stack := s.Report.Stack
	if stack == nil || len(stack.Locations) < 2 {
		return
	}
	s.section("How far off the part can be before it is probed", 35)
	unit := ", " + s.u.Name()
	t := layout.Table{
		Columns: []layout.Column{{Head: "part"}, {Head: "against"}, {Head: "its zero" + unit, Align: page.Right}, {Head: "farthest corner" + unit, Align: page.Right},
			{Head: "angle, deg", Align: page.Right}, {Head: "verdict"}},
		Note: "At worst: play, tolerances, within and the accuracy of the axes all to one side; of several positions the worst. " + text.JudgedMeans,
	}
	list := stack.Locations
	for i := 0; i+1 < len(list); i += 2 {
		if zero, corner := &list[i], &list[i+1]; text.Worth(list, i) {
			t.Rows = append(t.Rows, s.locationRow(zero, corner))
		}
	}
	s.flow.Table(t)
	s.searches(stack)
}

func (s *sheet) locationRow(zero, corner *check.Location) layout.Row {
	row := layout.Row{Cells: []string{corner.Part, text.Against(corner), s.u.Fine(zero.Off), s.u.Fine(corner.Off), text.Angle(corner.Angle), "told"}}
	if text.Judged(corner) {
		v := zero.Verdict
		if corner.Verdict.Worse(v) {
			v = corner.Verdict
		}
		row.Mark, row.Cells[5] = markOf(v), v.String()
	}
	return row
}

// searches sets the touches of a probe against how far off the surface can be.
func (s *sheet) searches(stack *check.Stack) {
	if len(stack.Searches) == 0 {
		return
	}
	if !slices.ContainsFunc(stack.Searches, func(q check.Search) bool { return q.Verdict != check.Clear }) {
		s.flow.Text(sentence("The probe " + text.Found(len(stack.Searches))))
		return
	}
	unit := ", " + s.u.Name()
	t := layout.Table{
		Columns: []layout.Column{{Head: "operation"}, {Head: "touch"}, {Head: "before" + unit, Align: page.Right}, {Head: "beyond" + unit, Align: page.Right},
			{Head: "off" + unit, Align: page.Right}, {Head: "verdict"}},
		Note: text.SearchMeans,
	}
	for i := range stack.Searches {
		q := &stack.Searches[i]
		t.Rows = append(t.Rows, layout.Row{Mark: markOf(q.Verdict),
			Cells: []string{q.Operation, q.Feature, s.u.Stated(q.Before), s.u.Stated(q.Beyond), s.u.Fine(q.Off), q.Verdict.String()}})
	}
	s.flow.Subheading("Whether the probe finds the surface")
	s.flow.Table(t)
}
