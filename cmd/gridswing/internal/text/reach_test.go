package text

import (
	"flag"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"unicode/utf8"

	"gridswing/cmd/gridswing/internal/specimen"
	"gridswing/cmd/gridswing/internal/terminal"
	"gridswing/machine/check"
)

var update = flag.Bool("update", false, "write the pages of testdata anew")

// pages are what is compared with testdata, at the width of a file: to be read there,
// as a user would.
func pages(t *testing.T, look terminal.Look) map[string]string {
	t.Helper()
	r := specimen.Reach()
	list := map[string]string{"reach.txt": written(t, r, look)}
	for i, name := range []string{"", "operation-contact.txt", "operation-over-travel.txt", "operation-not-presented.txt", "operation-tight.txt"} {
		if name == "" {
			continue
		}
		var b strings.Builder
		if err := Operation(&b, look, r, &r.Reach.Operations[i]); err != nil {
			t.Fatal(err)
		}
		list[name] = b.String()
	}
	var b strings.Builder
	p := &page{w: &b, look: look}
	p.keyIn(&check.Report{Offsets: specimen.TurnedOffsets(), Reach: r.Reach})
	list["turned-by-control.txt"] = b.String()
	list["loads.txt"] = loadsPage(look)
	list["stack.txt"] = stackPage(look)
	return list
}

// TestPages holds the pages to those in testdata.
func TestPages(t *testing.T) {
	for name, got := range pages(t, terminal.Plain) {
		holdPage(t, name, got)
	}
}

// holdPage holds a page to the one in testdata.
func holdPage(t *testing.T, name, got string) {
	t.Helper()
	path := filepath.Join("testdata", name)
	if *update {
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if got != strings.ReplaceAll(string(want), "\r\n", "\n") {
		t.Errorf("%s has changed (\"go test ./cmd/gridswing/internal/text -update\" writes it anew):\n%s", name, got)
	}
}

// TestPagesFit: at any width of a terminal no line is longer, but for those of tables
// that cannot be narrower, and none ends in blanks.
func TestPagesFit(t *testing.T) {
	for _, width := range []int{80, 90, 100, 120} {
		for name, page := range pages(t, terminal.Look{Width: width}) {
			for line := range strings.Lines(page) {
				line = strings.TrimSuffix(line, "\n")
				if n := utf8.RuneCountInString(line); n > width {
					t.Errorf("%s, width %d: %d columns: %q", name, width, n, line)
				}
				if strings.TrimRight(line, " ") != line {
					t.Errorf("%s, width %d: blanks at the end of %q", name, width, line)
				}
			}
		}
	}
}

// TestPagesStyled: bold and colour change no word; what must not be overlooked is bold.
func TestPagesStyled(t *testing.T) {
	plain, styled := pages(t, terminal.Look{Width: 90}), pages(t, terminal.Look{Width: 90, Styled: true})
	escape := regexp.MustCompile("\x1b\\[[0-9;]*m")
	for name := range plain {
		if got := escape.ReplaceAllString(styled[name], ""); got != plain[name] {
			t.Errorf("%s without escapes:\n%s\nwant\n%s", name, got, plain[name])
		}
	}
	for _, want := range []string{boldOn + "Z home is too low by 14.00 mm for the index from drill sides to bore deep", boldOn + "Only the operations were looked at", yellow + "NOMINAL" + off} {
		if !strings.Contains(styled["reach.txt"], want) {
			t.Errorf("no %q in the styled page", want)
		}
	}
}

// TestEveryOffsetSaysWhereItIsFrom: every line with an offset or a centre says NOMINAL or
// MEASURED, and what is nominal leaves room for what will be measured.
func TestEveryOffsetSaysWhereItIsFrom(t *testing.T) {
	for _, o := range []*check.Offsets{specimen.Offsets(), specimen.TurnedOffsets()} {
		var b strings.Builder
		p := &page{w: &b, look: terminal.Plain}
		p.keyIn(&check.Report{Offsets: o})
		lines := strings.Split(b.String(), "\n")
		for i, line := range lines {
			fields := strings.Fields(line)
			if len(fields) == 0 || !strings.HasPrefix(fields[0], "G5") && fields[0] != "A" && fields[0] != "C" || strings.Contains(line, "offset:") {
				continue
			}
			switch basis := fields[len(fields)-1]; basis {
			case "MEASURED":
			case "NOMINAL":
				if !strings.Contains(lines[i+1], blank) || !strings.HasSuffix(lines[i+1], "measured") {
					t.Errorf("%s: no room to write below %q: %q", o.Method, line, lines[i+1])
				}
			default:
				t.Errorf("%s: %q does not say where it is from", o.Method, line)
			}
		}
	}
}

// TestWindow is never printed wider than it is.
func TestWindow(t *testing.T) {
	for _, c := range []struct {
		lo, hi float64
		want   string
	}{
		{40, 52, "40 to 52"}, {40.01, 51.99, "40.1 to 51.9"}, {0.1 + 0.2, 0.3, "0.3 to 0.3"}, {40.01, 40.09, "none to 0.1"},
	} {
		if got := window(c.lo, c.hi); got != c.want {
			t.Errorf("%g to %g: %q, want %q", c.lo, c.hi, got, c.want)
		}
	}
}

// TestStickOutCell is short, and a window of one length is one number.
func TestStickOutCell(t *testing.T) {
	for _, c := range []struct {
		lo, hi float64
		want   string
	}{{54, 78, "58 (54-78)"}, {58, 58, "58 (58)"}, {40.01, 40.09, "58 (none to 0.1)"}} {
		if got := stickOutOf(&check.StickOut{Now: 58, Shortest: &c.lo, Longest: &c.hi}); got != c.want {
			t.Errorf("%g to %g: %q, want %q", c.lo, c.hi, got, c.want)
		}
	}
	if got := stickOutOf(&check.StickOut{Now: 58}); got != "58 (none)" {
		t.Errorf("none: %q", got)
	}
}

// TestHeights err upward: a height that is printed is clear.
func TestHeights(t *testing.T) {
	z := -84.333
	if got := height(&z); got != "-84.33" {
		t.Errorf("%g: %s", z, got)
	}
	if got := height(nil); got != missing {
		t.Errorf("no height: %s", got)
	}
	a, b := 1.001, 13.9
	r := &check.Reach{Moves: []check.Move{
		{Kind: check.IndexMove, From: "a", To: "b", Tool: 1, Short: &a}, {Kind: check.RapidMove, Short: &b},
		{Kind: check.IndexMove, From: "b", To: "c", Tool: 2, Short: &b, HeightBy: "this"}, {Kind: check.IndexMove, From: "c", To: "d"},
	}}
	got := strings.Join(TooLow(r), "\n")
	want := "Z home is too low by 13.90 mm for the index from b to c (T2): this\nZ home is too low by 1.01 mm for the index from a to b (T1)"
	if got != want {
		t.Errorf("%s\nwant %s", got, want)
	}
}

// TestRotaryOf says at how many other positions an operation cuts.
func TestRotaryOf(t *testing.T) {
	at := func(a float64) check.Feature {
		return check.Feature{Presented: []check.Presented{{At: []check.Position{{Axis: "C", Value: 0, Unit: "deg"}, {Axis: "A", Value: a, Unit: "deg"}}, Chosen: true}}}
	}
	for _, c := range []struct {
		features []check.Feature
		want     string
	}{
		{[]check.Feature{at(90)}, "A 90 C 0"},
		{[]check.Feature{at(90), at(90)}, "A 90 C 0"},
		{[]check.Feature{at(90), at(0), at(45), at(0)}, "A 90 C 0 (+2)"},
		{[]check.Feature{{}}, "none"},
		{[]check.Feature{{Presented: []check.Presented{{Chosen: true}}}}, "-"},
	} {
		o := &check.Operation{Features: c.features}
		if got := rotaryOf(o, &o.Features[0]); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}

// TestWorstOperationFirst: by verdict, then by what is left.
func TestWorstOperationFirst(t *testing.T) {
	var names []string
	for _, o := range WorstFirst(specimen.Reach().Reach.Operations) {
		names = append(names, o.Name)
	}
	want := "drill sides, bore deep, chamfer underneath, ream, touch the datum, face the top"
	if got := strings.Join(names, ", "); got != want {
		t.Errorf("%s\nwant %s", got, want)
	}
}

// TestCheckSaysWhatReachAdds: with the swing looked at as well, the spindle side was looked
// at in two ways, and nobody is told that the swing is missing.
func TestCheckSaysWhatReachAdds(t *testing.T) {
	r := sample()
	r.Reach, r.Checks = specimen.Reach().Reach, []string{check.SwingCheck, check.ReachCheck}
	text := strings.Join(strings.Fields(written(t, r, terminal.Plain)), " ")
	for _, want := range []string{"While the axes go over their whole ranges the spindle side (head, tool, machine/motor) was looked at only with Y",
		"in approach and in the cut only for the operations below.", "Operations, worst first", "Ranges looked at", "Assumed - necks, shanks"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in %s", want, text)
		}
	}
	for _, not := range []string{"approach and cutting are not looked at", "Only the operations were looked at"} {
		if strings.Contains(text, not) {
			t.Errorf("%q in %s", not, text)
		}
	}
}

// TestReachSaysWhenItCannotBeWritten, wherever the room ends.
func TestReachSaysWhenItCannotBeWritten(t *testing.T) {
	r := specimen.Reach()
	whole := len(written(t, r, terminal.Plain))
	for room := 0; room < whole; room += 100 {
		if Report(&full{room}, terminal.Plain, r, true) == nil {
			t.Errorf("no error with room for %d of %d bytes", room, whole)
		}
	}
	if Operation(&full{10}, terminal.Plain, r, &r.Reach.Operations[0]) == nil {
		t.Error("no error of an operation with room for 10 bytes")
	}
}

// TestOverloadMeaning: what a magazine does not take is no travel, and no load of a unit.
func TestOverloadMeaning(t *testing.T) {
	stored, carried := check.Finding{Verdict: check.Overload, Question: check.Stored}, check.Finding{Verdict: check.Overload, Question: check.Carrying}
	for _, c := range []struct {
		findings []check.Finding
		want     string
	}{
		{[]check.Finding{stored}, "The magazine does not take a tool."},
		{[]check.Finding{carried}, "Something carries more than it is rated for."},
		{[]check.Finding{carried, stored}, "The magazine does not take a tool. Something carries more than it is rated for."},
	} {
		if got := meaning(&check.Report{Verdict: check.Overload, Findings: c.findings}); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}
