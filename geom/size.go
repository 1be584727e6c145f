package geom

import "fmt"

// SizeRange is what is plausible as the largest extent of a kind of solid, in
// mm: more than Small and less than Large. Ranges are common practice, without
// a source, and worth a warning only.
type SizeRange struct{ Small, Large float64 }

// anySolid is the range for a solid of which nobody said what it is: a pin or a
// machine's column.
var anySolid = SizeRange{2, 3000}

// ImplausibleSize is SizeRange.Implausible for a solid of which nothing is
// known: it warns at 2 mm or less and at 3 m or more. Where it is known whether
// the solid is one of a part, a vise or a machine, a narrower range finds more.
func ImplausibleSize(bounds Box, u Unit) string { return anySolid.Implausible(bounds, u) }

// Implausible returns a warning if the largest extent of a solid of the given
// bounds in mm, read as being in unit u, is not within the range: then mostly
// somebody forgot the unit. It names the unit that would make sense of it. It
// returns "" for a plausible size, and for an empty box.
func (r SizeRange) Implausible(bounds Box, u Unit) string {
	if bounds.Empty() {
		return ""
	}
	size := largest(bounds.Size())
	var problem string
	switch {
	case size <= r.Small:
		problem = "implausibly small"
	case size >= r.Large:
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
