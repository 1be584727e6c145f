package text

import (
	"fmt"
	"strings"

	"gridswing/machine/check"

	"github.com/golang/geo/r3"
)

// question says in words what a pair was asked.
func question(f *check.Finding) string {
	switch f.Question {
	case check.Rest:
		return "standing still"
	case check.Swing:
		return "while the rotary axes move"
	case check.Index:
		return "against the spindle side, while the rotary axes move"
	}
	for _, r := range f.Over {
		if r.Unit == "deg" {
			return "while the table and the rotary axes move"
		}
	}
	return "while the table moves"
}

// finding writes one pair that is not clear.
func (p *page) finding(number int, f *check.Finding) {
	p.line("%2d %s: %s and %s", number, p.verdict(f.Verdict), p.bold(f.Bodies[0]), p.bold(f.Bodies[1]))
	if f.Reason != "" {
		p.field("because", f.Reason)
	}
	if len(f.Where) > 0 {
		p.field("happens in", ranges(f.Where))
	}
	if len(f.At) > 0 {
		p.field(placeName(f), positions(f.At))
	}
	if a, b, ok := f.Witness(); ok {
		p.field("point", point(a.Add(b).Mul(0.5)))
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

// point prints a place to 0.1 mm, as far as a picture or a rule can follow.
func point(v r3.Vector) string {
	return fmt.Sprintf("X %s, Y %s, Z %s mm", fixed(v.X, 1), fixed(v.Y, 1), fixed(v.Z, 1))
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
	words := question(f)
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

// briefly writes one pair that is not clear in a line or two.
func (p *page) briefly(f *check.Finding) {
	words := fmt.Sprintf("%s: %s and %s", f.Verdict, f.Bodies[0], f.Bodies[1])
	switch {
	case f.Reason != "":
		words += ": " + f.Reason
	case len(f.Where) > 0:
		words += ", at " + ranges(f.Where)
	case len(f.At) > 0:
		words += ", at " + positions(f.At)
	}
	p.wrapped("   - ", 5, words)
}
