package fits

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// largest nominal size of the tables, mm.
const largest = 120

// steps are the largest nominal sizes of each step, mm, which belong to it (ISO 286-1,
// table 1: over one, up to and including the next). The half steps of its other tables
// have equal values for the letters here.
var steps = [...]float64{3, 6, 10, 18, 30, 50, 80, 120}

// row is one value of each step, micrometres.
type row [len(steps)]float64

// grades are the standard tolerances from IT4 on: ISO 286-1, table 1, IT5 to IT11 as
// reprinted in tables of h5 to h11; IT4, which only the rule for holes of grade 5 asks
// for, as reprinted for h4.
var grades = [...]row{
	{3, 4, 4, 5, 6, 7, 8, 10},
	{4, 5, 6, 8, 9, 11, 13, 15},
	{6, 8, 9, 11, 13, 16, 19, 22},
	{10, 12, 15, 18, 21, 25, 30, 35},
	{14, 18, 22, 27, 33, 39, 46, 54},
	{25, 30, 36, 43, 52, 62, 74, 87},
	{40, 48, 58, 70, 84, 100, 120, 140},
	{60, 75, 90, 110, 130, 160, 190, 220},
}

const firstGrade, lastGrade = 5, 11

// tolerance returns IT of a grade from 4 on, micrometres.
func tolerance(grade, step int) float64 { return grades[grade-4][step] }

// deviations are the fundamental deviations of shafts: es of f to h, ei of k to p (ISO
// 286-1). Up to 80 mm as printed in JIS B 0401:1999, which has taken
// over the ISO values; over 80 mm from memory, f, g and k agreeing with the formulae
// of ISO 286-1, m and n with printed limits of M7 and N7.
var deviations = map[string]row{
	"f": {-6, -10, -13, -16, -20, -25, -30, -36},
	"g": {-2, -4, -5, -6, -7, -9, -10, -12},
	"h": {},
	"k": {0, 1, 1, 1, 2, 2, 2, 3}, // up to grade 7, else 0
	"m": {2, 4, 6, 7, 8, 9, 11, 13},
	"n": {4, 8, 10, 12, 15, 17, 20, 23},
	"p": {6, 12, 15, 18, 22, 26, 32, 37},
}

const (
	holes  = "F, G, H, JS, K, M, N, P"
	shafts = "f, g, h, js, k, m, n, p"
)

// limits looks up a size.
func limits(nominal float64, class string) (Limits, error) {
	step, _ := slices.BinarySearch(steps[:], nominal)
	if nominal <= 0 || step == len(steps) {
		return Limits{}, fmt.Errorf("size %v mm, expected over 0 to %d mm", nominal, largest)
	}
	letter, digits := split(class)
	if err := known(letter); err != nil {
		return Limits{}, err
	}
	grade, err := strconv.Atoi(digits)
	if err != nil || grade < firstGrade || grade > lastGrade || digits[0] == '0' {
		return Limits{}, fmt.Errorf("class %s, expected a grade from %s%d to %s%d", class, letter, firstGrade, letter, lastGrade)
	}
	if letter == "K" && grade > 8 && step > 0 {
		return Limits{}, fmt.Errorf("class %s, expected a grade from K%d to K8: ISO 286 has no coarser ones over 3 mm", class, firstGrade)
	}
	it := tolerance(grade, step)
	var lower float64
	switch {
	case strings.EqualFold(letter, "js"):
		lower = -it / 2
	case isHole(letter):
		lower = hole(letter, grade, step)
	default:
		lower = shaft(letter, grade, step)
	}
	return Limits{Nominal: nominal, Class: class, Lower: mm(lower), Upper: mm(lower + it)}, nil
}

// split cuts a class into letter and grade.
func split(class string) (letter, grade string) {
	letter = strings.TrimRight(class, "0123456789")
	return letter, class[len(letter):]
}

// known says what there is instead of a letter that the tables do not have.
func known(letter string) error {
	of, list := "shaft", shafts
	if isHole(letter) {
		of, list = "hole", holes
	}
	if !slices.Contains(strings.Split(list, ", "), letter) {
		return fmt.Errorf("letter %s, expected one of a %s: %s", letter, of, list)
	}
	return nil
}

// shaft returns the lower deviation of a shaft, micrometres.
func shaft(letter string, grade, step int) float64 {
	switch d := deviations[letter][step]; {
	case d < 0, letter == "h":
		return d - tolerance(grade, step)
	case letter == "k" && grade > 7:
		return 0
	default:
		return d
	}
}

// hole returns the lower deviation of a hole, micrometres, by the rules of ISO 286-1
// for holes: F to H mirror the shafts. K, M, N up to grade 8 and P up to
// grade 7 lie higher than the mirror image by IT(n) - IT(n-1) over 3 mm, so that a hole
// with a shaft one grade finer fits as the other way round. Coarser holes N end at 0.
func hole(letter string, grade, step int) float64 {
	mirrored := 0 - deviations[strings.ToLower(letter)][step] // no -0
	it := tolerance(grade, step)
	last := map[string]int{"K": 8, "M": 8, "N": 8, "P": 7}[letter]
	switch {
	case last == 0: // F, G, H
		return mirrored
	case step == 0:
		return mirrored - it
	case grade <= last:
		return mirrored - tolerance(grade-1, step)
	case letter == "N":
		return -it
	default:
		return mirrored - it
	}
}
