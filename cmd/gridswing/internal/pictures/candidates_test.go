package pictures

import (
	"context"
	"slices"
	"strconv"
	"strings"
	"testing"

	"gridswing/cmd/gridswing/internal/specimen"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/choose"
	"gridswing/models"
	"gridswing/render/chart"
)

func demoDraft(t *testing.T) *machine.Draft {
	t.Helper()
	d, err := machine.DraftFS(models.Demo, models.GoodSetup)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// Seats are where the holes are, in the grid's own directions; what is on the picture is what
// was found.
func TestSeatsAreDrawnWhereTheyAre(t *testing.T) {
	d := demoDraft(t)
	line, err := choose.SeatLine(d, "vise", nil)
	if err != nil {
		t.Fatal(err)
	}
	c := &choose.Choice{Kind: choose.Seated, Place: "vise", Setup: "demo", Best: []int{3}}
	for _, one := range line.Candidates {
		c.Candidates = append(c.Candidates, choose.Looked{Candidate: one, GivenUp: "no nearer than the best one"})
	}
	picture, err := OfChoice(d, c)
	if err != nil {
		t.Fatal(err)
	}
	m := picture.(*chart.SeatMap)
	holes := map[string]chart.Hole{}
	for _, h := range m.Holes {
		holes[h.Name] = h
	}
	if len(m.Seats) != len(line.Candidates) || len(m.Columns) != 5 || len(m.Rows) != 3 {
		t.Fatalf("%d seats, %d columns, %d rows", len(m.Seats), len(m.Columns), len(m.Rows))
	}
	for i, s := range m.Seats {
		a, b := holes[line.Candidates[i].Pins[0]], holes[line.Candidates[i].Pins[1]]
		if dx, dy := s.X-(a.X+b.X)/2, s.Y-(a.Y+b.Y)/2; max(dx, -dx, dy, -dy) > 1e-9 {
			t.Errorf("%s is drawn at %g, %g", s.Name, s.X, s.Y)
		}
		if s.State != chart.Clear || !s.GivenUp || s.Present != line.Candidates[i].Present || (s.Rank == 1) != (i == 3) {
			t.Errorf("%s is drawn as %+v", s.Name, s.Choice)
		}
	}
	if _, err := m.Draw(context.Background()); err != nil {
		t.Error(err)
	}
}

// Of many stacks the best are drawn, and those of which most is known, lowest first.
func TestStacksAreDrawnByConcern(t *testing.T) {
	c := specimen.Choice()
	for range 20 {
		c.Candidates = append(c.Candidates, choose.Looked{Candidate: choose.Candidate{Name: "more"}})
	}
	picture, err := OfChoice(nil, c)
	if err != nil {
		t.Fatal(err)
	}
	m := picture.(*chart.HeatMap)
	if len(m.Rows.Values) != mostDrawn || m.Rows.Values[0] != "50 mm: riser 50 (now)" || !slices.IsSorted(m.Rows.Values[:24]) {
		t.Errorf("rows %q", m.Rows.Values)
	}
	if len(m.Caption) != 2 || !strings.Contains(m.Caption[1], "the same whatever is chosen: change 1.82.") {
		t.Errorf("caption %q", m.Caption)
	}
	concern := func(row int, name string) chart.Combination {
		return m.Cells[row*len(m.Columns.Values)+slices.Index(m.Columns.Values, name)]
	}
	if c := concern(0, "reach"); c.Share != 1.344 || c.Rank != 1 || !c.Present || c.Missing {
		t.Errorf("the tightest of the best is %+v", c)
	}
	if c := concern(0, "loads"); c.Rank != 0 || c.Present || c.Bare {
		t.Errorf("another one of it is %+v", c)
	}
	if c := concern(0, "stack"); !c.Bare || c.Missing {
		t.Errorf("one that is not measured is %+v", c)
	}
	if c := concern(2, "swing"); c.State != chart.Contact {
		t.Errorf("a contact is %+v", c)
	}
	if c := concern(2, "reach"); !c.Missing {
		t.Errorf("one that was not asked is %+v", c)
	}
	if _, err := m.Draw(context.Background()); err != nil {
		t.Error(err)
	}
}

// Cells of a table are the pairs; what does not fit together is empty.
func TestTableIsDrawn(t *testing.T) {
	m := OfTable(specimen.Table()).(*chart.HeatMap)
	if m.Cells[0].Rank != 1 || m.Cells[3].Rank != 2 || m.Cells[1].State != chart.Contact || !m.Cells[4].Missing || !m.Cells[2].GivenUp || m.Cells[2].State != chart.Clear {
		t.Errorf("%+v", m.Cells)
	}
	if _, err := m.Draw(context.Background()); err != nil {
		t.Error(err)
	}
}

// Of many rows those with the best are drawn and those of which something is known, in their order.
func TestRowsThatTellSomethingAreDrawn(t *testing.T) {
	table := specimen.Table()
	unknown := table.Rows.Candidates[0]
	unknown.Name = "nobody knows"
	open := choose.Looked{Candidate: unknown, Verdict: check.Unproven, GivenUp: "no lower than each of the best 2"}
	table.Rows.Candidates = append([]choose.Candidate{unknown}, table.Rows.Candidates...)
	table.Cells = append([]choose.Looked{open, open, open}, table.Cells...)
	table.Best = []int{3, 6}
	m := OfTable(table).(*chart.HeatMap)
	if len(m.Rows.Values) != 2 || m.Cells[0].Rank != 1 || m.Cells[3].Rank != 2 || !strings.Contains(m.Caption[0], "1 more row is not drawn") {
		t.Errorf("%q %+v", m.Caption, m.Rows.Values)
	}
	if _, err := m.Draw(context.Background()); err != nil {
		t.Error(err)
	}
}

// Of many columns those next to the best one are drawn, without gaps where all are known.
func TestColumnsNextToTheBestAreDrawn(t *testing.T) {
	table := specimen.Table()
	table.Rows.Candidates, table.Columns.Candidates, table.Best = table.Rows.Candidates[:1], nil, []int{50}
	cell := table.Cells[1] // a contact
	table.Cells = nil
	for i := range 100 {
		table.Columns.Candidates = append(table.Columns.Candidates, choose.Candidate{Name: strconv.Itoa(100 + i)})
		table.Cells = append(table.Cells, cell)
	}
	m := OfTable(table).(*chart.HeatMap)
	if n := len(m.Columns.Values); n != mostDrawn || m.Columns.Values[0] != "135" || m.Columns.Values[n-1] != "164" || m.Cells[15].Rank != 1 {
		t.Errorf("%d columns: %q", n, m.Columns.Values)
	}
	if !strings.Contains(m.Caption[0], "70 more columns are not drawn") {
		t.Error(m.Caption)
	}
}

// What is unproven is drawn so, whatever was found at one height of it; stacks of one height
// share a mark.
func TestHeightsAreDrawn(t *testing.T) {
	h := specimen.Heights()
	s := OfHeights(h, []choose.Candidate{{Height: 40, Parts: []string{"a"}}, {Height: 40, Parts: []string{"b", "c"}}, {Height: 50, Parts: []string{"d"}}}).(*chart.HeightStrip)
	for i := range h.Stretches {
		want := states[h.Stretches[i].Verdict]
		if h.Stretches[i].State == choose.UnprovenHeights {
			want = chart.Unproven
		}
		if s.Stretches[i].State != want {
			t.Errorf("stretch %d is drawn as %v, want %v", i, s.Stretches[i].State, want)
		}
	}
	if len(s.Stock) != 2 || s.Stock[0].Name != "a (+1)" || s.Stock[1].Name != "d" || s.Best == nil || s.Best.At != *h.Lowest {
		t.Errorf("%+v, %+v", s.Stock, s.Best)
	}
	if _, err := s.Draw(context.Background()); err != nil {
		t.Error(err)
	}
}
