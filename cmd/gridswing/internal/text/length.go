package text

import (
	"math"

	"gridswing/geom"
)

// Lengths prints lengths, which are mm everywhere inside, in one unit.
type Lengths struct {
	Unit geom.Unit
	// kept are words in which no length is converted, such as names and lines of a program: people
	// look for them as they are.
	kept []string
}

// NewLengths prints lengths in a unit. Of the words to be kept only those count that hold a length.
func NewLengths(unit geom.Unit, kept []string) Lengths {
	l := Lengths{Unit: unit}
	for _, words := range kept {
		if lengthIn.MatchString(words) {
			l.kept = append(l.kept, words)
		}
	}
	return l
}

// Name is the name of the unit: "mm", "inch".
func (l Lengths) Name() string { return l.Unit.String() }

// decimals is to how many a length is printed that is printed with so many in mm.
func (l Lengths) decimals(mm int) int {
	switch {
	case l.Unit != geom.Inch:
		return mm
	case mm < 2:
		return mm + 2
	}
	return 4
}

// in is a length in the unit.
func (l Lengths) in(mm float64) float64 { return mm / float64(l.Unit) }

// Near prints a length to 0.01 mm or 0.0001 inch.
func (l Lengths) Near(mm float64) string { return fixed(l.in(mm), l.decimals(2)) }

// Down prints a length to the same, rounded down: what is left, a clearance.
func (l Lengths) Down(mm float64) string { return l.downTo(mm, l.decimals(2)) }

// Up prints a length to the same, rounded up: what something takes.
func (l Lengths) Up(mm float64) string { return l.upTo(mm, l.decimals(2)) }

// Fine prints a length to 0.001 mm or 0.0001 inch, rounded up: play, and what something is off by.
func (l Lengths) Fine(mm float64) string { return l.upTo(mm, l.decimals(3)) }

// Stated prints a length that a file states, without needless zeros.
func (l Lengths) Stated(mm float64) string {
	if l.Unit != geom.Inch {
		return Demanded(mm)
	}
	return short(l.in(mm), 4)
}

// Size prints how large something is, to the same as Near but without needless zeros.
func (l Lengths) Size(mm float64) string { return short(l.in(mm), l.decimals(2)) }

// Window prints a stretch of lengths that are set by hand, rounded inwards to 0.1 mm or 0.01 inch,
// finer than which nobody sets them: "60 to 90". One that holds none of these is "none", but
// a single length is that length.
func (l Lengths) Window(from, to float64) string {
	if to-from < noise && to-from > -noise {
		return l.Stated(from)
	}
	n := 1
	if l.Unit == geom.Inch {
		n = 2
	}
	from, to = ceil(l.in(from), n), down(l.in(to), n)
	switch {
	case from > to:
		return missing
	case from == to:
		return short(from, n)
	}
	return short(from, n) + " to " + short(to, n)
}

func (l Lengths) downTo(mm float64, decimals int) string {
	return fixed(down(l.in(mm), decimals), decimals)
}

func (l Lengths) upTo(mm float64, decimals int) string {
	return fixed(ceil(l.in(mm), decimals), decimals)
}

// down and ceil round to so many decimals; what float64 arithmetic leaves of a round number does
// not count.
func down(v float64, decimals int) float64 {
	shift := math.Pow10(decimals)
	return math.Floor(v*shift+noise) / shift
}

func ceil(v float64, decimals int) float64 {
	shift := math.Pow10(decimals)
	return math.Ceil(v*shift-noise) / shift
}
