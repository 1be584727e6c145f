package program

import (
	"errors"
	"io"
	"strings"
	"testing"
)

// A Fault comes with the text of its line, and with none where there is no line.
func TestFaultBlock(t *testing.T) {
	for text, want := range map[string]string{
		"G0 X10\nG1 X5 Q7 F100":                       "G1 X5 Q7 F100", // a word that nothing uses
		"G0 X10\n  N3 G1 X5 ]":                        "  N3 G1 X5 ]",  // no words
		"G0 X10\nG1 X5":                               "G1 X5",         // no feed
		"G0 X10\nM98 P77 L1":                          "M98 P77 L1",    // no such subprogram
		"G41 D1 G1 X50 F500\nG1 Y50\nG90 M0":          "M2",            // where moves wait
		"G0 X10\nG1 X20 F" + strings.Repeat("0", 300): ("G1 X20 F" + strings.Repeat("0", 300))[:mostText],
	} {
		_, f := steps(t, mill(), text)
		if f == nil {
			t.Errorf("%q: no fault", text)
			continue
		}
		if f.Block != want {
			t.Errorf("%q: %v: %q, want %q", text, f, f.Block, want)
		}
	}
	in, err := Open("p.nc", strings.NewReader("G0 X10\n"), mill(), keyed(), Options{})
	for err == nil {
		_, err = in.Next()
	}
	var f *Fault
	if err == io.EOF || !errors.As(err, &f) || f.Block != "" {
		t.Errorf("the end of the file: %v", err)
	}
}
