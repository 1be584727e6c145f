package text

import (
	"fmt"
	"io"
	"math"
	"path/filepath"
	"slices"
	"strings"

	"gridswing/cmd/gridswing/internal/terminal"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/choose"
)

// candidates are what the pages of choices and of tables have in common.
type candidates struct {
	setup, file, machine, rule string
	thing                      string // what a candidate is: "stack", "seat", "combination"
	about                      string // "at riser"
	stacked                    string // the place where stacks stand, "" where there are none
	list                       []choose.Looked
	best                       []int
	counted                    choose.Counted
	common                     []check.Margin
	notModelled                []string
	interrupted                bool
	caution                    []string
	edits                      []machine.Edit
}

// Choice writes which candidate to take and why, what it leaves, how the others do, and what to
// write into the files. Of many that fail for one reason some are named, in full all.
func Choice(w io.Writer, look terminal.Look, c *choose.Choice, edits []machine.Edit, full bool) error {
	thing := map[string]string{choose.Seated: "seat", choose.Stacked: "stack"}[c.Kind]
	about := map[string]string{choose.Seated: "of ", choose.Stacked: "at "}[c.Kind] + c.Place
	p := &page{w: w, look: look, full: full}
	d := &candidates{
		setup: c.Setup, file: c.File, machine: c.Machine, rule: c.Rule, thing: thing, about: about, list: c.Candidates, best: c.Best,
		counted: c.Counted, common: c.Common, notModelled: c.NotModelled, interrupted: c.Interrupted, caution: c.Caution, edits: edits,
	}
	if c.Kind == choose.Stacked {
		d.stacked = c.Place
	}
	p.chosenHead(d)
	p.leaves(d)
	p.bestOf(d)
	p.failing(d)
	p.unlooked(d)
	if len(c.Unfit) > 0 {
		p.heading("Cannot stand there")
		for _, u := range c.Unfit {
			p.wrapped("   - ", 5, u.Name+": "+u.Reason)
		}
	}
	p.takeOver(d)
	p.cautious(d)
	return p.err
}

// recommended is the first of the best if it is good, nil if none is.
func (d *candidates) recommended() *choose.Looked {
	if len(d.best) == 0 || !d.list[d.best[0]].Good() {
		return nil
	}
	return &d.list[d.best[0]]
}

// chosenHead says what is recommended and why, and how many there were.
func (p *page) chosenHead(d *candidates) {
	verdict, best := check.Unproven, d.recommended()
	words := "no " + d.thing + " " + d.about + " meets every demand"
	switch {
	case best != nil:
		verdict, words = check.Clear, best.Name
	case d.interrupted:
		words = "no " + d.thing + " " + d.about + " is known yet that meets every demand"
	case len(d.best) > 0:
		verdict = d.list[d.best[0]].Verdict
	}
	p.wrapped("", 0, p.verdict(verdict)+": "+p.bold(d.setup)+", "+words)
	if d.interrupted {
		p.wrapped("", 3, p.bold(fmt.Sprintf("Interrupted: %d of %d were not looked at to the end, what follows is of the others.",
			unfinished(d.list), len(d.list))))
	}
	if len(d.notModelled) > 0 {
		p.wrapped("", 3, "Not modelled and not declared absent, so that nothing is proven of any: "+strings.Join(d.notModelled, ", ")+".")
	}
	for _, words := range []string{d.why(), d.allAlike()} {
		if words != "" {
			p.wrapped("", 3, words)
		}
	}
	p.wrapped("", 3, d.numbers())
	p.wrapped("", 3, fmt.Sprintf("Machine %s, setup file %s", d.machine, d.file))
}

func unfinished(list []choose.Looked) (n int) {
	for i := range list {
		if list[i].GivenUp != "" {
			n++
		}
	}
	return n
}

// leaves says what the recommended one leaves of what is demanded, concern by concern; of
// the least bad, what is wrong with it.
func (p *page) leaves(d *candidates) {
	if len(d.best) == 0 {
		return
	}
	l := &d.list[d.best[0]]
	if l.Good() {
		p.heading("What " + l.Name + " leaves")
	} else {
		p.heading("What was found of " + l.Name)
	}
	t := &table{head: []string{"concern", "verdict", "share", "there is", "needed", "where it is tightest"}, wraps: 0, indent: 3}
	for i := range l.Judged {
		j := &l.Judged[i]
		r := row{cells: []string{j.Concern, p.verdict(j.Verdict), missing, "", ""}}
		if m := j.Margin; m != nil && (j.Verdict == check.Clear || j.Verdict == check.Tight) { // a margin says nothing beside what meets
			r.cells[2], r.cells[3], r.cells[4], r.last = Share(m.Share), thereIs(m), needed(m), m.What
		}
		if j.Worst != nil && (j.Margin == nil || j.Verdict != check.Tight) { // of what is tight the columns tell how much is left
			r.last = j.Worst.Short()
		}
		t.rows = append(t.rows, r)
	}
	p.table(t)
	p.same(d)
	p.wrapped("", 3, "Share: what there is of what is needed, 1 just meets it, from 5 on nobody asks how much more there is; none: nothing is measured.")
}

// same tells what would leave no more or less whatever is chosen.
func (p *page) same(d *candidates) {
	if len(d.common) == 0 {
		return
	}
	p.wrapped("", 3, "The same whatever is chosen, and not counted above:")
	t := &table{head: []string{"concern", "share", "there is", "needed", "where it is tightest"}, wraps: 0, indent: 3}
	for i := range d.common {
		m := &d.common[i]
		t.rows = append(t.rows, row{cells: []string{m.Concern, Share(m.Share), thereIs(m), needed(m)}, last: m.What})
	}
	p.table(t)
}

// thereIs prints what there is, rounded down, and that it may be more where nobody asked.
func thereIs(m *check.Margin) string {
	words := Down(m.Has) + " " + m.Unit
	if m.Share >= check.MostShare {
		return "at least " + words
	}
	return words
}

// needed prints what is demanded; what is worked out is rounded up.
func needed(m *check.Margin) string {
	if words := Demanded(m.Demand); m.Unit == "mm" && len(words) <= len(Up(m.Demand))+1 { // as a file has it, in inches, too
		return words + " " + m.Unit
	}
	return Up(m.Demand) + " " + m.Unit
}

// Share prints a share, rounded down: no more is proven.
func Share(share float64) string {
	if share >= check.MostShare {
		return short(check.MostShare, 2) + "+"
	}
	return fixed(math.Floor(share*100+noise)/100, 2)
}

// bestOf writes a line for each of the best.
func (p *page) bestOf(d *candidates) {
	if len(d.best) < 2 {
		return
	}
	if d.recommended() == nil {
		p.heading("The least bad")
	} else {
		p.heading("The best by the rule \"" + d.rule + "\"")
	}
	tied := d.tied()
	t := &table{head: []string{"", d.thing, "share", "verdict", "where it is tightest"}, wraps: 1, indent: 3}
	if tied {
		t.head = slices.Insert(t.head, 3, "next")
	}
	for rank, i := range d.best {
		l := &d.list[i]
		r := row{cells: []string{fmt.Sprint(rank + 1), named(l), "none", p.verdict(l.Verdict)}, last: l.Reason}
		if l.Tightest != nil && (l.Good() || l.Verdict == check.Tight) { // a share says nothing beside what meets
			r.cells[2] = Share(l.Tightest.Share)
			if r.last == "" {
				r.last = l.Tightest.What
			}
		}
		if tied {
			r.cells = slices.Insert(r.cells, 3, nextShare(l))
		}
		t.rows = append(t.rows, r)
	}
	p.table(p.unrepeated(t))
	if tied {
		p.wrapped("", 3, "Next: the smallest share of the other concerns.")
	}
}

// named is a candidate's name, marked if it is what the setup has now.
func named(l *choose.Looked) string {
	if l.Present {
		return l.Name + " (now)"
	}
	return l.Name
}

// takeOver says what to write into which file.
func (p *page) takeOver(d *candidates) {
	best := d.recommended()
	if best == nil {
		return
	}
	p.heading("To take it over")
	if len(d.edits) == 0 {
		p.wrapped("", 3, "Nothing has to be changed: the files have it so.")
		return
	}
	file := ""
	for _, e := range d.edits {
		if e.File != file {
			file = e.File
			p.wrapped("", 3, filepath.ToSlash(file))
		}
		p.wrapped("", 3, e.Do+":")
		for _, line := range e.Lines {
			p.line("      %s", line)
		}
	}
	p.wrapped("", 3, "Then check it with \"gridswing check\", which says more: pins, screws, what to key in.")
}

func (p *page) cautious(d *candidates) {
	p.heading("Caution")
	for _, c := range d.caution {
		p.wrapped("", 3, c)
	}
}
