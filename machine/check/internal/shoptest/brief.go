package shoptest

import (
	"testing"

	"gridswing/machine/check"
)

// SameInBrief asserts that a report in brief says of some concerns what the full one says,
// that what is not clear of them is told in a few words, and that margins go with verdicts.
func SameInBrief(t testing.TB, full, brief *check.Report, concerns ...string) {
	t.Helper()
	want, got := full.Judge(), brief.Judge()
	for i := range want {
		for _, c := range concerns {
			if want[i].Concern == c {
				same(t, &want[i], &got[i])
			}
		}
	}
}

func same(t testing.TB, want, got *check.Judged) {
	t.Helper()
	if got.Verdict != want.Verdict {
		t.Errorf("%s in brief: %v, want %v: in brief %+v, in full %+v", want.Concern, got.Verdict, want.Verdict, got.Worst, want.Worst)
		return
	}
	if got.Worst != nil && got.Worst.Short() == "" {
		t.Errorf("%s in brief: nothing is said of %+v", want.Concern, got.Worst)
	}
	m := got.Margin
	if m == nil {
		return
	}
	if m.What == "" || m.Unit == "" {
		t.Errorf("%s: a margin of what? %+v", want.Concern, m)
	}
	switch got.Verdict {
	case check.Clear:
		if m.Share < 1-1e-9 {
			t.Errorf("%s is clear with a margin of %+v", want.Concern, m)
		}
	case check.Contact, check.WithinPlay:
		// These have no room at all, but for concerns where not all verdicts come with a number.
		if m.Share > 1e-9 && got.Concern == check.SwingConcern && got.Worst.Reason == "" {
			t.Errorf("%s is %v with a margin of %+v", want.Concern, got.Verdict, m)
		}
	}
}
