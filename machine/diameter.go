package machine

import (
	"fmt"
	"strconv"
	"strings"

	"gridswing/machine/fits"
)

// diameter is a size as read: of a bore, a pin, or the width of a key or a slot.
type diameter struct {
	nominal float64      // mm; 0: not stated
	limits  *fits.Limits // nil: no tolerance class is stated
}

// String words the size as a file writes it.
func (d diameter) String() string {
	if d.limits != nil {
		return d.limits.String()
	}
	return fmt.Sprintf("%g mm", toThousandth(d.nominal))
}

// putSize reads a number or a designation. A number is kept as it is written.
func (s *source) putSize(target *size, value any, path string) {
	if n, ok := number(value); ok {
		*target = size(strconv.FormatFloat(n, 'g', -1, 64))
		return
	}
	if text, ok := value.(string); ok && text != "" {
		*target = size(text)
		return
	}
	s.kindFault(path, value, `a diameter, or one with its tolerance class such as "16 H7"`)
}

// diameter reads a size of a hole (or slot), or of a shaft (pin, key); what is
// not stated is zero.
func (s *source) diameter(path string, v size, unit scale, hole bool) (d diameter) {
	if v == "" {
		return d
	}
	if n, err := strconv.ParseFloat(string(v), 64); err == nil {
		return diameter{nominal: unit.mm(s.positive(path, n))}
	}
	f, err := fits.Parse(string(v))
	if err != nil {
		found, expected, _ := strings.Cut(err.Error(), ", expected ")
		if expected == "" {
			expected = `a size and a tolerance class that the tables have, such as "16 H7" or "16 g6"`
		}
		s.fault(path, found, "%s", expected)
		return d
	}
	switch {
	case hole && (f.Hole == nil || f.Shaft != nil):
		s.fault(path, quoted(string(v)), `the class of a hole alone, such as "16 H7"`)
	case !hole && (f.Shaft == nil || f.Hole != nil):
		s.fault(path, quoted(string(v)), `the class of a pin alone, such as "16 g6"`)
	case hole:
		return diameter{f.Hole.Nominal, f.Hole}
	default:
		return diameter{f.Shaft.Nominal, f.Shaft}
	}
	return d
}

// diameters reads a size for each of two locators from one or a list of two.
func (s *source) diameters(path string, v sizes, unit scale, hole bool) (d [2]diameter) {
	switch len(v) {
	case 0:
	case 1:
		d[0] = s.diameter(path, v[0], unit, hole)
		d[1] = d[0]
	case 2:
		for i := range v {
			d[i] = s.diameter(fmt.Sprintf("%s[%d]", path, i), v[i], unit, hole)
		}
	default:
		s.fault(path, count(len(v), "size", "sizes"), "one for both locators, or two")
	}
	return d
}
