package geom

import "fmt"

// What is plausible as the largest extent of a solid in a shop, in mm: common
// practice, no source. Some machine columns are larger; hence a warning only.
const (
	implausiblySmall = 2
	implausiblyLarge = 3000
)

// ImplausibleSize returns a warning if a solid of the given bounds in mm, read as
// being in unit u, is 3 m long or more in its largest extent, or 2 mm or less: then
// mostly somebody forgot the unit. It names the unit that would make sense of
// it. It returns "" for a plausible size, and for an empty box.
func ImplausibleSize(bounds Box, u Unit) string {
	if bounds.Empty() {
		return ""
	}
	size := largest(bounds.Size())
	var problem string
	switch {
	case size <= implausiblySmall:
		problem = "implausibly small"
	case size >= implausiblyLarge:
		problem = "implausibly large"
	default:
		return ""
	}
	warning := fmt.Sprintf("%s: largest extent %s mm, the file being read in %s", problem, inWords(size), u)
	for _, other := range []struct {
		name string
		mm   float64
	}{{"mm", 1}, {"inch", 25.4}, {"m", 1000}} {
		meant := size / float64(u) * other.mm
		if other.mm != float64(u) && meant >= plausibleFrom && meant <= plausibleTo {
			warning += fmt.Sprintf("; in %s it would be %s mm", other.name, inWords(meant))
		}
	}
	return warning
}

// A narrower range for suggestions: fixtures, parts and machine solids.
const (
	plausibleFrom = 10
	plausibleTo   = 2500
)

// inWords prints a length in mm without an exponent, to three digits or whole.
func inWords(mm float64) string {
	if mm >= 1000 {
		return fmt.Sprintf("%.0f", mm)
	}
	return fmt.Sprintf("%.3g", mm)
}
