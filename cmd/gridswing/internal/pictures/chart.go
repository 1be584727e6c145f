package pictures

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gridswing/machine/check"
	"gridswing/render/chart"
)

// states are the verdicts as the chart knows them.
var states = map[check.Verdict]chart.State{
	check.Contact:    chart.Contact,
	check.OverTravel: chart.OverTravel,
	check.Overload:   chart.Overload,
	check.WithinPlay: chart.WithinPlay,
	check.Unproven:   chart.Unproven,
	check.Tight:      chart.Tight,
	check.Clear:      chart.Clear,
}

// chart returns the swing chart of a report that has one, with the findings
// that happen at a position of its axes marked.
func (sc *Scene) chart(r *check.Report) *chart.Swing {
	c := r.Chart
	s := &chart.Swing{
		Title:   fmt.Sprintf("Swing of %s: %s", r.Setup, swingVerdict(r)),
		Caption: sc.chartCaption(r),
		Tilt:    chart.Axis{Name: c.Tilt.Axis, Lo: c.Tilt.From, Hi: c.Tilt.To},
		Columns: c.Columns, Rows: c.Rows, Demand: c.Demand, Cap: c.Cap, Lengths: lengthsOf(sc.lengths),
	}
	if c.Rotary != nil {
		s.Rotary = chart.Axis{Name: c.Rotary.Axis, Lo: c.Rotary.From, Hi: c.Rotary.To}
	}
	for i := range c.Cells {
		s.Cells = append(s.Cells, cell(&c.Cells[i]))
	}
	looked := 0
	for i := range r.Findings {
		if !swings(&r.Findings[i]) || looked == closeUps {
			continue
		}
		looked++
		if m, ok := sc.mark(c, i, &r.Findings[i]); ok {
			s.Marks = append(s.Marks, m)
		}
	}
	if words := numbering(r, len(s.Marks)); words != "" {
		s.Caption = append(s.Caption, words)
	}
	if words := offChart(r); words != "" {
		s.Caption = append(s.Caption, words)
	}
	if r.Verdict.Worse(swingVerdict(r)) {
		s.Caption = append(s.Caption, fmt.Sprintf("The setup is %s for what is not of the swing, and not on this chart.", r.Verdict))
	}
	return s
}

// swingVerdict is the worst of what the swing found. What no finding tells of, such as something that
// is not modelled, counts against it.
func swingVerdict(r *check.Report) check.Verdict {
	swing, all := check.Clear, check.Clear
	for i := range r.Findings {
		f := &r.Findings[i]
		if f.Verdict.Worse(all) {
			all = f.Verdict
		}
		if swings(f) && f.Verdict.Worse(swing) {
			swing = f.Verdict
		}
	}
	if r.Verdict.Worse(all) {
		return r.Verdict
	}
	return swing
}

// numbering says what the marks of a chart mean, and how many findings that
// happen on it have none.
func numbering(r *check.Report, marks int) string {
	unmarked := -marks
	for i := range r.Findings {
		if onChart(r.Chart, &r.Findings[i]) {
			unmarked++
		}
	}
	words := ""
	if marks > 0 {
		words = "Marks are numbered as the findings in the report."
	}
	if unmarked > 0 {
		words += fmt.Sprintf(" Findings without a mark: %d.", unmarked)
	}
	return strings.TrimSpace(words)
}

// chartCaption says what the clearances on the chart are worth.
func (sc *Scene) chartCaption(r *check.Report) []string {
	lines := []string{
		fmt.Sprintf("%s. Demanded clearance %s %s, location uncertainty taken off.", r.Machine, sc.lengths.Stated(r.Chart.Demand), sc.lengths.Name()),
		"Clearances are proven, at least so much, and coarser than those of the report.",
	}
	var stood []string
	for i := range r.Axes {
		if a := &r.Axes[i]; a.SpindleOnly() && a.SpindleAt.From == a.SpindleAt.To {
			stood = append(stood, a.Letter+" "+sc.length(a.SpindleAt.From))
		}
	}
	if len(stood) > 0 {
		slices.SortFunc(stood, check.ByLetter)
		lines[1] += " Spindle side at " + strings.Join(stood, ", ") + " only."
	}
	return lines
}

// mostOffChart is how many findings a caption names.
const mostOffChart = 4

// offChart names the findings that do not depend on the chart's axes, and so are
// not on it; "" if there are none.
func offChart(r *check.Report) string {
	var list []string
	more := 0
	for i := range r.Findings {
		f := &r.Findings[i]
		if onChart(r.Chart, f) || !swings(f) {
			continue
		}
		if len(list) == mostOffChart {
			more++
			continue
		}
		why := "other axes"
		if f.Question == check.Rest {
			why = "stands still"
		} else if !slices.ContainsFunc(f.At, func(p check.Position) bool { return p.Unit == "deg" }) {
			why = "linear axes only"
		}
		list = append(list, fmt.Sprintf("finding %d (%s)", i+1, why))
	}
	if len(list) == 0 {
		return ""
	}
	words := "Not on this chart: " + strings.Join(list, ", ")
	if more > 0 {
		words += fmt.Sprintf(" and %d more", more)
	}
	return words + "."
}

// onChart reports whether a finding is of the swing and depends on an axis of the chart.
func onChart(c *check.Chart, f *check.Finding) bool {
	return swings(f) && slices.ContainsFunc(f.At, func(p check.Position) bool {
		return p.Axis == c.Tilt.Axis || c.Rotary != nil && p.Axis == c.Rotary.Axis
	})
}

// cell translates a cell of the report, whose lengths are nil where they are
// not finite: nothing that could meet, or nothing proven.
func cell(c *check.Cell) chart.Cell {
	out := chart.Cell{State: states[c.Verdict], Upper: math.Inf(1)}
	switch {
	case c.Proven != nil:
		out.Lower = *c.Proven
	case c.Verdict == check.Clear:
		out.Lower = math.Inf(1)
	}
	if c.Smallest != nil {
		out.Upper = *c.Smallest
	}
	return out
}

// mark returns where a finding stands on the chart, if it depends on its axes.
func (sc *Scene) mark(c *check.Chart, i int, f *check.Finding) (m chart.Mark, ok bool) {
	m.Label = fmt.Sprint(i + 1)
	for k := range sc.setup.Axes {
		at := check.PositionOf(&sc.setup.Axes[k], f.Params[k])
		switch {
		case at.Axis == c.Tilt.Axis:
			m.Tilt = at.Value
		case c.Rotary != nil && at.Axis == c.Rotary.Axis:
			m.Rotary = at.Value
		}
	}
	return m, onChart(c, f)
}
