package text

import (
	"strings"
	"testing"

	"gridswing/cmd/gridswing/internal/terminal"
)

// TestTable: numbers stand at the right, the named column is broken, a last cell stands
// beside the others where there is room, below where there is none.
func TestTable(t *testing.T) {
	lay := func(width int) string {
		var b strings.Builder
		p := &page{w: &b, look: terminal.Look{Width: width}}
		p.table(&table{head: []string{"no", "name", "mm", "why"}, wraps: 1, indent: 1, rows: []row{
			{cells: []string{"a", "one of three words", "1.5"}, last: "it is so because it is so"},
			{cells: []string{"b", "short", missing}, below: []string{"a note"}},
			{cells: []string{"c", "", "-12.25"}},
		}})
		return b.String()
	}
	for width, want := range map[int]string{
		70: `
 no  name                    mm  why
 a   one of three words     1.5  it is so because it is so
 b   short                 none
     a note
 c                       -12.25
`,
		25: `
 no  name              mm
 a   one of three     1.5
     words
     it is so because it
     is so
 b   short           none
     a note
 c                 -12.25
`,
	} {
		if got := lay(width); got != want[1:] {
			t.Errorf("width %d:\n%swant\n%s", width, got, want[1:])
		}
	}
}
