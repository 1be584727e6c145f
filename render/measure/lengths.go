// Package measure writes the lengths of drawings, charts and pictures in the unit of those who read
// them. Inside all lengths are mm.
package measure

import (
	"math"
	"strconv"

	"gridswing/geom"
)

// Lengths writes lengths in a unit, without its name, which is Name. The zero value writes mm.
type Lengths struct {
	Unit geom.Unit // 0: geom.Millimetre
}

func (l Lengths) unit() geom.Unit {
	if l.Unit == 0 {
		return geom.Millimetre
	}
	return l.Unit
}

// Name is the name of the unit: "mm", "inch".
func (l Lengths) Name() string { return l.unit().String() }

// In is a length of mm in the unit, MM one in the unit in mm.
func (l Lengths) In(mm float64) float64 { return mm / float64(l.unit()) }

// MM is the inverse of In.
func (l Lengths) MM(length float64) float64 { return length * float64(l.unit()) }

// Write writes a length to the nearest 0.001 mm, which is more than a mesh keeps of a large one, or
// 0.0001 inch, without needless zeros.
func (l Lengths) Write(mm float64) string { return l.to(mm, 3, 4) }

// Short writes a length to the nearest 0.1 mm or 0.001 inch, without needless zeros.
func (l Lengths) Short(mm float64) string { return l.to(mm, 1, 3) }

func (l Lengths) to(mm float64, decimals, ofInch int) string {
	if l.unit() == geom.Inch {
		decimals = ofInch
	}
	shift := math.Pow10(decimals)
	v := math.Round(l.In(mm)*shift) / shift
	return strconv.FormatFloat(v+0, 'f', -1, 64) // + 0: zero has no sign
}

// Round returns the greatest of ... 0.1, 0.2, 0.5, 1, 2, 5, 10 ... of the unit that is not above a
// length, both in mm: what a bar of the scale is long. Of a length below a millionth of the unit it
// returns that.
func (l Lengths) Round(most float64) float64 {
	best := 1e-6
	for power := -6; power < 12; power++ {
		for _, m := range []float64{1, 2, 5} {
			if v := m * math.Pow10(power); l.MM(v) <= most {
				best = v
			}
		}
	}
	return l.MM(best)
}
