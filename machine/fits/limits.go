package fits

import (
	"math"
	"strconv"
)

// Limits are the limits of size of a hole or a shaft.
type Limits struct {
	Nominal float64 // mm
	Class   string  // "H7"
	// Lower and Upper are the deviations from the nominal size, mm: the tabulated whole
	// or half micrometres, to the nearest float64.
	Lower, Upper float64
}

// Least is the lower limit of size, mm.
func (l Limits) Least() float64 { return mm(1e3 * (l.Nominal + l.Lower)) }

// Most is the upper limit of size, mm.
func (l Limits) Most() float64 { return mm(1e3 * (l.Nominal + l.Upper)) }

// String writes the designation: "16 H7".
func (l Limits) String() string {
	return strconv.FormatFloat(l.Nominal, 'f', -1, 64) + " " + l.Class
}

// mm turns micrometres into mm, rounded to 1e-9 mm: sums and differences of decimal
// numbers are the float64 nearest to a decimal number again.
func mm(um float64) float64 { return math.Round(um*1e6) / 1e9 }

// Clearance is the diametral clearance of a shaft in a hole, mm; negative: interference.
type Clearance struct {
	Least, Most float64
}

// Between returns the clearance of a shaft in a hole. Their nominal sizes may differ.
func Between(hole, shaft Limits) Clearance {
	return Clearance{
		Least: mm(1e3 * (hole.Least() - shaft.Most())),
		Most:  mm(1e3 * (hole.Most() - shaft.Least())),
	}
}
