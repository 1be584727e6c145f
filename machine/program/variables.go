package program

import (
	"fmt"
	"math"
	"strings"
)

// Variables that programs may set. What stands above is used by controls for their own
// values in many ways, so that setting one does more than the program shows: common
// practice, no source.
const mostVariable = 999

// Names of variables are bounded, as all that is kept of a program.
const (
	mostNames = 1000
	mostName  = 64
)

// variables are those that a program has set so far.
type variables struct {
	allowed  bool // Control.Expressions
	numbered [mostVariable + 1]float64
	set      [mostVariable + 1]bool
	named    map[string]float64
	pending  []pending // set by the block that is being read
}

type pending struct {
	variable
	value float64
}

// variable is a number or a name.
type variable struct {
	number int
	name   string // "" if it has a number
}

func (v variable) String() string {
	if v.name != "" {
		return "#<" + v.name + ">"
	}
	return fmt.Sprintf("#%d", v.number)
}

// variable reads # and what tells which: a number, an expression, another variable, a name.
func (x *lexer) variable() (variable, error) {
	start := x.pos
	x.pos++
	c := x.peek()
	if c == '<' {
		return x.named(start)
	}
	if x.depth++; x.depth > mostBrackets {
		return variable{}, x.fault(start, "variables of variables of variables", fmt.Sprintf("at most %d", mostBrackets))
	}
	defer func() { x.depth-- }()
	var n float64
	var err error
	if digit(c) || c == '.' {
		n, _, err = x.number("#")
	} else {
		n, err = x.operand()
	}
	if err != nil {
		return variable{}, err
	}
	// An index that was worked out is taken for the next integer, if it is near:
	// 0.0001, as the interpreter of NISTIR 6556 has it (from memory).
	whole := math.Round(n)
	if math.Abs(n-whole) > 1e-4 || whole < 1 || whole > mostVariable {
		return variable{}, x.fault(start, fmt.Sprintf("variable #%g", n),
			fmt.Sprintf("one from #1 to #%d; what others mean is up to the control", mostVariable))
	}
	return variable{number: int(whole)}, nil
}

// named reads the name of a variable: <name>. Case and blanks mean nothing.
func (x *lexer) named(start int) (variable, error) {
	end := strings.IndexByte(x.text[x.pos:], '>')
	if end < 0 {
		return variable{}, x.fault(start, "a name that does not end", ">")
	}
	name := strings.ToLower(strings.Map(func(r rune) rune {
		if r == ' ' || r == '\t' {
			return -1
		}
		return r
	}, x.text[x.pos+1:x.pos+end]))
	if name == "" || len(name) > mostName || strings.ContainsFunc(name, notInName) {
		return variable{}, x.fault(x.pos, fmt.Sprintf("the name %.70q", name),
			fmt.Sprintf("letters, digits and _, at most %d", mostName))
	}
	x.pos += end + 1
	return variable{name: name}, nil
}

func notInName(r rune) bool {
	return !(r >= 'a' && r <= 'z' || r >= '0' && r <= '9' || r == '_')
}

// value returns what a variable was set to.
func (v *variables) value(x *lexer, start int, of variable) (float64, error) {
	value, ok := v.numbered[of.number], v.set[of.number]
	if of.name != "" {
		value, ok = v.named[of.name]
	}
	if !ok {
		return 0, x.fault(start, of.String()+", which the program has not set", "a variable with a value")
	}
	return value, nil
}

// pend keeps what a block sets until all of it is read.
func (v *variables) pend(x *lexer, start int, of variable, value float64) error {
	if _, known := v.named[of.name]; of.name != "" && !known && len(v.named)+len(v.pending) >= mostNames {
		return x.fault(start, "one more variable with a name", fmt.Sprintf("at most %d", mostNames))
	}
	v.pending = append(v.pending, pending{of, value})
	return nil
}

// settle sets what the block has set: all values of a block are read before any variable
// changes (NISTIR 6556, section 3.3.2.1).
func (v *variables) settle() {
	for _, p := range v.pending {
		if p.name == "" {
			v.numbered[p.number], v.set[p.number] = p.value, true
			continue
		}
		if v.named == nil {
			v.named = map[string]float64{}
		}
		v.named[p.name] = p.value
	}
	v.pending = v.pending[:0]
}
