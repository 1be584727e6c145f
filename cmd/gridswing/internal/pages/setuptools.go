package pages

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"gridswing/cmd/gridswing/internal/pictures"
	"gridswing/cmd/gridswing/internal/text"
	"gridswing/geom"
	"gridswing/machine/check"
	"gridswing/machine/tooling"
	"gridswing/render/page"
	"gridswing/render/page/layout"
)

// needed is a tool that operations or the program use, as the report has it.
type needed struct {
	number   int
	name     string
	lpr      float64
	stick    *check.StickOut // nil where no window was looked for
	open     bool            // of some operation no window was looked for
	tool     *tooling.Tool   // nil if no tool file has it
	notClear []string        // operations that are not, with their verdicts
	magazine *check.Magazine
}

// needs lists the tools that are needed by their numbers.
func (s *sheet) needs() (list []needed) {
	r := s.Report
	at := map[int]int{}
	add := func(n needed) *needed {
		if i, known := at[n.number]; known {
			return &list[i]
		}
		at[n.number] = len(list)
		if i := slices.IndexFunc(s.m.Tools, func(t *tooling.Tool) bool { return t.Number == n.number }); i >= 0 {
			n.tool = s.m.Tools[i]
		}
		list = append(list, n)
		return &list[len(list)-1]
	}
	if r.Reach != nil {
		for i := range r.Reach.Operations {
			o := &r.Reach.Operations[i]
			n := add(needed{number: o.Tool, name: o.ToolName, lpr: o.LPR})
			if n.open = n.open || o.StickOut == nil; n.stick == nil {
				n.stick = o.StickOut
			}
			if o.Verdict != check.Clear {
				n.notClear = append(n.notClear, o.Name+" is "+o.Verdict.String())
			}
		}
		for i := range r.Reach.Magazine {
			g := &r.Reach.Magazine[i]
			if k, known := at[g.Tool]; known {
				list[k].magazine = g
			}
		}
	}
	if r.Program != nil {
		for i := range r.Program.Tools {
			t := &r.Program.Tools[i]
			add(needed{number: t.Tool, name: t.Name, lpr: t.LPR})
		}
	}
	slices.SortStableFunc(list, func(a, b needed) int { return cmp.Compare(a.number, b.number) })
	return list
}

// tools sets the tools to put together and to measure.
func (s *sheet) tools() {
	list := s.needs()
	if len(list) == 0 {
		return
	}
	s.section("Tools", 50)
	lengths := s.keyed()
	t := layout.Table{
		Columns: []layout.Column{{Head: "tool"}, {Head: "name, holder"}, {Head: "kind", Most: 24}, {Head: "DC, " + s.u.Name(), Align: page.Right},
			{Head: "stick-out, " + s.u.Name(), Align: page.Right, Least: 14}, {Head: "good", Least: 14}, {Head: "LPR, " + lengths.unit.String(), Align: page.Right},
			{Head: "length measured", Fill: true, Least: 20, Most: 22}, {Head: "radius measured", Fill: true, Least: 20, Most: 22}},
		Note: "DC is the cutting diameter, LPR the length from the gauge line to the foremost point (ISO 13399), as the tool files have it: NOMINAL until it is measured. " +
			"Stick-out: from the holder's face to the foremost point, as it is set; good: the stick-outs with which all operations of the tool are as they should be, a dash where they were not looked for with all of them.",
	}
	for i := range list {
		row := s.toolRow(&list[i], lengths)
		if t.Rows = append(t.Rows, row); slices.Contains(row.Cells, asSet) && !strings.HasSuffix(t.Note, asSetMeans) {
			t.Note += asSetMeans
		}
	}
	s.flow.Table(t)
	s.aboutTools(list)
	s.inPairs(s.ofKind(pictures.ToolFigure), 70)
}

func (s *sheet) toolRow(n *needed, lengths keyed) layout.Row {
	kind, wide, out, good := dash, dash, dash, dash
	if t := n.tool; t != nil {
		kind, wide, out = t.Cutter.Kind, s.u.Stated(t.Cutter.DC), s.u.Stated(t.StickOut)
	}
	name := n.name
	if t := n.tool; t != nil {
		if cutter := t.Cutter.Name; cutter != "" && cutter != name {
			name += " (" + cutter + ")"
		}
		if holder := t.Holder.Name; holder != "" {
			name += " in " + holder
		}
	}
	if w := n.stick; w != nil {
		out = s.u.Stated(w.Now)
		switch {
		case s.onlyAsSet(n):
			good = asSet
		case w.Tool != nil:
			good = s.u.Window(w.Tool[0], w.Tool[1])
		case !n.open:
			good = "none"
		}
	}
	return layout.Row{Cells: []string{fmt.Sprintf("T%d", n.number), name, kind, wide, out, good, lengths.print(n.lpr)}}
}

// asSet stands for a window that was not found to hold even the stick-out as it is, with which all is clear.
const (
	asSet      = "as set"
	asSetMeans = " As set: no other was proven to be."
)

// onlyAsSet reports whether nothing is wrong with a tool as it is set, and yet the window that was proven
// does not hold that stick-out: then of no other is anything known that should be told.
func (s *sheet) onlyAsSet(n *needed) bool {
	const noise = 1e-6
	w := n.stick
	if w.Tool == nil || len(n.notClear) > 0 || w.Now > w.Tool[0]-noise && w.Now < w.Tool[1]+noise {
		return false
	}
	return !slices.ContainsFunc(s.Report.Findings, func(f check.Finding) bool { return f.Tool != nil && *f.Tool == n.number })
}

// aboutTools says what the magazine is to be told, and what else would do.
func (s *sheet) aboutTools(list []needed) {
	var lines []string
	for i := range list {
		n := &list[i]
		if len(n.notClear) > 0 {
			lines = append(lines, fmt.Sprintf("T%d: %s", n.number, strings.Join(n.notClear, ", ")))
		}
		if g := n.magazine; g != nil && (g.Reason != "" || g.Verdict != check.Clear) {
			lines = append(lines, fmt.Sprintf("T%d in the magazine, %s: %s", n.number, g.Verdict, s.words(g.Reason)))
		}
		if n.stick != nil && len(n.notClear) > 0 && len(n.stick.Others) > 0 {
			lines = append(lines, fmt.Sprintf("instead of T%d would do: %s", n.number, strings.Join(n.stick.Others, ", ")))
		}
	}
	if len(lines) > 0 {
		s.flow.Bullets(lines)
	}
}

// keyed is how the control counts what is keyed in.
type keyed struct {
	unit     geom.Unit
	decimals int
}

// keyed says how the control counts; where that is not known, as the pages do.
func (s *sheet) keyed() keyed {
	if o := s.Report.Offsets; o != nil {
		if unit, err := geom.ParseUnit(o.Unit); err == nil {
			return keyed{unit, o.Decimals}
		}
	}
	if s.inches() {
		return keyed{geom.Inch, 4}
	}
	return keyed{geom.Millimetre, 3}
}

// print prints a length as it is keyed in.
func (k keyed) print(mm float64) string { return text.Keyed(mm/float64(k.unit), k.decimals) }
