package pages

import (
	"gridswing/cmd/gridswing/internal/pictures"
	"gridswing/cmd/gridswing/internal/text"
	"gridswing/render/page"
	"gridswing/render/page/layout"
)

// swing sets the clearance over tilt and rotary, and beside it the space that the load sweeps.
func (s *sheet) swing() {
	charts, swept := s.ofKind(pictures.SwingFigure), s.ofKind(pictures.SweptFigure)
	if len(charts) == 0 {
		return
	}
	const high, wide = 76.0, 68.0 // mm: of both, and how wide the space is
	if len(s.Report.Findings) == 0 && len(charts) == 1 && len(swept) == 1 {
		s.section(swingName, high+20)
		s.flow.Figures([]layout.Figure{s.fitted(charts[0], pageWidth-wide-6, high), s.drawnAs(swept[0], wide, wide/high)})
		return
	}
	const least, most, beside = 86.0, 104.0, 36.0 // mm: it has more to tell then; heading and caption
	more := s.flow.Left() - beside
	if more < least || more > most {
		more = most
	}
	s.section(swingName, more+beside)
	for _, i := range charts {
		s.figure(i, 0, more)
	}
}

const swingName = "The swing: clearance over the rotary axes"

// closest sets the clear pairs that come nearest.
func (s *sheet) closest() {
	r := s.Report
	if len(r.Closest) == 0 {
		if words := text.NothingNear(r); words != "" {
			s.section("Closest of what is clear", 30)
			s.flow.Text(s.words(words))
		}
		return
	}
	s.section("Closest of what is clear", 40)
	unit := ", " + s.u.Name()
	t := layout.Table{
		Columns: []layout.Column{{Head: "between"}, {Head: "at least" + unit, Align: page.Right, Least: 14}, {Head: "found" + unit, Align: page.Right, Least: 14}, {Head: "where"}, {Head: "demanded" + unit, Align: page.Right, Least: 16}},
		Note:    "At least: what is proven; found: the least that was found, both with location uncertainty taken off.",
	}
	for i := range r.Closest {
		f := &r.Closest[i]
		t.Rows = append(t.Rows, layout.Row{Cells: []string{f.Bodies[0] + " and " + f.Bodies[1], s.down(f.Proven), s.down(f.Smallest),
			s.words(text.Positions(f.At)), s.u.Stated(f.Demand)}})
		if f.DemandReason != "" {
			t.Rows[i].Cells[4] += ": " + f.DemandReason
		}
	}
	s.flow.Table(t)
}

// rest sets the figures that stand nowhere else: what comes near and is clear, and findings that
// are told in short.
func (s *sheet) rest() {
	var left []int
	for i := range s.Figures {
		if !s.used[i] {
			left = append(left, i)
		}
	}
	if len(left) > 0 {
		s.flow.Space(2)
		s.inPairs(left, 64)
	}
}

// down prints a clearance that may not be known.
func (s *sheet) down(mm *float64) string {
	if mm == nil {
		return dash
	}
	return s.u.Down(*mm)
}
