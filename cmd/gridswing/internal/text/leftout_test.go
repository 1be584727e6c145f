package text

import (
	"strings"
	"testing"

	"gridswing/cmd/gridswing/internal/specimen"
	"gridswing/cmd/gridswing/internal/terminal"
	"gridswing/machine/check"
)

// leftOutReport has operations, one of them left out: or nothing but that one.
func leftOutReport(others bool) *check.Report {
	r := specimen.Reach()
	if !others {
		r.Findings, r.Reach.Operations = nil, nil
	}
	r.Findings = append(r.Findings, check.Finding{Verdict: check.Unproven, Question: check.LeftOut, Operation: "slot the back",
		Reason: "setups/a.toml:48: found tool 9, expected one of 1, 4"})
	r.Conclude()
	return r
}

// TestLeftOut: an operation that was not looked at has a line among the others, is counted,
// and is never said to have been looked at.
func TestLeftOut(t *testing.T) {
	for _, c := range []struct {
		others bool
		want   []string
	}{
		{true, []string{
			"7 operations, 1 of them left out; 6 with 7 features looked at: 1 contact, 2 over-travel, 1 tight, 2 clear.",
			"unproven slot the back - - - - - left out, nothing was looked at: setups/a.toml:48: found tool 9, expected one of 1, 4 tight ream ",
			"unproven: slot the back, left out, nothing was looked at because setups/a.toml:48: found tool 9"}},
		{false, []string{"1 operation, it is left out.", "Operations, worst first verdict operation", "unproven slot the back - - - - - left out"}},
	} {
		text := strings.Join(strings.Fields(written(t, leftOutReport(c.others), terminal.Plain)), " ")
		for _, want := range c.want {
			if !strings.Contains(text, want) {
				t.Errorf("no %q in\n%s", want, text)
			}
		}
		if at := strings.Index(text, "slot the back, left out"); strings.Contains(text[at:at+150], "looked at whether") {
			t.Errorf("it is said to have been looked at: %s", text[at:at+150])
		}
	}
}

// TestNothingToKeyInHasAName: a finding of no operation, tool or body is told by what was asked.
func TestNothingToKeyInHasAName(t *testing.T) {
	r := specimen.Reach()
	r.Findings = []check.Finding{{Verdict: check.Unproven, Question: check.Keyed, Reason: "no method is stated"}}
	text := written(t, r, terminal.Plain)
	if !strings.Contains(text, " 1 unproven: what to key in\n   because     no method is stated\n") || strings.Contains(text, "looked at   what to key in") {
		t.Error(text)
	}
}
