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

// TestColumnsBrokenFirst: before names are, and never within what is whole.
func TestColumnsBrokenFirst(t *testing.T) {
	var b strings.Builder
	p := &page{w: &b, look: terminal.Look{Width: 33}}
	p.table(&table{head: []string{"no", "name", "rotary", "mm"}, wraps: 1, first: []int{2}, indent: 1, rows: []row{
		{cells: []string{"a", "two words", brackets("A 59.74 C 90 (+3)"), "1.5"}},
		{cells: []string{"b", "short", brackets("A 10 to 60 C 350 to 10 (+1)"), "2"}},
		{cells: []string{"c", "", "A\u00a00", ""}},
	}})
	want := `
 no  name       rotary         mm
 a   two words  A 59.74 C 90  1.5
                (+3)
 b   short      A 10 to 60      2
                C 350 to 10
                (+1)
 c              A 0
`
	if b.String() != want[1:] {
		t.Errorf("\n%swant\n%s", b.String(), want[1:])
	}
}
