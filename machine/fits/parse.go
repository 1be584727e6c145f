package fits

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
)

// Fit is a designation as it is written: of a hole ("16 H7"), of a shaft ("16 g6") or of
// both ("16 H7/g6"). What is not stated is nil.
type Fit struct {
	Hole, Shaft *Limits
}

// Limits are the limits of size of a hole or a shaft.
type Limits struct {
	Nominal float64 // mm
	Class   string  // "H7"
	// Lower and Upper deviation from the nominal size, mm. They are the float64
	// nearest to the tabulated value in whole (JS, js: half) micrometres.
	Lower, Upper float64
}

// Least is the lower limit of size, mm.
func (l Limits) Least() float64 { return micrometres(l.Nominal*1e3 + l.Lower*1e3) }

// Most is the upper limit of size, mm.
func (l Limits) Most() float64 { return micrometres(l.Nominal*1e3 + l.Upper*1e3) }

// String writes the designation: "16 H7".
func (l Limits) String() string {
	return strconv.FormatFloat(l.Nominal, 'f', -1, 64) + " " + l.Class
}

// micrometres turns micrometres into mm, to 0.0001 micrometre: what was a decimal
// number before it was calculated with is the nearest float64 to one again.
func micrometres(um float64) float64 { return math.Round(um*1e4) / 1e7 }

// designation: the size, then one or two classes. That there are no others is for the
// tables to say.
var designation = regexp.MustCompile(`^([0-9]+(?:\.[0-9]+)?) *([A-Za-z]+[0-9]+)(?: */ *([A-Za-z]+[0-9]+))?$`)

// Parse reads a designation of a hole, a shaft or a fit (hole first, as ISO 286-1 writes
// it). The error says what was found, and what there is instead.
func Parse(s string) (Fit, error) {
	m := designation.FindStringSubmatch(s)
	if m == nil {
		hint := ""
		if strings.Contains(s, ",") {
			hint = ", with a decimal point"
		}
		return Fit{}, fmt.Errorf("%q: expected a size in mm and its tolerance class, such as \"16 H7\", \"16 g6\" or \"16 H7/g6\"%s", s, hint)
	}
	nominal, err := strconv.ParseFloat(m[1], 64)
	if err != nil {
		return Fit{}, fmt.Errorf("%q: size %s: expected over 0 to %d mm", s, m[1], largest)
	}
	var fit Fit
	for _, class := range m[2:] {
		if class == "" {
			continue
		}
		l, err := limitsOf(nominal, class)
		if err != nil {
			return Fit{}, fmt.Errorf("%q: %w", s, err)
		}
		hole := isHole(class)
		switch {
		case hole && fit.Shaft != nil:
			return Fit{}, fmt.Errorf("%q: shaft before hole, expected \"%s %s/%s\"", s, m[1], m[3], m[2])
		case hole && fit.Hole != nil, !hole && fit.Shaft != nil:
			return Fit{}, fmt.Errorf("%q: two %s, expected one of a hole (H7) and one of a shaft (g6)", s, kinds[hole])
		case hole:
			fit.Hole = &l
		default:
			fit.Shaft = &l
		}
	}
	return fit, nil
}

// kinds words what a capital letter says (true), and a small one.
var kinds = map[bool]string{true: "classes of holes", false: "classes of shafts"}

// isHole reports whether a class is written with a capital letter.
func isHole(class string) bool { return class[0] >= 'A' && class[0] <= 'Z' }

// Clearance is the diametral clearance of a fit, mm: negative is interference.
type Clearance struct {
	Least, Most float64
}

// Between returns the clearance of a shaft in a hole, whose nominal sizes may differ.
func Between(hole, shaft Limits) Clearance {
	return Clearance{
		Least: micrometres((hole.Least() - shaft.Most()) * 1e3),
		Most:  micrometres((hole.Most() - shaft.Least()) * 1e3),
	}
}

// Clearance returns that of a fit with a hole and a shaft; false if one is not stated.
func (f Fit) Clearance() (Clearance, bool) {
	if f.Hole == nil || f.Shaft == nil {
		return Clearance{}, false
	}
	return Between(*f.Hole, *f.Shaft), true
}
