package text

import (
	"regexp"
	"strconv"
	"strings"
	"testing"

	"gridswing/geom"

	"pgregory.net/rapid"
)

// 1 inch is 25.4 mm exactly (ISO 80000-3); the numbers wanted are worked out by hand from that.
func TestWordsInInches(t *testing.T) {
	in := NewLengths(geom.Inch, []string{"riser 50 mm", "riser 50 mm/top", "plate", "N10 (25 mm deep)"})
	for words, want := range map[string]string{
		"12.34 mm":                          "0.4858 inch",
		"3 to 5 mm":                         "0.1181 to 0.1969 inch",
		"10 x 20 mm":                        "0.3937 x 0.7874 inch",
		"800 x 450.5 x 25.4 mm":             "31.4961 x 17.736 x 1.000 inch",
		"fed at 400 mm/min, not 254 mm/min": "fed at 15.748 inch/min, not 10 inch/min",
		"X -400 to 400, Y at 25.40, Z -12.70 to 0 mm, A 0 to 90 deg": "X -15.748 to 15.748, Y at 1.0000, Z -0.5000 to 0 inch, A 0 to 90 deg",
		"A 90, X1 25.4 mm":                                                                      "A 90, X1 1.000 inch",
		"X 150.00, Y -125.00 mm, A 92.50 deg":                                                   "X 5.9055, Y -4.9213 inch, A 92.50 deg",
		"within X 0 to 254 and 381 to 508 mm (to steps of X 25.4 mm)":                           "within X 0 to 10 and 15 to 20 inch (to steps of X 1.000 inch)",
		"where it is [0, -25.4, 50.8] mm from its place":                                        "where it is [0, -1.000, 2.000] inch from its place",
		"8 screws M12 x 35 in plate/top B2: 86 N m, 12.3 kg, 20 degrees, 544.10 kg mm, 3.2 cm3": "8 screws M12 x 35 in plate/top B2: 86 N m, 12.3 kg, 20 degrees, 544.10 kg mm, 3.2 cm3",
		"G54: Y differs by -50.000 mm, Z by +0.254 mm":                                          "G54: Y differs by -1.9685 inch, Z by +0.0100 inch",
		"T3 holder and riser 50 mm/top: 25.40 mm left of 50.80; riser 50 mm":                    "T3 holder and riser 50 mm/top: 1.0000 inch left of 2.0000; riser 50 mm",
		"line 12: N10 (25 mm deep), 25.4 mm into it":                                            "line 12: N10 (25 mm deep), 1.000 inch into it",
		"12.40 mm left to -550":                                                                 "0.4881 inch left to -21.6535",
		"11 mm of thread hold, expected 12 in steel for class 8.8":                              "0.4331 inch of thread hold, expected 0.4724 in steel for class 8.8",
		"M12 x 35, 18 mm of thread hold, 15 needed (top B1, H1)":                                "M12 x 35, 0.7087 inch of thread hold, 0.5906 needed (top B1, H1)",
		"it bottoms: it goes in by 35 mm, the thread of the hole ends at 30":                    "it bottoms: it goes in by 1.378 inch, the thread of the hole ends at 1.1811",
		"LPR 262.50 mm, the magazine takes 250.00":                                              "LPR 10.3346 inch, the magazine takes 9.8425",
		"diameter 80.00 mm: the places beside it must be empty (63.00 with neighbours)":         "diameter 3.1496 inch: the places beside it must be empty (2.4803 with neighbours)",
		"a stick-out of 66.5 mm or more, now 62.0":                                              "a stick-out of 2.619 inch or more, now 2.441",
		"it can be 0.46 mm off at worst, more than the 0.1 mm that unprobed work may be":        "it can be 0.0182 inch off at worst, more than the 0.004 inch that unprobed work may be",
		"proven to be at least 0.73 mm, smallest found 0.74 mm, demanded 2 mm":                  "proven to be at least 0.0287 inch, smallest found 0.0291 inch, demanded 0.0787 inch",
		"0.99 mm, from which location uncertainty and chord error take up to 0.25 mm":           "0.0389 inch, from which location uncertainty and chord error take up to 0.0099 inch",
		"9 pairs of bodies, at least 2 mm apart but at the seat":                                "9 pairs of bodies, at least 0.0787 inch apart but at the seat",
		"Nothing clear comes nearer than 3.21 mm, seats and grips aside.":                       "Nothing clear comes nearer than 0.1263 inch, seats and grips aside.",
		"0.001 mm between them":                                                                 "0.0000 inch between them",
		"stylus 6 x 50":                                                                         "stylus 6 x 50",
		"a comma, and no length":                                                                "a comma, and no length",
	} {
		if got := in.Words(words); got != want {
			t.Errorf("%q:\nfound    %q\nexpected %q", words, got, want)
		}
		if got := NewLengths(geom.Millimetre, nil).Words(words); got != words {
			t.Errorf("in mm %q became %q", words, got)
		}
	}
}

// Whatever the length, what is printed of a clearance is no more than it is, what is taken up no
// less, and neither is farther off than a step of the last decimal.
func TestInchesNeverSayMore(t *testing.T) {
	in := NewLengths(geom.Inch, nil)
	digits := regexp.MustCompile(`-?[\d.]+`)
	rapid.Check(t, func(t *rapid.T) {
		mm := strconv.FormatFloat(rapid.Float64Range(-2000, 2000).Draw(t, "mm"), 'f', rapid.IntRange(0, 3).Draw(t, "decimals"), 64)
		exact, _ := strconv.ParseFloat(mm, 64) // digits just printed
		for words, way := range map[string]float64{"proven to be at least " + mm + " mm": -1, "takes up to " + mm + " mm": 1, "at " + mm + " mm": 0} {
			got, err := strconv.ParseFloat(digits.FindString(in.Words(words)), 64)
			if err != nil {
				t.Fatal(err)
			}
			step := 1e-4
			if strings.Contains(mm, ".") && len(mm)-strings.Index(mm, ".") == 2 {
				step = 1e-3
			}
			off := got - exact/25.4
			if off*way < -1e-9 || off > step || off < -step {
				t.Errorf("%q became %q: off by %g", words, in.Words(words), off)
			}
		}
	})
}

func TestLengths(t *testing.T) {
	mm, in := NewLengths(geom.Millimetre, nil), NewLengths(geom.Inch, nil)
	for _, c := range []struct{ got, want string }{
		{mm.Near(12.346), "12.35"}, {in.Near(25.4), "1.0000"},
		{mm.Down(5.429), "5.42"}, {in.Down(5.42), "0.2133"},
		{mm.Up(5.421), "5.43"}, {in.Up(5.42), "0.2134"},
		{mm.Fine(0.0284), "0.029"}, {in.Fine(0.0284), "0.0012"},
		{mm.Stated(2), "2"}, {in.Stated(2.032), "0.08"},
		{mm.Window(60.01, 89.99), "60.1 to 89.9"}, {in.Window(60, 90), "2.37 to 3.54"},
		{mm.Window(50, 50), "50"}, {mm.Window(50.01, 50.02), "none"}, {in.Window(25.4, 25.4), "1"}, {in.Window(40, 40), "1.5748"}, {in.Window(40, 40.1), "none"}, {mm.Window(40, 40), "40"},
	} {
		if c.got != c.want {
			t.Errorf("found %s, expected %s", c.got, c.want)
		}
	}
}
