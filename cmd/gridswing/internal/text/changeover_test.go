package text

import (
	"strings"
	"testing"

	"gridswing/cmd/gridswing/internal/terminal"
	"gridswing/machine/check"
	"gridswing/machine/check/changeover"
)

// aPlan has one step of either kind.
func aPlan() *changeover.Plan {
	mass, left, proven, byHand := 19.96, 1.239, 1.23, 18.0
	meeting := changeover.Meeting{Verdict: check.Tight, Bodies: [2]string{"vise", "machine/door"}, Demand: 2, Smallest: &left, Proven: &proven,
		Leg: 1, At: &changeover.Point{Shift: [3]float64{-12.345, 0, 40}, Turn: 15}}
	p := &changeover.Plan{
		From: &changeover.Named{Setup: "op 10", File: "a.toml"}, To: changeover.Named{Setup: "op 20", File: "b.toml"}, Machine: "Mill",
		Verdict: check.Tight, Off: []string{"stock"}, Stays: []changeover.Stay{{From: "plate", To: "plate"}, {From: "riser", To: "block"}}, On: []string{"vise"},
		ByHand: &byHand, NoMinutes: []string{"take off stock"}, Caution: check.Caution,
		Steps: []changeover.Step{{Number: 1, Kind: changeover.Ready, Do: []string{"Move the axes."}},
			{Number: 2, Kind: changeover.PutOn, Unit: "vise", Do: []string{"Lower it."}, Caution: []string{"It is heavy."}, Mass: &mass,
				At:  []check.Position{{Axis: "X", Value: 12, Unit: "mm"}, {Axis: "A", Value: 90, Unit: "deg"}},
				Way: &changeover.Way{Verdict: check.Tight, Words: "straight", Demand: 2, Pairs: 9, Meetings: []changeover.Meeting{meeting}}}},
	}
	return p
}

// What a page of a changeover says, verdict first, each step on a screen.
func TestChangeover(t *testing.T) {
	said := func(p *changeover.Plan) string {
		var b strings.Builder
		if err := Changeover(&b, terminal.Look{Width: 90}, p); err != nil {
			t.Fatal(err)
		}
		return b.String()
	}
	p := aPlan()
	text := said(p)
	rest := text
	for _, want := range []string{
		"tight: changeover from op 10 to op 20\n", "Proven not to meet anything on the ways, but closer than demanded.",
		"Machine Mill, setup files a.toml and b.toml", "comes off     stock", "stays         plate, block (riser so far)", "goes on       vise",
		"takes         not known: no minutes are stated to take off stock", "by hand       up to 18 kg, as stated",
		"Step 1 of 2: ready\n    1 Move the axes.", "Step 2 of 2: put on vise\n   mass        20.0 kg\n   axes at     X 12.00 mm, A 90.00 deg\n",
		"Caution: It is heavy.\n    1 Lower it.\n   way         tight: straight; 9 pairs of bodies looked at, 1 not clear\n",
		// Rounded down to 0.01, as clearances are; the place to 0.1.
		"tight: vise and machine/door, 1.23 mm left of 2, where it is [-12.3, 0, 40]\n               mm from its place and turned by 15 degrees\n",
	} {
		i := strings.Index(rest, want)
		if i < 0 {
			t.Fatalf("does not say %q after what comes before:\n%s", want, text)
		}
		rest = rest[i+len(want):]
	}
	m := p.Steps[1].Way.Meetings[0]
	for range 6 {
		p.Steps[1].Way.Meetings = append(p.Steps[1].Way.Meetings, m)
	}
	if text := said(p); strings.Count(text, "vise and machine/door") != MostMeetings || !strings.Contains(text, "and 3 more pairs that are not clear") {
		t.Errorf("%s", text)
	}
	minutes := 12.5
	p.Minutes, p.From, p.ByHand = &minutes, nil, nil
	text = said(p)
	for _, want := range []string{"from the empty machine to op 20", "setup file b.toml", "takes         12.5 minutes, as the files state",
		"by hand       how much may be lifted is not stated", "20.0 kg; what may be lifted by hand is not stated"} {
		if !strings.Contains(text, want) {
			t.Errorf("does not say %q:\n%s", want, text)
		}
	}
	if strings.Contains(text, "comes off") {
		t.Error("something comes off the empty machine")
	}
}

// Every verdict has words of its own for what it is worth.
func TestWaysMeaning(t *testing.T) {
	seen := map[string]bool{}
	for _, v := range []check.Verdict{check.Contact, check.WithinPlay, check.Unproven, check.Tight, check.Clear} {
		words := WaysMeaning(&changeover.Plan{Verdict: v})
		if words == "" || seen[words] {
			t.Errorf("%v: %q", v, words)
		}
		seen[words] = true
	}
	words := WaysMeaning(&changeover.Plan{Verdict: check.Unproven, NotModelled: []string{"guards"}})
	if !strings.Contains(words, "guards") {
		t.Errorf("%q", words)
	}
}
