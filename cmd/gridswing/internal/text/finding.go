package text

import (
	"fmt"
	"slices"
	"strings"

	"gridswing/machine/check"
)

// Question says in words what a pair was asked.
func Question(f *check.Finding) string {
	shifts, turns := moves(f.Over, "mm"), moves(f.Over, "deg")
	if words := toolQuestion(f); words != "" {
		return words
	}
	switch {
	case f.Question == check.Index && turns:
		return "against the spindle side, while the rotary axes move"
	case f.Question == check.Index:
		return "against the spindle side"
	case f.Question == check.Rest || !shifts && !turns:
		return "standing still"
	case shifts && turns:
		return "while the table and the rotary axes move"
	case shifts:
		return "while the table moves"
	}
	return "while the rotary axes move"
}

// moves reports whether an axis of that unit goes anywhere.
func moves(over []check.Range, unit string) bool {
	return slices.ContainsFunc(over, func(r check.Range) bool { return r.Unit == unit && r.From < r.To })
}

// finding writes one pair that is not clear.
func (p *page) finding(number int, r *check.Report, f *check.Finding) {
	words := p.verdict(f.Verdict) + ": " + p.subject(f)
	if f.Question == check.LeftOut {
		words += ", " + Question(f)
	}
	p.wrapped(fmt.Sprintf("%2d ", number), 3, words)
	for _, fact := range FindingFacts(r, f) {
		p.field(fact[0], fact[1])
	}
}

// FindingFacts is what is known of a finding: names and what belongs to them.
func FindingFacts(r *check.Report, f *check.Finding) (facts [][2]string) {
	say := func(name, words string) { facts = append(facts, [2]string{name, words}) }
	if f.Line > 0 {
		say("line", LineOf(f))
	}
	if f.Operation != "" && f.Bodies[1] != "" {
		say("operation", placeOf(f))
	}
	if f.Reason != "" {
		say("because", f.Reason)
	}
	if len(f.Where) > 0 {
		say("happens", "within "+Ranges(f.Where)+" (to steps of "+steps(r, f)+")")
	}
	if len(f.At) > 0 {
		say(placeName(f), Positions(f.At))
	}
	if f.Points != nil {
		say("point", point(r, f))
	}
	if f.PartPoint != nil {
		say("in the part", coordinates(f.PartPoint))
	}
	if f.Depth != nil {
		say("depth", Depth(f))
	}
	if c := clearance(f); c != "" {
		say("clearance", c)
	}
	if f.Nominal != nil && f.Smallest != nil && f.Bodies[1] != "" {
		say("as drawn", fmt.Sprintf("%s mm, from which location uncertainty and chord error take up to %s mm",
			Down(*f.Nominal), Up(f.Uncertainty)))
	}
	if f.DemandReason != "" {
		say("demanded", f.DemandReason)
	}
	for _, cure := range f.Cures {
		say("would help", cure)
	}
	if words := lookedAt(f); f.Line == 0 && f.Question != check.LeftOut && Subject(f) != words {
		say("looked at", words)
	}
	return facts
}

// Subject names what a finding is about: two bodies, or the feature or tool.
func Subject(f *check.Finding) string { return (&page{}).subject(f) }

// subject is Subject in bold.
func (p *page) subject(f *check.Finding) string {
	if f.Question == check.Gouging {
		return p.bold(f.Bodies[0]) + " and the finished surface of " + p.bold(f.Bodies[1])
	}
	if f.Bodies[1] != "" {
		return p.bold(f.Bodies[0]) + " and " + p.bold(f.Bodies[1])
	}
	if f.Bodies[0] != "" {
		return p.bold(f.Bodies[0])
	}
	if place := placeOf(f); place != "" {
		return p.bold(place)
	}
	return p.bold(Question(f))
}

// steps says how finely the range of a contact is told: by the cells of the
// chart, or by the parts of a linear axis.
func steps(r *check.Report, f *check.Finding) string {
	var list units
	for _, of := range f.Where {
		if strings.Contains(" "+list.text.String(), " "+of.Axis+" ") {
			continue
		}
		list.add(of.Axis+" "+short(step(r, f, of.Axis), 2), of.Unit)
	}
	return list.String()
}

// step returns how finely the range of a contact is told along an axis.
func step(r *check.Report, f *check.Finding, axis string) float64 {
	if c := r.Chart; c != nil {
		switch {
		case c.Tilt.Axis == axis:
			return (c.Tilt.To - c.Tilt.From) / float64(c.Columns)
		case c.Rotary != nil && c.Rotary.Axis == axis:
			return (c.Rotary.To - c.Rotary.From) / float64(c.Rows)
		}
	}
	for _, o := range f.Over {
		if o.Axis == axis {
			return (o.To - o.From) / check.LinearParts
		}
	}
	return 0
}

func placeName(f *check.Finding) string {
	switch {
	case f.Line > 0:
		return "at"
	case f.Verdict == check.Contact:
		return "for example"
	case f.Question == check.Travels || f.Question == check.Carrying:
		return "at"
	}
	return "nearest"
}

// point prints where two bodies meet, or the middle between where they are
// nearest, to 0.1 mm, as far as a picture or a rule can follow. It holds with the
// axes that do not matter at home.
func point(r *check.Report, f *check.Finding) string {
	a, b, _ := f.Witness()
	v := a.Add(b).Mul(0.5)
	words := coordinates(&[3]float64{v.X, v.Y, v.Z})
	switch {
	case len(f.At) == 0 && len(r.Axes) > 0:
		words += ", with every axis at home"
	case len(f.At) < len(r.Axes):
		words += ", with the other axes at home"
	}
	if f.Verdict != check.Contact {
		words += "; the middle between the two nearest points"
	}
	return words
}

// coordinates prints a point to 0.1 mm.
func coordinates(v *[3]float64) string {
	return fmt.Sprintf("X %s, Y %s, Z %s mm", fixed(v[0], 1), fixed(v[1], 1), fixed(v[2], 1))
}

// clearance says what is proven, what was found, what was asked for; "" where it is
// no question of clearance.
func clearance(f *check.Finding) string {
	if f.Verdict == check.Contact || f.Verdict == check.OverTravel || f.Demand == 0 {
		return ""
	}
	wanted := "demanded " + Demanded(f.Demand) + " mm"
	if f.Verdict == check.WithinPlay && f.Smallest != nil {
		if *f.Smallest > 0 {
			return "what is left at the worst location is less than can be told, " + wanted
		}
		return "what is left at the worst location: " + Down(*f.Smallest) + " mm, " + wanted
	}
	parts := []string{"nothing proven"}
	if f.Proven != nil && *f.Proven > 0 {
		parts[0] = "proven to be at least " + Down(*f.Proven) + " mm"
	}
	if f.Smallest != nil {
		parts = append(parts, "smallest found "+Down(*f.Smallest)+" mm")
	}
	return strings.Join(append(parts, wanted), ", ")
}

func lookedAt(f *check.Finding) string {
	words := Question(f)
	if len(f.Over) > 0 {
		words += ": " + Ranges(f.Over)
	}
	return words
}

// briefly writes one pair that is not clear in a line or two.
func (p *page) briefly(f *check.Finding) {
	words := f.Verdict.String() + ": " + Subject(f)
	if f.Line > 0 {
		words += fmt.Sprintf(" (line %d)", f.Line)
	}
	if f.Operation != "" && f.Bodies[1] != "" {
		words += " (" + placeOf(f) + ")"
	}
	switch {
	case f.Reason != "":
		words += ": " + f.Reason
	case len(f.Where) > 0:
		words += ", within " + Ranges(f.Where)
	case len(f.At) > 0:
		words += ", at " + Positions(f.At)
	}
	p.wrapped("   - ", 5, words)
}
