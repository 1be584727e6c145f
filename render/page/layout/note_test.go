package layout_test

import (
	"fmt"
	"testing"

	"gridswing/render/page"
	"gridswing/render/page/layout"
)

// The note below a table stands on the page of its last row, wherever the table ends.
func TestNoteStaysWithItsTable(t *testing.T) {
	for rows := 1; rows < 120; rows++ {
		f := layout.New(layout.Options{Format: page.A4})
		table := layout.Table{Columns: []layout.Column{{Head: "name"}}, Note: "the note"}
		for i := range rows {
			table.Rows = append(table.Rows, layout.Row{Cells: []string{fmt.Sprint("row ", i+1)}})
		}
		f.Table(table)
		at := map[string]int{}
		for n, p := range f.Finish("", "").Pages {
			for _, words := range texts(p) {
				at[words.Words] = n + 1
			}
		}
		if last := fmt.Sprint("row ", rows); at["the note"] == 0 || at["the note"] != at[last] {
			t.Fatalf("%d rows: the note on page %d, the last row on page %d", rows, at["the note"], at[last])
		}
	}
}
