package check

import "testing"

// Torques are never printed as more than they may be, and never as nothing.
func TestTorqueWords(t *testing.T) {
	for nm, want := range map[float64]string{108.98: "108", 84: "84", 20: "20", 19.99: "19.9", 1.28: "1.2", 0.31: "0.3"} {
		if got := TorqueWords(nm); got != want {
			t.Errorf("%g N m: %s, want %s", nm, got, want)
		}
	}
}
