package program

import (
	"math"
	"strconv"
)

// powers of ten that a float64 holds exactly.
var powers = [...]float64{1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15}

// signed reads a number with or without a sign, or a sign and what else has a value.
// plain tells whether it is a number without a point.
func (x *lexer) signed(after string) (v float64, plain bool, err error) {
	sign := 1.0
	switch x.peek() {
	case '-':
		sign = -1
		x.pos++
	case '+':
		x.pos++
	}
	if c := x.peek(); c == '#' || c == '[' || letter(c) {
		v, err = x.operand()
		return sign * v, false, err
	}
	v, plain, err = x.number(after)
	return sign * v, plain, err
}

// number reads digits with at most one point among them; blanks between them mean nothing.
// Up to 15 digits the quotient of two exact numbers is rounded once, which is the nearest
// float64; what is longer is left to strconv.
func (x *lexer) number(after string) (v float64, plain bool, err error) {
	start, end := x.pos, x.pos
	var mantissa uint64
	digits, decimals, plain := 0, 0, true
	for ; x.pos < len(x.text); x.pos++ {
		c := x.text[x.pos]
		switch {
		case digit(c):
			if digits++; digits <= 15 {
				mantissa = mantissa*10 + uint64(c-'0')
			}
			if !plain {
				decimals++
			}
			end = x.pos + 1
			continue
		case c == '.' && plain:
			plain = false
			end = x.pos + 1
			continue
		case blank(c):
			continue
		}
		break
	}
	x.pos = end
	switch {
	case digits == 0:
		return 0, false, x.fault(start, x.here(start)+" after "+after, "a number")
	case x.pos < len(x.text) && x.text[x.pos] == '.':
		return 0, false, x.fault(x.pos, "a second point", "one point in a number")
	case digits > 15:
		v, err = x.long(start, end)
		return v, plain, err
	}
	return float64(mantissa) / powers[decimals], plain, nil
}

// long is the value of a number of many digits.
func (x *lexer) long(start, end int) (float64, error) {
	var text []byte
	for i := start; i < end; i++ {
		if !blank(x.text[i]) {
			text = append(text, x.text[i])
		}
	}
	v, err := strconv.ParseFloat(string(text), 64)
	if err != nil || math.IsInf(v, 0) {
		return 0, x.fault(start, "a number of "+strconv.Itoa(len(text))+" digits", "one that can be reckoned with")
	}
	return v, nil
}
