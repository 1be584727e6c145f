package text

import (
	"math"
	"testing"

	"gridswing/machine/check"
)

// TestLengthsErrOnTheBadSide prints lengths near the steps of 0.01 mm: a
// clearance never becomes more, an uncertainty never less, by printing, but for
// the noise of float64. What a file demands is printed as it is there.
func TestLengthsErrOnTheBadSide(t *testing.T) {
	for _, c := range []struct {
		mm               float64
		down, up, demand string
	}{
		{0, "0.00", "0.00", "0"},
		{math.Copysign(0, -1), "0.00", "0.00", "-0"},
		{2, "2.00", "2.00", "2"},
		{1.9999, "1.99", "2.00", "1.9999"},
		{2.0001, "2.00", "2.01", "2.0001"},
		{0.1 + 0.2, "0.30", "0.30", "0.3"}, // 0.30000000000000004
		{5.44, "5.44", "5.44", "5.44"},     // 544.0000000000001 hundredths
		{0.29, "0.29", "0.29", "0.29"},     // 28.999999999999996 hundredths
		{-0.001, "-0.01", "0.00", "-0.001"},
		{-1.234, "-1.24", "-1.23", "-1.234"},
		{0.001, "0.00", "0.01", "0.001"},
		{0.999, "0.99", "1.00", "0.999"},
		{0.04 * 25.4, "1.01", "1.02", "1.016"}, // 0.04 inch
		{1e-7, "0.00", "0.01", "0.0000001"},
		{123456.789, "123456.78", "123456.79", "123456.789"},
	} {
		if got := Down(c.mm); got != c.down {
			t.Errorf("Down(%v) = %s, want %s", c.mm, got, c.down)
		}
		if got := Up(c.mm); got != c.up {
			t.Errorf("Up(%v) = %s, want %s", c.mm, got, c.up)
		}
		if got := Demanded(c.mm); got != c.demand {
			t.Errorf("Demanded(%v) = %s, want %s", c.mm, got, c.demand)
		}
	}
}

func TestRanges(t *testing.T) {
	deg := func(axis string, from, to float64) check.Range {
		return check.Range{Axis: axis, From: from, To: to, Unit: "deg"}
	}
	mm := func(axis string, from, to float64) check.Range {
		return check.Range{Axis: axis, From: from, To: to, Unit: "mm"}
	}
	for _, c := range []struct {
		list []check.Range
		want string
	}{
		{nil, ""},
		{[]check.Range{deg("A", -30, 110)}, "A -30 to 110 deg"},
		{[]check.Range{mm("Z", 550, 550)}, "Z at 550 mm"},
		{[]check.Range{deg("C", 0, 35), deg("C", 200.125, 360)}, "C 0 to 35 and 200.12 to 360 deg"},
		{[]check.Range{deg("C", 0, 35), mm("Y", -1, 1), deg("A", 1, 2), mm("X", 0, 1)},
			"X 0 to 1, Y -1 to 1 mm, A 1 to 2, C 0 to 35 deg"},
	} {
		if got := Ranges(c.list); got != c.want {
			t.Errorf("got %q, want %q", got, c.want)
		}
	}
}

func TestPositions(t *testing.T) {
	list := []check.Position{{Axis: "C", Value: 41, Unit: "deg"}, {Axis: "A", Value: -1e-9, Unit: "deg"}, {Axis: "Y", Value: -187.5, Unit: "mm"}}
	if got, want := Positions(list), "Y -187.50 mm, A 0.00, C 41.00 deg"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	if got := Positions(nil); got != "" {
		t.Errorf("got %q for no positions", got)
	}
}

// TestWholeTurns: what a control shows of an axis without ends, nothing that a rounding makes of
// it beside.
func TestWholeTurns(t *testing.T) {
	turn := check.Turn{0, 360}
	for _, c := range []struct {
		from, to float64
		want     string
	}{
		{360, 450, "C 0 to 90 deg"}, {270, 450, "C 270 to 90 through 0 deg"}, {-90, 630, "C 0 to 360 deg"}, {630, 630, "C at 270 deg"},
		{359.999, 450.001, "C 0 to 90 deg"}, {270, 360.001, "C 270 to 360 deg"},
	} {
		if got := Ranges([]check.Range{{Axis: "C", From: c.from, To: c.to, Unit: "deg", Turn: turn}}); got != c.want {
			t.Errorf("%g to %g: %q, want %q", c.from, c.to, got, c.want)
		}
	}
	for deg, want := range map[float64]string{630: "C 270.00 deg", 359.999: "C 0.00 deg", -0.001: "C 0.00 deg"} {
		if got := Positions([]check.Position{{Axis: "C", Value: deg, Unit: "deg", Turn: turn}}); got != want {
			t.Errorf("%g: %q, want %q", deg, got, want)
		}
	}
	at := []check.Position{{Axis: "A", Value: 0, Unit: "deg"}, {Axis: "C", Value: 450, Unit: "deg", Turn: turn}}
	if got := Rotary(at); got != "A 0 C 90" {
		t.Errorf("%q", got)
	}
}
