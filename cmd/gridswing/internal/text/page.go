package text

import (
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"gridswing/cmd/gridswing/internal/terminal"
)

// page writes wrapped lines. The first error of the stream is kept, and
// nothing is written after it.
type page struct {
	w    io.Writer
	look terminal.Look
	err  error
	full bool        // what is clear is told at length
	good [][2]string // what is all clear, and told in a line each: name and words
}

func (p *page) line(format string, args ...any) {
	if p.err == nil {
		_, p.err = fmt.Fprintf(p.w, format+"\n", args...)
	}
}

// wrapped writes words after a lead that is as wide as the indent of the lines
// that follow. A word longer than the line, such as a path, stays whole.
func (p *page) wrapped(lead string, indent int, words string) {
	line := lead + strings.Repeat(" ", max(0, indent-utf8.RuneCountInString(lead)))
	width, fresh := max(indent, utf8.RuneCountInString(lead)), true
	for _, word := range strings.Fields(words) {
		n := columns(word)
		if !fresh && width+1+n > p.look.Width {
			p.line("%s", line)
			line, width, fresh = strings.Repeat(" ", indent), indent, true
		}
		if !fresh {
			line += " "
			width++
		}
		line += word
		width += n
		fresh = false
	}
	p.line("%s", strings.TrimRight(line, " "))
}

// columns returns how wide a word is, without the escape sequences in it.
func columns(word string) int {
	for _, style := range []string{boldOn, red, yellow, green, off} {
		word = strings.ReplaceAll(word, style, "")
	}
	return utf8.RuneCountInString(word)
}

// field writes a named value, indented under a heading.
func (p *page) field(name, value string) { p.wrapped("   "+name, 15, value) }

// heading writes the name of a section after an empty line.
func (p *page) heading(words string) {
	p.line("")
	p.line("%s", p.bold(words))
}

// Escape sequences of ECMA-48, "Select graphic rendition".
const (
	boldOn = "\x1b[1m"
	red    = "\x1b[1;31m"
	yellow = "\x1b[1;33m"
	green  = "\x1b[1;32m"
	off    = "\x1b[0m"
)

func (p *page) bold(words string) string { return p.styled(boldOn, words) }

func (p *page) styled(on, words string) string {
	if !p.look.Styled {
		return words
	}
	return on + words + off
}

func plural(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}
