package fits

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// largest nominal size of the tables, mm.
const largest = 120

// steps: the largest nominal size of each, which belongs to it (ISO 286-1, table 1: over
// one and up to and including the next). Where deviations are given by half steps, both
// halves of those used here are equal.
var steps = [...]float64{3, 6, 10, 18, 30, 50, 80, 120}

// step is a column of values, micrometres, one of each step.
type step [len(steps)]float64

// grades are the standard tolerances (ISO 286-1, table 1), from IT4, which only the
// rule for holes of IT5 needs.
var grades = [...]step{
	{3, 4, 4, 5, 6, 7, 8, 10},             // IT4, from memory
	{4, 5, 6, 8, 9, 11, 13, 15},           // IT5
	{6, 8, 9, 11, 13, 16, 19, 22},         // IT6
	{10, 12, 15, 18, 21, 25, 30, 35},      // IT7
	{14, 18, 22, 27, 33, 39, 46, 54},      // IT8
	{25, 30, 36, 43, 52, 62, 74, 87},      // IT9
	{40, 48, 58, 70, 84, 100, 120, 140},   // IT10
	{60, 75, 90, 110, 130, 160, 190, 220}, // IT11
}

const firstGrade, lastGrade = 5, 11

// tolerance is IT grade, from 4, in a step, micrometres.
func tolerance(grade, step int) float64 { return grades[grade-4][step] }

// letters: the fundamental deviations of shafts (ISO 286-1, tables 2 and 4; holes:
// tables 3 and 5, by the rules of hole). es of f and g, ei of k to p, micrometres.
var letters = map[string]step{
	"f": {-6, -10, -13, -16, -20, -25, -30, -36},
	"g": {-2, -4, -5, -6, -7, -9, -10, -12},
	"h": {},
	"k": {0, 1, 1, 1, 2, 2, 2, 3}, // of IT4 to IT7, else 0
	"m": {2, 4, 6, 7, 8, 9, 11, 13},
	"n": {4, 8, 10, 12, 15, 17, 20, 23},
	"p": {6, 12, 15, 18, 22, 26, 32, 37},
}

const (
	holeLetters  = "F, G, H, JS, K, M, N, P"
	shaftLetters = "f, g, h, js, k, m, n, p"
)

// limitsOf looks up a size.
func limitsOf(nominal float64, class string) (Limits, error) {
	at, _ := slices.BinarySearch(steps[:], nominal)
	if !(nominal > 0) || at == len(steps) {
		return Limits{}, fmt.Errorf("size %v mm: expected over 0 to %d mm", nominal, largest)
	}
	letter := strings.TrimRight(class, "0123456789")
	grade, err := strconv.Atoi(class[len(letter):])
	if err != nil || grade < firstGrade || grade > lastGrade || class[len(letter)] == '0' {
		return Limits{}, fmt.Errorf("class %s: expected a grade from %d to %d, such as %s7", class, firstGrade, lastGrade, letter)
	}
	it := tolerance(grade, at)
	deviation, known := letters[strings.ToLower(letter)]
	var lower float64
	switch {
	case letter == "JS", letter == "js":
		lower = -it / 2
	case !known, letter != strings.ToLower(letter) && letter != strings.ToUpper(letter):
		of, list := "shaft", shaftLetters
		if isHole(class) {
			of, list = "hole", holeLetters
		}
		return Limits{}, fmt.Errorf("class %s: expected one of a %s, %s", class, of, list)
	case isHole(class):
		lower = hole(letter, grade, at, deviation[at])
	default:
		lower = shaft(letter, grade, at, deviation[at])
	}
	return Limits{Nominal: nominal, Class: class, Lower: micrometres(lower), Upper: micrometres(lower + it)}, nil
}

// shaft returns the lower deviation of a shaft.
func shaft(letter string, grade, step int, deviation float64) float64 {
	switch letter {
	case "f", "g", "h":
		return deviation - tolerance(grade, step) // of es
	case "k":
		if grade > 7 {
			return 0
		}
	}
	return deviation
}

// hole returns the lower deviation of a hole, from the fundamental deviation of the
// shaft of that letter. F to H are its mirror image. K to N up to IT8 and P up to IT7
// have the fit with the next finer grade as the shaft has, so by IT(n) - IT(n-1) more,
// if over 3 mm (ISO 286-1, rules for holes). Coarser than that, K and N are 0.
func hole(letter string, grade, step int, deviation float64) float64 {
	it := tolerance(grade, step)
	more := 0.0
	if step > 0 {
		more = it - tolerance(grade-1, step)
	}
	switch {
	case letter == "F", letter == "G", letter == "H":
		return -deviation
	case letter == "P" && grade > 7, letter == "M" && grade > 8:
		more = 0
	case letter == "K" && grade > 8, letter == "N" && grade > 8 && step > 0:
		return -it
	}
	return -deviation + more - it
}
