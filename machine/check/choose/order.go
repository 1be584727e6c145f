package choose

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"gridswing/machine/check"
)

// candidacy is a candidate while it is looked at, and what is known of it until now.
type candidacy struct {
	Looked
	place int // among all candidates
	// worst and room are the worst verdict and what is left of demands so far. What is found
	// later makes them worse, or leaves them.
	worst check.Verdict
	room  room
	begun int  // how often it was looked at, each time further
	done  bool // it was looked at to the end
	seen  *witness
}

// order compares candidates by a rule, the better one first, by what is known of them.
//
// Everything that is compared is either known of a candidate before it is looked at, or can only
// get worse while it is. So a candidate never moves forward: one that is behind a
// finished one already will be behind it when it is finished, too. That is all that giving
// candidates up rests on. There are no equal ones: the place among all decides last.
type order func(a, b *candidacy) int

// orderOf returns the order of a rule.
func orderOf(rule string) (order, error) {
	var good order
	switch rule {
	case Lowest:
		good = byHeight
	case Roomiest:
		good = byShare
	case Nearest:
		good = byMove
	default:
		return nil, fmt.Errorf("rule %q: expected one of %q", rule, Rules())
	}
	return func(a, b *candidacy) int {
		if a.Faulty != b.Faulty {
			if a.Faulty {
				return 1
			}
			return -1
		}
		switch {
		case a.worst.Worse(b.worst):
			return 1
		case b.worst.Worse(a.worst):
			return -1
		}
		by := byShare
		if a.worst == check.Clear {
			by = good
		}
		return cmp.Or(by(a, b), cmp.Compare(a.place, b.place))
	}, nil
}

// byHeight puts the lowest first, of equally low ones that of fewer parts, then what moves and
// turns least. How much room they leave does not count: stacks of equal height are many.
func byHeight(a, b *candidacy) int {
	return cmp.Or(cmp.Compare(rounded(a.Height), rounded(b.Height)), cmp.Compare(len(a.Parts), len(b.Parts)), movesLess(a, b))
}

// byShare puts that with the most room first. What differs by less than margins are true is no
// reason to move anything.
func byShare(a, b *candidacy) int {
	return cmp.Or(compareRoom(a.room, b.room), byHeight(a, b))
}

// byMove puts that first which moves least, then the roomiest.
func byMove(a, b *candidacy) int { return cmp.Or(movesLess(a, b), byShare(a, b)) }

// movesLess puts that first which moves least, then which turns least.
func movesLess(a, b *candidacy) int {
	return cmp.Or(cmp.Compare(rounded(a.Moved), rounded(b.Moved)),
		cmp.Compare(rounded(math.Abs(a.Turned)), rounded(math.Abs(b.Turned))))
}

// byNeighbour puts those next to each other that are much alike, for what is known of one to
// be of use for the next, where all are looked at anyway.
func byNeighbour(a, b *candidacy) int {
	return cmp.Or(cmp.Compare(a.Turned, b.Turned), cmp.Compare(a.place, b.place))
}

// rounded takes off what float64 arithmetic leaves of a round number, so that what is equally
// high or far compares as equal.
func rounded(x float64) float64 { return math.Round(x*1e6) / 1e6 }

// behind says why a candidate that is good as far as is known is not among the best.
func behind(rule string, best int) string {
	which := "the best one"
	if best > 1 {
		which = fmt.Sprintf("each of the best %d", best)
	}
	switch rule {
	case Lowest:
		return "no lower than " + which
	case Nearest:
		return "no nearer than " + which
	}
	return "leaves no more room than " + which
}

// best returns the places of so many candidates that are looked at to the end, the best
// first: good ones, and only if there is none those that are least bad.
func best(list []*candidacy, by order, most int) []int {
	var done []*candidacy
	for _, c := range list {
		if c.done && !c.Faulty {
			done = append(done, c)
		}
	}
	slices.SortFunc(done, by)
	places := []int{}
	for _, c := range done {
		if len(places) == most || len(places) > 0 && c.worst != check.Clear && done[0].worst == check.Clear {
			break
		}
		places = append(places, c.place)
	}
	return places
}
