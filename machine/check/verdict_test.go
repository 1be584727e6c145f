package check

import (
	"slices"
	"testing"
)

// TestVerdictsOrder holds the list to what is known of every verdict: each
// comes once, worse ones first.
func TestVerdictsOrder(t *testing.T) {
	list := Verdicts()
	if len(list) != len(verdictWords) {
		t.Fatalf("%d verdicts listed, %d known", len(list), len(verdictWords))
	}
	for i := 1; i < len(list); i++ {
		if !list[i-1].Worse(list[i]) || list[i].Worse(list[i-1]) {
			t.Errorf("%v is listed before %v, which is not better", list[i-1], list[i])
		}
	}
	for v := range verdictWords {
		if !slices.Contains(list, Verdict(v)) {
			t.Errorf("%v is not listed", Verdict(v))
		}
	}
}

func TestVerdictText(t *testing.T) {
	for _, v := range Verdicts() {
		text, err := v.MarshalText()
		var back Verdict
		if err != nil || back.UnmarshalText(text) != nil || back != v {
			t.Errorf("%v becomes %q and comes back as %v", v, text, back)
		}
	}
	var v Verdict
	if err := v.UnmarshalText([]byte("fine")); err == nil {
		t.Error("\"fine\" is taken for a verdict")
	}
	if got := Verdict(200).String(); got != "unproven" {
		t.Errorf("a value that is no verdict is called %q", got)
	}
}
