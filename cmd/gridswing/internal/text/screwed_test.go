package text

import (
	"testing"

	"gridswing/machine/check"
)

// A number of screws of which nobody says how long they are is no proof of anything.
func TestScrewed(t *testing.T) {
	length := 35.0
	long := check.Fastener{Verdict: check.Clear, Length: &length}
	short := check.Fastener{Verdict: check.Tight, Length: &length}
	loose := check.Fastener{Verdict: check.Contact, Length: &length}
	unknown := check.Fastener{Verdict: check.Clear}
	for want, list := range map[string][]check.Fastener{
		missing:                          nil,
		"2 of 3":                         {long, short, loose},
		"2 of 2, length not stated":      {unknown, unknown},
		"3 of 3, length of 1 not stated": {long, unknown, short},
	} {
		if got := Screwed(&check.Seat{Fasteners: list}); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
