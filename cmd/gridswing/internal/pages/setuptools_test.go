package pages

import (
	"testing"

	"gridswing/machine/check"
)

// No window is printed beside a stick-out that it does not hold while nothing is wrong with the tool.
func TestWindowsHoldWhatIsSet(t *testing.T) {
	tool := 13
	for _, c := range []struct {
		now      float64
		window   *check.Span
		notClear []string
		findings []check.Finding
		want     bool
	}{
		{52, &check.Span{43, 43}, nil, nil, true}, {52, &check.Span{43, 75}, nil, nil, false}, {43, &check.Span{43, 43}, nil, nil, false}, {52, nil, nil, nil, false},
		{52, &check.Span{43, 48}, []string{"drill is tight"}, nil, false}, {52, &check.Span{43, 48}, nil, []check.Finding{{Tool: &tool}}, false},
	} {
		s := &sheet{Setup: &Setup{Report: &check.Report{Findings: c.findings}}}
		n := &needed{number: tool, stick: &check.StickOut{Now: c.now, Tool: c.window}, notClear: c.notClear}
		if got := s.onlyAsSet(n); got != c.want {
			t.Errorf("%g in %v: %v", c.now, c.window, got)
		}
	}
}
