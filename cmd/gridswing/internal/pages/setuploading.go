package pages

import (
	"fmt"
	"strings"

	"gridswing/cmd/gridswing/internal/text"
	"gridswing/machine/check"
	"gridswing/machine/check/changeover"
)

// loadingOrder sets what is done to get the setup onto the empty machine, with boxes to tick.
func (s *sheet) loadingOrder() {
	if s.Loading == nil {
		s.loadingList()
		return
	}
	plan := s.Loading
	s.section("Set up, in this order", 60)
	s.flow.Text(s.aboutWays())
	for i := range plan.Steps {
		st := &plan.Steps[i]
		s.flow.Keep(func() { s.loadingStep(st) })
	}
}

// aboutWays says what the verdict on the ways is worth, and how long it takes.
func (s *sheet) aboutWays() string {
	plan := s.Loading
	words := "From the empty machine, " + plan.Verdict.String() + ". " + text.WaysMeaning(plan)
	for _, fact := range text.ChangeSummary(plan) {
		if fact[0] == "by hand" || fact[0] == "takes" && plan.Minutes != nil {
			words += " " + sentence(fact[0]+": "+fact[1])
		}
	}
	return s.words(words)
}

// lines puts sentences that follow each other on one line where there is room: each box is still
// ticked for one line, and the order of a usual setup stays on one page.
func lines(sentences []string) (list []string) {
	const room = 100 // letters, about
	for _, words := range sentences {
		if n := len(list); n > 0 && len(list[n-1])+1+len(words) <= room {
			list[n-1] += " " + words
			continue
		}
		list = append(list, words)
	}
	return list
}

// loadingStep sets one step: what is moved, how heavy it is and whether its way is clear, what
// to see to, what to do.
func (s *sheet) loadingStep(st *changeover.Step) {
	title := strings.TrimSpace(fmt.Sprintf("%d  %s %s", st.Number, st.Kind, st.Unit))
	if st.Way != nil {
		mass := "mass not known"
		if st.Mass != nil {
			mass = tenth(*st.Mass) + " kg"
			if s.inches() {
				mass = tenth(*st.Mass) + " kg (" + tenth(*st.Mass/pound) + " lb)"
			}
		}
		title += ", " + mass + "; its way: " + st.Way.Verdict.String()
	}
	s.flow.Subheading(title)
	for _, words := range st.Caution {
		s.flow.Strong("Caution: " + s.words(words))
	}
	if st.Way != nil && st.Way.Verdict != check.Clear {
		s.flow.Framed(true, s.wayWords(st))
	}
	s.flow.Ticks(lines(s.all(st.Do)))
}

// wayWords says what is met on a way that is not clear.
func (s *sheet) wayWords(st *changeover.Step) string {
	words := verdictWord(st.Way.Verdict) + "  " + text.WayWords(st.Way)
	for i := range st.Way.Meetings {
		if i == text.MostMeetings {
			words += fmt.Sprintf("; and %d more pairs that are not clear", len(st.Way.Meetings)-i)
			break
		}
		m := &st.Way.Meetings[i]
		words += "; " + m.Verdict.String() + ": " + text.MeetingWords(m)
	}
	return s.words(words)
}

// loadingList sets the order alone, where no ways were looked at.
func (s *sheet) loadingList() {
	order := s.m.Loading.Order
	if f := s.Report.Fastening; f != nil && len(f.Order) > 0 {
		order = f.Order
	}
	if len(order) == 0 {
		return
	}
	s.section("Set up, in this order", 40)
	s.flow.Text("The ways on which things go to their places were not looked at.")
	lines := make([]string, len(order))
	for i, name := range order {
		lines[i] = fmt.Sprintf("%d  put on %s", i+1, name)
	}
	s.flow.Ticks(lines)
}

// sentence begins words with a capital and ends them.
func sentence(words string) string {
	if words == "" {
		return ""
	}
	if words[0] >= 'a' && words[0] <= 'z' {
		words = strings.ToUpper(words[:1]) + words[1:]
	}
	if !strings.HasSuffix(words, ".") {
		words += "."
	}
	return words
}
