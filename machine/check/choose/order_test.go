package choose

import (
	"testing"

	"gridswing/machine/check"

	"pgregory.net/rapid"
)

// What leaves no more room is no reason to turn anything: by each rule what stands as it does now
// comes before what is turned about its middle, wherever both are in the list and whatever
// arithmetic leaves of equal shares. Common practice, no source.
func TestEqualOnesStayAsTheyAre(t *testing.T) {
	for _, rule := range Rules() {
		by, err := orderOf(rule)
		if err != nil {
			t.Fatal(err)
		}
		turned := &candidacy{Looked: Looked{Candidate: Candidate{Turned: -90}}, worst: check.Clear, room: wholeRoom().with(1, 1.8+4e-16), place: 0}
		now := &candidacy{Looked: Looked{Candidate: Candidate{Present: true}}, worst: check.Clear, room: wholeRoom().with(1, 1.8), place: 1}
		if by(now, turned) >= 0 || by(turned, now) <= 0 {
			t.Errorf("rule %s: found what is turned before what stands so now, expected it behind", rule)
		}
	}
}

// Where the tightest shares tie, the next ones decide; a share that is known later moves no
// candidate forward.
func TestNextTightestDecides(t *testing.T) {
	a := wholeRoom().with(1, 1.8).with(3, 2.5)
	b := wholeRoom().with(3, 1.8).with(0, 2.4)
	if compareRoom(a, b) >= 0 || compareRoom(b, a) <= 0 {
		t.Errorf("%v does not come before %v", a.sorted, b.sorted)
	}
	if compareRoom(wholeRoom().with(2, 1.80), wholeRoom().with(5, 1.801)) != 0 {
		t.Error("shares within a fiftieth are told apart")
	}
	rapid.Check(t, func(t *rapid.T) {
		known := wholeRoom()
		for range rapid.IntRange(1, 12).Draw(t, "margins") {
			concern := rapid.IntRange(0, len(check.Concerns())-1).Draw(t, "concern")
			next := known.with(concern, rapid.Float64Range(-3, 7).Draw(t, "share"))
			if compareRoom(next, known) < 0 {
				t.Fatalf("%v came before %v", next.sorted, known.sorted)
			}
			known = next
		}
	})
}
