package text

import (
	"strings"
	"testing"

	"gridswing/cmd/gridswing/internal/specimen"
	"gridswing/cmd/gridswing/internal/terminal"
	"gridswing/machine/check"
)

func TestProgramPages(t *testing.T) {
	holdPage(t, "program.txt", written(t, specimen.Program(), terminal.Plain))
	holdPage(t, "program-broken.txt", written(t, specimen.BrokenProgram(), terminal.Plain))
}

// That a program was not read to its end, or moves with another offset than is computed, is said
// before everything else: what follows rests on it.
func TestProgramSummaryComesFirst(t *testing.T) {
	for want, r := range map[string]*check.Report{
		"could not be read to its end. programs/bracket-op10.nc:1204:7: found G68.2, expected": specimen.BrokenProgram(),
		"What comes before is checked, and nothing after it.":                                  specimen.BrokenProgram(),
		"G54: X differs by +25.000 mm: as much as half the pitch":                              specimen.Program(),
		"T12: feeds without a length offset.":                                                  specimen.Program(),
	} {
		for _, brief := range []bool{false, true} {
			var b strings.Builder
			write := func() error { return Report(&b, terminal.Look{Width: 1000}, r, false) }
			if brief {
				write = func() error { return Brief(&b, terminal.Look{Width: 1000}, r) }
			}
			if err := write(); err != nil {
				t.Fatal(err)
			}
			lines := strings.Split(b.String(), "\n")
			if head := strings.Join(lines[:min(9, len(lines))], "\n"); !strings.Contains(head, want) {
				t.Errorf("brief %v:\n%s\ndoes not say %q", brief, head, want)
			}
		}
	}
}

// Lengths that hold are rounded inward, what is left outward, times to the second.
func TestProgramNumbers(t *testing.T) {
	at := func(v float64) *float64 { return &v }
	if got := HoldsFor(&check.ProgramTool{Shortest: at(91.501), Longest: at(104.009)}); got != whole("91.51-104.00") {
		t.Errorf("%q", got)
	}
	for seconds, want := range map[float64]string{3.4: "3 s", 59.6: "1 min 0 s", 2892: "48 min 12 s", 3723: "1 h 2 min 3 s"} {
		if got := duration(seconds); got != want {
			t.Errorf("%g s: %q, want %q", seconds, got, want)
		}
	}
	for seconds, want := range map[float64]string{3.4: "0:03", 2892: "48:12", 3723: "1:02:03"} {
		if got := Clock(seconds); got != want {
			t.Errorf("%g s: %q, want %q", seconds, got, want)
		}
	}
	for want, u := range map[string]check.ProgramTool{
		"-":    {FeedLength: 5, AirLength: 5},
		"all":  {FeedLength: 5, AirLength: 5, Removed: at(0)},
		"33 %": {FeedLength: 6, AirLength: 2, Removed: at(1)},
	} {
		if got := InAir(&u); got != want {
			t.Errorf("%+v: %q, want %q", u, got, want)
		}
	}
}

// A gouge alone is not said to be bodies that meet.
func TestGougeIsNoMeeting(t *testing.T) {
	r := specimen.Program()
	if got := meaning(r); !strings.Contains(got, "Bodies meet") || !strings.Contains(got, "below the finished surface") {
		t.Errorf("both: %q", got)
	}
	r.Findings = r.Findings[1:2]
	if r.Findings[0].Question != check.Gouging {
		t.Fatalf("the specimen's second finding is of %s", r.Findings[0].Question)
	}
	if got := meaning(r); strings.Contains(got, "Bodies meet") || !strings.Contains(got, "below the finished surface") {
		t.Errorf("a gouge: %q", got)
	}
}

// Where all is as computed, a line says so, and --full lists it; one that is not brings the tables.
func TestAllAsComputed(t *testing.T) {
	r := specimen.Program()
	r.Program.Offsets, r.Program.Lengths = r.Program.Offsets[1:2], r.Program.Lengths[1:2]
	words := func(full bool) string {
		var b strings.Builder
		if err := Report(&b, terminal.Look{Width: 1000}, r, full); err != nil {
			t.Fatal(err)
		}
		return b.String()
	}
	short := words(false)
	if !strings.Contains(short, "It moves with G55 and the lengths of T4, all taken as computed") || strings.Contains(short, "Work offsets that") || strings.Contains(short, "Length offsets that") {
		t.Errorf("all as computed:\n%s", short)
	}
	if full := words(true); !strings.Contains(full, "Work offsets that") || !strings.Contains(full, "Length offsets that") || strings.Contains(full, "--full") {
		t.Errorf("in full:\n%s", full)
	}
	r.Program.Offsets[0].Source = "keyed in"
	if keyed := words(false); !strings.Contains(keyed, "Work offsets that") || !strings.Contains(keyed, "Length offsets that") {
		t.Errorf("one keyed in:\n%s", keyed)
	}
}

// What a program file may hold and a terminal would obey is not printed.
func TestLineTextIsPrintable(t *testing.T) {
	f := &check.Finding{Line: 7, Block: " N7\tG1 X1\x1b[31m (\x07\u0085HOLE \u00b5)\r"}
	if got, want := LineOf(f), "7: N7 G1 X1[31m ( HOLE \u00b5)"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	f.Block = "\x00\r"
	if got := LineOf(f); got != "7" {
		t.Errorf("%q, want the number alone", got)
	}
}

// What one move does to many bodies is told at length of the first of them.
func TestManyOnALine(t *testing.T) {
	depth := 4.0
	hit := func(line int, other string) check.Finding {
		return check.Finding{Verdict: check.Contact, Question: check.Posted, Bodies: [2]string{"T1 holder", other}, Line: line, Block: "G28 Z0.", Depth: &depth}
	}
	r := specimen.Program()
	r.Findings = []check.Finding{hit(13, "vise"), hit(13, "riser"), hit(14, "vise"), hit(13, "stock")}
	for full, times := range map[bool]int{true: 4, false: 3} {
		var b strings.Builder
		if err := Report(&b, terminal.Look{Width: 1000}, r, full); err != nil {
			t.Fatal(err)
		}
		page := b.String()
		if n := strings.Count(page, ": G28 Z0."); n != times {
			t.Errorf("full %v: %d at length:\n%s", full, n, page)
		}
		if short := strings.Contains(page, " 2 contact: T1 holder and riser, there too: 4.00 mm into it\n\n 3 contact"); short == full {
			t.Errorf("full %v:\n%s", full, page)
		}
	}
}

// The one line of a batch names the program, and that it was not read to its end.
func TestVerdictLineOfAProgram(t *testing.T) {
	for want, r := range map[string]*check.Report{
		"(setups/bracket-op10.toml, programs/bracket-op10.nc)\n":                                                         specimen.Program(),
		"(setups/bracket-op10.toml, programs/bracket-op10.nc, not read from line 1204 of programs/bracket-op10.nc on)\n": specimen.BrokenProgram(),
	} {
		var b strings.Builder
		if err := VerdictLine(&b, terminal.Plain, r); err != nil || !strings.HasSuffix(b.String(), want) {
			t.Errorf("%q, %v, want %q at its end", b.String(), err, want)
		}
	}
}
