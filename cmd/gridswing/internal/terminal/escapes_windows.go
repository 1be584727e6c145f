package terminal

import (
	"os"

	"golang.org/x/sys/windows"
)

// escapes makes a console obey escape sequences; older ones cannot.
func escapes(f *os.File) bool {
	h := windows.Handle(f.Fd())
	var mode uint32
	if windows.GetConsoleMode(h, &mode) != nil {
		return false
	}
	return windows.SetConsoleMode(h, mode|windows.ENABLE_VIRTUAL_TERMINAL_PROCESSING) == nil
}
