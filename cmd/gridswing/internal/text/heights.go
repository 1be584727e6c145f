package text

import (
	"fmt"
	"io"
	"strings"

	"gridswing/cmd/gridswing/internal/terminal"
	"gridswing/machine/check"
	"gridswing/machine/check/choose"
)

// Heights writes which heights a spacer may have, and where and why others fail; and which
// stacks that can be had, lowest first, are as high as some of them.
func Heights(w io.Writer, look terminal.Look, h *choose.Heights, stock ...choose.Candidate) error {
	p := &page{w: w, look: look}
	verdict, words := heightsHead(h)
	p.wrapped("", 0, p.verdict(verdict)+": "+p.bold(h.Setup)+", "+words)
	if h.Interrupted {
		p.wrapped("", 3, p.bold("Interrupted: what was not looked at is unproven."))
	}
	if len(h.NotModelled) > 0 {
		p.wrapped("", 3, "Not modelled and not declared absent, so that nothing is proven of any height: "+strings.Join(h.NotModelled, ", ")+".")
	}
	p.wrapped("", 3, heightsMeaning(h))
	p.wrapped("", 3, fmt.Sprintf("Machine %s, setup file %s", h.Machine, h.File))
	p.heading(fmt.Sprintf("Heights of a spacer in place of %s, from %s to %s mm", h.Place, Demanded(h.From), Demanded(h.To)))
	t := &table{head: []string{"from", "to", "", "verdict", "looked at", "why"}, wraps: 2, indent: 3}
	for i := range h.Stretches {
		t.rows = append(t.rows, p.stretch(&h.Stretches[i]))
	}
	p.table(t)
	p.wrapped("", 3, "Heights in mm. Looked at: the height of which the reason is told.")
	p.stock(h, stock)
	p.list("What this rests on", append(heightNotes(h), h.Notes...))
	p.heading("Caution")
	for _, c := range h.Caution {
		p.wrapped("", 3, c)
	}
	return p.err
}

// heightsHead says in one line which heights are good; where none is, with the verdict of the
// least bad.
func heightsHead(h *choose.Heights) (check.Verdict, string) {
	var good []string
	least := check.Contact
	for i := range h.Stretches {
		st := &h.Stretches[i]
		if st.Good() {
			good = append(good, goodEnds(st))
		}
		if least.Worse(st.Verdict) {
			least = st.Verdict
		}
	}
	const most = 4 // that are told in the head
	switch n := len(good); {
	case n == 0 && h.Interrupted:
		return check.Unproven, "no height of a spacer in place of " + h.Place + " is known yet that meets every demand"
	case n == 0:
		return least, "no height of a spacer in place of " + h.Place + " is proven to meet every demand"
	case n > most:
		good = append(good[:most], fmt.Sprintf("%d more", n-most))
	}
	return check.Clear, "a spacer in place of " + h.Place + " may be " + strings.Join(good, ", or ") + " high"
}

// goodEnds prints the ends of a good stretch, each rounded into it.
func goodEnds(st *choose.HeightStretch) string {
	if st.From == st.To {
		return Demanded(st.From) + " mm"
	}
	return fmt.Sprintf("%s to %s mm", goodFrom(st.From), goodTo(st.To))
}

// goodFrom prints a height from which on others are good, rounded up to 0.01 mm; goodTo one up to
// which, rounded down.
func goodFrom(mm float64) string { return trimmed(Up(mm)) }

func goodTo(mm float64) string { return trimmed(Down(mm)) }

// trimmed takes needless zeros off.
func trimmed(number string) string { return strings.TrimRight(strings.TrimRight(number, "0"), ".") }

// heightsMeaning says what the answer is worth.
func heightsMeaning(h *choose.Heights) string {
	now := ""
	if h.Now != nil {
		now = fmt.Sprintf("What stands there now is %s mm high. ", short(*h.Now, 2))
	}
	if h.Lowest == nil {
		return now + "Heights that fail were looked at one by one, no farther apart than 1 mm."
	}
	begins := ""
	if *h.Lowest == h.From {
		begins = ", where the range begins: lower ones may be good, too"
	}
	return fmt.Sprintf("The lowest is %s mm%s. %sEvery height of a good stretch is proven to meet every demand that was looked at, of the models given. "+
		"Heights that fail were looked at one by one, no farther apart than 1 mm: a good one in between may have been missed.", goodFrom(*h.Lowest), begins, now)
}

// stretch is the line of one stretch.
func (p *page) stretch(st *choose.HeightStretch) row {
	r := row{cells: []string{short(st.From, 2), short(st.To, 2), st.State, p.verdict(st.Verdict), missing}, last: st.Reason}
	if st.Good() {
		r.cells[0], r.cells[1] = goodFrom(st.From), goodTo(st.To)
		if st.From == st.To {
			r.cells[0], r.cells[1] = Demanded(st.From), Demanded(st.To)
		}
	}
	if st.At != nil {
		r.cells[4] = short(*st.At, 2)
	}
	return r
}

// heightNotes says what was looked at and what was not.
func heightNotes(h *choose.Heights) []string {
	return []string{
		fmt.Sprintf("looked at: %s; not looked at: %s", strings.Join(h.Concerns, ", "), strings.Join(h.Unlooked, ", ")),
		fmt.Sprintf("%s by themselves and %s as a whole; ends are found to %s mm", plural(h.Looked.Heights, "height"), plural(h.Looked.Stretches, "range"), Demanded(h.Resolution)),
	}
}
