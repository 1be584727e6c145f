package program

import (
	"testing"

	"gridswing/machine"
)

// Which steps the length of the tool leads: only those that end at a coordinate with it added.
func TestLed(t *testing.T) {
	for _, c := range []struct {
		text string
		want []bool // of each step but the last, M2
	}{
		{"G0 X10\nG43 H1 Z-100\nX20\nG53 G0 Z0\nX30\nZ-60", []bool{false, true, true, false, true, true}},
		// What is said in a comment leads nowhere.
		{"G43 H1 G0 Z-100 (no G28 here)\nG1 X5 F500 (nor G53)", []bool{true, true}},
		// By way of a coordinate, then home.
		{"G43 H1 G0 Z-100\nG28 Z-40", []bool{true, true, false}},
		{"G43 H1 G0 Z-100\nG49 G0 Z-20", []bool{true, false}},
		// What counts on from where no length led stands where no length leads it.
		{"G43 H1 G0 Z-100\nG53 G0 Z0\nG91 G0 Z-10\nG90 Z-100\nG91 Z-10", []bool{true, false, false, true, true}},
		{"T5 M6\nG43 H1 G0 Z-100\nG81 G98 X5 Z-120 R-110 F100", []bool{false, false, true, true, true, true, true}},
	} {
		list := stepsOf(t, mill(), c.text)
		if len(list) != len(c.want)+1 {
			t.Errorf("%q: %d steps, want %d", c.text, len(list), len(c.want)+1)
			continue
		}
		for i, want := range c.want {
			if list[i].Led != want {
				t.Errorf("%q: step %d, of %q: led %v", c.text, i, list[i].Block, list[i].Led)
			}
		}
	}
	s := mill()
	s.Control.LengthMoves = machine.AtOnce
	if list := stepsOf(t, s, "G0 Z-10\nG91 G43 H1\nG0 Z-10\nG49"); len(list) != 5 || list[0].Led || !list[1].Led || !list[2].Led || list[3].Led {
		t.Errorf("%+v", list)
	}
}
