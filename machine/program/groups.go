package program

import (
	"fmt"
	"math"
	"strconv"

	"gridswing/machine"
)

// group is a set of codes of which one at most is in a block. Modal groups are those of
// NISTIR 6556 (T. Kramer, F. Proctor, E. Messina, "The NIST RS274NGC Interpreter - Version 3",
// 2000, table 5); what a machine file declares forms groups of its own.
type group uint8

const (
	noGroup   group = iota // no code
	motionG                // 1: G0 to G3, cycles
	planeG                 // 2
	distanceG              // 3
	feedG                  // 5
	unitsG                 // 6
	radiusG                // 7
	lengthG                // 8
	retractG               // 10
	offsetG                // 12
	pathG                  // 13
	onceG                  // 0: for their block only
	specialG               // tip control, carried zero, turned plane and their end
	stopM                  // 4
	changeM                // 6
	spindleM               // 7
	coolantM               // 8
	overrideM              // 9
	callM                  // M98, M99
	silent                 // what moves nothing: any number of them
	groups    = int(silent)
)

// Most numbers of a code, in tenths.
const mostCodes = 10000

// codes says what the G and M codes of a control are; a code counts in tenths: G92.1 is 921.
type codes struct {
	g, m [mostCodes]group
	// meanings are those that the machine file gives, of G codes and, mostCodes further, of M codes.
	meanings map[int]string
}

// standard codes by group, in tenths.
var standardG = map[group][]int{
	motionG:   {0, 10, 20, 30, 730, 740, 760, 800, 810, 820, 830, 840, 850, 860, 870, 880, 890},
	planeG:    {170, 180, 190},
	distanceG: {900, 910},
	feedG:     {930, 940, 950},
	unitsG:    {200, 210},
	radiusG:   {400, 410, 420},
	lengthG:   {430, 490},
	retractG:  {980, 990},
	offsetG:   {540, 550, 560, 570, 580, 590, 591, 592, 593},
	pathG:     {610, 611},
	onceG:     {40, 100, 280, 300, 530, 920, 921, 922, 923},
}

var standardM = map[group][]int{
	stopM: {0, 10, 20, 300}, changeM: {60}, spindleM: {30, 40, 50}, coolantM: {70, 80, 90},
	overrideM: {480, 490}, callM: {980, 990},
}

// read fills in the standard codes and those that the machine file declares.
func (c *codes) read(rules *machine.Control) error {
	for g, list := range standardG {
		for _, n := range list {
			c.g[n] = g
		}
	}
	for g, list := range standardM {
		for _, n := range list {
			c.m[n] = g
		}
	}
	c.meanings = map[int]string{}
	for name, meaning := range rules.Codes {
		letter, n, ok := parseCode(name)
		if !ok {
			return fmt.Errorf("[program.codes]: found %q, expected a code such as G143 or M21", name)
		}
		table, key := &c.g, n
		if letter == 'M' {
			table, key = &c.m, n+mostCodes
		}
		c.meanings[key] = meaning
		switch meaning {
		case machine.NoMotion, machine.ExactPath, machine.RotaryClamp:
			table[n] = silent
		case machine.TipControl, machine.CarriedZero, machine.TurnedPlane, machine.EndsControl:
			table[n] = specialG
		case machine.MoreOffsets:
			table[n] = offsetG
		case machine.LocalZero:
			table[n] = onceG
		default:
			return fmt.Errorf("[program.codes]: found %q of %s, expected one of %q", meaning, name, machine.CodeMeanings())
		}
	}
	return nil
}

// parseCode reads the name of a code: G54.1 is G and 541.
func parseCode(name string) (letter byte, tenths int, ok bool) {
	if len(name) < 2 || name[0] != 'G' && name[0] != 'M' {
		return 0, 0, false
	}
	v, err := strconv.ParseFloat(name[1:], 64)
	if err != nil {
		return 0, 0, false
	}
	tenths, ok = tenthsOf(v)
	return name[0], tenths, ok
}

// tenthsOf returns the number of a code in tenths, if it is one.
func tenthsOf(v float64) (int, bool) {
	n := math.Round(v * 10)
	if !(math.Abs(v*10-n) < 1e-6) || n < 0 || n >= mostCodes {
		return 0, false
	}
	return int(n), true
}

// codeName writes a code in tenths: 921 of G is G92.1.
func codeName(letter byte, tenths int) string {
	if tenths%10 == 0 {
		return fmt.Sprintf("%c%d", letter, tenths/10)
	}
	return fmt.Sprintf("%c%d.%d", letter, tenths/10, tenths%10)
}
