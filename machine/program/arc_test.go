package program

import (
	"math"
	"strings"
	"testing"

	"gridswing/geom/motion"
)

// Arcs as the interpreter of NISTIR 6556 (RS274NGC version 3, run on these programs) reads them:
// where the centre is and how far round they go. Each leg must end on the circle, and the middle
// of each must be within its Within of it.
func TestArcs(t *testing.T) {
	for _, c := range []struct {
		at, block string
		centre    [2]float64 // in the plane's axes
		sweep     float64    // degrees, counter-clockwise
		axes      [2]int
		end       motion.Params
	}{
		{"X10 Y0", "G3 X0 Y10 I-10 J0", [2]float64{0, 0}, 90, [2]int{axisX, axisY}, motion.Params{0, 10}},
		{"X0 Y10", "G2 X10 Y0 R10", [2]float64{0, 0}, -90, [2]int{axisX, axisY}, motion.Params{10, 0}},
		{"X10 Y0", "G3 X0 Y10 R-10", [2]float64{10, 10}, 270, [2]int{axisX, axisY}, motion.Params{0, 10}},
		{"X0 Y0", "G2 X10 Y15 R20", [2]float64{19.8551, -2.4034}, -53.576, [2]int{axisX, axisY}, motion.Params{10, 15}},
		{"X7 Y7 Z0", "G2 X10 Y16 I3 J4 Z9", [2]float64{10, 11}, -143.13010, [2]int{axisX, axisY}, motion.Params{10, 16, 9}},
		{"X0 Y0 Z5", "G2 X0 Y0 I5 J0 Z-3", [2]float64{5, 0}, -360, [2]int{axisX, axisY}, motion.Params{0, 0, -3}},
		{"X0 Y0", "G2 X10 Y0.0015 I5 J0", [2]float64{5, 0}, -179.983, [2]int{axisX, axisY}, motion.Params{10, 0.0015}},
		{"X0 Z0", "G18 G2 X10 Z0 I5 K0", [2]float64{0, 5}, -180, [2]int{axisZ, axisX}, motion.Params{10, 0, 0}},
		{"Y0 Z0", "G19 G3 Y10 Z10 J0 K10", [2]float64{0, 10}, 90, [2]int{axisY, axisZ}, motion.Params{0, 10, 10}},
	} {
		list := stepsOf(t, mill(), "G0 "+c.at+"\nF100 "+c.block)
		st := list[len(list)-2]
		r := math.Hypot(st.Legs[0].From[c.axes[0]]-c.centre[0], st.Legs[0].From[c.axes[1]]-c.centre[1])
		swept := 0.0
		for _, l := range st.Legs {
			a, b := l.From, l.To
			angle := func(p motion.Params) float64 {
				return math.Atan2(p[c.axes[1]]-c.centre[1], p[c.axes[0]]-c.centre[0])
			}
			swept += math.Remainder(angle(b)-angle(a), 2*math.Pi)
			sagitta := r - math.Hypot((a[c.axes[0]]+b[c.axes[0]])/2-c.centre[0], (a[c.axes[1]]+b[c.axes[1]])/2-c.centre[1])
			if sagitta > l.Within[c.axes[0]] || l.Within[c.axes[0]] > MostChord+0.002 {
				t.Errorf("%s: a chord is off by %g, within is %g", c.block, sagitta, l.Within[c.axes[0]])
			}
			if off := math.Abs(math.Hypot(b[c.axes[0]]-c.centre[0], b[c.axes[1]]-c.centre[1]) - r); off > 0.002 {
				t.Errorf("%s: %g off the circle", c.block, off)
			}
		}
		if math.Abs(degrees(swept)-c.sweep) > 0.01 {
			t.Errorf("%s: sweeps %g, want %g", c.block, degrees(swept), c.sweep)
		}
		near(t, c.block, st.Legs[len(st.Legs)-1].To, c.end, 1e-12)
	}
}

// Clockwise about +Y as seen from +Y: the half circle in G18 from (0, 0) to (10, 0) passes (5, 0,
// -5): derived from the right-handed axes of ISO 841.
func TestArcInZX(t *testing.T) {
	list := stepsOf(t, mill(), "G0 X0 Y0 Z0\nG18 G2 X10 Z0 I5 K0 F100")
	least := 0.0
	for _, l := range list[len(list)-2].Legs {
		least = min(least, l.To[axisZ])
	}
	if math.Abs(least+5) > MostChord {
		t.Errorf("passes z %g, want -5", least)
	}
}

// What the interpreter of NISTIR 6556 refuses, and what would have to be guessed.
func TestArcsRefused(t *testing.T) {
	for _, c := range [][3]string{
		{"G2 X10.0021 Y0 I5 J0 F1", "5.0000 mm from its centre where it begins", "0.002 mm"},
		{"G2 X10 Y0 R4.99 F1", "R4.99", "5.0000"},
		{"G2 X0 Y0 R5 F1", "ends where it begins", "centre"},
		{"G2 X10 Y0 I5 R5 F1", "a radius and a centre", "one"},
		{"G2 X0 Y0 I0 J0 F1", "radius 0", "centre"},
		{"G2 X10 Y0 F1", "without a centre", "R"},
		{"G2 X10 Y0 I5 J0 K1 F1", "K1", "uses"},
		{"G2 X10 Y0 I5 J0", "without F", "F"},
		{"G2 X0.001 Y0 I5 J0 F1", "beside where it begins", "full turn"},
	} {
		refused(t, mill(), "G0 X0 Y0\n"+c[0], c[1], c[2])
	}
	s := mill()
	s.Control.Centres = ""
	refused(t, s, "G2 X10 Y0 I5 J0 F1", "a centre", "arc_centres")
	s = mill()
	s.Control.ArcTolerance = 0
	refused(t, s, "G2 X10.001 Y0 I5 J0 F1", "from its centre", "arc_tolerance")
	s = mill()
	s.Control.Starts = []string{"G21", "G40", "G49", "G90", "G94", "G54"}
	refused(t, s, "G2 X10 Y0 I5 J0 F1", "G2", "G17, G18 or G19")
	s = mill()
	s.Control.Centres = "from zero"
	refused(t, s, "G2 X10 Y0 I5 F1", "half a centre", "both")
}

// Between two chords and the arc itself, at the same share of the way, is no more than Within
// says, sampled, for arcs of all sizes, helices and radii that differ.
func TestArcWithin(t *testing.T) {
	for _, block := range []string{
		"G2 X10 Y15 R20 Z3", "G3 X0.0004 Y0.002 R0.002", "G2 X0 Y0 I300 J20 Z-3", "G3 X100.0012 Y0 I50 J0", "G2 X0 Y0 I0.0005 J0", "G2 X0 Y0 I90000 J0",
	} {
		in := open(t, mill(), "F100 "+block+"\nM2\n")
		st, err := in.Next()
		if err != nil {
			t.Fatal(err)
		}
		b := in.cur.block
		in2 := open(t, mill(), "F100 "+block+"\nM2\n")
		if err := in2.sort(b); err != nil {
			t.Fatal(err)
		}
		in2.modal[motionG] = in2.cur.codes[motionG]
		to, _, err := in2.target()
		if err != nil {
			t.Fatal(err)
		}
		a, err := in2.readArc(&to)
		if err != nil {
			t.Fatal(err)
		}
		n := len(st.Legs)
		for i, l := range st.Legs[:min(n, 500)] {
			for j := range 11 {
				f := float64(j) / 10
				x, y := a.at((float64(i) + f) / float64(n))
				for k, v := range []float64{x, y} {
					if off := math.Abs(l.From[k] + (l.To[k]-l.From[k])*f - v); off > l.Within[k] {
						t.Fatalf("%s: leg %d is off by %g, says %g", block, i, off, l.Within[k])
					}
				}
			}
		}
		if strings.Contains(block, "90000") && n < 1000 {
			t.Errorf("%s: %d legs", block, n)
		}
	}
}
