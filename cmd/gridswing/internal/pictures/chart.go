package pictures

import (
	"fmt"
	"math"

	"gridswing/machine/check"
	"gridswing/render/chart"
)

// states are the verdicts as the chart knows them.
var states = map[check.Verdict]chart.State{
	check.Contact:    chart.Contact,
	check.OverTravel: chart.OverTravel,
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
		Title:   fmt.Sprintf("Swing of %s: %s", r.Setup, r.Verdict),
		Caption: []string{fmt.Sprintf("%s. Demanded clearance %s mm, location uncertainty taken off.", r.Machine, number(c.Demand))},
		Tilt:    chart.Axis{Name: c.Tilt.Axis, Lo: c.Tilt.From, Hi: c.Tilt.To},
		Columns: c.Columns, Rows: c.Rows, Demand: c.Demand, Cap: c.Cap,
	}
	if c.Rotary != nil {
		s.Rotary = chart.Axis{Name: c.Rotary.Axis, Lo: c.Rotary.From, Hi: c.Rotary.To}
	}
	for i := range c.Cells {
		s.Cells = append(s.Cells, cell(&c.Cells[i]))
	}
	for i := range r.Findings {
		if m, ok := sc.mark(c, i, &r.Findings[i]); ok {
			s.Marks = append(s.Marks, m)
		}
	}
	if len(s.Marks) > 0 {
		s.Caption = append(s.Caption, "Numbers are those of the findings in the report.")
	}
	return s
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
	if i >= closeUps {
		return m, false
	}
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
	for _, p := range f.At {
		ok = ok || p.Axis == c.Tilt.Axis || c.Rotary != nil && p.Axis == c.Rotary.Axis
	}
	return m, ok
}
