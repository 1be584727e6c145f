package text

import (
	"fmt"
	"io"
	"math"
	"strings"

	"gridswing/cmd/gridswing/internal/terminal"
	"gridswing/machine/check"
	"gridswing/machine/check/changeover"
)

// Changeover writes a plan: what comes off, stays and goes on, and the steps.
func Changeover(w io.Writer, look terminal.Look, plan *changeover.Plan) error {
	p := &page{w: w, look: look}
	p.wrapped("", 0, p.verdict(plan.Verdict)+": changeover "+p.bold(FromTo(plan)))
	p.wrapped("", 3, WaysMeaning(plan))
	p.wrapped("", 3, "Machine "+plan.Machine+", "+changeFiles(plan))
	p.heading("What is moved")
	for _, f := range ChangeSummary(plan) {
		p.wrapped("   "+f[0], 17, f[1])
	}
	for i := range plan.Steps {
		p.changeStep(plan, &plan.Steps[i])
	}
	p.list("Assumed", plan.Assumed)
	p.list("Stated by the files, not checked", plan.Stated)
	p.heading("Caution")
	for _, c := range plan.Caution {
		p.wrapped("", 3, c)
	}
	return p.err
}

// FromTo names the two setups of a plan.
func FromTo(plan *changeover.Plan) string {
	if plan.From == nil {
		return "from the empty machine to " + plan.To.Setup
	}
	return "from " + plan.From.Setup + " to " + plan.To.Setup
}

func changeFiles(plan *changeover.Plan) string {
	if plan.From == nil {
		return "setup file " + plan.To.File
	}
	return "setup files " + plan.From.File + " and " + plan.To.File
}

// WaysMeaning says what the verdict of a plan is worth.
func WaysMeaning(plan *changeover.Plan) string {
	missing := ""
	if len(plan.NotModelled) > 0 {
		missing = fmt.Sprintf("Not modelled and not declared absent, so that nothing is proven of the whole: %s. ", strings.Join(plan.NotModelled, ", "))
	}
	switch plan.Verdict {
	case check.Contact:
		return missing + "What is moved meets something on its way."
	case check.WithinPlay:
		return missing + "Apart as drawn, but something may be met as it is located: as bad as contact."
	case check.Tight:
		return missing + "Proven not to meet anything on the ways, but closer than demanded."
	case check.Clear:
		return "Each thing that is moved is proven at least the demanded clearance from all that stands there, on the whole of its way, of the models given."
	}
	if missing != "" {
		return missing
	}
	return "It could not be told whether a way is clear: as long as that is so, it counts as not clear."
}

// ChangeSummary says what comes off, stays and goes on, and how long it takes: names and values.
func ChangeSummary(plan *changeover.Plan) (rows [][2]string) {
	list := func(names []string) string {
		if len(names) == 0 {
			return "nothing"
		}
		return strings.Join(names, ", ")
	}
	var stays []string
	for _, s := range plan.Stays {
		words := s.To
		if s.From != s.To {
			words += " (" + s.From + " so far)"
		}
		stays = append(stays, words)
	}
	if plan.From != nil {
		rows = append(rows, [2]string{"comes off", list(plan.Off)}, [2]string{"stays", list(stays)})
	}
	rows = append(rows, [2]string{"goes on", list(plan.On)})
	switch {
	case plan.Minutes != nil && len(plan.Off)+len(plan.On) == 0:
	case plan.Minutes != nil:
		rows = append(rows, [2]string{"takes", short(*plan.Minutes, 1) + " minutes, as the files state"})
	default:
		rows = append(rows, [2]string{"takes", "not known: no minutes are stated to " + strings.Join(plan.NoMinutes, ", ")})
	}
	if plan.ByHand != nil {
		rows = append(rows, [2]string{"by hand", "up to " + short(*plan.ByHand, 1) + " kg, as stated"})
	} else {
		rows = append(rows, [2]string{"by hand", "how much may be lifted is not stated"})
	}
	return rows
}

// changeStep writes one step.
func (p *page) changeStep(plan *changeover.Plan, st *changeover.Step) {
	p.line("")
	p.wrapped("", 0, p.bold(StepTitle(plan, st)))
	for _, f := range StepFacts(plan, st) {
		p.field(f[0], f[1])
	}
	for _, c := range st.Caution {
		p.wrapped("   ", 6, p.styled(yellow, "Caution:")+" "+c)
	}
	for i, words := range st.Do {
		p.wrapped(fmt.Sprintf("   %2d ", i+1), 6, words)
	}
	if st.Way == nil {
		return
	}
	p.wrapped("   way", 15, p.verdict(st.Way.Verdict)+": "+WayWords(st.Way))
	for i := range st.Way.Meetings {
		if i == MostMeetings {
			p.wrapped("", 15, fmt.Sprintf("and %d more pairs that are not clear (--json lists them)", len(st.Way.Meetings)-i))
			break
		}
		m := &st.Way.Meetings[i]
		p.wrapped("", 15, p.verdict(m.Verdict)+": "+MeetingWords(m))
	}
}

// MostMeetings is how many pairs of a step are told, so that it stays on a screen.
const MostMeetings = 4

// StepTitle is "Step 2 of 7: take off vise".
func StepTitle(plan *changeover.Plan, st *changeover.Step) string {
	words := st.Kind
	if st.Unit != "" {
		words += " " + st.Unit
	}
	return fmt.Sprintf("Step %d of %d: %s", st.Number, len(plan.Steps), words)
}

// StepFacts are what is known of a step in figures: names and values.
func StepFacts(plan *changeover.Plan, st *changeover.Step) (rows [][2]string) {
	if st.Way == nil {
		return nil
	}
	mass := "not known"
	if st.Mass != nil {
		mass = Kilograms(*st.Mass)
		if plan.ByHand == nil {
			mass += "; what may be lifted by hand is not stated"
		}
	}
	rows = append(rows, [2]string{"mass", mass})
	if st.Minutes != nil {
		rows = append(rows, [2]string{"time", short(*st.Minutes, 1) + " minutes"})
	}
	if len(st.At) > 0 {
		rows = append(rows, [2]string{"axes at", Positions(st.At)})
	}
	return rows
}

// Kilograms prints a mass to 0.1 kg, rounded up.
func Kilograms(kg float64) string { return fixed(math.Ceil(kg*10-noise)/10, 1) + " kg" }

// WayWords says which way was looked at, and against how much.
func WayWords(w *changeover.Way) string {
	pairs := plural(w.Pairs, "pair") + " of bodies"
	if w.Verdict == check.Clear {
		return fmt.Sprintf("%s; %s, at least %s mm apart but at the seat", w.Words, pairs, Demanded(w.Demand))
	}
	return fmt.Sprintf("%s; %s looked at, %d not clear", w.Words, pairs, len(w.Meetings))
}

// MeetingWords says what is known of two bodies on a way.
func MeetingWords(m *changeover.Meeting) string {
	words := m.Bodies[0] + " and " + m.Bodies[1]
	if m.Smallest != nil {
		words += ", " + Down(*m.Smallest) + " mm left of " + Demanded(m.Demand)
	}
	if m.At != nil {
		words += fmt.Sprintf(", where it is [%s, %s, %s] mm from its place", short(m.At.Shift[0], 1), short(m.At.Shift[1], 1), short(m.At.Shift[2], 1))
		if m.At.Turn != 0 {
			words += " and turned by " + short(m.At.Turn, 1) + " degrees"
		}
	}
	if m.Reason != "" {
		words += ": " + m.Reason
	}
	return words
}
