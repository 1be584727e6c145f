package text

import (
	"strings"
	"testing"

	"gridswing/cmd/gridswing/internal/specimen"
	"gridswing/cmd/gridswing/internal/terminal"
	"gridswing/machine/check"
)

// stackPage is what a report says of the stack.
func stackPage(look terminal.Look) string {
	var b strings.Builder
	p := &page{w: &b, look: look, full: true}
	s := specimen.Stack()
	p.seats(s)
	p.locations(s)
	return b.String()
}

// What is told is rounded towards the worse: how far off upwards, what is spare
// downwards.
func TestStackRounding(t *testing.T) {
	s := specimen.Stack()
	s.Seats = s.Seats[:1]
	s.Seats[0].Play.Along, s.Seats[0].Play.Angle, *s.Seats[0].Spare = 0.0200004, 0.00764001, 0.0149996
	s.Locations = s.Locations[:2]
	s.Locations[1].Off = 0.0620001
	var b strings.Builder
	p := &page{w: &b, look: terminal.Plain, full: true}
	p.seats(s)
	p.locations(s)
	for _, want := range []string{"0.021 ", "0.0077 ", "off by 0.014 mm more", "0.063 "} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("no %q in\n%s", want, b.String())
		}
	}
}

// What the verdict is worth, where nothing else is as bad as what is said of the stack.
func TestStackMeaning(t *testing.T) {
	pairs := []check.Pair{{Verdict: check.Clear}}
	stack := func(v check.Verdict) check.Finding {
		return check.Finding{Verdict: v, Question: check.Stacked, Bodies: [2]string{"vise", "plate"}}
	}
	for _, c := range []struct {
		findings []check.Finding
		want     string
	}{
		{[]check.Finding{stack(check.Contact)}, "does not go together"},
		{[]check.Finding{stack(check.WithinPlay), {Verdict: check.WithinPlay, Question: check.Located}}, "at worst a component does not go on"},
		{[]check.Finding{stack(check.Tight)}, "less thread holds"},
		{[]check.Finding{stack(check.Unproven)}, "whether the setup goes together and holds"},
		{[]check.Finding{stack(check.Contact), {Verdict: check.Contact, Question: check.Swing}}, "Bodies meet"},
		{[]check.Finding{stack(check.Tight), {Verdict: check.Contact, Question: check.Swing}}, "Bodies meet"},
	} {
		r := &check.Report{Pairs: pairs, Findings: c.findings}
		r.Conclude()
		if got := meaning(r); !strings.Contains(got, c.want) {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}
