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

// What is kept together and comes to the top of a page has its room below.
func TestRoomBelowWhatIsKept(t *testing.T) {
	f := layout.New(layout.Options{Format: page.A4})
	for range 40 {
		f.Text("line")
	}
	f.Keep(func() {
		for range 5 {
			f.Text("kept")
		}
		f.Space(20)
	})
	f.Text("below")
	all := texts(f.Finish("", "").Pages[1])
	n := len(all)
	if n < 2 || all[n-1].Words != "below" || all[n-2].Words != "kept" || all[n-1].At.Y-all[n-2].At.Y < 20 {
		t.Errorf("found %d texts, the last two %+v and %+v, expected one 20 mm below the other", n, all[n-2], all[n-1])
	}
}
