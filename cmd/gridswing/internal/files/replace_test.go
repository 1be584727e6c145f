package files

import (
	"errors"
	"testing"
)

// What is busy is tried again, but not for ever; what fails otherwise is not.
func TestPatient(t *testing.T) {
	open, other := errors.New("open"), errors.New("other")
	for _, c := range []struct {
		what  string
		fails int
		with  error
		tries int
		want  error
	}{
		{"nothing", 0, nil, 1, nil},
		{"a scanner", 3, open, 4, nil},
		{"a viewer", 1000, open, 8, open},
		{"no such folder", 1000, other, 1, other},
	} {
		tries := 0
		err := patient(func() error {
			if tries++; tries <= c.fails {
				return c.with
			}
			return nil
		}, func(err error) bool { return err == open })
		if err != c.want || tries != c.tries {
			t.Errorf("%s: %v after %d tries, expected %v after %d", c.what, err, tries, c.want, c.tries)
		}
	}
}
