package program

import (
	"fmt"
	"math"
	"strings"
)

// mostBrackets is how deep brackets may stand in brackets.
const mostBrackets = 50

// operand reads what has a value and is no number: a variable, an expression in brackets
// or a function of one (NISTIR 6556, section 3.3.2).
func (x *lexer) operand() (float64, error) {
	switch c := x.peek(); {
	case (c == '#' || c == '[') && !x.vars.allowed:
		return 0, x.unallowed()
	case c == '#':
		start := x.pos
		v, err := x.variable()
		if err != nil {
			return 0, err
		}
		return x.vars.value(x, start, v)
	case c == '[':
		return x.brackets()
	case letter(c):
		return x.function()
	}
	return 0, x.fault(x.pos, x.here(x.pos), "a number")
}

func (x *lexer) unallowed() error {
	return x.fault(x.pos, "an expression", "expressions in [program] of the machine file: whether the control works them out as NISTIR 6556 has it")
}

// value reads a number or an operand, with or without a sign.
func (x *lexer) value() (float64, error) {
	c := x.peek()
	if !(digit(c) || c == '.' || c == '-' || c == '+') {
		return x.operand()
	}
	start := x.pos
	v, _, err := x.signed("an operation")
	if err == nil && !(digit(c) || c == '.') && strings.HasPrefix(x.text[x.skip():], "**") {
		// Whether the sign goes before or after the power is not the same everywhere.
		return 0, x.fault(start, "a sign before a power", "brackets that say what it belongs to")
	}
	return v, err
}

// skip skips blanks and returns where it got.
func (x *lexer) skip() int {
	x.peek()
	return x.pos
}

// brackets reads an expression: [a op b op c ...]. What binds stronger is done first, what
// binds alike from the left (NISTIR 6556, section 3.3.2.3).
func (x *lexer) brackets() (float64, error) {
	open := x.pos
	x.pos++
	if x.depth++; x.depth > mostBrackets {
		return 0, x.fault(open, "brackets in brackets in brackets", fmt.Sprintf("at most %d", mostBrackets))
	}
	v, err := x.operations(0)
	if err != nil {
		return 0, err
	}
	if x.peek() != ']' {
		return 0, x.fault(x.pos, x.here(x.pos), "an operation or ]")
	}
	x.pos++
	x.depth--
	return v, nil
}

// operation is a binary operation; what has a higher rank binds stronger.
type operation struct {
	name string
	rank int
	do   func(a, b float64) float64
}

// operations of NISTIR 6556, table 5; ** stands before * as the longer name.
var operations = []operation{
	{"**", 3, math.Pow},
	{"*", 2, func(a, b float64) float64 { return a * b }},
	{"/", 2, func(a, b float64) float64 { return a / b }},
	{"MOD", 2, modulo},
	{"+", 1, func(a, b float64) float64 { return a + b }},
	{"-", 1, func(a, b float64) float64 { return a - b }},
	{"AND", 1, func(a, b float64) float64 { return truth(a != 0 && b != 0) }},
	{"XOR", 1, func(a, b float64) float64 { return truth((a != 0) != (b != 0)) }},
	{"OR", 1, func(a, b float64) float64 { return truth(a != 0 || b != 0) }},
}

// modulo is never negative.
func modulo(a, b float64) float64 {
	r := math.Mod(a, b)
	if r < 0 {
		r += math.Abs(b)
	}
	return r
}

func truth(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

// operation returns the operation that stands here, nil if none does.
func (x *lexer) operation() *operation {
	x.peek()
	for i := range operations {
		name := operations[i].name
		if end := x.pos + len(name); end <= len(x.text) && strings.EqualFold(x.text[x.pos:end], name) {
			return &operations[i]
		}
	}
	return nil
}

// operations reads values and operations that bind stronger than rank.
func (x *lexer) operations(rank int) (float64, error) {
	v, err := x.value()
	if err != nil {
		return 0, err
	}
	for {
		op := x.operation()
		if op == nil || op.rank <= rank {
			return v, nil
		}
		at := x.pos
		x.pos += len(op.name)
		w, err := x.operations(op.rank)
		if err != nil {
			return 0, err
		}
		if v, err = x.finite(at, op.do(v, w), "%g %s %g", v, op.name, w); err != nil {
			return 0, err
		}
	}
}

// finite gives v back unless it is not a number to go on with; the format says what gave it.
func (x *lexer) finite(pos int, v float64, format string, args ...any) (float64, error) {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return 0, x.fault(pos, fmt.Sprintf(format, args...)+", which has no value", "something that can be worked out")
	}
	return v, nil
}

const degree = math.Pi / 180

// functions of NISTIR 6556, table 6, but for ATAN; angles are in degrees.
var functions = map[string]func(float64) float64{
	"ABS":   math.Abs,
	"ACOS":  func(a float64) float64 { return math.Acos(a) / degree },
	"ASIN":  func(a float64) float64 { return math.Asin(a) / degree },
	"COS":   func(a float64) float64 { _, c := sincos(a); return c },
	"EXP":   math.Exp,
	"FIX":   math.Floor,
	"FUP":   math.Ceil,
	"LN":    math.Log,
	"ROUND": math.Round,
	"SIN":   func(a float64) float64 { s, _ := sincos(a); return s },
	"SQRT":  math.Sqrt,
	"TAN":   func(a float64) float64 { s, c := sincos(a); return s / c },
}

// sincos of an angle in degrees, exact at multiples of 90.
func sincos(a float64) (sin, cos float64) {
	r := math.Remainder(a, 360) // exact
	switch r {
	case 0:
		return 0, 1
	case 90:
		return 1, 0
	case -90:
		return -1, 0
	case 180, -180:
		return 0, -1
	}
	return math.Sincos(r * degree)
}

// function reads a function and what it is of: NAME[...], or ATAN[...]/[...].
func (x *lexer) function() (float64, error) {
	start := x.pos
	for x.pos < len(x.text) && letter(x.text[x.pos]) {
		x.pos++
	}
	name := strings.ToUpper(x.text[start:x.pos])
	f := functions[name]
	switch {
	case f == nil && name != "ATAN":
		x.pos = start
		return 0, x.fault(start, fmt.Sprintf("%q", x.text[start:start+len(name)]), "a number")
	case !x.vars.allowed:
		x.pos = start
		return 0, x.unallowed()
	}
	if x.peek() != '[' {
		return 0, x.fault(x.pos, x.here(x.pos), "[ after "+name)
	}
	a, err := x.brackets()
	if err != nil {
		return 0, err
	}
	if f != nil {
		return x.finite(start, f(a), "%s[%g]", name, a)
	}
	if x.peek() != '/' {
		return 0, x.fault(x.pos, x.here(x.pos), "/ after ATAN[...]")
	}
	x.pos++
	if x.peek() != '[' {
		return 0, x.fault(x.pos, x.here(x.pos), "[ after ATAN[...]/")
	}
	b, err := x.brackets()
	if err != nil {
		return 0, err
	}
	v := math.Atan2(a, b) / degree
	if a == 0 && b == 0 {
		v = math.NaN()
	}
	return x.finite(start, v, "ATAN[%g]/[%g]", a, b)
}
