package text

import (
	"math"
	"strconv"
	"strings"

	"gridswing/machine/check"
)

// noise is what float64 arithmetic may leave of a length that is a round
// number, in hundredths of a mm.
const noise = 1e-6

// down prints a length in mm, rounded down to 0.01 mm.
func down(mm float64) string { return fixed(math.Floor(mm*100+noise)/100, 2) }

// up prints a length in mm, rounded up to 0.01 mm.
func up(mm float64) string { return fixed(math.Ceil(mm*100-noise)/100, 2) }

// demanded prints a length that a file states: as short as it is there.
func demanded(mm float64) string { return short(math.Ceil(mm*100-noise)/100, 2) }

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

// positions prints where axes stand: "A 92.50 deg, C 41.00 deg".
func positions(at []check.Position) string {
	var parts []string
	for _, p := range at {
		parts = append(parts, p.Axis+" "+fixed(p.Value, 2)+" "+p.Unit)
	}
	return strings.Join(parts, ", ")
}

// ranges prints stretches of axes, those of one axis together:
// "A 88 to 110 deg; C 0 to 35 and 200 to 360 deg". One without length is a
// position: "Z at 550 mm".
func ranges(list []check.Range) string {
	var parts []string
	for i := 0; i < len(list); {
		axis, unit := list[i].Axis, list[i].Unit
		var of []string
		at := ""
		for ; i < len(list) && list[i].Axis == axis; i++ {
			if list[i].From == list[i].To {
				at = "at "
			}
			of = append(of, stretch(&list[i]))
		}
		if len(of) > 1 {
			at = ""
		}
		parts = append(parts, axis+" "+at+strings.Join(of, " and ")+" "+unit)
	}
	return strings.Join(parts, "; ")
}

func stretch(r *check.Range) string {
	if r.From == r.To {
		return short(r.From, 2)
	}
	return short(r.From, 2) + " to " + short(r.To, 2)
}
