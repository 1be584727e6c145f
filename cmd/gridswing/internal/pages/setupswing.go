package pages

import (
	"gridswing/cmd/gridswing/internal/pictures"
	"gridswing/cmd/gridswing/internal/text"
	"gridswing/render/page"
	"gridswing/render/page/layout"
)

// swing sets the clearance over tilt and rotary.
func (s *sheet) swing() {
	list := s.ofKind(pictures.SwingFigure)
	if len(list) == 0 {
		return
	}
	high := 76.0
	if len(s.Report.Findings) > 0 {
		high = 104 // it has more to tell then
	}
	s.section("The swing: clearance over the rotary axes", high+16)
	for _, i := range list {
		s.figure(i, 0, high)
	}
}

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
