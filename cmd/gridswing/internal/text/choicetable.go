package text

import (
	"fmt"
	"io"
	"strings"

	"gridswing/cmd/gridswing/internal/terminal"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/choose"
)

// Table writes which pair of two alternatives to take and why, and a table of all pairs where
// the page is wide enough.
func Table(w io.Writer, look terminal.Look, t *choose.Table, edits []machine.Edit, full bool) error {
	p := &page{w: w, look: look, full: full}
	d := &candidates{
		setup: t.Setup, file: t.File, machine: t.Machine, rule: t.Rule, thing: "combination", about: "of " + t.Rows.What + " and " + t.Columns.What,
		list: t.Cells, best: t.Best, counted: t.Counted, common: t.Common, notModelled: t.NotModelled, interrupted: t.Interrupted, caution: t.Caution, edits: edits,
	}
	if place, ok := strings.CutPrefix(t.Rows.What, "stack at "); ok {
		d.stacked = place
	}
	p.chosenHead(d)
	p.leaves(d)
	p.pairs(t)
	p.bestOf(d)
	p.failing(d)
	p.unlooked(d)
	p.takeOver(d)
	p.cautious(d)
	return p.err
}

const (
	mostRows     = 40 // of a table of pairs
	longRow      = 34 // columns, of what a row is called
	openCell     = "-"
	openCellMean = openCell + " not looked at to the end"
)

// pairs writes a table of all pairs: the share of what is clear, the verdict of what is not.
func (p *page) pairs(t *choose.Table) {
	across, down := &t.Columns, &t.Rows
	cell := t.Cell
	if len(across.Candidates) > len(down.Candidates) {
		across, down = down, across
		cell = func(row, column int) *choose.Looked { return t.Cell(column, row) }
	}
	p.heading("All combinations: " + down.What + " down, " + across.What + " across")
	tab := &table{head: []string{""}, wraps: 0, indent: 3}
	used := 3
	for i := range across.Candidates {
		name := lineName(&across.Candidates[i])
		tab.head = append(tab.head, name)
		used += gap + max(columns(name), len("over-travel"))
	}
	widest := 0
	for i := range down.Candidates {
		widest = max(widest, min(longRow, columns(lineName(&down.Candidates[i]))))
	}
	if used+widest > p.look.Width || len(down.Candidates) > mostRows {
		p.wrapped("", 3, fmt.Sprintf("%d times %d do not go onto this page: --picture draws them, --csv lists them.", len(down.Candidates), len(across.Candidates)))
		return
	}
	open := false
	for i := range down.Candidates {
		r := row{cells: []string{lineName(&down.Candidates[i])}}
		for k := range across.Candidates {
			words := p.pairCell(cell(i, k))
			open = open || words == openCell
			r.cells = append(r.cells, words)
		}
		tab.rows = append(tab.rows, r)
	}
	p.table(tab)
	legend := []string{"a number is the smallest share of a demand that is left, 1 just meets it"}
	if open {
		legend = append(legend, openCellMean)
	}
	p.wrapped("", 3, strings.Join(legend, "; ")+".")
}

// lineName is the name of a row or a column, marked if the setup has it now.
func lineName(c *choose.Candidate) string { return named(&choose.Looked{Candidate: *c}) }

func (p *page) pairCell(l *choose.Looked) string {
	switch {
	case l.Good():
		return Share(l.Share())
	case l.GivenUp != "" && !fails(l):
		return openCell
	case l.Faulty:
		return doesNotFit
	case l.Verdict == check.Tight && l.Tightest != nil && l.GivenUp == "":
		return "tight " + Share(l.Share())
	}
	return p.verdict(l.Verdict)
}
