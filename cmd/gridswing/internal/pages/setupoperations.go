package pages

import (
	"fmt"
	"strings"

	"gridswing/cmd/gridswing/internal/text"
	"gridswing/machine/check"
	"gridswing/render/page"
	"gridswing/render/page/layout"
)

// operations sets what is cut, in the order of the file, with room for a tick.
func (s *sheet) operations() {
	r := s.Report
	out := text.LeftOut(r)
	if (r.Reach == nil || len(r.Reach.Operations) == 0) && len(out) == 0 {
		return
	}
	s.section("Operations", 50)
	unit := ", " + s.u.Name()
	t := layout.Table{
		Columns: []layout.Column{{Head: "", Align: page.Right}, {Head: "operation"}, {Head: "tool"}, {Head: "features", Align: page.Right}, {Head: "rotary, deg", Least: 22},
			{Head: "travel left" + unit, Least: 18}, {Head: "gap" + unit, Align: page.Right, Least: 12}, {Head: "verdict"}, {Head: "run", Align: page.Center}},
		Note: "Rotary: as the control shows it, in the order of the features, each position once. Travel left: what the axis that has least keeps to its limit. Gap: the least clearance that is proven.",
	}
	if r.Reach != nil {
		for i := range r.Reach.Operations {
			t.Rows = append(t.Rows, s.operationRow(i+1, &r.Reach.Operations[i]))
		}
	}
	for _, f := range out {
		t.Rows = append(t.Rows, layout.Row{Mark: markOf(f.Verdict), Cells: []string{"", f.Operation + ": " + text.Question(f) + ": " + s.words(f.Reason), dash, dash, dash, dash, dash, f.Verdict.String()}})
	}
	s.flow.Table(t)
}

func (s *sheet) operationRow(number int, o *check.Operation) layout.Row {
	travel := dash
	if t := text.LeastTravel(o); t != nil {
		travel = t.Axis + " " + s.u.Down(t.Margin)
	}
	return layout.Row{Mark: markOf(o.Verdict), Cells: []string{fmt.Sprint(number), o.Name, fmt.Sprintf("T%d", o.Tool), fmt.Sprint(len(o.Features)),
		orNot(strings.Join(text.StandsThrough(o), "\n"), dash), travel, s.down(text.LeastGap(o)), o.Verdict.String(), tick}}
}

// heights sets how high the tool must be before rotary axes index.
func (s *sheet) heights() {
	r := s.Report.Reach
	if r == nil {
		return
	}
	moves := text.OfKind(r.Moves, check.IndexMove)
	var lines []string
	for _, kind := range []struct{ kind, name string }{{check.ChangeMove, "Tool changes"}, {check.RapidMove, "Rapid moves"}} {
		if list := text.OfKind(r.Moves, kind.kind); len(list) > 0 {
			lines = append(lines, kind.name+": "+text.Tally(verdicts(list), len(list))+".")
		}
	}
	if len(moves) == 0 && len(lines) == 0 {
		return
	}
	s.section("Between operations: how high the tool must be", 45)
	for _, words := range text.TooLow(r) {
		s.flow.Framed(true, s.words(words)+".")
	}
	if len(moves) > 0 {
		s.flow.Table(s.heightTable(moves))
	}
	if len(lines) > 0 {
		s.flow.Text(strings.Join(lines, " "))
	}
}

// heightTable is a row for each index.
func (s *sheet) heightTable(moves []check.Move) layout.Table {
	unit := ", " + s.u.Name()
	t := layout.Table{
		Columns: []layout.Column{{Head: "index"}, {Head: "tool"}, {Head: "Z at least" + unit, Align: page.Right, Least: 16}, {Head: "whole range" + unit, Align: page.Right, Least: 16}, {Head: "what bounds it"}, {Head: "verdict"}},
		Note:    text.HeightsMean,
	}
	for i := range moves {
		m := &moves[i]
		by := m.HeightBy
		if m.Reason != "" && m.Verdict != check.Clear {
			by = s.words(m.Reason)
		}
		t.Rows = append(t.Rows, layout.Row{Mark: markOf(m.Verdict),
			Cells: []string{text.Way(m), fmt.Sprintf("T%d", m.Tool), s.height(m.Height), s.height(m.FullHeight), by, m.Verdict.String()}})
	}
	return t
}

// height prints a lowest height, rounded up.
func (s *sheet) height(z *float64) string {
	if z == nil {
		return "none"
	}
	return s.u.Up(*z)
}

func verdicts(moves []check.Move) map[check.Verdict]int {
	counts := map[check.Verdict]int{}
	for i := range moves {
		counts[moves[i].Verdict]++
	}
	return counts
}
