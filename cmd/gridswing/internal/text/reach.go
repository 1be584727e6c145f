package text

import (
	"fmt"
	"strings"

	"gridswing/machine/check"
)

// reached says in the summary how many operations and features were looked at, and
// early what is most often wrong: that Z home is too low to index.
func reached(r *check.Report) (lines []Line) {
	if r.Reach == nil {
		return nil
	}
	if !r.Swung() {
		lines = append(lines, Line{"Only the operations were looked at, not whether the setup swings clear: \"gridswing check\" looks at both.", true})
	}
	counts, features := map[check.Verdict]int{}, 0
	for i := range r.Reach.Operations {
		counts[r.Reach.Operations[i].Verdict]++
		features += len(r.Reach.Operations[i].Features)
	}
	n, out := len(r.Reach.Operations), len(LeftOut(r))
	words := ""
	if out > 0 {
		words = fmt.Sprintf("%s, %s left out", plural(n+out, "operation"), ofThem(out, n+out))
	}
	if n > 0 {
		looked := fmt.Sprintf("%s with %s looked at", plural(n, "operation"), plural(features, "feature"))
		if out > 0 {
			looked = fmt.Sprintf("; %d with %s looked at", n, plural(features, "feature"))
		}
		words += strings.Replace(Tally(counts, n), fmt.Sprintf("%d looked at", n), looked, 1)
	}
	if words != "" {
		lines = append(lines, Line{Words: words + "."})
	}
	if low := TooLow(r.Reach); len(low) > 0 {
		more := ""
		if len(low) > 1 {
			more = fmt.Sprintf("; and %s", plural(len(low)-1, "more index move"))
		}
		lines = append(lines, Line{low[0] + more + ".", true})
	}
	return lines
}

// ofThem words a part of some: "1 of them", "all of them".
func ofThem(part, all int) string {
	switch {
	case part < all:
		return fmt.Sprintf("%d of them", part)
	case all == 1:
		return "it is"
	}
	return "all of them"
}

// between writes what was found between the operations: index moves, tool changes, rapid
// moves, the magazine.
func (p *page) between(r *check.Reach) {
	p.indexMoves(r)
	p.otherMoves(r, check.ChangeMove, "Tool changes")
	p.otherMoves(r, check.RapidMove, "Rapid moves")
	p.magazine(r)
}
