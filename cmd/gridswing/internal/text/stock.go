package text

import (
	"fmt"
	"io"

	"gridswing/cmd/gridswing/internal/terminal"
	"gridswing/machine/check/choose"
)

// Stock writes which stacks that can be had have one of the heights that were looked at; nothing
// if there are none. They are no blocks, so that nothing is proven of them here.
func Stock(w io.Writer, look terminal.Look, h *choose.Heights, stock []choose.Candidate) error {
	if len(stock) == 0 {
		return nil
	}
	p := &page{w: w, look: look}
	p.heading("Stacks of the catalogue within these heights")
	t := &table{head: []string{"stack", "a block of its height"}, wraps: 0, indent: 3}
	for i := range stock {
		words := "not looked at"
		for k := range h.Stretches {
			s := &h.Stretches[k]
			if s.From <= stock[i].Height && stock[i].Height <= s.To {
				words = p.verdict(s.Verdict)
				if s.Good() {
					break // what is at the end of two is good if one is
				}
			}
		}
		t.rows = append(t.rows, row{cells: []string{stock[i].Name, words}})
	}
	p.table(t)
	p.wrapped("", 3, fmt.Sprintf("A stack is no block: \"gridswing risers %s --catalogue ...\" looks at stacks themselves.", h.File))
	return p.err
}
