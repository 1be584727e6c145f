package offsets

import (
	"gridswing/machine"

	"github.com/golang/geo/r3"
)

// Length returns what to key in as the length of a tool, mm, for its length from the gauge line to the foremost
// point, LPR, in mm. Where lengths are touched off it is counted from the first part's zero at rotary zero, as
// the offsets of [Of] count Z. An error is ErrNoMethod or ErrNoSpindle, or that the first part has no
// such place.
func Length(s *machine.Setup, lpr float64) (float64, error) {
	if err := Possible(s); err != nil {
		return 0, err
	}
	if s.Offsets.Lengths != machine.TouchedOff {
		return lpr, nil
	}
	s = s.Drawn()
	b := &builder{setup: s, rules: s.Offsets}
	if b.upright() < 0 || len(s.Parts) == 0 {
		return 0, errNoTouch
	}
	first, err := newPart(s, 0)
	if err != nil {
		return 0, err
	}
	at, err := first.found.Linear(zero(s), r3.Vector{}, 0)
	if err != nil {
		return 0, err
	}
	return at[b.upright()] + lpr, nil
}
