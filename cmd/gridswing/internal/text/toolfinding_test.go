package text

import (
	"strings"
	"testing"

	"gridswing/cmd/gridswing/internal/specimen"
	"gridswing/cmd/gridswing/internal/terminal"
	"gridswing/machine/check"
)

// TestToolQuestions: every question of tools has words, and a finding of it names what
// it is about.
func TestToolQuestions(t *testing.T) {
	tool := 4
	for _, q := range []string{check.LeftOut, check.Reaching, check.Presents, check.Travels, check.Rapids, check.Indexing, check.Changing, check.Stored, check.Keyed} {
		f := &check.Finding{Question: q, Tool: &tool, Operation: "drill", Feature: "hole 2"}
		words := Question(f)
		if words == "" || words == Question(&check.Finding{Question: check.Swing}) {
			t.Errorf("%s: no words of its own: %q", q, words)
		}
		plain := page{}
		if got := plain.subject(f); got != "drill, hole 2, T4" {
			t.Errorf("%s: about %q", q, got)
		}
	}
}

// TestBriefOfReach has a line for each finding, with the operation.
func TestBriefOfReach(t *testing.T) {
	var b strings.Builder
	if err := Brief(&b, terminal.Plain, specimen.Reach()); err != nil {
		t.Fatal(err)
	}
	text := strings.Join(strings.Fields(b.String()), " ")
	for _, want := range []string{"On the way in, at depth and out: - contact: T4 holder and vise/moving jaw (drill sides, hole 2, T4), at X 112.00",
		"Whether the magazine takes it: - overload: T12: LPR 262.50 mm, the magazine takes 250.00", "Z home is too low by 14.00 mm"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in %s", want, text)
		}
	}
}
