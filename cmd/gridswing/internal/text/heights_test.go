package text

import (
	"strings"
	"testing"
	"unicode/utf8"

	"gridswing/cmd/gridswing/internal/specimen"
	"gridswing/cmd/gridswing/internal/terminal"
	"gridswing/machine/check"
	"gridswing/machine/check/choose"
)

func heightsPage(t *testing.T, look terminal.Look, h *choose.Heights) string {
	t.Helper()
	var w strings.Builder
	if err := Heights(&w, look, h); err != nil {
		t.Fatal(err)
	}
	return w.String()
}

// The pages of heights are held to those in testdata, and fit any width.
func TestHeightsPages(t *testing.T) {
	holdPage(t, "heights.txt", heightsPage(t, terminal.Plain, specimen.Heights()))
	holdPage(t, "heights-none.txt", heightsPage(t, terminal.Plain, specimen.NoHeights()))
	for _, width := range []int{80, 90, 120} {
		for line := range strings.Lines(heightsPage(t, terminal.Look{Width: width}, specimen.Heights())) {
			line = strings.TrimSuffix(line, "\n")
			if n := utf8.RuneCountInString(line); n > width || strings.TrimRight(line, " ") != line {
				t.Errorf("width %d: %d columns: %q", width, n, line)
			}
		}
	}
}

// Ends of what is good are rounded into it, never out of it; many stretches are counted.
func TestHeightsHead(t *testing.T) {
	h := specimen.Heights()
	h.Stretches[0].From, h.Stretches[0].To = 30.001, 60.199
	if v, words := heightsHead(h); v != check.Clear || !strings.HasSuffix(words, "may be 30.01 to 60.19 mm high") {
		t.Errorf("%v: %s", v, words)
	}
	one := h.Stretches[0]
	h.Stretches = []choose.HeightStretch{one, one, one, one, one, one}
	if _, words := heightsHead(h); !strings.HasSuffix(words, "or 2 more high") {
		t.Error(words)
	}
	h.Stretches = []choose.HeightStretch{{From: 12.345, To: 12.345, State: choose.GoodHeights, Verdict: check.Clear}}
	if _, words := heightsHead(h); !strings.HasSuffix(words, "may be 12.345 mm high") {
		t.Error(words)
	}
}
