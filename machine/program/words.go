package program

import (
	"fmt"
	"strconv"
	"strings"
	"unicode/utf8"
)

// lexer cuts a line into words and works their values out (ISO 6983-1, section 3 of
// NISTIR 6556). Blanks may stand everywhere, comments between words.
type lexer struct {
	file  string
	line  int
	text  string
	pos   int
	depth int // of brackets
	vars  *variables
}

func (x *lexer) place(pos int) Place { return Place{x.file, x.line, pos + 1} }

func (x *lexer) fault(pos int, found, expected string) error {
	return &Fault{Place: x.place(pos), Found: found, Expected: expected, Block: cut(x.text)}
}

// here says what stands at pos, for messages.
func (x *lexer) here(pos int) string {
	if pos >= len(x.text) {
		return "the end of the line"
	}
	r, _ := utf8.DecodeRuneInString(x.text[pos:])
	if r == utf8.RuneError {
		return fmt.Sprintf("byte 0x%02X", x.text[pos])
	}
	return strconv.QuoteRune(r)
}

func blank(c byte) bool { return c == ' ' || c == '\t' }

func letter(c byte) bool { c |= 0x20; return c >= 'a' && c <= 'z' }

func digit(c byte) bool { return c >= '0' && c <= '9' }

// peek skips blanks and returns what stands there, 0 at the end of the line.
func (x *lexer) peek() byte {
	for ; x.pos < len(x.text); x.pos++ {
		if c := x.text[x.pos]; !blank(c) {
			return c
		}
	}
	return 0
}

// between skips blanks and comments between words.
func (x *lexer) between() (byte, error) {
	for {
		switch c := x.peek(); c {
		case '(', ';':
			if err := x.comment(c); err != nil {
				return 0, err
			}
		case 0:
			if x.pos < len(x.text) {
				return 0, x.fault(x.pos, "a NUL byte", "the text of a program")
			}
			return 0, nil
		default:
			return c, nil
		}
	}
}

// comment skips a comment: in brackets, or from a semicolon to the end of the line.
// What other programs take for an end of line must not hide in it.
func (x *lexer) comment(open byte) error {
	start := x.pos
	for x.pos++; x.pos < len(x.text); x.pos++ {
		switch c := x.text[x.pos]; {
		case c < ' ' && c != '\t':
			return x.fault(x.pos, x.here(x.pos)+" in a comment", "text")
		case open == '(' && c == ')':
			x.pos++
			return nil
		case open == '(' && c == '(':
			return x.fault(x.pos, "a second ( in a comment", ")")
		}
	}
	switch {
	case open == '(':
		return x.fault(start, "a comment that does not end", ") on the same line")
	case allWords(x.text[start+1:]):
		// On some controls ; ends a block, and another one may follow: common practice, no source.
		return x.fault(start, "; and nothing but words behind it", "a comment in ( ), or the next block on a line of its own")
	}
	return nil
}

// allWords reports whether a text is nothing but letters with numbers, at least one.
func allWords(text string) bool {
	words := 0
	for {
		text = strings.TrimLeft(text, " \t")
		switch {
		case text == "":
			return words > 0
		case !letter(text[0]):
			return false
		}
		rest := strings.TrimLeft(text[1:], " \t+-")
		text = strings.TrimLeft(rest, "0123456789.")
		if text == rest {
			return false
		}
		words++
	}
}

// words reads the words of a line into b. The number of the program that begins in it is
// returned, -1 if none does.
func (x *lexer) words(b *Block) (number int, err error) {
	number = -1
	var seen uint32
	for {
		c, err := x.between()
		switch {
		case err != nil:
			return -1, err
		case c == 0:
			return number, nil
		case c == '#':
			if err := x.setting(); err != nil {
				return -1, err
			}
			continue
		case !letter(c):
			return -1, x.fault(x.pos, x.here(x.pos), "a word, such as X10.5")
		}
		w, err := x.word()
		if err != nil {
			return -1, err
		}
		bit := uint32(1) << (w.Letter - 'A')
		switch {
		case seen&bit != 0 && w.Letter != 'G' && w.Letter != 'M':
			return -1, x.fault(w.Column-1, w.Text+", a second "+string(rune(w.Letter)), "each letter once in a block")
		case w.Letter == 'O' || w.Letter == 'N':
			n, err := x.label(&w, len(b.Words) > 0)
			if err != nil {
				return -1, err
			}
			if w.Letter == 'O' {
				number = n
			}
		default:
			if len(b.Words) == 0 {
				b.Column = w.Column
			}
			b.Words = append(b.Words, w)
		}
		seen |= bit
	}
}

// label checks the number of a block or program.
func (x *lexer) label(w *Word, late bool) (int, error) {
	switch {
	case late:
		return 0, x.fault(w.Column-1, w.Text, string(rune(w.Letter))+" before all other words of the block")
	case !w.Plain || w.Value < 0 || w.Value > 99999999:
		return 0, x.fault(w.Column-1, w.Text, "a whole number of at most eight digits")
	}
	return int(w.Value), nil
}

// word reads a letter and its value.
func (x *lexer) word() (w Word, err error) {
	start := x.pos
	w.Letter = x.text[start] &^ 0x20
	w.Column = start + 1
	x.pos++
	c := x.peek()
	if c == 0 || letter(c) || c == '<' || c == '=' {
		if f := x.flow(start); f != nil {
			return w, f
		}
	}
	if digit(c) || c == '.' || c == '-' || c == '+' {
		w.Value, w.Plain, err = x.signed(string(x.text[start : start+1]))
	} else {
		w.Value, err = x.operand()
	}
	if err != nil {
		return w, err
	}
	w.Text = strings.TrimRight(x.text[start:x.pos], " \t")
	return w, nil
}

// flowWords are the words by which controls that can do so choose what comes next.
var flowWords = []string{"IF", "GOTO", "WHILE", "DO", "END", "ELSE", "ELSEIF", "ENDIF", "ENDWHILE",
	"THEN", "REPEAT", "ENDREPEAT", "SUB", "ENDSUB", "CALL", "RETURN", "BREAK", "CONTINUE"}

// flow returns a fault if flow control stands at pos, nil if something else does.
func (x *lexer) flow(pos int) error {
	end := pos
	for end < len(x.text) && letter(x.text[end]) {
		end++
	}
	name := x.text[pos:end]
	if x.text[pos]|0x20 == 'o' && strings.HasPrefix(strings.TrimLeft(x.text[pos+1:], " \t"), "<") {
		return x.fault(pos, "a subprogram with a name", "O and a number")
	}
	for _, w := range flowWords {
		if strings.EqualFold(w, name) {
			return x.fault(pos, "flow control ("+w+")", "blocks that are done one after the other")
		}
	}
	return nil
}

// setting reads #number = value or #<name> = value, which holds from the next block on.
func (x *lexer) setting() error {
	start := x.pos
	if !x.vars.allowed {
		return x.unallowed()
	}
	v, err := x.variable()
	if err != nil {
		return err
	}
	if x.peek() != '=' {
		return x.fault(x.pos, x.here(x.pos), "= after the variable")
	}
	x.pos++
	c := x.peek()
	var value float64
	if digit(c) || c == '.' || c == '-' || c == '+' {
		value, _, err = x.signed("=")
	} else {
		value, err = x.operand()
	}
	if err != nil {
		return err
	}
	return x.vars.pend(x, start, v, value)
}
