// Package terminal tells what a stream can show: how wide it is, and whether
// bold type and colour arrive as such.
package terminal

import (
	"io"
	"os"

	"golang.org/x/term"
)

// Widths in columns. A line is never longer than the widest that is easy to
// read, nor wrapped below the narrowest; what is no terminal gets the usual one.
const (
	narrowest = 40
	usual     = 90
	widest    = 100
)

// Look is how to write on a stream.
type Look struct {
	Width  int  // columns
	Styled bool // bold and colour, by ECMA-48 escape sequences
}

// Plain is the look of what is no terminal, such as a file.
var Plain = Look{Width: usual}

// LookOf returns the look of a stream. It is styled on a terminal, unless the
// environment says NO_COLOR or that the terminal is dumb.
func LookOf(w io.Writer) Look {
	f, ok := w.(*os.File)
	if !ok || !term.IsTerminal(int(f.Fd())) {
		return Plain
	}
	look := Plain
	if width, _, err := term.GetSize(int(f.Fd())); err == nil && width > 0 {
		look.Width = max(narrowest, min(width, widest))
	}
	look.Styled = os.Getenv("NO_COLOR") == "" && os.Getenv("TERM") != "dumb" && escapes(f)
	return look
}

// Is reports whether the stream is a terminal.
func Is(w io.Writer) bool {
	f, ok := w.(*os.File)
	return ok && term.IsTerminal(int(f.Fd()))
}
