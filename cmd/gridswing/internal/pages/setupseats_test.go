package pages

import (
	"testing"

	"gridswing/machine/check"
	"gridswing/render/page/layout"
)

// A screw that a driver gets to and that does not hold is not marked as clear, and neither is one at
// which no driver was looked at.
func TestMarksOfScrews(t *testing.T) {
	clear, tight := check.Clear, check.Tight
	for _, c := range []struct {
		driver *check.Verdict
		held   check.Verdict
		want   layout.Mark
	}{
		{&clear, check.Clear, layout.Ring}, {&clear, check.Contact, layout.Square}, {&clear, check.Unproven, layout.Dots},
		{&tight, check.Clear, layout.Eye}, {nil, check.Clear, layout.NoMark}, {nil, check.Tight, layout.Eye},
	} {
		r := &check.Report{Stack: &check.Stack{Seats: []check.Seat{{Unit: "riser", Fasteners: []check.Fastener{{Name: "1", Verdict: c.held}, {Name: "2", Verdict: check.Contact}}}}}}
		s := &sheet{Setup: &Setup{Report: r}}
		if got := s.screwMark(&check.Screw{Of: "riser", Name: "1", Verdict: c.driver}); got != c.want {
			t.Errorf("driver %v, held %v: mark %d, want %d", c.driver, c.held, got, c.want)
		}
	}
}
