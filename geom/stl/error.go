package stl

import (
	"fmt"
	"strings"
)

// Kind says whether a file is broken or merely not for this package.
type Kind int

const (
	// Malformed: the file breaks the format; it must be exported again.
	Malformed Kind = iota
	// Unsupported: the file may well be sound, but is something that this
	// package does not read, such as another format.
	Unsupported
)

// Error is why a file was refused: the place, what stands there, and what
// should.
type Error struct {
	File     string
	Kind     Kind
	Offset   int64 // byte in the file, from 0; of a fault in ASCII that of the word at fault
	Line     int   // in ASCII, from 1; 0 in binary
	Column   int   // byte in the line, from 1; 0 in binary
	Facet    int   // index of the facet at fault, from 0; -1 if it is none in particular
	Found    string
	Expected string
}

// Error returns one line: file, place, what was found, what was expected. It
// counts facets from 1, as people do.
func (e *Error) Error() string {
	var s strings.Builder
	s.WriteString(e.File)
	if e.Line > 0 {
		fmt.Fprintf(&s, ":%d:%d: ", e.Line, e.Column)
	} else {
		fmt.Fprintf(&s, ": byte %d: ", e.Offset)
	}
	if e.Facet >= 0 {
		fmt.Fprintf(&s, "facet %d: ", e.Facet+1)
	}
	fmt.Fprintf(&s, "found %s, expected %s", e.Found, e.Expected)
	return s.String()
}
