package text

import (
	"fmt"

	"gridswing/machine/check/choose"
)

// mostStock is how many stacks are told that have a good height.
const mostStock = 20

// stock writes which stacks that can be had have a height at which a spacer is good; nothing if
// there are no stacks. They are no blocks, so that nothing is proven of them here.
func (p *page) stock(h *choose.Heights, stock []choose.Candidate) {
	if len(stock) == 0 {
		return
	}
	p.heading("Stacks of the catalogue that have a good height")
	told, good := 0, 0
	for i := range stock {
		if !goodHeight(h, stock[i].Height) {
			continue
		}
		if good++; told < mostStock {
			told++
			p.wrapped("   - ", 5, stock[i].Name)
		}
	}
	switch {
	case good == 0:
		p.wrapped("", 3, fmt.Sprintf("None of %s.", plural(len(stock), "stack")))
		return
	case good > told:
		p.wrapped("   - ", 5, fmt.Sprintf("and %d more", good-told))
	}
	p.wrapped("", 3, "A stack is no block, and nothing is proven of it here: without --between they are looked at themselves.")
}

// goodHeight reports whether a spacer of a height is proven good.
func goodHeight(h *choose.Heights, mm float64) bool {
	for i := range h.Stretches {
		if s := &h.Stretches[i]; s.Good() && s.From <= mm && mm <= s.To {
			return true
		}
	}
	return false
}
