package program

import "fmt"

// Fault is why a program could not be read on.
type Fault struct {
	Place
	Found, Expected string
}

// Error says where, what was found and what was expected.
func (f *Fault) Error() string {
	return fmt.Sprintf("%s:%d:%d: found %s, expected %s", f.File, f.Line, f.Column, f.Found, f.Expected)
}
