package main

import (
	"io"
	"testing"

	"gridswing/machine/program"
)

// listed is a program of steps at given places.
type listed struct {
	program.Steps
	places []program.Place
}

func (l *listed) Next() (*program.Step, error) {
	if len(l.places) == 0 {
		return nil, io.EOF
	}
	st := &program.Step{Place: l.places[0]}
	l.places = l.places[1:]
	return st, nil
}

// A program up to a line ends behind it; lines of subprograms in other files do not count.
func TestUpTo(t *testing.T) {
	l := &listed{places: []program.Place{{File: "a", Line: 1}, {File: "sub", Line: 99}, {File: "a", Line: 5}, {File: "a", Line: 5}, {File: "a", Line: 6}}}
	u := &upTo{Steps: l, file: "a", last: 5}
	n := 0
	for {
		st, err := u.Next()
		if err == io.EOF {
			break
		}
		if err != nil || st.Place.File == "a" && st.Place.Line > 5 {
			t.Fatalf("%+v, %v", st, err)
		}
		n++
	}
	if n != 4 {
		t.Errorf("%d steps, want 4", n)
	}
}
