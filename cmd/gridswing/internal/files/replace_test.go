package files

import (
	"errors"
	"testing"
	"testing/synctest"
	"time"
)

// What is busy is tried again, but not for ever; what fails otherwise is not.
func TestPatient(t *testing.T) {
	open, other := errors.New("open"), errors.New("other")
	for _, c := range []struct {
		what   string
		fails  int
		with   error
		tries  int
		waited time.Duration
		want   error
	}{
		{"nothing", 0, nil, 1, 0, nil},
		{"a scanner", 3, open, 4, 70 * time.Millisecond, nil},
		{"a viewer", 1000, open, 8, 1270 * time.Millisecond, open},
		{"no such folder", 1000, other, 1, 0, other},
	} {
		synctest.Test(t, func(t *testing.T) { // so that nobody waits
			tries, begun := 0, time.Now()
			err := patient(func() error {
				if tries++; tries <= c.fails {
					return c.with
				}
				return nil
			}, func(err error) bool { return err == open })
			if waited := time.Since(begun); err != c.want || tries != c.tries || waited != c.waited {
				t.Errorf("%s: %v after %d tries and %v, expected %v after %d and %v", c.what, err, tries, waited, c.want, c.tries, c.waited)
			}
		})
	}
}
