package choose

import (
	"context"
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"gridswing/machine"
	"gridswing/machine/check"
)

// plain is a shop in which some stacks are good and some are not.
func plain() shop {
	z := sizes{tilt: 100, out: 55, demand: 2, from: -90, to: 90, x: 20, down: 25, heights: []float64{15, 70, 90, 100}}
	return z.shop()
}

func lines(t testing.TB, s shop) (d *machine.Draft, stacks, seats Line) {
	t.Helper()
	store := machine.NewStoreFS(s.fs())
	d, err := store.Draft("setup.toml")
	if err != nil {
		t.Fatal(err)
	}
	cat, err := store.Catalogue(s.catalogue()...)
	if err != nil {
		t.Fatal(err)
	}
	if stacks, _, err = RiserLine(d, "riser", cat, 1); err != nil {
		t.Fatal(err)
	}
	if seats, err = SeatLine(d, "unit", []float64{0}); err != nil {
		t.Fatal(err)
	}
	return d, stacks, seats
}

// TestPairsAreBothChanges holds cells of a table of stacks and seats to the full check of
// what the files would say.
func TestPairsAreBothChanges(t *testing.T) {
	s := plain()
	d, stacks, seats := lines(t, s)
	seats.Candidates = seats.Candidates[:4]
	table, err := Vary(context.Background(), d, stacks, seats, Options{All: true})
	if err != nil {
		t.Fatal(err)
	}
	if table.Interrupted || len(table.Cells) != len(stacks.Candidates)*4 {
		t.Fatalf("%d cells, interrupted %v", len(table.Cells), table.Interrupted)
	}
	verdicts := map[check.Verdict]bool{}
	for row := range stacks.Candidates {
		for column := range seats.Candidates {
			l := table.Cell(row, column)
			if !slices.Equal(l.Parts, stacks.Candidates[row].Parts) || !slices.Equal(l.Pins, seats.Candidates[column].Pins) {
				t.Fatalf("row %d, column %d has %q in %q", row, column, l.Parts, l.Pins)
			}
			if (row+column)%3 == 0 {
				alone := s.with(&l.Candidate)
				compare(t, l, alone.fromScratch(t), alone.briefly(t, d, &l.Candidate))
			}
			verdicts[l.Verdict] = true
		}
	}
	if len(verdicts) < 2 {
		t.Errorf("all cells have one verdict: %v", verdicts)
	}
	if best := table.Recommended(); best == nil || !best.Good() {
		t.Errorf("%+v is recommended, of %+v", best, table.Counted)
	}
	if _, err := json.Marshal(table); err != nil {
		t.Error(err)
	}
}

func TestStickOuts(t *testing.T) {
	d := plain().draft(t)
	line, err := StickOutLine(d, 1, 45, 60, 5)
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, c := range line.Candidates {
		names = append(names, c.Name)
		if c.Present != (c.StickOut == 55) {
			t.Errorf("%s: present %v", c.Name, c.Present)
		}
	}
	if want := "45 mm 50 mm 55 mm 60 mm"; strings.Join(names, " ") != want || line.What != "stick-out of T1" {
		t.Errorf("%s: %q, want %q", line.What, names, want)
	}
	for _, wrong := range []struct {
		tool           int
		from, to, step float64
		words          string
	}{
		{7, 40, 50, 5, "stick-outs of T7: found no such tool"}, {1, 0, 50, 5, "0 < from"}, {1, 60, 50, 5, "from <= to"},
		{1, 40, 50, 0, "step above 0"}, {1, 40, 50, 0.001, "more than 1000"},
	} {
		if _, err := StickOutLine(d, wrong.tool, wrong.from, wrong.to, wrong.step); err == nil || !strings.Contains(err.Error(), wrong.words) {
			t.Errorf("%+v: %v", wrong, err)
		}
	}
}

// TestFaultyStickOut looks at a stick-out that the holder does not allow: no setup, no error.
func TestFaultyStickOut(t *testing.T) {
	c := Candidate{Name: "4000 mm", Changes: []machine.Change{{StickOut: &machine.StickOutChange{Tool: 1, MM: 4000}}}}
	l, err := Look(context.Background(), plain().draft(t), c, Options{})
	if err != nil || !l.Faulty || l.Reason == "" || l.Good() || l.Verdict != check.Unproven {
		t.Errorf("%+v, %v", l, err)
	}
}

// TestOrientations asks for seats in some orientations only.
func TestOrientations(t *testing.T) {
	d := plain().draft(t)
	all, err := SeatLine(d, "riser", nil)
	if err != nil {
		t.Fatal(err)
	}
	want := map[float64]int{}
	for _, c := range all.Candidates {
		want[c.Turned]++
		if c.Present != (c.Name == "B2, C2") {
			t.Errorf("%s: present %v", c.Name, c.Present)
		}
	}
	// 4 x 3 holes of one pitch: 9 pairs along, 8 across, either way round.
	if len(want) != 4 || want[0] != 9 || want[90] != 8 || want[180] != 9 || want[-90] != 8 {
		t.Errorf("seats by angle: %v", want)
	}
	some, err := SeatLine(d, "riser", []float64{halfTurn})
	if err != nil || len(some.Candidates) != 9 {
		t.Errorf("%d seats turned by half a turn, %v", len(some.Candidates), err)
	}
	if _, err := SeatLine(d, "riser", []float64{1}); err == nil {
		t.Error("seats turned by 1 rad")
	}
	if _, err := SeatLine(d, "block and tackle", nil); err == nil {
		t.Error("seats of a place that there is not")
	}
	if _, err := Seats(context.Background(), d, "riser", nil, Options{Rule: "cheapest"}); err == nil {
		t.Error("a rule that there is not")
	}
}

// TestKnownSoFar ends the context after some events: all candidates are listed, with what is
// known of them, and nothing that was not finished is called good.
func TestKnownSoFar(t *testing.T) {
	d := plain().draft(t)
	for after := 1; after <= 4; after++ {
		ctx, cancel := context.WithCancel(context.Background())
		events, settled := 0, 0
		c, err := Seats(ctx, d, "riser", nil, Options{All: true, Known: func(e Event) {
			if events++; events == after {
				cancel()
			}
			if e.Settled < settled || e.Settled > e.Total || e.Total != 34 {
				t.Errorf("event %+v after %d settled", e, settled)
			}
			settled = e.Settled
		}})
		cancel()
		if err != nil {
			t.Fatal(err)
		}
		done := 0
		for i := range c.Candidates {
			if c.Candidates[i].GivenUp == "" {
				done++
			} else if c.Candidates[i].Good() || len(c.Candidates[i].Judged) > 0 && c.Candidates[i].Verdict == check.Clear {
				t.Errorf("%+v", c.Candidates[i])
			}
		}
		if !c.Interrupted || len(c.Candidates) != 34 || done != settled || len(c.Best) > done {
			t.Errorf("after %d events: interrupted %v, %d of %d done, %d settled, best %v", after, c.Interrupted, done, len(c.Candidates), settled, c.Best)
		}
		if n := c.Counted; n.Candidates != n.Good+n.Failing+n.GivenUp {
			t.Errorf("%+v", n)
		}
	}
}
