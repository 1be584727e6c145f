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

func sidesPage(t *testing.T, look terminal.Look, b *choose.BothSides) string {
	t.Helper()
	var w strings.Builder
	if err := Sides(&w, look, b); err != nil {
		t.Fatal(err)
	}
	return w.String()
}

// The pages of sides are held to those in testdata, and fit any width.
func TestSidesPages(t *testing.T) {
	holdPage(t, "sides.txt", sidesPage(t, terminal.Plain, specimen.Sides()))
	holdPage(t, "sides-mixed.txt", sidesPage(t, terminal.Plain, specimen.MixedSides()))
	for _, width := range []int{80, 90, 120} {
		both := sidesPage(t, terminal.Look{Width: width}, specimen.Sides()) + sidesPage(t, terminal.Look{Width: width}, specimen.MixedSides())
		for line := range strings.Lines(both) {
			line = strings.TrimSuffix(line, "\n")
			if n := utf8.RuneCountInString(line); n > width || strings.TrimRight(line, " ") != line {
				t.Errorf("width %d: %d columns: %q", width, n, line)
			}
		}
	}
}

// Why the one is recommended is said in words that fit: it is better, it turns less, it is
// equal, it has everything, there is no other.
func TestSidesWhy(t *testing.T) {
	plan := func(v check.Verdict, whole bool, deg float64) choose.SidePlan {
		return choose.SidePlan{Verdict: v, Whole: whole, Reason: "T4 meets", Motion: []choose.Turned{{Axis: "A", Degrees: deg}}}
	}
	for _, c := range []struct {
		other choose.SidePlan
		want  string
	}{
		{plan(check.Contact, true, 10), "The other side, A below 0, is worse: contact, T4 meets."},
		{plan(check.Clear, true, 30), "is as good, but the axes turn by 30 deg there, here by 20."},
		{plan(check.Clear, true, 20), "The other side, A below 0, is as good and the axes turn as far."},
		{plan(check.Clear, false, 20), "Not everything can be stood at on the other side, A below 0."},
	} {
		b := specimen.Sides()
		b.Plans[0], b.Plans[1] = plan(check.Clear, true, 20), c.other
		b.Plans[0].Side, b.Plans[1].Side = choose.Above, choose.Below
		if got := sidesWhy(b); !strings.Contains(got, c.want) {
			t.Errorf("%q does not say %q", got, c.want)
		}
	}
	b := specimen.Sides()
	b.Tilts, b.Plans = []choose.Tilt{}, b.Plans[2:]
	if got := sidesPage(t, terminal.Plain, b); !strings.Contains(got, "clear: Bracket NB-214, op 10, as it stands\n") || !strings.Contains(got, "nothing to choose between") {
		t.Error(got)
	}
}

// Every verdict has words of its own for what it is worth, and what is not modelled is told.
func TestSidesMeaning(t *testing.T) {
	seen := map[string]bool{}
	for _, v := range []check.Verdict{check.Contact, check.Unproven, check.Tight, check.Clear} {
		b := specimen.Sides()
		b.Confirmed.Verdict, b.Plans[0].Verdict = v, v
		words := sidesMeaning(b)
		if words == "" || seen[words] {
			t.Errorf("%v: %q", v, words)
		}
		seen[words] = true
	}
	b := specimen.Sides()
	b.Confirmed.Verdict = check.Contact
	if got := sidesMeaning(b); !strings.HasPrefix(got, "What is planned here is clear by itself, but") {
		t.Errorf("%q", got)
	}
	b = specimen.Sides()
	b.NotModelled = []string{"guards"}
	if got := sidesMeaning(b); !strings.Contains(got, "guards") || b.Verdict() != check.Unproven {
		t.Errorf("%q", got)
	}
}
