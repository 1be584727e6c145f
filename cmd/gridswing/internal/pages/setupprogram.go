package pages

import (
	"fmt"
	"strconv"

	"gridswing/cmd/gridswing/internal/pictures"
	"gridswing/cmd/gridswing/internal/text"
	"gridswing/machine/check"
	"gridswing/render/page"
	"gridswing/render/page/layout"
)

// posted sets what the posted program does, if one was looked at.
func (s *sheet) posted() {
	g := s.Report.Program
	if g == nil {
		return
	}
	s.section("The posted program", 70)
	about := fmt.Sprintf("%s (%s): %s, %s, %s. %s", base(g.File), g.Format, several(g.Blocks, "block"), several(g.Moves, "move"), text.ReadTo(g), text.Takes(g))
	if g.Fault != nil {
		s.flow.Framed(true, about)
	} else {
		s.flow.Text(about)
	}
	for _, i := range s.ofKind(pictures.ProgramFigure) {
		s.figure(i, 0, 80)
	}
	s.programTools(g)
	s.movesWith(g)
	var lines []string
	for i := range g.Stock {
		lines = append(lines, text.Stock(&g.Stock[i]))
	}
	if len(lines) > 0 {
		s.flow.Bullets(s.all(lines))
	}
}

// several counts things of a name.
func several(n int64, name string) string {
	if n == 1 {
		return "1 " + name
	}
	return fmt.Sprintf("%d %ss", n, name)
}

// programTools sets what the program does with each tool.
func (s *sheet) programTools(g *check.Program) {
	if len(g.Tools) == 0 {
		return
	}
	unit := ", " + s.u.Name()
	t := layout.Table{
		Columns: []layout.Column{{Head: "tool"}, {Head: "name"}, {Head: "lines", Align: page.Right}, {Head: "time", Align: page.Right}, {Head: "in feed", Align: page.Right},
			{Head: "cuts, cm3", Align: page.Right}, {Head: "in air", Align: page.Right}, {Head: "LPR" + unit, Align: page.Right}, {Head: "holds for" + unit}},
		Note: text.ProgramToolsMean(s.u.Name()),
	}
	var bounds []string
	for i := range g.Tools {
		u := &g.Tools[i]
		if words := text.Bounded(u); words != "" {
			bounds = append(bounds, fmt.Sprintf("T%d: %s", u.Tool, s.words(words)))
		}
		holds := dash
		if u.Shortest != nil && u.Longest != nil {
			holds = s.holds(*u.Shortest, *u.Longest)
		}
		t.Rows = append(t.Rows, layout.Row{Cells: []string{fmt.Sprintf("T%d", u.Tool), u.Name, fmt.Sprintf("%d-%d", u.First, u.Last), text.Clock(u.Seconds), text.Clock(u.FeedSeconds),
			text.Removed(u.Removed), text.InAir(u), s.u.Near(u.LPR), holds}})
	}
	s.flow.Table(t)
	if len(bounds) > 0 {
		s.flow.Bullets(bounds)
	}
}

// holds prints between which lengths all that is clear stays so. Where only one length does, rounding
// inward would leave none.
func (s *sheet) holds(shortest, longest float64) string {
	const one = 0.005 // mm
	if longest-shortest < one {
		return s.u.Near(shortest) + " only"
	}
	return s.u.Up(shortest) + " to " + s.u.Down(longest)
}

// movesWith sets the offsets and the lengths that the program moves with beside those computed.
func (s *sheet) movesWith(g *check.Program) {
	if words := text.AsComputed(g); words != "" {
		s.flow.Text(words + ".")
		return
	}
	s.movesWithOffsets(g)
	if len(g.Lengths) == 0 {
		return
	}
	lengths := keyed{unit: s.u.Unit, decimals: 3}
	if k := s.keyed(); g.Lengths[0].Unit == k.unit.String() {
		lengths = k
	}
	unit := ", " + lengths.unit.String()
	t := layout.Table{Columns: []layout.Column{{Head: "length offset"}, {Head: "line", Align: page.Right}, {Head: "value"}, {Head: "used" + unit, Align: page.Right},
		{Head: "computed" + unit, Align: page.Right}, {Head: "verdict"}, {Head: ""}}}
	for i := range g.Lengths {
		l := &g.Lengths[i]
		computed := "none"
		if l.Computed != nil {
			computed = lengths.print(*l.Computed)
		}
		t.Rows = append(t.Rows, layout.Row{Mark: markOf(l.Verdict), Cells: []string{l.Subject(), strconv.Itoa(l.Line), text.Source(l.Source), lengths.print(l.Used), computed, l.Verdict.String(), s.words(l.Words)}})
	}
	s.flow.Table(t)
}

// movesWithOffsets sets the work offsets, each with what is computed for it below.
func (s *sheet) movesWithOffsets(g *check.Program) {
	if len(g.Offsets) == 0 {
		return
	}
	heads, used, computed := text.ProgramOffsets(g)
	t := layout.Table{Columns: []layout.Column{{Head: "work offset"}, {Head: "line", Align: page.Right}, {Head: "value"}}}
	for _, head := range heads {
		t.Columns = append(t.Columns, layout.Column{Head: head, Align: page.Right})
	}
	t.Columns = append(t.Columns, layout.Column{Head: "verdict"}, layout.Column{})
	for i := range g.Offsets {
		o := &g.Offsets[i]
		cells := append([]string{o.Number, strconv.Itoa(o.Line), text.Source(o.Source)}, used[i]...)
		t.Rows = append(t.Rows, layout.Row{Mark: markOf(o.Verdict), Cells: append(cells, o.Verdict.String(), s.words(o.Words))})
		if o.Source != "computed" && len(o.Computed) > 0 {
			t.Rows = append(t.Rows, layout.Row{Cells: append([]string{"", "", "computed"}, computed[i]...)})
		}
	}
	s.flow.Subheading("Offsets that it moves with, beside those computed for the setup")
	s.flow.Table(t)
}
