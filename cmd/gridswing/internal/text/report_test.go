package text

import (
	"errors"
	"regexp"
	"strings"
	"testing"
	"unicode/utf8"

	"gridswing/cmd/gridswing/internal/terminal"
	"gridswing/machine/check"
)

func length(mm float64) *float64 { return &mm }

// sample is a report with long names and one finding of every kind.
func sample() *check.Report {
	over := []check.Range{{Axis: "A", From: -30, To: 90, Unit: "deg"}, {Axis: "C", From: 0, To: 360, Unit: "deg"}}
	at := []check.Position{{Axis: "A", Value: 88.125, Unit: "deg"}, {Axis: "C", Value: 41, Unit: "deg"}}
	bodies := [2]string{"a unit with quite a long name/and a body of it", "another unit/whose body is named at length as well"}
	finding := func(v check.Verdict) check.Finding {
		return check.Finding{Verdict: v, Question: check.Swing, Bodies: bodies, Demand: 2, At: at, Over: over,
			Points: &[2][3]float64{{1, 2, 3}, {1.5, 2, 3}}}
	}
	contact, play, unproven, tight, good := finding(check.Contact), finding(check.WithinPlay),
		finding(check.Unproven), finding(check.Tight), finding(check.Clear)
	contact.Where = over
	play.Smallest, play.Nominal, play.Uncertainty = length(-0.1), length(0.4), 0.5
	unproven.Reason = "the budget of one pair was used up before it could be told, and this sentence is long"
	tight.Proven, tight.Smallest, tight.Nominal, tight.Uncertainty = length(0.8), length(0.81), length(0.9), 0.09
	tight.DemandReason = "made to pass close"
	good.Proven, good.Smallest = length(3), length(3.01)
	travel := check.Range{Axis: "A", From: -30, To: 120, Unit: "deg"}
	r := &check.Report{
		Setup: "a setup", Machine: "a machine", File: "setups/a.toml",
		Findings: []check.Finding{tight, unproven, contact, play}, Closest: []check.Finding{good},
		Pairs: []check.Pair{{Verdict: check.Contact}, {Verdict: check.Clear}, {Verdict: check.Clear}},
		Axes: []check.Axis{
			{Letter: "C", CarriedBy: "trunnion", Commanded: over[1], Words: "C +90: something"},
			{Letter: "A", CarriedBy: "trunnion", Commanded: over[0], Travel: &travel, Narrower: true},
		},
		Presence: []check.Presence{{What: "head", State: "modelled"}, {What: "guards", State: check.NotModelled}},
		Assumed:  []string{"something"}, LeftToMaker: []string{"trunnion"}, Stated: []string{"nothing is inside it"},
		Warnings: []string{"a warning"}, Caution: check.Caution,
	}
	r.Conclude()
	return r
}

func written(t *testing.T, r *check.Report, look terminal.Look) string {
	t.Helper()
	var b strings.Builder
	if err := Report(&b, look, r); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// TestReportFits: at any width no line is longer, but for words that are, and no
// line ends in blanks.
func TestReportFits(t *testing.T) {
	for _, width := range []int{60, 80, 90, 100} {
		for line := range strings.Lines(written(t, sample(), terminal.Look{Width: width})) {
			line = strings.TrimSuffix(line, "\n")
			if n := utf8.RuneCountInString(line); n > width && !strings.Contains(line, "unit") && !strings.Contains(line, "narrower") {
				t.Errorf("width %d: %d columns: %q", width, n, line)
			}
			if strings.TrimRight(line, " ") != line {
				t.Errorf("blanks at the end of %q", line)
			}
		}
	}
}

// TestReportOrder: what matters first.
func TestReportOrder(t *testing.T) {
	text := written(t, sample(), terminal.Plain)
	last := -1
	for _, want := range []string{
		"contact: a setup\n", "is proven of the whole: guards.", "3 pairs of bodies looked at: 1 contact, 2 clear.",
		"Not clear, worst first\n", " 1 contact: ", "happens in  A -30 to 90, C 0 to 360 deg",
		"for example A 88.12, C 41.00 deg\n", "point       X 1.2, Y 2.0, Z 3.0 mm\n",
		" 2 within-play: ", "clearance   nothing proven, smallest met -0.10 mm, demanded 2 mm\n",
		"as drawn    0.40 mm, from which location uncertainty and chord error take up to 0.50 mm\n",
		" 3 unproven: ", "because     the budget",
		" 4 tight: ", "proven to be at least 0.80 mm, smallest met 0.81 mm, demanded 2 mm\n", "demanded    made to pass close\n",
		"Closest of what is clear\n", "     3.01 mm  ",
		"Ranges looked at\n", "A -30 to 90 deg, narrower than the axis can go: -30 to 120 deg (trunnion)\n",
		"C 0 to 360 deg of an axis without ends (trunnion)\n     C +90: something\n",
		"What could be hit\n", "   not modelled     guards\n", "Assumed\n", "Stated by the files, not checked\n", "Left to the makers\n",
		"Warnings\n   - a warning\n", "Caution\n",
	} {
		i := strings.Index(text, want)
		switch {
		case i < 0:
			t.Errorf("no %q in\n%s", want, text)
		case i < last:
			t.Errorf("%q comes too early in\n%s", want, text)
		default:
			last = i
		}
	}
}

// TestStyleAddsNothing: bold and colour change no word, and a narrower range is
// bold.
func TestStyleAddsNothing(t *testing.T) {
	plain, styled := written(t, sample(), terminal.Look{Width: 90}), written(t, sample(), terminal.Look{Width: 90, Styled: true})
	escape := regexp.MustCompile("\x1b\\[[0-9;]*m")
	if got := escape.ReplaceAllString(styled, ""); got != plain {
		t.Errorf("without escapes:\n%s\nwant\n%s", got, plain)
	}
	if strings.Contains(plain, "\x1b") {
		t.Error("plain text has escapes")
	}
	if !strings.Contains(styled, boldOn+"narrower than the axis can go: -30 to 120 deg"+off) {
		t.Errorf("the narrower range is not bold in\n%q", styled)
	}
}

// TestBrief: a line for each finding, not the whole.
func TestBrief(t *testing.T) {
	var b strings.Builder
	if err := Brief(&b, terminal.Look{Width: 100}, sample()); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"contact: a setup\n", "   While the rotary axes move:\n   - contact: ", "   - tight: ", "at A -30 to 90, C 0 to 360 deg"} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("no %q in\n%s", want, b.String())
		}
	}
	if strings.Contains(b.String(), "Caution") {
		t.Error("brief is not brief")
	}
}

type full struct{ room int }

func (f *full) Write(p []byte) (int, error) {
	if f.room -= len(p); f.room < 0 {
		return 0, errors.New("no room left")
	}
	return len(p), nil
}

// TestReportSaysWhenItCannotBeWritten, wherever the room ends.
func TestReportSaysWhenItCannotBeWritten(t *testing.T) {
	whole := len(written(t, sample(), terminal.Plain))
	for room := 0; room < whole; room += 100 {
		if Report(&full{room}, terminal.Plain, sample()) == nil {
			t.Errorf("no error with room for %d of %d bytes", room, whole)
		}
	}
}
