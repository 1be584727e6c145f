package pages

import (
	"strings"

	"gridswing/machine/check"
	"gridswing/render/page/layout"
)

// markOf is the mark in front of a row with a verdict, the heaviest for the worst.
func markOf(v check.Verdict) layout.Mark {
	switch v {
	case check.Contact:
		return layout.Square
	case check.OverTravel, check.Overload:
		return layout.Triangle
	case check.WithinPlay:
		return layout.Half
	case check.Tight:
		return layout.Eye
	case check.Clear:
		return layout.Ring
	}
	return layout.Dots
}

// verdictWord is a verdict where it stands by itself.
func verdictWord(v check.Verdict) string { return strings.ToUpper(v.String()) }

// notClear is what a verdict other than clear means for who stands at the machine.
const notClear = "not to be run like this"

// tick is a box to tick, in a table.
const tick = "□"
