package choose

import (
	"context"
	"testing"

	"gridswing/machine/check"
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
