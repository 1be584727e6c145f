package choose

import (
	"testing"

	"gridswing/machine/check"
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
		turned := &candidacy{Looked: Looked{Candidate: Candidate{Turned: -90}}, worst: check.Clear, least: 1.8 + 4e-16, place: 0}
		now := &candidacy{Looked: Looked{Candidate: Candidate{Present: true}}, worst: check.Clear, least: 1.8, place: 1}
		if by(now, turned) >= 0 || by(turned, now) <= 0 {
			t.Errorf("rule %s: found what is turned before what stands so now, expected it behind", rule)
		}
	}
}
