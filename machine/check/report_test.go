package check

import (
	"strings"
	"testing"
)

// TestWorstFirst: by verdict, then by what is left of the demand, then what does
// not even go together.
func TestWorstFirst(t *testing.T) {
	mm := func(v float64) *float64 { return &v }
	named := func(name string, v Verdict, question string, smallest *float64) Finding {
		return Finding{Bodies: [2]string{name}, Verdict: v, Question: question, Demand: 2, Smallest: smallest}
	}
	r := &Report{Pairs: []Pair{{}}, Findings: []Finding{
		named("tight, less", Tight, Swing, mm(0.5)),
		named("swings into", Contact, Swing, nil),
		named("head meets", Contact, Index, nil),
		named("tight, more", Tight, Rest, mm(1.5)),
		named("sinks", Contact, Rest, nil),
		named("doubt", Unproven, Rest, nil),
		named("play", WithinPlay, Swing, mm(-0.1)),
	}}
	r.Conclude()
	var order []string
	for _, f := range r.Findings {
		order = append(order, f.Bodies[0])
	}
	want := "sinks; swings into; head meets; play; doubt; tight, less; tight, more"
	if got := strings.Join(order, "; "); got != want {
		t.Errorf("order %s\nwant  %s", got, want)
	}
	if r.Verdict != Contact {
		t.Errorf("verdict %v", r.Verdict)
	}
}

// TestConclude: a report is no better than its worst finding, and than what it
// leaves out.
func TestConclude(t *testing.T) {
	for _, c := range []struct {
		name string
		r    Report
		want Verdict
	}{
		{"nothing looked at", Report{}, Unproven},
		{"all clear", Report{Pairs: []Pair{{}}, Presence: []Presence{{State: "modelled"}, {State: "declared absent"}}}, Clear},
		{"not modelled", Report{Pairs: []Pair{{}}, Presence: []Presence{{State: NotModelled}}}, Unproven},
		{"not modelled, and tight", Report{Pairs: []Pair{{}}, Presence: []Presence{{State: NotModelled}},
			Findings: []Finding{{Verdict: Tight}}}, Unproven},
		{"not modelled, and in contact", Report{Pairs: []Pair{{}}, Presence: []Presence{{State: NotModelled}},
			Findings: []Finding{{Verdict: Contact}}}, Contact},
	} {
		c.r.Conclude()
		if c.r.Verdict != c.want {
			t.Errorf("%s: %v, want %v", c.name, c.r.Verdict, c.want)
		}
	}
}

// TestNearestFirst: clear pairs by what is proven of them, whatever was demanded.
func TestNearestFirst(t *testing.T) {
	mm := func(v float64) *float64 { return &v }
	r := &Report{Closest: []Finding{
		{Bodies: [2]string{"found only"}, Demand: 1, Verdict: Clear, Smallest: mm(7)},
		{Bodies: [2]string{"far"}, Demand: 8, Verdict: Clear, Proven: mm(8.1), Smallest: mm(8.2)},
		{Bodies: [2]string{"near"}, Demand: 1, Verdict: Clear, Proven: mm(5), Smallest: mm(5.1)},
	}}
	r.Conclude()
	for i, want := range []string{"near", "found only", "far"} {
		if got := r.Closest[i].Bodies[0]; got != want {
			t.Errorf("place %d: %s, want %s", i+1, got, want)
		}
	}
}
