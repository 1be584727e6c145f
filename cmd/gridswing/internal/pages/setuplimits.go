package pages

import (
	"strings"

	"gridswing/cmd/gridswing/internal/text"
	"gridswing/render/page/layout"
)

// limits sets what all of this rests on, and what was not looked at.
func (s *sheet) limits() {
	r := s.Report
	s.section("What this rests on", 50)
	var facts []layout.Fact
	for _, q := range text.Presence(r) {
		facts = append(facts, layout.Fact{Name: q[0], Value: q[1], Strong: q[0] == notModelled})
	}
	if len(facts) > 0 {
		s.flow.Subheading("What could be hit")
		s.flow.Facts(1, facts)
	}
	var ranges []string
	for _, q := range text.RangesLookedAt(r) {
		ranges = append(ranges, q[0]+" "+q[1])
	}
	s.list("Ranges looked at", ranges)
	s.list("Warnings", r.Warnings)
	s.list("Wrong with tools that no operation uses", r.UnusedTools)
	if r.Program != nil {
		s.list("Assumed of the program", r.Program.Assumed)
	}
	s.list("Assumed", text.Assumed(r))
	stated := r.Stated
	if s.Loading != nil {
		s.list("Assumed of the loading order", s.Loading.Assumed)
		stated = append(stated[:len(stated):len(stated)], s.Loading.Stated...)
	}
	s.list("Stated by the files, not checked", stated)
	s.list("Left to the makers", text.LeftToMakers(r))
	if s.inches() {
		s.flow.Space(2)
		s.flow.Small("All lengths are computed in mm and converted, 1 inch being 25.4 mm; clearances and what is left are rounded down, what is taken up is rounded up. " +
			"Numbers in the control's unit, designations of threads and fits, and names are as they are.")
	}
}

// list sets lines under a name; nothing where there are none.
func (s *sheet) list(name string, lines []string) {
	if len(lines) == 0 {
		return
	}
	s.flow.Subheading(name)
	for _, words := range s.all(gathered(lines)) {
		s.flow.Small("– " + words)
	}
}

// gathered puts lines that follow each other and say the same of different things into one: a job of
// many features has many such.
func gathered(lines []string) (list []string) {
	const is = " is "
	for i := 0; i < len(lines); {
		name, says, found := strings.Cut(lines[i], is)
		names := []string{name}
		for i++; found && i < len(lines); i++ {
			other, same, _ := strings.Cut(lines[i], is)
			if same != says {
				break
			}
			names = append(names, other)
		}
		switch {
		case !found:
			list = append(list, name)
		case len(names) == 1:
			list = append(list, name+is+says)
		default:
			list = append(list, strings.Join(names, "; ")+": each"+is+says)
		}
	}
	return list
}
