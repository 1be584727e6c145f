package fits

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
)

// Fit is a designation as it is written: of a hole ("16 H7"), of a shaft ("16 g6") or of
// both ("16 H7/g6"). What is not stated is nil.
type Fit struct {
	Hole, Shaft *Limits
}

// designation is a size and one or two classes. Whether there are such is for the
// tables to say.
var designation = regexp.MustCompile(`^([0-9]{1,4}(?:\.[0-9]{1,6})?) *([A-Za-z]{1,2}[0-9]{1,2})(?: */ *([A-Za-z]{1,2}[0-9]{1,2}))?$`)

// Parse reads a designation of a hole, a shaft or a fit, the hole first, as ISO 286-1
// writes it. JS and js have half the standard tolerance on either side, not rounded, as
// ISO 286-1:2010 has it. The error says what was found, and what there is instead.
func Parse(s string) (Fit, error) {
	m := designation.FindStringSubmatch(s)
	if m == nil {
		hint := ""
		if strings.Contains(s, ",") {
			hint = ", with a point for a comma"
		}
		return Fit{}, fmt.Errorf("%q, expected a size in mm and its tolerance class, such as \"16 H7\", \"16 g6\" or \"16 H7/g6\"%s", s, hint)
	}
	nominal, _ := strconv.ParseFloat(m[1], 64) // ten digits: no error
	first, err := limits(nominal, m[2])
	if err != nil {
		return Fit{}, fmt.Errorf("%q: %w", s, err)
	}
	if m[3] == "" {
		if isHole(m[2]) {
			return Fit{Hole: &first}, nil
		}
		return Fit{Shaft: &first}, nil
	}
	second, err := limits(nominal, m[3])
	switch {
	case err != nil:
		return Fit{}, fmt.Errorf("%q: %w", s, err)
	case isHole(m[2]) == isHole(m[3]):
		return Fit{}, fmt.Errorf("%q: %s and %s, expected a hole and a shaft, such as H7/g6", s, m[2], m[3])
	case isHole(m[3]):
		return Fit{}, fmt.Errorf("%q: the shaft before the hole, expected \"%s %s/%s\"", s, m[1], m[3], m[2])
	}
	return Fit{Hole: &first, Shaft: &second}, nil
}

// isHole reports whether a class is written with capital letters.
func isHole(class string) bool { return class[0] <= 'Z' }

// Clearance returns that of a fit; false if hole or shaft is not stated.
func (f Fit) Clearance() (Clearance, bool) {
	if f.Hole == nil || f.Shaft == nil {
		return Clearance{}, false
	}
	return Between(*f.Hole, *f.Shaft), true
}
