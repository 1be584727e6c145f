package text

import (
	"fmt"
	"strings"

	"gridswing/machine/check"
)

// questions says what a pair was asked.
var questions = map[string]string{
	check.Rest:     "standing still",
	check.Swing:    "while the rotary axes move",
	check.Overhang: "while the table and the rotary axes move",
	check.Index:    "with the spindle where it may stand while the rotary axes move",
}

// finding writes one pair that is not clear.
func (p *page) finding(number int, f *check.Finding) {
	p.line("%2d %s: %s and %s", number, p.verdict(f.Verdict), p.bold(f.Bodies[0]), p.bold(f.Bodies[1]))
	if f.Reason != "" {
		p.field("because", f.Reason)
	}
	if len(f.Where) > 0 {
		p.field("concerned", ranges(f.Where))
	}
	if at := place(f); at != "" {
		p.field(placeName(f), at)
	}
	if c := clearance(f); c != "" {
		p.field("clearance", c)
	}
	if f.Nominal != nil && f.Smallest != nil {
		p.field("as drawn", fmt.Sprintf("%s mm, from which location uncertainty and chord error take up to %s mm",
			down(*f.Nominal), up(f.Uncertainty)))
	}
	if f.DemandReason != "" {
		p.field("demanded", f.DemandReason)
	}
	p.field("looked at", lookedAt(f))
}

func placeName(f *check.Finding) string {
	if f.Verdict == check.Contact {
		return "for example"
	}
	return "nearest"
}

// place says at which axis positions and at which point of the machine.
func place(f *check.Finding) string {
	at := positions(f.At)
	a, b, ok := f.Witness()
	if !ok {
		return at
	}
	m := a.Add(b).Mul(0.5)
	point := fmt.Sprintf("X%s Y%s Z%s mm from the machine's zero", fixed(m.X, 1), fixed(m.Y, 1), fixed(m.Z, 1))
	if at == "" {
		return point
	}
	return at + "; there at " + point
}

// clearance says what is proven, what was met, what was asked for.
func clearance(f *check.Finding) string {
	if f.Verdict == check.Contact || f.Verdict == check.OverTravel {
		return ""
	}
	var parts []string
	switch {
	case f.Proven != nil && *f.Proven > 0:
		parts = append(parts, "proven to be at least "+down(*f.Proven)+" mm")
	default:
		parts = append(parts, "nothing proven")
	}
	if f.Smallest != nil {
		parts = append(parts, "smallest met "+down(*f.Smallest)+" mm")
	}
	parts = append(parts, "demanded "+demanded(f.Demand)+" mm")
	return strings.Join(parts, ", ")
}

func lookedAt(f *check.Finding) string {
	words := questions[f.Question]
	if len(f.Over) > 0 {
		words += ": " + ranges(f.Over)
	}
	return words
}

// near writes one clear pair in a line or two.
func (p *page) near(f *check.Finding) {
	words := fmt.Sprintf("%s and %s", f.Bodies[0], f.Bodies[1])
	if at := positions(f.At); at != "" {
		words += " at " + at
	}
	length := "?"
	switch {
	case f.Smallest != nil:
		length = down(*f.Smallest)
	case f.Proven != nil:
		length = down(*f.Proven)
	}
	words += " (demanded " + demanded(f.Demand) + " mm"
	if f.DemandReason != "" {
		words += ": " + f.DemandReason
	}
	p.wrapped(fmt.Sprintf("%9s mm", length), 14, words+")")
}
