package chart

import "fmt"

// table returns an invented table of risers against stick-outs.
func table(columns, rows int) *HeatMap {
	m := &HeatMap{Title: "Riser and stick-out of T3", Caption: []string{"Each cell is the setup with that riser and that stick-out."},
		Columns: Scale{Name: "riser"}, Rows: Scale{Name: "stick-out of T3, mm"}}
	for c := range columns {
		m.Columns.Values = append(m.Columns.Values, fmt.Sprintf("%d mm", 40+4*c))
	}
	for r := range rows {
		m.Rows.Values = append(m.Rows.Values, fmt.Sprint(60+5*r))
		for c := range columns {
			x, y := float64(c)/float64(max(columns-1, 1)), float64(r)/float64(max(rows-1, 1))
			name := fmt.Sprintf("%d mm, T3 at %d", 40+4*c, 60+5*r)
			m.Cells = append(m.Cells, Combination{Choice: judged(name, 5.5-11*abs(x-0.6)-3*y), Missing: r == rows-1 && c == 0})
		}
	}
	return m
}
