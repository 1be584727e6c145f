package files

import (
	"errors"

	"golang.org/x/sys/windows"
)

// busy reports whether a file could not be replaced since a program has it open.
func busy(err error) bool {
	return errors.Is(err, windows.ERROR_SHARING_VIOLATION) || errors.Is(err, windows.ERROR_ACCESS_DENIED)
}
