package machine

import (
	"fmt"
	"slices"
	"strings"
)

// Nearest returns the known word with the fewest slips in word, "" if none is
// near enough to be meant: two slips at most, and fewer than a third of the
// letters. Capitals do not count.
func Nearest(word string, known []string) string {
	best, fewest := "", 3
	for _, k := range known {
		d := slips(strings.ToLower(word), strings.ToLower(k))
		if longest := max(len(word), len(k)); d < fewest && 3*d < longest {
			best, fewest = k, d
		}
	}
	return best
}

// slips counts the letters to insert, drop, change or exchange with their
// neighbour to turn a into b (Damerau, "A technique for computer detection and
// correction of spelling errors", 1964), no letter touched twice.
func slips(a, b string) int {
	if len(a)-len(b) > 2 || len(b)-len(a) > 2 || len(a) > 100 {
		return 3 // too many already; and a file may hold words of any length
	}
	before, above, row := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		before, above, row = above, row, before
		row[0] = i + 1
		least := row[0]
		for j := range len(b) {
			change := above[j]
			if a[i] != b[j] {
				change++
			}
			row[j+1] = min(change, above[j+1]+1, row[j]+1)
			if i > 0 && j > 0 && a[i] == b[j-1] && a[i-1] == b[j] {
				row[j+1] = min(row[j+1], before[j-1]+1)
			}
			least = min(least, row[j+1])
		}
		if least > 3 {
			return least
		}
	}
	return row[len(b)]
}

// oneOf words an expectation: the nearest of the known words first, then all.
func oneOf(word string, known []string) string {
	var distinct []string
	for _, k := range known {
		if k != "" && !slices.Contains(distinct, k) {
			distinct = append(distinct, k)
		}
	}
	known = distinct
	switch len(known) {
	case 0:
		return "none: there are none"
	case 1:
		return quoted(known[0])
	}
	all := strings.Join(known, ", ")
	if near := Nearest(word, known); near != "" {
		return fmt.Sprintf("%q, perhaps (known: %s)", near, all)
	}
	return "one of " + all
}

func quoted(s string) string { return fmt.Sprintf("%q", s) }

// count words a number of things: "1 jaw", "2 jaws", "2 bodies".
func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
