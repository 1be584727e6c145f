package fits

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// published limits, micrometres, one pair of each step from "to 3" on.
var published = []struct {
	source string
	rows   map[string][]limit
}{
	{"ISO 286-2 as reprinted for bars, bores and pins; f7 by the formula of ISO 286-1", map[string][]limit{
		"H6": {{}, {0, 8}, {0, 9}, {0, 11}, {0, 13}, {0, 16}},
		"H7": {{}, {0, 12}, {0, 15}, {0, 18}, {0, 21}, {0, 25}},
		"H8": {{}, {0, 18}, {0, 22}, {0, 27}, {0, 33}, {0, 39}},
		"g6": {{}, {-12, -4}, {-14, -5}, {-17, -6}, {-20, -7}, {-25, -9}},
		"h6": {{}, {-8, 0}, {-9, 0}, {-11, 0}, {-13, 0}, {-16, 0}},
		"f7": {{}, {-22, -10}, {-28, -13}, {-34, -16}, {-41, -20}, {-50, -25}},
		"m6": {{}, {4, 12}, {6, 15}, {7, 18}, {8, 21}, {9, 25}},
	}},
	{"bar tolerances h, two producers' tables", map[string][]limit{
		"h5":  {{-4, 0}, {-5, 0}, {-6, 0}, {-8, 0}, {-9, 0}, {-11, 0}, {-13, 0}, {-15, 0}},
		"h6":  {{-6, 0}, {-8, 0}, {-9, 0}, {-11, 0}, {-13, 0}, {-16, 0}, {-19, 0}, {-22, 0}},
		"h7":  {{-10, 0}, {-12, 0}, {-15, 0}, {-18, 0}, {-21, 0}, {-25, 0}, {-30, 0}, {-35, 0}},
		"h8":  {{-14, 0}, {-18, 0}, {-22, 0}, {-27, 0}, {-33, 0}, {-39, 0}, {-46, 0}, {-54, 0}},
		"h9":  {{-25, 0}, {-30, 0}, {-36, 0}, {-43, 0}, {-52, 0}, {-62, 0}, {-74, 0}, {-87, 0}},
		"h10": {{-40, 0}, {-48, 0}, {-58, 0}, {-70, 0}, {-84, 0}, {-100, 0}, {-120, 0}, {-140, 0}},
		"h11": {{-60, 0}, {-75, 0}, {-90, 0}, {-110, 0}, {-130, 0}, {-160, 0}, {-190, 0}, {-220, 0}},
	}},
	{"JIS B 0401:1999, table of usual shafts, as reprinted", map[string][]limit{
		"f6":  {{-12, -6}, {-18, -10}, {-22, -13}, {-27, -16}, {-33, -20}, {-41, -25}, {-49, -30}},
		"f8":  {{}, {-28, -10}, {-35, -13}, {-43, -16}, {-53, -20}, {-64, -25}, {-76, -30}},
		"g5":  {{-6, -2}, {-9, -4}, {-11, -5}, {-14, -6}, {-16, -7}, {-20, -9}, {-23, -10}},
		"g6":  {{-8, -2}, {-12, -4}, {-14, -5}, {-17, -6}, {-20, -7}, {-25, -9}, {-29, -10}},
		"js5": {{-2, 2}, {-2.5, 2.5}, {-3, 3}, {-4, 4}, {-4.5, 4.5}, {-5.5, 5.5}, {-6.5, 6.5}},
		"js6": {{-3, 3}, {-4, 4}, {-4.5, 4.5}, {-5.5, 5.5}, {-6.5, 6.5}, {-8, 8}, {-9.5, 9.5}},
		"js7": {{-5, 5}, {-6, 6}, {-7.5, 7.5}, {-9, 9}, {-10.5, 10.5}, {-12.5, 12.5}, {-15, 15}},
		"k5":  {{0, 4}, {1, 6}, {1, 7}, {1, 9}, {2, 11}, {2, 13}, {2, 15}},
		"k6":  {{0, 6}, {1, 9}, {1, 10}, {1, 12}, {2, 15}, {2, 18}, {2, 21}},
		"m5":  {{2, 6}, {4, 9}, {6, 12}, {7, 15}, {8, 17}, {9, 20}, {11, 24}},
		"m6":  {{2, 8}, {4, 12}, {6, 15}, {7, 18}, {8, 21}, {9, 25}, {11, 30}},
		"n6":  {{4, 10}, {8, 16}, {10, 19}, {12, 23}, {15, 28}, {17, 33}, {20, 39}},
		"p6":  {{6, 12}, {12, 20}, {15, 24}, {18, 29}, {22, 35}, {26, 42}, {32, 51}},
	}},
	{"a mould maker's printed tables of holes after ISO 286-2", map[string][]limit{
		"K6":  {{-6, 0}, {-6, 2}, {-7, 2}, {-9, 2}, {-11, 2}, {-13, 3}, {-15, 4}, {-18, 4}},
		"K7":  {{-10, 0}, {-9, 3}, {-10, 5}, {-12, 6}, {-15, 6}, {-18, 7}, {-21, 9}, {-25, 10}},
		"K8":  {{-14, 0}, {-13, 5}, {-16, 6}, {-19, 8}, {-23, 10}, {-27, 12}, {-32, 14}, {-38, 16}},
		"M6":  {{-8, -2}, {-9, -1}, {-12, -3}, {-15, -4}, {-17, -4}, {-20, -4}, {-24, -5}, {-28, -6}},
		"M7":  {{-12, -2}, {-12, 0}, {-15, 0}, {-18, 0}, {-21, 0}, {-25, 0}, {-30, 0}, {-35, 0}},
		"M8":  {{}, {-16, 2}, {-21, 1}, {-25, 2}, {-29, 4}, {-34, 5}, {-41, 5}, {-48, 6}},
		"N6":  {{-10, -4}, {-13, -5}, {-16, -7}, {-20, -9}, {-24, -11}, {-28, -12}, {-33, -14}, {-38, -16}},
		"N7":  {{-14, -4}, {-16, -4}, {-19, -4}, {-23, -5}, {-28, -7}, {-33, -8}, {-39, -9}, {-45, -10}},
		"N8":  {{}, {-20, -2}, {-25, -3}, {-30, -3}, {-36, -3}, {-42, -3}, {-50, -4}, {-58, -4}},
		"JS6": {{-3, 3}, {-4, 4}, {-4.5, 4.5}, {-5.5, 5.5}, {-6.5, 6.5}, {-8, 8}, {-9.5, 9.5}, {-11, 11}},
		"JS8": {{}, {-9, 9}, {-11, 11}, {-13.5, 13.5}, {-16.5, 16.5}, {-19.5, 19.5}, {-23, 23}, {-27, 27}},
	}},
	{"ISO 286-2, from memory", map[string][]limit{ // N9 and P9: keyways of DIN 6885 and ISO/R 773
		"N9": {{-29, -4}, {-30, 0}, {-36, 0}, {-43, 0}, {-52, 0}, {-62, 0}, {-74, 0}, {-87, 0}},
		"P9": {{-31, -6}, {-42, -12}, {-51, -15}, {-61, -18}, {-74, -22}, {-88, -26}},
		"P7": {{-16, -6}, {-20, -8}, {-24, -9}, {-29, -11}, {-35, -14}, {-42, -17}, {-51, -21}, {-59, -24}},
		"G7": {{2, 12}, {4, 16}, {5, 20}, {6, 24}, {7, 28}, {9, 34}, {10, 40}, {12, 47}},
		"F8": {{6, 20}, {10, 28}, {13, 35}, {16, 43}, {20, 53}, {25, 64}, {30, 76}, {36, 90}},
		"k8": {{0, 14}, {0, 18}, {0, 22}, {0, 27}},
		"p6": {{}, {}, {}, {}, {}, {}, {}, {37, 59}},
	}},
}

type limit struct{ lower, upper float64 }

func TestPublishedLimits(t *testing.T) {
	for _, p := range published {
		for class, row := range p.rows {
			for i, want := range row {
				if want == (limit{}) {
					continue
				}
				for _, size := range sizesOf(i) {
					l, err := limits(size, class)
					if err != nil {
						t.Fatal(err)
					}
					if l.Lower != want.lower/1e3 || l.Upper != want.upper/1e3 || math.Signbit(l.Lower) && l.Lower == 0 {
						t.Errorf("%v: %v to %v, want %v um (%s)", l, l.Lower, l.Upper, want, p.source)
					}
				}
			}
		}
	}
}

// sizesOf returns sizes of a step, both ends included.
func sizesOf(step int) []float64 {
	from := 0.0
	if step > 0 {
		from = steps[step-1]
	}
	return []float64{math.Nextafter(from, 200), (from + steps[step]) / 2, steps[step]}
}

// Traps of public charts: 30 mm in the step over 30, h6 of over 6 to 10 given as -10,
// h8 of over 30 to 50 without its sign.
func TestEndsOfSteps(t *testing.T) {
	for designation, want := range map[string]limit{
		"10 H7": {0, 0.015}, "30 H7": {0, 0.021}, "30 g6": {-0.020, -0.007}, "18 H7": {0, 0.018},
		"10 h6": {-0.009, 0}, "40 h8": {-0.039, 0}, "120 H7": {0, 0.035}, "30.001 H7": {0, 0.025},
	} {
		f, err := Parse(designation)
		if err != nil {
			t.Fatal(err)
		}
		l := f.Hole
		if l == nil {
			l = f.Shaft
		}
		if l.Lower != want.lower || l.Upper != want.upper || l.String() != designation {
			t.Errorf("%s: %v %v to %v, want %v", designation, l, l.Lower, l.Upper, want)
		}
	}
}

// ISO 286-1, annex: i = 0.45 D^(1/3) + 0.001 D um with D the geometric mean of a step;
// IT5 to IT11 are 7, 10, 16, 25, 40, 64, 100 i; f = 5.5 D^0.41, g = 2.5 D^0.34, k = 0.6
// D^(1/3), m = IT7 - IT6, n = 5 D^0.34, p = IT7 + 0 to 5. The standard's rounding is
// its own: up to 3 % of coarse grades, 1 um of fine ones. The first step has a D of
// its own, which is why it is left out.
func TestFormulae(t *testing.T) {
	near := func(what string, step int, got, want float64) {
		if math.Abs(got-want) > max(1, 0.03*want) {
			t.Errorf("%s over %v mm: %v, formula %.2f um", what, steps[step-1], got, want)
		}
	}
	for s := 1; s < len(steps); s++ {
		d := math.Sqrt(steps[s-1] * steps[s])
		i := 0.45*math.Cbrt(d) + 0.001*d
		for g, times := range []float64{7, 10, 16, 25, 40, 64, 100} {
			near(fmt.Sprint("IT", g+5), s, tolerance(g+5, s), times*i)
		}
		near("f", s, -deviations["f"][s], 5.5*math.Pow(d, 0.41))
		near("g", s, -deviations["g"][s], 2.5*math.Pow(d, 0.34))
		near("k", s, deviations["k"][s], 0.6*math.Cbrt(d))
		near("m", s, deviations["m"][s], tolerance(7, s)-tolerance(6, s))
		near("n", s, deviations["n"][s], 5*math.Pow(d, 0.34))
		if over := deviations["p"][s] - tolerance(7, s); over < 0 || over > 5 {
			t.Errorf("p over %v mm: IT7 + %v, formula: + 0 to 5 um", steps[s-1], over)
		}
	}
}

// What holds of every class: the width is the standard tolerance, which grows with grade
// and size; F to H mirror f to h; K7 over h6 has the clearances of H7 over k6, and so on.
func TestSystem(t *testing.T) {
	for s, size := range steps {
		for grade := firstGrade; grade <= lastGrade; grade++ {
			if grade > firstGrade && tolerance(grade, s) <= tolerance(grade-1, s) ||
				s > 0 && tolerance(grade, s) <= tolerance(grade, s-1) {
				t.Errorf("IT%d does not grow at %v mm", grade, size)
			}
			for _, letter := range strings.Split(holes+", "+shafts, ", ") {
				l, err := limits(size, fmt.Sprint(letter, grade))
				if err != nil {
					if letter == "K" && grade > 8 && s > 0 {
						continue
					}
					t.Fatal(err)
				}
				if got := mm(1e3 * (l.Upper - l.Lower)); got != tolerance(grade, s)/1e3 {
					t.Errorf("%v: width %v", l, got)
				}
				if mirror, _ := limits(size, fmt.Sprint(strings.ToLower(letter), grade)); strings.Contains("FGHJS", letter) &&
					(l.Lower != -mirror.Upper || l.Upper != -mirror.Lower) {
					t.Errorf("%v does not mirror %v", l, mirror)
				}
			}
		}
		if s == 0 {
			continue // no such rule up to 3 mm
		}
		for _, letter := range []string{"k", "m", "n", "p"} {
			basisHole, basisShaft := clearance(t, fmt.Sprintf("%v H7/%s6", size, letter)), clearance(t, fmt.Sprintf("%v %s7/h6", size, strings.ToUpper(letter)))
			if basisHole != basisShaft {
				t.Errorf("%v mm, %s: %v in a basic hole, %v with a basic shaft", size, letter, basisHole, basisShaft)
			}
		}
	}
}

func clearance(t *testing.T, designation string) Clearance {
	t.Helper()
	f, err := Parse(designation)
	if err != nil {
		t.Fatal(err)
	}
	c, ok := f.Clearance()
	if !ok {
		t.Fatalf("%s: no clearance", designation)
	}
	return c
}
