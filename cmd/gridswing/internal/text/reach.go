package text

import (
	"fmt"
	"strings"

	"gridswing/machine/check"
)

// reached says in the summary how many operations and features were looked at, and
// early what is most often wrong: that Z home is too low to index.
func (p *page) reached(r *check.Report) {
	if r.Reach == nil {
		return
	}
	if !r.Swung() {
		p.wrapped("", 3, p.bold("Only the operations were looked at, not whether the setup swings clear: \"gridswing check\" looks at both."))
	}
	counts, features := map[check.Verdict]int{}, 0
	for i := range r.Reach.Operations {
		counts[r.Reach.Operations[i].Verdict]++
		features += len(r.Reach.Operations[i].Features)
	}
	if n := len(r.Reach.Operations); n > 0 {
		words := tally(counts, n)
		words = strings.Replace(words, fmt.Sprintf("%d looked at", n),
			fmt.Sprintf("%s with %s looked at", plural(n, "operation"), plural(features, "feature")), 1)
		p.wrapped("", 3, words+".")
	}
	if low := tooLow(r.Reach); len(low) > 0 {
		more := ""
		if len(low) > 1 {
			more = fmt.Sprintf("; and %s", plural(len(low)-1, "more index move"))
		}
		p.wrapped("", 3, p.bold(low[0]+more+"."))
	}
}

// between writes what was found between the operations: index moves, tool changes, rapid
// moves, the magazine.
func (p *page) between(r *check.Reach) {
	p.indexMoves(r)
	p.otherMoves(r, check.ChangeMove, "Tool changes")
	p.otherMoves(r, check.RapidMove, "Rapid moves")
	p.magazine(r)
}
