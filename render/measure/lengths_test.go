package measure

import (
	"math"
	"strconv"
	"testing"

	"gridswing/geom"

	"pgregory.net/rapid"
)

var inch = Lengths{Unit: geom.Inch}

// An inch is 25.4 mm exactly (ISO 80000-3): the values are quotients worked out by hand from that.
func TestWrite(t *testing.T) {
	for _, c := range []struct {
		l           Lengths
		mm          float64
		full, short string
	}{
		{Lengths{}, 120, "120", "120"},
		{Lengths{}, 0.0787, "0.079", "0.1"},
		{Lengths{}, -0.0001, "0", "0"},
		{Lengths{Unit: geom.Millimetre}, -12.25, "-12.25", "-12.3"},
		{inch, 25.4, "1", "1"},
		{inch, 2, "0.0787", "0.079"},
		{inch, 10, "0.3937", "0.394"},
		{inch, 1000, "39.3701", "39.37"},
		{inch, -0.001, "0", "0"},
	} {
		if full, short := c.l.Write(c.mm), c.l.Short(c.mm); full != c.full || short != c.short {
			t.Errorf("%g mm in %s: %s, in short %s; want %s, %s", c.mm, c.l.Name(), full, short, c.full, c.short)
		}
	}
	if name := (Lengths{}).Name() + " " + inch.Name(); name != "mm inch" {
		t.Errorf("the units are called %s", name)
	}
}

func TestRound(t *testing.T) {
	for _, c := range []struct {
		l          Lengths
		most, want float64
	}{
		{Lengths{}, 230, 200}, {Lengths{}, 199, 100}, {Lengths{}, 99.9, 50}, {Lengths{}, 100, 100}, {Lengths{}, 1000, 1000},
		{Lengths{}, 1, 1}, {Lengths{}, 0.6, 0.5}, {Lengths{}, 0.3, 0.2}, {Lengths{}, 0.04, 0.02},
		{inch, 99, 2 * 25.4}, {inch, 25.4, 25.4}, {inch, 12, 0.2 * 25.4},
	} {
		if got := c.l.Round(c.most); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%s up to %g: %g", c.l.Name(), c.most, got)
		}
	}
}

// A round length is 1, 2 or 5 and zeros in its unit, no longer than may be, and more than two
// fifths of it.
func TestRoundLengthsAreRound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := Lengths{Unit: rapid.SampledFrom([]geom.Unit{0, geom.Millimetre, geom.Inch}).Draw(t, "unit")}
		most := math.Pow(10, rapid.Float64Range(-3, 7).Draw(t, "power"))
		got := l.Round(most)
		if got > most || got <= 0.399*most {
			t.Fatalf("up to %g mm: %g", most, got)
		}
		digits := strconv.FormatFloat(l.In(got), 'e', 9, 64)
		if first := digits[:11]; first != "1.000000000" && first != "2.000000000" && first != "5.000000000" {
			t.Fatalf("up to %g mm: %s %s", most, digits, l.Name())
		}
	})
}
