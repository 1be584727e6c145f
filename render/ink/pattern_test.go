package ink

import (
	"math"
	"testing"
)

// A pattern at half its size covers the part that it covers at its full one.
func TestHalvedPatterns(t *testing.T) {
	for p := Blank; p <= SectionDown; p++ {
		full, half := 0.0, 0.0
		for y := range 300 {
			for x := range 300 {
				full += p.Coverage(x, y)
				half += p.Halved().Coverage(x, y)
			}
		}
		if math.Abs(full-half)/90000 > 0.01 {
			t.Errorf("pattern %d covers %.3f, halved %.3f", p, full/90000, half/90000)
		}
	}
}
