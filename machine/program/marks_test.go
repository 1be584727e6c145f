package program

import (
	"io"
	"maps"
	"slices"
	"strings"
	"testing"
)

// When the program has come by a line: before which step, by the text of its block.
func TestPassed(t *testing.T) {
	mill := mill()
	pass := func(s Steps, err error) map[int]string {
		got := map[int]string{}
		for err == nil {
			var st *Step
			if st, err = s.Next(); err == nil {
				for _, line := range st.Passed {
					if _, twice := got[line]; twice {
						t.Errorf("line %d is told twice", line)
					}
					got[line] = st.Block
				}
			}
		}
		if err != io.EOF {
			t.Error(err)
		}
		return got
	}
	blocks := func(text string, marks ...int) map[int]string {
		return pass(Open("p.nc", strings.NewReader(text+"\nM2\n"), mill, keyed(), Options{Marks: marks}))
	}
	for _, c := range []struct {
		text string
		want map[int]string
	}{
		// Modal codes, comments and empty lines make no step.
		{"G0 X10\nG80\n(nothing)\n\nG0 X20\nX30", map[int]string{1: "G0 X20", 2: "G0 X20", 3: "G0 X20", 4: "G0 X20", 5: "X30"}},
		// While radius compensation waits, what it waits for counts as done before.
		{"G41 D1 G1 X50 F500\nG1 Y50\nG90\n(still)\nX90\nG40 G0 X200\nX0", map[int]string{3: "X0", 4: "X0"}},
		{"G0 X10", map[int]string{1: "M2", 99: ""}},
	} {
		delete(c.want, 99)
		got := blocks(c.text, append(slices.Sorted(maps.Keys(c.want)), 99)...)
		for line, block := range got {
			if c.want[line] != block {
				t.Errorf("%q: line %d is told before %q, want %q", c.text, line, block, c.want[line])
			}
		}
		if len(got) != len(c.want) {
			t.Errorf("%q: %v, want %v", c.text, got, c.want)
		}
	}
	if got := blocks("G0 X1"); len(got) != 0 {
		t.Errorf("nothing was asked for: %v", got)
	}
}
