package files

import (
	"os"
	"time"
)

// replace gives a file the name of another one, in its place.
func replace(from, to string) error {
	return patient(func() error { return os.Rename(from, to) }, busy)
}

// longestWait is the last of the waits of patient, of which each is twice the one before.
const longestWait = 640 * time.Millisecond

// patient tries again, for somewhat more than a second, what fails since a file is busy: on Windows
// virus scanners and indexers have what was just written open for a moment.
func patient(try func() error, busy func(error) bool) error {
	err := try()
	for wait := 10 * time.Millisecond; err != nil && busy(err) && wait <= longestWait; wait *= 2 {
		time.Sleep(wait)
		err = try()
	}
	return err
}
