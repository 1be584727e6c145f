package layout

import (
	"testing"

	"pgregory.net/rapid"
)

// The widest give way first: what is lowered is lowered to one width, or to its least.
func TestLevel(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		wide := rapid.SliceOfN(rapid.Float64Range(0, 200), 1, 9).Draw(t, "wide")
		least, sum, lowest := make([]float64, len(wide)), 0.0, 0.0
		for i := range wide {
			least[i] = wide[i] * rapid.Float64Range(0, 1).Draw(t, "least")
			sum, lowest = sum+wide[i], lowest+least[i]
		}
		room := rapid.Float64Range(lowest, 500+lowest).Draw(t, "room")
		got, all, common := level(wide, least, room), 0.0, 0.0
		for i := range got {
			if all += got[i]; got[i] > wide[i] || got[i] < least[i]-1e-9 {
				t.Fatalf("%v is not between %v and %v", got, least, wide)
			}
			if got[i] < wide[i] && got[i] > least[i]+1e-9 {
				common = max(common, got[i])
			}
		}
		if want := min(sum, room); all > want+1e-6 || all < want-1e-3 {
			t.Fatalf("%v add up to %v, want %v", got, all, want)
		}
		for i := range got {
			if common > 0 && got[i] > common+1e-6 && got[i] > least[i]+1e-9 {
				t.Fatalf("%v: others were lowered to %v", got, common)
			}
		}
	})
}
