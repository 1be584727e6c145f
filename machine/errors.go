package machine

import (
	"cmp"
	"fmt"
	"slices"
)

// Error is a fault in a file: where it is, what was found there, and what was
// expected. Load returns all faults it can find, joined by errors.Join, file
// by file and within a file from top to bottom.
type Error struct {
	File         string
	Line, Column int    // from 1, the column in bytes; 0 where the file as a whole is meant
	Key          string // the key concerned; "" where none is
	Found        string
	Expected     string

	path string // of the key, from the root of the file
}

// Error returns the fault in one line.
func (e *Error) Error() string {
	where := e.File
	if e.Line > 0 {
		where = fmt.Sprintf("%s:%d:%d", e.File, e.Line, e.Column)
	}
	if e.Key != "" {
		where += ": " + e.Key
	}
	return fmt.Sprintf("%s: found %s, expected %s", where, e.Found, e.Expected)
}

// faults collects the errors of one file.
type faults struct {
	list []*Error
}

// maxFaults is as many faults of one file as anybody would read.
const maxFaults = 100

func (f *faults) add(e *Error) {
	if len(f.list) < maxFaults {
		f.list = append(f.list, e)
	}
}

func (f *faults) any() bool { return len(f.list) > 0 }

// sorted returns the errors collected, from top to bottom of the file. Faults
// at the same place keep the order they were found in.
func (f *faults) sorted() []*Error {
	list := slices.Clone(f.list)
	slices.SortStableFunc(list, func(a, b *Error) int {
		return cmp.Or(cmp.Compare(a.Line, b.Line), cmp.Compare(a.Column, b.Column))
	})
	return list
}
