package pages

import (
	"gridswing/cmd/gridswing/internal/text"
	"gridswing/machine"
	"gridswing/render/page"
	"gridswing/render/page/layout"
)

// perMillimetre is how many pixels a drawing has for a mm of the page: what it sets in type of 24
// pixels is 8.5 pt then.
const perMillimetre = 8

// ofKind lists the figures of a kind by their places.
func (s *sheet) ofKind(kind string) (list []int) {
	for i := range s.Figures {
		if s.Figures[i].Kind == kind {
			list = append(list, i)
		}
	}
	return list
}

// drawn draws a figure to fit into a width and a height, mm.
func (s *sheet) drawn(i int, width, height float64) layout.Figure {
	f := &s.Figures[i]
	width = min(width, height*f.Aspect)
	if f.Width > 0 {
		width = min(width, f.Width) // it is to scale then
	}
	plate := page.NewPlate(width*perMillimetre, width/f.Aspect*perMillimetre)
	if s.err == nil {
		s.err = f.Draw(s.ctx, plate)
	}
	s.used[i] = true
	return layout.Figure{Drawing: plate.Drawing(width), Width: width, Height: height, Caption: s.caption(i)}
}

// caption is a figure's title with what else is to be said of it.
func (s *sheet) caption(i int) string {
	words := s.Figures[i].Title
	for _, line := range s.Figures[i].Words {
		words += ". " + s.u.Words(line)
	}
	return words
}

// figure sets a figure by itself; width 0 is that of the page.
func (s *sheet) figure(i int, width, height float64) {
	if width == 0 {
		width = pageWidth
	}
	s.flow.Figure(s.drawn(i, width, height))
}

// inPairs sets figures two to a line.
func (s *sheet) inPairs(list []int, height float64) {
	var figs []layout.Figure
	for _, i := range list {
		figs = append(figs, s.drawn(i, halfWidth, height))
	}
	if len(figs) > 0 {
		s.flow.Figures(figs)
	}
}

// What a page has room for between its margins, mm: all of it, and half.
const (
	pageWidth = 176.0
	halfWidth = 84.0
)

// Lengths is how the pages of a setup print lengths, for what is drawn on them.
func (o Options) Lengths(s *machine.Setup) text.Lengths {
	return text.NewLengths((&Setup{Setup: s}).unit(o.Units), nil)
}
