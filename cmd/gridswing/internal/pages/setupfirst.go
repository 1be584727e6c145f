package pages

import (
	"fmt"
	"strings"

	"gridswing/cmd/gridswing/internal/pictures"
	"gridswing/cmd/gridswing/internal/text"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/render/page"
	"gridswing/render/page/layout"
)

// first sets the first page: enough to know whether this is the right setup, whether it may be run,
// and what it looks like.
func (s *sheet) first() {
	r := s.Report
	s.flow.NewPage("Setup")
	s.flow.Title(r.Setup, "Setup on "+r.Machine)
	s.flow.Facts(2, s.titleBlock())
	s.verdict()
	s.worst()
	if len(s.Notes) > 0 {
		s.flow.Subheading("Notes")
		s.flow.Bullets(s.Notes)
	}
	s.numbered()
	s.placed()
}

// titleBlock says what this is, and of which inputs it was made.
func (s *sheet) titleBlock() []layout.Fact {
	r := s.Report
	var parts []string
	for i := range s.m.Parts {
		parts = append(parts, s.m.Parts[i].Name)
	}
	facts := []layout.Fact{
		{Name: "Part", Value: orNot(strings.Join(parts, ", "), "none stated"), Strong: len(parts) > 0},
		{Name: "Revision", Value: orNot(s.Revision, "not stated"), Strong: s.Revision != ""},
		{Name: "Machine", Value: r.Machine},
		{Name: "Date of inputs", Value: orNot(s.Date, "not known")},
		{Name: "Setup file", Value: base(r.File)},
		{Name: "Hash of inputs", Value: orNot(s.Hash, "not known")},
	}
	if r.Program != nil {
		facts = append(facts, layout.Fact{Name: "Program", Value: base(r.Program.File)})
	}
	return append(facts, layout.Fact{Name: "Lengths in", Value: s.unitWords()})
}

// unitWords says which unit lengths are in, and where that comes from.
func (s *sheet) unitWords() string {
	if s.u.Name() == "mm" {
		return "mm"
	}
	return "inch, converted from mm (1 inch is 25.4 mm)"
}

func orNot(words, not string) string {
	if words == "" {
		return not
	}
	return words
}

// verdict frames the verdict with what it means, and says where the spindle was while it was found.
func (s *sheet) verdict() {
	r := s.Report
	lines := text.Summary(r)
	title := verdictWord(r.Verdict)
	if r.Verdict != check.Clear {
		title += ": " + notClear
	}
	s.flow.Framed(r.Verdict != check.Clear, title+". "+s.words(lines[0].Words))
	counted := ""
	for _, l := range lines[1:] {
		if l.Strong {
			s.flow.Strong(s.words(l.Words))
			continue
		}
		counted = strings.TrimSpace(counted + " " + sentence(s.words(l.Words)))
	}
	if list := s.absent(); len(list) > 0 {
		counted = strings.TrimSpace(counted + " Declared absent by the files, and so not looked at: " + strings.Join(list, ", ") + ".")
	}
	s.flow.Text(counted)
}

// absent lists what could be hit and is said not to be there: who decides must see it beside the verdict.
func (s *sheet) absent() (list []string) {
	for _, p := range s.Report.Presence {
		if p.State == machine.DeclaredAbsent {
			list = append(list, p.What)
		}
	}
	return list
}

// mostWorst is how many findings, and how many warnings, the first page names.
const mostWorst = 5

// worst names the worst findings, and warnings.
func (s *sheet) worst() {
	r := s.Report
	if n := len(r.Findings); n > 0 {
		var lines []string
		for i := range r.Findings[:min(n, mostWorst)] {
			lines = append(lines, fmt.Sprintf("%d %s: %s", i+1, r.Findings[i].Verdict, s.inShort(&r.Findings[i])))
		}
		s.flow.Subheading("Not clear, worst first")
		s.flow.Bullets(append(lines, more(n, "it is", "they are")...))
	}
	if n := len(r.Warnings); n > 0 {
		s.flow.Subheading("Warnings")
		s.flow.Bullets(append(s.all(r.Warnings[:min(n, mostWorst)]), more(n, "it is", "they are")...))
	}
}

// more says how many lines are left out.
func more(n int, one, many string) []string {
	switch n -= mostWorst; {
	case n <= 0:
		return nil
	case n == 1:
		return []string{"and 1 more: " + one + " told below"}
	}
	return []string{fmt.Sprintf("and %d more: %s told below", n, many)}
}

// numbered sets the picture of all that is placed, on the first page if that can be: as large as
// leaves room for the list below it, or else for itself.
func (s *sheet) numbered() {
	const least, most, caption = 62.0, 135.0, 14.0 // mm
	room := s.flow.Left() - caption
	if beside := room - s.high(func(f flow) { f.Table(s.placedTable()) }) - 6; beside >= least {
		room = beside
	} else if room < least {
		room = 110
	}
	for _, i := range s.ofKind(pictures.NumberedFigure) {
		s.figure(i, 0, min(room, most))
	}
}

// numbersOf says in a line what the numbers in a picture stand for; "" where that is too long for one.
func numbersOf(f *pictures.Figure) string {
	const most = 200 // letters
	var list []string
	for _, n := range f.Numbers {
		list = append(list, fmt.Sprintf("%d %s", n.Number, n.Name))
	}
	if words := strings.Join(list, ", "); len(words) <= most {
		return words
	}
	return ""
}

// placed lists what stands on the machine by its numbers in the picture.
func (s *sheet) placed() {
	if len(s.Report.Placed) > 0 {
		s.flow.Table(s.placedTable())
	}
}

func (s *sheet) placedTable() layout.Table {
	r := s.Report
	numbers := map[string]int{}
	for _, i := range s.ofKind(pictures.NumberedFigure) {
		for _, n := range s.Figures[i].Numbers {
			numbers[n.Name] = n.Number
		}
	}
	t := layout.Table{
		Columns: []layout.Column{{Head: "No.", Align: page.Right}, {Head: "component"}, {Head: "stands on"}, {Head: "size as drawn, " + s.u.Name()}, {Head: s.massHead(), Align: page.Right}},
		Note:    "Numbers as in the picture. Masses are those that are lifted, rounded up.",
	}
	on := map[string]string{}
	if r.Stack != nil {
		for i := range r.Stack.Seats {
			on[r.Stack.Seats[i].Unit] = r.Stack.Seats[i].On
		}
	}
	for i := range r.Placed {
		q := &r.Placed[i]
		no := ""
		if n := numbers[q.Name]; n > 0 {
			no = fmt.Sprint(n)
		}
		size := fmt.Sprintf("%s x %s x %s", s.u.Size(q.Size[0]), s.u.Size(q.Size[1]), s.u.Size(q.Size[2]))
		t.Rows = append(t.Rows, layout.Row{Cells: []string{no, q.Name, on[q.Name], size, s.lifted(q.Name)}})
	}
	return t
}

// lifted is the mass of a component as the loading order has it.
func (s *sheet) lifted(unit string) string {
	if s.Loading != nil {
		for i := range s.Loading.Steps {
			if st := &s.Loading.Steps[i]; st.Unit == unit && st.Mass != nil {
				return s.mass(*st.Mass)
			}
		}
	}
	return "not known"
}
