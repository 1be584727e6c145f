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
	mm := func(axis string, from, to float64) check.Range {
		return check.Range{Axis: axis, From: from, To: to, Unit: "mm"}
	}
	x, y, z, y0, z0 := mm("X", -400, 400), mm("Y", -250, 250), mm("Z", -550, 0), mm("Y", 250, 250), mm("Z", 0, 0)
	columns := &check.Chart{Tilt: over[0], Rotary: &over[1], Columns: 48, Rows: 72, Cap: 10}
	r := &check.Report{
		Setup: "a setup", Machine: "a machine", File: "setups/a.toml",
		Findings: []check.Finding{tight, unproven, contact, play}, Closest: []check.Finding{good},
		Pairs: []check.Pair{{Verdict: check.Contact}, {Verdict: check.Clear}, {Verdict: check.Clear}},
		Axes: []check.Axis{
			{Letter: "C", CarriedBy: "trunnion", Commanded: over[1], Words: "C +90: something"},
			{Letter: "A", CarriedBy: "trunnion", Commanded: over[0], Travel: &travel, Narrower: true},
			{Letter: "Z", CarriedBy: "machine", Commanded: z, Travel: &z, CarriesTool: true, SpindleAt: &z0, SpindleWhy: check.AtIndex},
			{Letter: "Y", CarriedBy: "machine", Commanded: y, Travel: &y, SpindleAt: &y0, SpindleWhy: check.AtHome},
			{Letter: "X", CarriedBy: "machine", Commanded: x, Travel: &x, SpindleAt: &x, SpindleWhy: check.AtCommanded},
		},
		Chart: columns, SpindleSide: []string{"machine/head", "machine/motor", "tool"},
		Placed: []check.Placed{{Name: "vise", Size: [3]float64{100, 60, 50.5}}, {Name: "trunnion", Size: [3]float64{500, 240, 300}}},
		Presence: []check.Presence{{What: "head", State: "modelled", Bodies: []string{"machine/head"}},
			{What: "tool", State: "modelled", Bodies: []string{"tool"}}, {What: "guards", State: check.NotModelled}},
		Assumed: []string{"something"}, LeftToMaker: []string{"trunnion"}, Stated: []string{"nothing is inside it"},
		Warnings: []string{"a warning"}, Caution: check.Caution,
	}
	r.Conclude()
	return r
}

func written(t *testing.T, r *check.Report, look terminal.Look) string {
	t.Helper()
	var b strings.Builder
	if err := Report(&b, look, r, true); err != nil {
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
		"contact, 1 warning: a setup\n", "is proven of the whole: guards.",
		"The spindle side (head, tool, machine/motor) was looked at only with Y at 250 mm\n   (home), Z at 0 mm (index position), anywhere in X -400 to 400 mm; approach and cutting\n   are not looked at.\n",
		"3 pairs of bodies looked at: 1 contact, 2 clear.",
		"Not clear, worst first\n", " 1 contact: ", "happens     within A -30 to 90, C 0 to 360 deg (to steps of A 2.5, C 5 deg)\n",
		"for example A 88.12, C 41.00 deg\n", "point       X 1.2, Y 2.0, Z 3.0 mm, with the other axes at home\n",
		" 2 within-play: ", "with the other axes at home; the middle between the\n               two nearest points\n",
		"clearance   what is left at the worst location: -0.10 mm, demanded 2 mm\n",
		"as drawn    0.40 mm, from which location uncertainty and chord error take up to 0.50 mm\n",
		" 3 unproven: ", "because     the budget",
		" 4 tight: ", "proven to be at least 0.80 mm, smallest found 0.81 mm, demanded 2 mm\n", "demanded    made to pass close\n",
		"Warnings\n   - a warning\n",
		"Closest of what is clear\n", "   - at least 3.00 mm  ", "(3.01 found at A 88.12,", "demanded 2 mm)\n",
		"Ranges looked at\n", "   X -400 to 400 mm, all of its travel\n",
		"   Y -250 to 250 mm, all of its travel, but for the spindle side only at 250 mm (home)\n",
		"   Z only at 0 mm (index position) of its travel, -550 to 0 mm\n", "   A -30 to 90 deg, narrower than the axis can go: -30 to 120 deg (trunnion)\n",
		"C 0 to 360 deg of an axis without ends (trunnion)\n     C +90: something\n",
		"What stands there, and its size as drawn\n   vise      100 x 60 x 50.5 mm\n   trunnion  500 x 240 x 300 mm\n",
		"What could be hit\n", "   not modelled     guards\n", "Assumed\n", "Stated by the files, not checked\n", "Left to the makers\n",
		"Caution\n",
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
	for _, want := range []string{"The spindle side (head", "only at 0 mm (index position)" + off, "but for the spindle side only at 250 mm (home)" + off} {
		if !strings.Contains(styled, boldOn+want) {
			t.Errorf("no bold %q in\n%q", want, styled)
		}
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
	for _, want := range []string{"contact, 1 warning: a setup\n", "   While the rotary axes move:\n   - contact: ", "   - tight: ", "within A -30 to 90, C 0 to 360 deg"} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("no %q in\n%s", want, b.String())
		}
	}
	if strings.Contains(b.String(), "Caution") {
		t.Error("brief is not brief")
	}
}

// TestVerdictLine: all that a batch needs in one line.
func TestVerdictLine(t *testing.T) {
	for _, c := range []struct {
		warnings []string
		want     string
	}{
		{nil, "clear: a setup (setups/a.toml)\n"},
		{[]string{"one"}, "clear, 1 warning: a setup (setups/a.toml)\n"},
		{[]string{"one", "two"}, "clear, 2 warnings: a setup (setups/a.toml)\n"},
	} {
		var b strings.Builder
		r := &check.Report{Setup: "a setup", File: "setups/a.toml", Verdict: check.Clear, Warnings: c.warnings}
		if err := VerdictLine(&b, terminal.Plain, r); err != nil || b.String() != c.want {
			t.Errorf("%q, %v; want %q", b.String(), err, c.want)
		}
	}
}

// TestQuestion: nothing that stands still is said to move.
func TestQuestion(t *testing.T) {
	a, a0 := check.Range{Axis: "A", To: 90, Unit: "deg"}, check.Range{Axis: "A", Unit: "deg"}
	x, z := check.Range{Axis: "X", To: 9, Unit: "mm"}, check.Range{Axis: "Z", From: 5, To: 5, Unit: "mm"}
	for _, c := range []struct {
		question string
		over     []check.Range
		want     string
	}{
		{check.Rest, nil, "standing still"},
		{check.Swing, []check.Range{a}, "while the rotary axes move"},
		{check.Swing, []check.Range{a0}, "standing still"},
		{check.Index, []check.Range{z, a}, "against the spindle side, while the rotary axes move"},
		{check.Index, []check.Range{z, x, a0}, "against the spindle side"},
		{check.Index, []check.Range{z}, "against the spindle side"},
		{check.Overhang, []check.Range{x, a}, "while the table and the rotary axes move"},
		{check.Overhang, []check.Range{x, a0}, "while the table moves"},
		{check.Overhang, []check.Range{z, a}, "while the rotary axes move"},
	} {
		if got := Question(&check.Finding{Question: c.question, Over: c.over}); got != c.want {
			t.Errorf("%s over %v: %q, want %q", c.question, c.over, got, c.want)
		}
	}
}

// TestClearance of what the location uncertainty closes says what is left.
func TestClearance(t *testing.T) {
	for _, c := range []struct {
		f    check.Finding
		want string
	}{
		{check.Finding{Verdict: check.WithinPlay, Demand: 2, Smallest: length(-0.418)}, "what is left at the worst location: -0.42 mm, demanded 2 mm"},
		{check.Finding{Verdict: check.WithinPlay, Demand: 2, Smallest: length(0.004)}, "what is left at the worst location is less than can be told, demanded 2 mm"},
		{check.Finding{Verdict: check.Tight, Demand: 1.001, Proven: length(0.999), Smallest: length(1.0005)}, "proven to be at least 0.99 mm, smallest found 1.00 mm, demanded 1.001 mm"},
		{check.Finding{Verdict: check.Unproven, Demand: 0.999}, "nothing proven, demanded 0.999 mm"},
		{check.Finding{Verdict: check.Contact, Demand: 2}, ""},
		{check.Finding{Verdict: check.Unproven}, ""}, // such as what stands on nothing
	} {
		if got := clearance(&c.f); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}

// TestSteps: the chart's cells, and the parts of a linear axis; each axis once.
func TestSteps(t *testing.T) {
	a, c := check.Range{Axis: "A", From: -30, To: 110, Unit: "deg"}, check.Range{Axis: "C", To: 360, Unit: "deg"}
	x := check.Range{Axis: "X", From: -400, To: 400, Unit: "mm"}
	r := &check.Report{Chart: &check.Chart{Tilt: a, Rotary: &c, Columns: 56, Rows: 72}}
	f := &check.Finding{Over: []check.Range{a, c, x}, Where: []check.Range{
		{Axis: "X", From: 380, To: 400, Unit: "mm"}, {Axis: "A", From: 80, To: 110, Unit: "deg"},
		{Axis: "C", To: 30, Unit: "deg"}, {Axis: "C", From: 330, To: 360, Unit: "deg"}}}
	if got, want := steps(r, f), "X 20 mm, A 2.5, C 5 deg"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

// TestNothingNear: no more is said than the report knows.
func TestNothingNear(t *testing.T) {
	pair := func(question string, v check.Verdict, proven *float64) check.Pair {
		return check.Pair{Question: question, Verdict: v, Demand: 2, Proven: proven}
	}
	a := check.Range{Axis: "A", From: -30, To: 110, Unit: "deg"}
	far := &check.Chart{Tilt: a, Columns: 2, Rows: 1, Cap: 10, Cells: []check.Cell{{Verdict: check.Clear}, {Verdict: check.Clear, Proven: length(12)}}}
	near := &check.Chart{Tilt: a, Columns: 2, Rows: 1, Cap: 10, Cells: []check.Cell{{Verdict: check.Clear}, {Verdict: check.Clear, Proven: length(4.567)}}}
	bad := &check.Chart{Tilt: a, Columns: 2, Rows: 1, Cap: 10, Cells: []check.Cell{{Verdict: check.Clear}, {Verdict: check.Contact}}}
	seat, swing := pair(check.Rest, check.Clear, nil), pair(check.Swing, check.Clear, length(2))
	table := pair(check.Overhang, check.Clear, length(2.5))
	axes := []check.Axis{{Letter: "A", Commanded: a}}
	for _, c := range []struct {
		name string
		r    check.Report
		want string
	}{
		{"nothing", check.Report{}, ""},
		{"seats only", check.Report{Pairs: []check.Pair{seat}}, ""},
		{"nothing clear", check.Report{Pairs: []check.Pair{pair(check.Swing, check.Contact, nil)}, Chart: bad, Axes: axes}, ""},
		{"all on the chart", check.Report{Pairs: []check.Pair{swing, seat}, Chart: far, Axes: axes}, "Nothing clear comes nearer than 10 mm, seats and grips aside."},
		{"near on the chart", check.Report{Pairs: []check.Pair{swing}, Chart: near, Axes: axes}, "Nothing clear comes nearer than 4.56 mm, seats and grips aside."},
		{"contact on the chart", check.Report{Pairs: []check.Pair{swing}, Chart: bad, Axes: axes}, "Nothing clear comes nearer than 2 mm, seats and grips aside."},
		{"not all on the chart", check.Report{Pairs: []check.Pair{swing, table}, Chart: far, Axes: axes},
			"Nothing clear that only rotary axes move comes nearer than 10 mm; of all else that is clear, seats and grips aside, at least 2.5 mm is proven."},
		{"an axis not on the chart", check.Report{Pairs: []check.Pair{swing}, Chart: far,
			Axes: append(axes, check.Axis{Commanded: check.Range{Axis: "B", To: 9, Unit: "deg"}})}, "Nothing clear comes nearer than 2 mm, seats and grips aside."},
		{"no chart", check.Report{Pairs: []check.Pair{table}}, "Nothing clear comes nearer than 2.5 mm, seats and grips aside."},
	} {
		if got := NothingNear(&c.r); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
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
		if Report(&full{room}, terminal.Plain, sample(), true) == nil {
			t.Errorf("no error with room for %d of %d bytes", room, whole)
		}
	}
}
