package terminal

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestWhatIsNoTerminal gets plain text of the usual width.
func TestWhatIsNoTerminal(t *testing.T) {
	f, err := os.Create(filepath.Join(t.TempDir(), "out"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	var nothing *os.File
	for name, look := range map[string]Look{"file": LookOf(f), "builder": LookOf(&strings.Builder{}), "closed": LookOf(nothing)} {
		if look != Plain || look.Styled || look.Width != usual {
			t.Errorf("%s: %+v", name, look)
		}
	}
	if Is(f) || Is(&strings.Builder{}) {
		t.Error("a file is taken for a terminal")
	}
}
