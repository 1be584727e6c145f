package text

import (
	"strings"
	"testing"

	"gridswing/cmd/gridswing/internal/terminal"
	"gridswing/machine/check"
)

// TestLeftOfTravel says what the location uncertainty takes, and never calls it travel.
func TestLeftOfTravel(t *testing.T) {
	for _, c := range []struct {
		margin, loose float64
		want          string
	}{
		{20, 0, "20.00 mm left to 400"},
		{20.004, 0.121, "20.00 mm left to 400 (0.13 taken off)"},
		{-0.1, 0.3, "0.20 mm left to 400, of which location uncertainty takes 0.30 mm"},
		{-0.5, 0.3, "0.20 mm beyond its limit at 400, and 0.30 mm more for location uncertainty"},
		{-0.5, 0, "0.50 mm beyond its limit at 400"},
	} {
		if got := leftOf(&check.Travel{Limit: 400, Margin: c.margin, Loose: c.loose}, false); got != c.want {
			t.Errorf("%g, %g: %q, want %q", c.margin, c.loose, got, c.want)
		}
	}
}

// TestTakenOff is said once where it is the same of all axes.
func TestTakenOff(t *testing.T) {
	of := func(loose ...float64) (list []check.Travel) {
		for _, l := range loose {
			list = append(list, check.Travel{Axis: "X", Limit: 400, Margin: 20, Loose: l})
		}
		return list
	}
	for _, c := range []struct {
		travel       []check.Travel
		header, line string
	}{
		{of(0, 0), "nothing is taken off for location uncertainty", "20.00 mm left to 400"},
		{of(0.121, 0.13), "what is left has 0.13 mm taken off for location uncertainty", "20.00 mm left to 400"},
		{of(0.12, 0.13), "location uncertainty is taken off what is left", "20.00 mm left to 400 (0.12 taken off)"},
	} {
		words, all := takenOff(c.travel)
		if line := leftOf(&c.travel[0], all); words != c.header || line != c.line {
			t.Errorf("%+v: %q, %q, want %q, %q", c.travel, words, line, c.header, c.line)
		}
	}
}

// TestFreeAxisIsNotSaidToBeClear: where an axis may stand anywhere, only one position of it was
// looked at.
func TestFreeAxisIsNotSaidToBeClear(t *testing.T) {
	at := []check.Position{{Axis: "A", Value: 0, Unit: "deg"}, {Axis: "C", Value: 30, Unit: "deg"}}
	f := &check.Feature{Presented: []check.Presented{{At: at, Verdict: check.Clear, Chosen: true, Free: "C"}, {At: at, Free: "C"}}}
	p := &page{look: terminal.Plain}
	if got, want := p.presented(f, &f.Presented[0]), "A 0.00, C 30.00 deg: chosen; presented wherever C stands, looked at only with C 30.00 deg"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if got := p.presented(f, &f.Presented[1]); !strings.HasSuffix(got, "; presented wherever C stands") {
		t.Errorf("not chosen: %q", got)
	}
}

// TestBeyondALimit does not read as the limit.
func TestBeyondALimit(t *testing.T) {
	at := []check.Position{{Axis: "A", Value: 110.005, Unit: "deg"}}
	f := check.Feature{Verdict: check.OverTravel, Presented: []check.Presented{{At: at, Verdict: check.OverTravel, Chosen: true}}}
	p := &page{look: terminal.Plain}
	if got, want := p.presented(&f, &f.Presented[0]), "A 110.005 deg: chosen, over-travel"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	o := &check.Operation{Features: []check.Feature{f}}
	if got := rotaryOf(o, &o.Features[0]); got != "A 110.005" {
		t.Errorf("%q", got)
	}
}

// TestContourTellsItsRange, and not only where it begins.
func TestContourTellsItsRange(t *testing.T) {
	deg := func(axis string, from, to float64, turn check.Turn) check.Range {
		return check.Range{Axis: axis, From: from, To: to, Unit: "deg", Turn: turn}
	}
	along := []check.Range{deg("A", 10, 60.5, check.Turn{}), deg("C", 350, 370, check.Turn{0, 360})}
	at := []check.Position{{Axis: "A", Value: 10, Unit: "deg"}, {Axis: "C", Value: 350, Unit: "deg"}}
	f := check.Feature{Name: "rim", Kind: "contour", Verdict: check.Clear, Along: along, Presented: []check.Presented{{At: at, Verdict: check.Clear, Chosen: true}}}
	o := &check.Operation{Features: []check.Feature{f}}
	if got, want := rotaryOf(o, &f), "A 10 to 60.5 C 350 to 10 through 0"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	var b strings.Builder
	p := &page{w: &b, look: terminal.Plain}
	p.feature(&check.Report{}, &f)
	if !strings.Contains(b.String(), "\n   along it    A 10 to 60.5, C 350 to 10 through 0 deg\n") {
		t.Error(b.String())
	}
}
