package program

import (
	"errors"
	"fmt"
)

// Fault is why a program could not be read on.
type Fault struct {
	Place
	Found, Expected string
	// Block is the text of the line where it is, cut off as Step.Block is; "" where there is none, or it cannot be told.
	Block string
}

// Error says where, what was found and what was expected.
func (f *Fault) Error() string {
	return fmt.Sprintf("%s:%d:%d: found %s, expected %s", f.File, f.Line, f.Column, f.Found, f.Expected)
}

// inLine gives a Fault its text, if it is in the line whose text that is.
func inLine(err error, line Place, text string) {
	var f *Fault
	if errors.As(err, &f) && f.Block == "" && f.File == line.File && f.Line == line.Line {
		f.Block = cut(text)
	}
}
