package text

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"gridswing/machine/check"
	"gridswing/machine/check/choose"
)

const (
	fewFailing = 16 // so many are told each by itself
	mostNamed  = 6  // of more that fail for one reason, so many are named
)

// reasonGroup is candidates that fail for one reason.
type reasonGroup struct {
	first   *choose.Looked
	members []*choose.Looked
}

// failing tells what fails and why.
func (p *page) failing(d *candidates) {
	var list []*choose.Looked
	for i := range d.list {
		if l := &d.list[i]; fails(l) && !(d.recommended() == nil && slices.Contains(d.best, i)) {
			list = append(list, l)
		}
	}
	if len(list) == 0 {
		return
	}
	if len(list) <= fewFailing || p.full {
		p.heading("Not good")
		t := &table{head: []string{d.thing, "verdict", "why"}, wraps: 0, indent: 3}
		for _, l := range list {
			t.rows = append(t.rows, row{cells: []string{named(l), p.failure(l)}, last: reason(l)})
		}
		p.table(p.unrepeated(t))
		p.levels(d, list)
		p.orWorse(list)
		return
	}
	p.heading("Not good, by what is wrong (--full lists each)")
	several := false
	for _, g := range grouped(list) {
		p.wrapped("   - ", 5, fmt.Sprintf("%s, %s: %s", p.failure(g.first), plural(len(g.members), d.thing), reason(g.first)))
		p.wrapped("", 5, g.names())
		several = several || len(g.members) > 1
	}
	if several {
		p.wrapped("", 3, "Where there are several, the words are about the first.")
	}
	p.levels(d, list)
	p.orWorse(list)
}

// unrepeated says of lines that end with the same long words as the one above only that they do,
// but for a page in full.
func (p *page) unrepeated(t *table) *table {
	const long = 60
	above := ""
	for i := range t.rows {
		last := t.rows[i].last
		if last == above && len(last) > long && !p.full {
			t.rows[i].last = "the same"
		}
		above = last
	}
	return t
}

// levels says what is meant by the names of what stands in a stack, where a reason has one.
func (p *page) levels(d *candidates, list []*choose.Looked) {
	second := d.stacked + " 2"
	if d.stacked != "" && slices.ContainsFunc(list, func(l *choose.Looked) bool { return len(l.Parts) > 1 && strings.Contains(l.Reason, second) }) {
		p.wrapped("", 3, "What is called "+second+" is the second of a stack, from below.")
	}
}

// doesNotFit is told instead of a verdict of what cannot be put together.
const doesNotFit = "does not fit"

// failure is the verdict of a candidate that is no good, in a word or two.
func (p *page) failure(l *choose.Looked) string {
	if l.Faulty {
		return doesNotFit
	}
	return p.verdict(l.Verdict)
}

// reason says why a candidate is no good; of what does not fit for several reasons the first.
func reason(l *choose.Looked) string {
	first, _, _ := strings.Cut(l.Reason, "\n")
	return first
}

// orWorse says what the verdict of one is worth that was given up.
func (p *page) orWorse(list []*choose.Looked) {
	if slices.ContainsFunc(list, func(l *choose.Looked) bool { return l.GivenUp != "" }) {
		p.wrapped("", 3, "What is no good for one reason was not asked for others: it may be worse.")
	}
}

// fails reports whether a candidate is known not to meet every demand.
func fails(l *choose.Looked) bool {
	return !l.Good() && (l.GivenUp == "" || l.Verdict != check.Unproven || l.Reason != "")
}

// grouped puts those together that fail for one reason, most of them first.
func grouped(list []*choose.Looked) (groups []reasonGroup) {
	at := map[string]int{}
	for _, l := range list {
		key := reasonKey(l)
		i, known := at[key]
		if !known {
			i = len(groups)
			at[key] = i
			groups = append(groups, reasonGroup{first: l})
		}
		groups[i].members = append(groups[i].members, l)
	}
	slices.SortStableFunc(groups, func(a, b reasonGroup) int { return len(b.members) - len(a.members) })
	return groups
}

// reasonKey is equal for what fails for one reason.
func reasonKey(l *choose.Looked) string {
	if l.Faulty {
		where, _, _ := strings.Cut(l.Reason, ": found ") // holes are named behind it
		return where
	}
	key := l.Verdict.String() + "\n"
	if j := decisive(l); j != nil {
		return key + j.Concern + "\n" + findingKey(j.Worst)
	}
	return key + numberForm.ReplaceAllString(l.Reason, "0")
}

// decisive is the concern that tells the reason, nil where none does.
func decisive(l *choose.Looked) *check.Judged {
	for i := range l.Judged {
		if j := &l.Judged[i]; j.Worst != nil && j.Verdict == l.Verdict && j.Worst.Short() == l.Reason {
			return j
		}
	}
	return nil
}

// findingKey is equal for the same bodies, with the same tool or not, wherever the axes stand.
func findingKey(f *check.Finding) string {
	if f.Bodies[1] == "" {
		return numberForm.ReplaceAllString(f.Short(), "0")
	}
	return level.ReplaceAllString(f.Bodies[0], "$2") + "\n" + level.ReplaceAllString(f.Bodies[1], "$2")
}

// level is the number of a component in a stack: whichever it is, the reason is the same.
var level = regexp.MustCompile(`( [0-9]+)(/|$)`)

// numberForm is a number that is no part of a name such as T3 or B2.
var numberForm = regexp.MustCompile(`[+-]?\b[0-9]+(\.[0-9]+)?\b`)

// names lists the members, or some of them.
func (g *reasonGroup) names() string {
	var list []string
	for _, l := range g.members[:min(mostNamed, len(g.members))] {
		list = append(list, l.Name)
	}
	words := strings.Join(list, " | ")
	if more := len(g.members) - len(list); more > 0 {
		words += fmt.Sprintf(" | and %d more", more)
	}
	return words
}

// unlooked says of what was not looked at to the end why not, and how it stands now if
// that is among it.
func (p *page) unlooked(d *candidates) {
	var reasons []string
	count := map[string]int{}
	var now *choose.Looked
	for i := range d.list {
		l := &d.list[i]
		if l.GivenUp == "" || fails(l) {
			continue
		}
		if count[l.GivenUp]++; count[l.GivenUp] == 1 {
			reasons = append(reasons, l.GivenUp)
		}
		if l.Present {
			now = l
		}
	}
	if len(reasons) == 0 {
		return
	}
	hint := " (--all looks at them)"
	if d.interrupted {
		hint = ""
	}
	p.heading("Not looked at to the end" + hint)
	for _, r := range reasons {
		p.wrapped("   - ", 5, fmt.Sprintf("%d: %s", count[r], r))
	}
	if now != nil {
		p.wrapped("   - ", 5, "among them how it stands now, "+now.Name)
	}
}
