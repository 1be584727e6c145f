package text

import (
	"slices"
	"strings"
	"testing"

	"gridswing/cmd/gridswing/internal/specimen"
	"gridswing/cmd/gridswing/internal/terminal"
	"gridswing/machine/check"
)

// cleared is a report that has something in every section, all of it clear.
func cleared() *check.Report {
	r := specimen.Reach()
	r.Findings, r.Verdict = nil, check.Clear
	r.Reach.Operations = slices.DeleteFunc(r.Reach.Operations, func(o check.Operation) bool { return o.Verdict != check.Clear })
	for i := range r.Reach.Moves {
		r.Reach.Moves[i].Verdict, r.Reach.Moves[i].Short, r.Reach.Moves[i].Reason = check.Clear, nil, ""
	}
	for i := range r.Reach.Magazine {
		r.Reach.Magazine[i].Verdict, r.Reach.Magazine[i].Reason = check.Clear, ""
	}
	r.Stack = specimen.Stack()
	for i := range r.Stack.Seats {
		r.Stack.Seats[i].Verdict = check.Clear
	}
	for i := range r.Stack.Searches {
		r.Stack.Searches[i].Verdict = check.Clear
	}
	return r
}

func page80(t *testing.T, r *check.Report, full bool) string {
	t.Helper()
	var b strings.Builder
	if err := Report(&b, terminal.Look{Width: 80}, r, full); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// headings of sections that are a line each where all of them is clear.
var shortened = map[string]string{
	"Tool changes":                        "\n   Tool changes          2 looked at\n",
	"Rapid moves":                         "\n   Rapid moves           1 looked at\n",
	"Magazine":                            "\n   Magazine              takes all 2 tools\n",
	"How it goes together":                "\n   How it goes together  all 4 components, as far as their files tell\n",
	"Whether the probe finds the surface": "\n   Probe                 finds the surface in all 2 touches\n",
}

// TestShort: what holds nothing to act on is a line; --full tells it at length. What to key in
// and the caution are whole in both.
func TestShort(t *testing.T) {
	short, full := page80(t, cleared(), false), page80(t, cleared(), true)
	if a, b := strings.Count(short, "\n"), strings.Count(full, "\n"); a >= b {
		t.Errorf("short has %d lines, full %d", a, b)
	}
	for name, line := range shortened {
		if !strings.Contains(full, "\n\n"+name+"\n") || strings.Contains(full, line) {
			t.Errorf("full: not at length: %s", name)
		}
		if strings.Contains(short, "\n\n"+name+"\n") || !strings.Contains(short, line) {
			t.Errorf("no %q in\n%s", line, short)
		}
	}
	for _, whole := range []string{"What to key in", "Caution"} {
		_, a, _ := strings.Cut(short, "\n\n"+whole)
		_, b, _ := strings.Cut(full, "\n\n"+whole)
		a, _, _ = strings.Cut(a, "\n\n   - ")
		if end := strings.Index(a, "\n\nAlso looked at"); end >= 0 {
			a = a[:end]
		}
		if a == "" || !strings.HasPrefix(b, a) {
			t.Errorf("%s is not whole:\n%s\nwant\n%s", whole, a, b)
		}
	}
}

// TestNothingBadIsShort: a section in which one thing is not clear, or is to be minded, is told
// whole.
func TestNothingBadIsShort(t *testing.T) {
	for name, spoil := range map[string]func(r *check.Report){
		"Tool changes":                        func(r *check.Report) { r.Reach.Moves[0].Verdict = check.Tight },
		"Rapid moves":                         func(r *check.Report) { r.Reach.Moves[3].Verdict = check.Unproven },
		"Magazine":                            func(r *check.Report) { r.Reach.Magazine[0].Reason = "the places beside it must be empty" },
		"How it goes together":                func(r *check.Report) { r.Stack.Seats[1].Verdict = check.Tight },
		"Whether the probe finds the surface": func(r *check.Report) { r.Stack.Searches[1].Verdict = check.WithinPlay },
	} {
		r := cleared()
		spoil(r)
		if text := page80(t, r, false); !strings.Contains(text, "\n\n"+name+"\n") || strings.Contains(text, shortened[name]) {
			t.Errorf("%s is told in short:\n%s", name, text)
		}
	}
}

// TestWorstLocationInShort: of positions the worst is told, and all that are not clear.
func TestWorstLocationInShort(t *testing.T) {
	place := func(to string, off float64, wanted *float64, v check.Verdict) []check.Location {
		l := check.Location{Part: "part", To: to, Off: off, Wanted: wanted, Verdict: v}
		zero := l
		zero.Off, zero.Verdict = off/2, check.Clear
		return []check.Location{zero, l}
	}
	tenth := 0.1
	list := slices.Concat(place(check.FromSeat, 0.1, nil, check.Clear), place(check.FromTool, 0.2, nil, check.Clear),
		place(check.FromTool, 0.3, nil, check.Clear), place(check.FromTool, 0.3, nil, check.Clear), place(check.FromTool, 0.15, &tenth, check.WithinPlay))
	var got []int
	for i := 0; i < len(list); i += 2 {
		if Worth(list, i) {
			got = append(got, i/2)
		}
	}
	if want := []int{0, 2, 4}; !slices.Equal(got, want) {
		t.Errorf("told %v, want %v", got, want)
	}
}

// TestUnusedToolsInFull: one warning, and every fault with --full.
func TestUnusedToolsInFull(t *testing.T) {
	r := cleared()
	r.Warnings, r.UnusedTools = []string{"a tool that no operation uses is wrong in its file: T9"}, []string{"T9: tools.toml:12: a fault"}
	if text := page80(t, r, false); !strings.Contains(text, "is wrong in its file: T9") || strings.Contains(text, "a fault") {
		t.Error(text)
	}
	if text := page80(t, r, true); !strings.Contains(text, "\n   - T9: tools.toml:12: a fault\n") {
		t.Error(text)
	}
}
