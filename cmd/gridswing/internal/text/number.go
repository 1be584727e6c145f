package text

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"gridswing/machine/check"
)

// noise is what float64 arithmetic may leave of a length that is a round
// number, in hundredths of a mm.
const noise = 1e-6

// Down prints a length in mm, rounded down to 0.01 mm.
func Down(mm float64) string { return fixed(floor(mm), 2) }

func floor(mm float64) float64 { return math.Floor(mm*100+noise) / 100 }

// Up prints a length in mm, rounded up to 0.01 mm.
func Up(mm float64) string { return fixed(math.Ceil(mm*100-noise)/100, 2) }

// up3 prints a length in mm, rounded up to 0.001 mm.
func up3(mm float64) string { return fixed(math.Ceil(mm*1000-noise)/1000, 3) }

// Demanded prints a length in mm that a file states: as it is there, but for what
// float64 arithmetic leaves of it, which is beyond the twelfth digit.
func Demanded(mm float64) string {
	digits, err := strconv.ParseFloat(strconv.FormatFloat(mm, 'g', 12, 64), 64)
	if err != nil { // no number of float64 fails to come back
		digits = mm
	}
	return strconv.FormatFloat(digits, 'f', -1, 64)
}

// Keyed prints a value as it is keyed in, with so many decimals.
func Keyed(v float64, decimals int) string { return fixed(v, decimals) }

// fixed prints so many decimals; what rounds to zero has no sign.
func fixed(v float64, decimals int) string {
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Trim(s, "-0.") == "" {
		return strings.TrimPrefix(s, "-")
	}
	return s
}

// short prints at most so many decimals, without needless zeros.
func short(v float64, decimals int) string {
	s := fixed(v, decimals)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}

// Positions prints where axes stand: "X 150.00, Y -125.00 mm, A 92.50 deg".
func Positions(at []check.Position) string { return positionsTo(at, 2) }

// digits is to how many decimals the rotary axes of a position are printed: of one that an axis
// cannot take to more, so that it does not read as the limit.
func digits(v check.Verdict) int {
	if v == check.OverTravel {
		return 3
	}
	return 2
}

func positionsTo(at []check.Position, decimals int) string {
	at = slices.Clone(at)
	slices.SortStableFunc(at, func(a, b check.Position) int { return check.ByLetter(a.Axis, b.Axis) })
	var list units
	for _, p := range at {
		n := decimals
		if n > 2 && rounded(p.Value, n) == rounded(p.Value, 2) {
			n = 2 // the other digits are zeros
		}
		list.add(p.Axis+" "+fixed(shown(p, n), n), p.Unit)
	}
	return list.String()
}

// shown is where a control shows an axis to stand, to so many decimals.
func shown(p check.Position, decimals int) float64 {
	p.Value = rounded(p.Value, decimals)
	return p.Shown()
}

// rounded is the number that is printed with so many decimals.
func rounded(v float64, decimals int) float64 {
	r, err := strconv.ParseFloat(strconv.FormatFloat(v, 'f', decimals, 64), 64)
	if err != nil { // no number of float64 fails to come back
		return v
	}
	return r
}

// Ranges prints stretches of axes, those of one axis together:
// "X -400 to 400 mm, A 88 to 110, C 0 to 35 and 200 to 360 deg". One without
// length is a position: "Z at 550 mm".
func Ranges(of []check.Range) string {
	of = slices.Clone(of)
	slices.SortStableFunc(of, func(a, b check.Range) int { return check.ByLetter(a.Axis, b.Axis) })
	var list units
	for i := 0; i < len(of); {
		axis, first := &of[i], i
		var parts []string
		for ; i < len(of) && of[i].Axis == axis.Axis; i++ {
			parts = append(parts, stretch(&of[i]))
		}
		words := axis.Axis + " "
		if i == first+1 && axis.From == axis.To {
			words += "at "
		}
		list.add(words+strings.Join(parts, " and "), axis.Unit)
	}
	return list.String()
}

// stretch prints a stretch of an axis as a control shows it. One that leads over the end of the
// turn says through what: "270 to 90 through 0".
func stretch(r *check.Range) string {
	near := *r
	near.From, near.To = rounded(r.From, 2), rounded(r.To, 2)
	from, to, through, over := near.Shown()
	switch {
	case from == to && !over:
		return short(from, 2)
	case over:
		return fmt.Sprintf("%s to %s through %s", short(from, 2), short(to, 2), short(through, 2))
	}
	return short(from, 2) + " to " + short(to, 2)
}

// units lists values, the unit said once behind those that share it.
type units struct {
	text strings.Builder
	unit string
}

func (u *units) add(value, unit string) {
	switch {
	case u.unit == "":
	case u.unit == unit:
		u.text.WriteString(", ")
	default:
		u.text.WriteString(" " + u.unit + ", ")
	}
	u.text.WriteString(value)
	u.unit = unit
}

// String returns the list, "" for an empty one.
func (u *units) String() string {
	if u.unit == "" {
		return ""
	}
	return u.text.String() + " " + u.unit
}
