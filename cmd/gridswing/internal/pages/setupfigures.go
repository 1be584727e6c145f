package pages

import (
	"fmt"
	"strings"

	"gridswing/cmd/gridswing/internal/pictures"
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

// figureHigh is how high a figure is at the width of a page, with a caption of a line, mm.
func (s *sheet) figureHigh(i int, most float64) float64 {
	f := &s.Figures[i]
	width := min(pageWidth, most*f.Aspect)
	if f.Width > 0 {
		width = min(width, f.Width)
	}
	return width/f.Aspect + 7
}

// fitted draws a figure to fit into a width and a height, mm.
func (s *sheet) fitted(i int, width, height float64) layout.Figure {
	f := &s.Figures[i]
	width = min(width, height*f.Aspect)
	if f.Width > 0 {
		width = min(width, f.Width) // it is to scale then
	}
	return s.drawnAs(i, width, f.Aspect)
}

// drawnAs draws a figure of a width, mm, and a shape that need not be its own.
func (s *sheet) drawnAs(i int, width, aspect float64) layout.Figure {
	d := drawing{&s.Figures[i], width, width / aspect}
	if s.Setup.drawn[d] == nil && s.err == nil {
		plate := page.NewPlate(d.width*perMillimetre, d.height*perMillimetre)
		if s.err = d.of.Draw(s.ctx, plate); s.err == nil {
			s.keep(d, plate.Drawing(width))
		}
	}
	s.used[i] = true
	return layout.Figure{Drawing: s.Setup.drawn[d], Width: width, Caption: s.caption(i)}
}

// keep keeps a drawing for other documents of the setup.
func (s *sheet) keep(d drawing, made *page.Drawing) {
	if s.Setup.drawn == nil {
		s.Setup.drawn = map[drawing]*page.Drawing{}
	}
	s.Setup.drawn[d] = made
}

// caption is a figure's title with what else is to be said of it.
func (s *sheet) caption(i int) string {
	f := &s.Figures[i]
	words, more := f.Title, f.Words
	if f.Kind == pictures.CloseUpFigure && f.Finding > 0 && len(more) > 0 {
		words, more = fmt.Sprintf("Finding %d", f.Finding), more[len(more)-1:] // which says the rest itself
	}
	if numbers := numbersOf(f); numbers != "" {
		words += ": " + numbers
	}
	for _, line := range more {
		words = strings.TrimSuffix(words, ".") + ". " + s.words(line)
	}
	return words
}

// figure sets a figure by itself; width 0 is that of the page.
func (s *sheet) figure(i int, width, height float64) {
	if width == 0 {
		width = pageWidth
	}
	s.flow.Figure(s.fitted(i, width, height))
}

// inPairs sets figures two to a line.
func (s *sheet) inPairs(list []int, height float64) {
	var figs []layout.Figure
	for _, i := range list {
		figs = append(figs, s.fitted(i, halfWidth, height))
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
