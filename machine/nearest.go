package machine

import (
	"fmt"
	"slices"
	"strings"
)

// nearest returns the known word with the fewest changed letters from word,
// "" if none is near enough to be meant: half its letters may be wrong.
func nearest(word string, known []string) string {
	best, fewest := "", len(word)/2+2
	for _, k := range known {
		if d := editDistance(strings.ToLower(word), strings.ToLower(k), fewest); d < fewest {
			best, fewest = k, d
		}
	}
	return best
}

// editDistance counts the letters to insert, drop or change to turn a into b
// (Levenshtein, "Binary codes capable of correcting deletions, insertions and
// reversals", 1966), or returns enough as soon as it cannot be less.
func editDistance(a, b string, enough int) int {
	if len(a)-len(b) >= enough || len(b)-len(a) >= enough {
		return enough
	}
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		diagonal := row[0]
		row[0] = i + 1
		least := row[0]
		for j := range len(b) {
			change := diagonal
			if a[i] != b[j] {
				change++
			}
			diagonal = row[j+1]
			row[j+1] = min(change, row[j]+1, diagonal+1)
			least = min(least, row[j+1])
		}
		if least >= enough {
			return enough
		}
	}
	return row[len(b)]
}

// oneOf words an expectation: the nearest of the known words first, then all.
func oneOf(word string, known []string) string {
	known = slices.DeleteFunc(slices.Clone(known), func(k string) bool { return k == "" })
	if len(known) == 0 {
		return "none: there are none"
	}
	all := strings.Join(known, ", ")
	if near := nearest(word, known); near != "" {
		return fmt.Sprintf("%q, perhaps (known: %s)", near, all)
	}
	return "one of " + all
}

func quoted(s string) string { return fmt.Sprintf("%q", s) }
