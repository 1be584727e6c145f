package tooling

import (
	"fmt"
	"math"
	"strconv"
)

// Fault is something that is wrong with a tool, or looks wrong.
type Fault struct {
	// Of says which part of the tool it is about: "cutter", "holder" or "tool".
	Of string
	// Symbol is the symbol or the key: "APMX", "profile", "stick_out".
	Symbol string
	// Found and Expected are in words, lengths in mm, angles in degrees.
	Found, Expected string
	// Warning: the solids of the tool are right all the same, or too large. If it
	// is not set, they may be wrong, and nothing must be proven with them.
	Warning bool
}

// Error returns the fault in one line, so that a Fault is an error.
func (f Fault) Error() string {
	return fmt.Sprintf("%s: %s: %s, expected %s", f.Of, f.Symbol, f.Found, f.Expected)
}

// faults collects what is found of one part of a tool.
type faults struct {
	of   string
	list []Fault
}

func (f *faults) fault(symbol, found, expected string, args ...any) {
	f.list = append(f.list, Fault{Of: f.of, Symbol: symbol, Found: found, Expected: fmt.Sprintf(expected, args...)})
}

func (f *faults) warn(symbol, found, expected string, args ...any) {
	f.fault(symbol, found, expected, args...)
	f.list[len(f.list)-1].Warning = true
}

// named is a number under its symbol.
type named struct {
	symbol string
	value  float64
}

// smallest and largest bound the numbers of a tool, in mm and kg, that solids can
// be made of.
const smallest, largest = 1e-6, 1e6

// numbers notes those that no tool can have, and reports whether there are none.
func (f *faults) numbers(list ...named) bool {
	good := true
	for _, n := range list {
		if n.value != 0 && !(n.value >= smallest && n.value <= largest) {
			f.fault(n.symbol, strconv.FormatFloat(n.value, 'g', 6, 64), "a number that is not below 0, of a size that a tool can have")
			good = false
		}
	}
	return good
}

// mm writes a length, to 0.1 um.
func mm(x float64) string { return plain(x) + " mm" }

// plain writes a number to four decimals at most.
func plain(x float64) string {
	return strconv.FormatFloat(math.Round(x*1e4)/1e4, 'f', -1, 64)
}
