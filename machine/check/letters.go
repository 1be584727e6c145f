package check

import (
	"cmp"
	"strings"
)

// ByLetter compares axis letters in the order in which people list them: X, Y,
// Z, U, V, W, A, B, C, those of a letter by their digit.
func ByLetter(a, b string) int {
	return cmp.Or(cmp.Compare(place(a), place(b)), cmp.Compare(a, b))
}

func place(letter string) int { return strings.Index("XYZUVWABC", letter[:min(1, len(letter))]) }
