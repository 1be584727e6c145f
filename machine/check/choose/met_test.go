package choose

import (
	"context"
	"slices"
	"testing"

	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/internal/shoptest"
	"gridswing/machine/check/proof"
)

// TestWitnessesHoldWhereBodiesMeet takes the contact of a high stack to others: it holds in
// none whose swing is not a contact, in the one itself it does, and in some others as well.
func TestWitnessesHoldWhereBodiesMeet(t *testing.T) {
	s := plain()
	d, stacks, _ := lines(t, s)
	trees := proof.NewTrees()
	o := Options{Options: proof.Options{Trees: trees}}
	on := func(int, *Looked) string { return "" }
	var meets *witness
	for _, c := range stacks.Candidates {
		_, w, err := look(context.Background(), d, c, o, nil, on)
		if err != nil {
			t.Fatal(err)
		}
		if w != nil {
			meets = w
		}
	}
	if meets == nil {
		t.Fatal("nothing meets in any of the stacks")
	}
	held := 0
	for _, c := range stacks.Candidates {
		setup, err := d.With(c.Changes...)
		if err != nil {
			t.Fatal(err)
		}
		holds, err := meets.holds(context.Background(), setup, trees)
		if err != nil {
			t.Fatal(err)
		}
		l, used, err := look(context.Background(), d, c, o, []*witness{meets}, on)
		if err != nil || (used == meets) != holds {
			t.Fatalf("%s: holds %v, used %v, %v", c.Name, holds, used == meets, err)
		}
		alone, err := Look(context.Background(), d, c, o)
		if err != nil {
			t.Fatal(err)
		}
		if l.Verdict != alone.Verdict || l.Share() != alone.Share() {
			t.Errorf("%s: %v %g with the witness, %v %g without", c.Name, l.Verdict, l.Share(), alone.Verdict, alone.Share())
		}
		if holds {
			held++
			if j := l.Judged[3]; j.Concern != check.SwingConcern || j.Verdict != check.Contact || j.Margin == nil || j.Margin.Share != 0 {
				t.Errorf("%s: %+v", c.Name, j)
			}
		}
	}
	if held == 0 || held == len(stacks.Candidates) {
		t.Errorf("it holds in %d of %d", held, len(stacks.Candidates))
	}
}

// TestWitnessesAreOfTheSameAxes seats a unit every way round: turned by a quarter its tilt axis is
// called B, and no contact is told of an axis that is not there.
func TestWitnessesAreOfTheSameAxes(t *testing.T) {
	z := sizes{tilt: 100, out: 55, demand: 2, from: -90, to: 90, x: 20, down: 25, heights: []float64{100}}
	s := z.shop()
	shoptest.Edit(t, s, "setup.toml", "commanded = { A = [-90, 90], C = [0, 360] }\n", "commanded = { X = [0, 0], Y = [0, 0] }\n")
	shoptest.Edit(t, s, "machine.toml", "columns = 9, rows = 5", "columns = 9, rows = 7")
	s["table.stl"] = shoptest.Box(-250, -150, -50, 250, 250, 0)
	d := s.draft(t)
	c, err := Seats(context.Background(), d, "unit", nil, Options{All: true})
	if err != nil {
		t.Fatal(err)
	}
	told := map[string]int{}
	for i := range c.Candidates {
		l := &c.Candidates[i]
		setup, err := d.With(l.Changes...)
		if err != nil {
			t.Fatal(err)
		}
		for _, j := range l.Judged {
			if j.Concern != check.SwingConcern || j.Worst == nil {
				continue
			}
			for _, p := range j.Worst.At {
				told[p.Axis]++
				if !slices.ContainsFunc(setup.Axes, func(a machine.Axis) bool { return a.Letter == p.Axis }) {
					t.Errorf("%s: %s: there is no %s", l.Name, l.Reason, p.Axis)
				}
			}
		}
	}
	if told["A"] == 0 || told["B"] == 0 {
		t.Errorf("axes told of: %v", told)
	}
}
