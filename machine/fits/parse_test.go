package fits

import (
	"strings"
	"testing"
)

// From the limits of ISO 286-2; 25 H7/g6 is printed so in tables of preferred fits (ANSI
// B4.2).
func TestClearances(t *testing.T) {
	for designation, want := range map[string]Clearance{
		"12 H7/g6": {0.006, 0.035}, "12 H7/h6": {0, 0.029}, "12 H6/h6": {0, 0.022},
		"25 H7/g6": {0.007, 0.041}, "5 H7/g6": {0.004, 0.024}, "8 H8/f7": {0.013, 0.050},
		"40 H7/m6": {-0.025, 0.016}, "16H7 / m6": {-0.018, 0.011}, "6.5 H7/f7": {0.013, 0.043},
	} {
		if got := clearance(t, designation); got != want {
			t.Errorf("%s: %v, want %v", designation, got, want)
		}
	}
}

func TestBetweenSizes(t *testing.T) {
	hole, _ := Parse("16 H7")
	pin, _ := Parse("15.9 h6")
	if got, want := Between(*hole.Hole, *pin.Shaft), (Clearance{0.1, 0.129}); got != want {
		t.Errorf("%v, want %v", got, want)
	}
	if _, ok := hole.Clearance(); ok {
		t.Error("a hole alone has a clearance")
	}
}

func TestFaults(t *testing.T) {
	for designation, want := range map[string]string{
		"":               "expected a size in mm",
		"16":             "such as \"16 H7\"",
		"H7/g6":          "expected a size in mm",
		"12,5 H7":        "with a point for a comma",
		"-16 H7":         "expected a size in mm",
		"16 H7/g6/h6":    "expected a size in mm",
		"16 H7/":         "expected a size in mm",
		"1e3 H7":         "expected a size in mm",
		"0 H7":           "over 0 to 120 mm",
		"120.01 H7":      "over 0 to 120 mm",
		"16 E7":          "letter E, expected one of a hole: F, G, H, JS, K, M, N, P",
		"16 H7/r6":       "letter r, expected one of a shaft: f, g, h, js, k, m, n, p",
		"16 Js7":         "letter Js, expected one of a hole",
		"16 H4":          "expected a grade from H5 to H11",
		"16 H12":         "expected a grade from H5 to H11",
		"16 H07":         "expected a grade from H5 to H11",
		"16 K9":          "to K8",
		"16 g6/H7":       "the shaft before the hole, expected \"16 H7/g6\"",
		"16 H7/G6":       "H7 and G6, expected a hole and a shaft",
		"16 g6/h6":       "g6 and h6, expected a hole and a shaft",
		"16 H7/g6\n":     "expected a size in mm",
		"16 \u00d8H7":    "expected a size in mm",
		"99999999999 H7": "expected a size in mm",
	} {
		_, err := Parse(designation)
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, want ... %s ...", designation, err, want)
		}
	}
}

// Nothing that can be written panics, and what is read is written the same way.
func FuzzParse(f *testing.F) {
	for _, s := range []string{"16 H7", "16 g6", "16 H7/g6", "2.5 JS11/js5", "120 N9", "16 /", "1 a0"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		fit, err := Parse(s)
		if err != nil {
			return
		}
		for _, l := range []*Limits{fit.Hole, fit.Shaft} {
			if l == nil {
				continue
			}
			again, err := Parse(l.String())
			if err != nil || again.Hole != nil && *again.Hole != *l || again.Shaft != nil && *again.Shaft != *l {
				t.Errorf("%q: %v, read again %v, %v", s, l, again, err)
			}
		}
	})
}
