package check

import (
	"math"
	"testing"

	"gridswing/geom/motion"
	"gridswing/machine"
)

// endless is an axis without ends that is commanded from one angle to another, in degrees.
func endless(from, to float64) *machine.Axis {
	return &machine.Axis{Letter: "C", Kind: motion.Rotary, Unlimited: true, Commanded: [2]float64{from / 180 * math.Pi, to / 180 * math.Pi}}
}

// TestPositionsShown: by hand, as controls count a roll-over axis. Data keep what the axis did.
func TestPositionsShown(t *testing.T) {
	for _, c := range []struct {
		axis       *machine.Axis
		deg, shown float64
	}{
		{endless(0, 360), 450, 90}, {endless(0, 360), 630, 270}, {endless(0, 360), 360, 0}, {endless(0, 360), -90, 270}, {endless(0, 360), 0, 0},
		{endless(-180, 180), 450, 90}, {endless(-180, 180), 270, -90}, {endless(-180, 180), 180, 180}, {endless(-180, 180), -180, 180},
		{endless(-90, 90), 315, -45}, {endless(-90, 270), -45, 315},
		{&machine.Axis{Letter: "C", Kind: motion.Rotary}, 450, 450}, {&machine.Axis{Letter: "C", Kind: motion.Rotary}, -90, -90},
	} {
		p := PositionOf(c.axis, c.deg/180*math.Pi)
		if p.Shown() != c.shown || p.Value != c.deg {
			t.Errorf("%g: shown at %g, want %g; value %g", c.deg, p.Shown(), c.shown, p.Value)
		}
	}
	linear := &machine.Axis{Letter: "X", Kind: motion.Linear, Unlimited: true}
	if p := PositionOf(linear, 450); p.Shown() != 450 {
		t.Errorf("X 450 shown at %g", p.Shown())
	}
}

// TestRangesShown: what leads over the end of the turn says so, and a whole turn is one.
func TestRangesShown(t *testing.T) {
	for _, c := range []struct {
		axis               *machine.Axis
		from, to           float64
		shownFrom, shownTo float64
		through            float64
		over               bool
	}{
		{endless(0, 360), 360, 450, 0, 90, 0, false},
		{endless(0, 360), 270, 360, 270, 360, 0, false},
		{endless(0, 360), 270, 450, 270, 90, 0, true},
		{endless(0, 360), -90, 90, 270, 90, 0, true},
		{endless(0, 360), -90, 270, 0, 360, 0, false},
		{endless(0, 360), 630, 630, 270, 270, 0, false},
		{endless(0, 360), 0, 1000, 0, 360, 0, false},
		{endless(-180, 180), 170, 190, 170, -170, 180, true},
		{endless(-180, 180), -180, 180, -180, 180, 0, false},
		{endless(-180, 180), 540, 540, 180, 180, 0, false},
		{&machine.Axis{Letter: "A", Kind: motion.Rotary}, -100, 400, -100, 400, 0, false},
	} {
		r := RangeOf(c.axis, c.from/180*math.Pi, c.to/180*math.Pi)
		from, to, through, over := r.Shown()
		if from != c.shownFrom || to != c.shownTo || through != c.through || over != c.over {
			t.Errorf("%g to %g: %g to %g through %g %v, want %+v", c.from, c.to, from, to, through, over, c)
		}
	}
}
