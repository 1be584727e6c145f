package pages

import (
	"fmt"
	"strings"

	"gridswing/cmd/gridswing/internal/pictures"
	"gridswing/cmd/gridswing/internal/text"
	"gridswing/machine/check"
	"gridswing/render/page"
	"gridswing/render/page/layout"
)

// mostAtLength is how many findings are told with all that is known of them; of the others there
// is a row each.
const mostAtLength = 24

// findings sets what is not clear, worst first, with close-ups.
func (s *sheet) findings() {
	list := s.Report.Findings
	s.section("Not clear, worst first", 80)
	if words := text.PointsAre(list); words != "" {
		s.flow.Small("The numbers are those of the first page. " + sentence(words))
	}
	short := text.AlsoThere(list)
	for i := 0; i < min(len(list), mostAtLength); {
		shown := []int{i}
		if n := i + 1; s.closeUp(i) >= 0 && n < min(len(list), mostAtLength) && s.closeUp(n) >= 0 {
			shown = append(shown, n)
		}
		s.flow.Keep(func() {
			s.closeUps(shown)
			s.finding(i, short[i])
		})
		for _, n := range shown[1:] {
			s.flow.Keep(func() { s.finding(n, short[n]) })
		}
		i += len(shown)
	}
	s.otherFindings()
}

// closeUps sets the pictures of findings side by side, so high that the pictures and the words of four
// findings fit a page.
func (s *sheet) closeUps(findings []int) {
	const high = 54.0 // mm
	var figs []layout.Figure
	for _, i := range findings {
		if k := s.closeUp(i); k >= 0 {
			figs = append(figs, s.drawnAs(k, halfWidth, halfWidth/high))
		}
	}
	if len(figs) > 0 {
		s.flow.Figures(figs)
	}
}

// closeUp is the picture of a finding, by its place; -1 if there is none.
func (s *sheet) closeUp(finding int) int {
	for _, i := range s.ofKind(pictures.CloseUpFigure) {
		if s.Figures[i].Finding == finding+1 {
			return i
		}
	}
	return -1
}

// finding tells what is known of one; in short where it follows one that is as bad, at the same place.
func (s *sheet) finding(i int, short bool) {
	r := s.Report
	f := &r.Findings[i]
	title := fmt.Sprintf("%d  %s: %s", i+1, f.Verdict, text.Subject(f))
	if f.Question == check.LeftOut {
		title += ", " + text.Question(f)
	}
	s.flow.Subheading(title)
	var facts []layout.Fact
	for _, q := range text.FindingFacts(r, f) {
		if short && q[0] != "depth" && q[0] != "clearance" && q[0] != "would help" {
			continue
		}
		facts = append(facts, layout.Fact{Name: q[0], Value: s.words(q[1])})
	}
	if short {
		facts = append([]layout.Fact{{Name: "line", Value: "the same as before"}}, facts...)
	}
	s.flow.Facts(1, facts)
}

// otherFindings sets a row for each that is not told at length.
func (s *sheet) otherFindings() {
	list := s.Report.Findings
	if len(list) <= mostAtLength {
		return
	}
	t := layout.Table{Columns: []layout.Column{{Head: "No.", Align: page.Right}, {Head: "verdict"}, {Head: "line", Align: page.Right}, {Head: "what"}}}
	for i := mostAtLength; i < len(list); i++ {
		f := &list[i]
		line := ""
		if f.Line > 0 {
			line = fmt.Sprint(f.Line)
		}
		t.Rows = append(t.Rows, layout.Row{Mark: markOf(f.Verdict), Cells: []string{fmt.Sprint(i + 1), f.Verdict.String(), line, s.inShort(f)}})
	}
	s.flow.Subheading("The others, in short")
	s.flow.Table(t)
}

// inShort tells a finding in a few words, what it is about among them.
func (s *sheet) inShort(f *check.Finding) string {
	words := f.Short()
	if f.Bodies[0] != "" && !strings.Contains(words, f.Bodies[0]) {
		words = text.Subject(f) + ": " + words
	}
	return s.words(words)
}
