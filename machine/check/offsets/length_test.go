package offsets

import (
	"errors"
	"math"
	"testing"

	"gridswing/machine"
)

// What stands in the tool table, by hand: the part's zero is at -270 for the gauge point (TestPerPosition), so that
// the foremost point of a tool of 100 is there at -170. Absolute, its offset is -270 and its length 100; touched
// off on the zero, where Z counts from, -170.
func TestLengthKeyedIn(t *testing.T) {
	for lengths, want := range map[string]float64{machine.AbsoluteLengths: 100, machine.TouchedOff: -170} {
		s := vertical(machine.PerPosition, lengths)
		s.Offsets.Shift = 12.5 // is in the offsets, not in lengths
		got, err := Length(s, 100)
		if err != nil || math.Abs(got-want) > 1e-9 {
			t.Errorf("%s: %g, %v, want %g", lengths, got, err, want)
		}
	}
}

func TestLengthThatCannotBeTold(t *testing.T) {
	s := vertical(machine.PerPosition, machine.TouchedOff)
	s.Parts = nil
	if _, err := Length(s, 100); !errors.Is(err, errNoTouch) {
		t.Errorf("without a part: %v", err)
	}
	s.Offsets = nil
	if _, err := Length(s, 100); !errors.Is(err, ErrNoMethod) {
		t.Errorf("without a method: %v", err)
	}
}
