package program

import (
	"io"
	"math"
	"strings"
	"testing"

	"gridswing/geom/motion"
	"gridswing/machine"
)

// The same work offset again says nothing new, even where moves of radius compensation wait: worked by hand as in
// TestCompensation. Another number of the same code does.
func TestSameOffsetAgain(t *testing.T) {
	want := "r -20 0 0; f -5 0 0; f -5 40 0; f -20 40 0"
	if got := told(stepsOf(t, mill(), "G0 X-20 F100\nG41 D1 G1 X0\nG54\nY40\nG40 X-20")); got != want {
		t.Errorf("got %s, want %s", got, want)
	}
	s := mill()
	s.Offsets.Numbers = append(s.Offsets.Numbers, "G57.5 P8")
	refused(t, s, "G57.5 P7 G41 D1 G1 X5 F100\nY20\nG57.5 P8\nY40\nG40 X-20", "G57.5 P8", "G40")
}

// Compensation begins where the tool stands by what its block says: the triangle of TestCompensationOfControls, its
// offset put in force by the block that begins it.
func TestOffsetWithTheBeginning(t *testing.T) {
	s := mill()
	s.Control.Entry = machine.Touching
	want := told(stepsOf(t, s, "G55 G0 X-13 Y0 Z0 F100\nG41 D1 G1 X0\nX30\nG40 Y60"))
	if got := told(stepsOf(t, s, "G0 X187 Y150 Z-100 F100\nG55 G41 D1 G1 X0\nX30\nG40 Y60")); got != want {
		t.Errorf("got %s, want %s", got, want)
	}
}

// What was told a cycle in one plane, or in other coordinates, or with Z where a change of length has left it, is not
// carried over.
func TestCyclesEndWithTheirCoordinates(t *testing.T) {
	refused(t, mill(), "G0 Z10\nG81 G99 X1 Y1 Z-6 R2 F100\nG18 X5", "a block", "G80 between")
	stepsOf(t, mill(), "G0 Y10 Z10\nG81 G99 X1 Y3 Z-6 R2 F100\nG80\nG18 G81 X5 Y-6 Z2 R2")
	refused(t, mill(), "G0 Z10\nG81 G99 X1 Z-6 R2 F100\nG273 X0 Y0 Z0 I0 J0 K0\nX5", "G273", "G80")
	refused(t, mill(), "G0 Z100\nG43 H1\nG81 G98 X1 Y1 Z-5 R2 F100", "G81", "a move of Z")
	stepsOf(t, mill(), "G0 Z100\nG43 H1\nG0 Z100\nG81 G98 X1 Y1 Z-5 R2 F100")
	const led = "G271 H1\nG0 X0 Y0 Z50 A30 C0\n"
	refused(t, mill(), led+"G81 G98 X1 Y1 Z-5 R2 F100", "G81", "a tool that stands along")
	refused(t, mill(), led+"G41 D1 G1 X1 Y1 F100", "G41", "a tool that stands along")
	stepsOf(t, mill(), strings.Replace(led, "A30", "A0", 1)+"G81 G98 X1 Y1 Z-5 R2 F100")
}

// A length that was named for tip control is not known to hold on after it.
func TestLengthOfTipControlEnds(t *testing.T) {
	const led = "G271 H1\nG0 X0 Y0 Z50 A0 C0\nG270\n"
	refused(t, mill(), led+"G0 Z50", "whether a length counts", "G43 or G49")
	near(t, "G49", last(t, mill(), led+"G49 G0 Z50"), motion.Params{axisZ: 50}, 1e-9)
	near(t, "G43 before", last(t, mill(), "G43 H1 Z0 G0\n"+led+"G0 Z50"), motion.Params{axisZ: 100}, 1e-9)
}

// An axis that stands where the program counts it does not go round, whatever comes between: the control counts what
// was programmed, and both ways there led to the same place.
func TestRoundCountsAsProgrammed(t *testing.T) {
	s := mill()
	s.Axes[axisC].RollOver = machine.EitherWay
	for _, between := range []string{"T1 M6", "G55", "G53 G0 Z-5", "G92 X0", "G10 L2 P1 X5", "M8"} {
		list := stepsOf(t, s, "G0 C350\n"+between+"\nG0 C350\nG53 G0 C350")
		for _, st := range list[1:] {
			if st.OtherWay != nil {
				t.Errorf("%s: %+v", between, st)
			}
		}
	}
	for _, text := range []string{
		"G0 C350\nG92 C0\nG0 C0", "G0 C350\nG52 C5\nG0 C345", "G0 C350\nG10 L2 P1 C7\nG0 C343", "G0 C350\nG10 L2 P2 C-3\nG55 G0 C353",
	} {
		if list := stepsOf(t, s, text); len(list) != 2 {
			t.Errorf("%s: %+v", text, list[1:])
		}
	}
	// C stands at 340 + 170: home is 150 back, or 210 on.
	list := stepsOf(t, s, "G0 C170\nC340\nC150\nG28")
	home := list[len(list)-2]
	from, to, other := home.Legs[0].From[axisC], home.Legs[0].To[axisC], home.OtherWay[0].To[axisC]
	if math.Abs(degrees(to-from)+150) > 1e-9 || math.Abs(degrees(other-from)-210) > 1e-9 {
		t.Errorf("home by %g or %g", degrees(to-from), degrees(other-from))
	}
	s.Axes[axisC].RollOver = machine.ByValue
	near(t, "by value", last(t, s, "G0 C350\nT1 M6\nG0 C10"), deg(-300, 0, 0, 0, 10), 1e-9)
}

// A feed the shorter way takes as long as that way: 20 degrees at 100 a minute.
func TestTimeOfTheShorterWay(t *testing.T) {
	list := stepsOf(t, mill(), "G1 C350 F100\nC10")
	if math.Abs(list[0].Seconds-6) > 1e-9 || math.Abs(list[1].Seconds-12) > 1e-9 {
		t.Errorf("%g s and %g s", list[0].Seconds, list[1].Seconds)
	}
}

// A spindle at S0 stands still, whatever M3 says.
func TestNoSpeed(t *testing.T) {
	for text, want := range map[string]int{"M3 S0": 0, "S0\nM4": 0, "M3 S100\nS0": 0, "S0 M3\nS50": 1, "M3": 1} {
		if got := stepsOf(t, mill(), text+"\nG1 X1 F1")[0].Turning; got != want {
			t.Errorf("%s: turns by %d, want %d", text, got, want)
		}
	}
	refused(t, mill(), "M3 S0 G84 G98 X1 Z-2 R-1 F100", "G84", "M3")
}

// What looks like something that one control does and another does not is not read as nothing.
func TestNothingIsSkipped(t *testing.T) {
	for _, c := range [][3]string{
		{"G1 X10 F100 M77 R5", "R5", "uses"},
		{"G0 X1 ; Y5", "; and nothing but words", "a comment in ( )"},
		{"G0 X1;G1Z-5.F100", "; and nothing but words", "own"},
		{"G91 G92 X5", "G92", "G90"},
		{"G91 G52 X5", "G52", "G90"},
		{"G4 P1 M98\nM2\nO1\nM99", "P1, which", "two blocks"},
		{"G57.5 P7 M98\nM2\nO7\nM99", "P7, which", "two blocks"},
		{"G57.5 P7 G82 G98 X1 Z-2 R-1 F100", "P7, which", "two blocks"},
		{"G57.5 P7 G4", "P7, which", "two blocks"},
		{"G92.3\nG0 X1", "G92.3", "an earlier program"},
		{"G92.2\nG92.3\nG0 X1", "G92.3", "an earlier program"},
		{"G1 X1 F500\nG95 X2", "without F", "F"},
		{"G93 G1 X1 F5\nG94 X2", "without F", "F"},
		{"G43 H1\nG92 Z0", "the zero of Z", "G90"},
	} {
		refused(t, mill(), c[0], c[1], c[2])
	}
	stepsOf(t, mill(), "G0 X1 ; to the left of 5\nG0 X2;\n; (a table)\n;-----\nX3 ; X5 or so")
}

// Of a group one code holds when a program begins.
func TestStartsOnce(t *testing.T) {
	for _, pair := range [][]string{{"G20", "G21"}, {"G54", "G55"}, {"G90", "G21", "G91"}, {"G0", "G80"}} {
		s := mill()
		s.Control.Starts = pair
		if _, err := Open("p", io.MultiReader(), s, Values{}, Options{}); err == nil || !strings.Contains(err.Error(), "beside") {
			t.Errorf("%q: %v", pair, err)
		}
	}
}

// A block that is not wholly read does nothing: half of what it says need not be what the machine does.
func TestHalfABlock(t *testing.T) {
	for text, want := range map[string]int{"G0 X1\nA90 B5": 1, "G0 X1E2": 0, "G1 X1 F1\nG4 P1 X3": 1} {
		if list, f := steps(t, mill(), text); f == nil || len(list) != want {
			t.Errorf("%q: %d steps and %v, want %d", text, len(list), f, want)
		}
	}
}

// At an inner corner a line is not made longer to meet a circle where it came from: beside half a circle of 10 about
// (0, 0), 15 for the tool, and a line up from (0, 10), x = 5 for it, these meet at (5, 14.142), and at (5, -14.142),
// which is on the circle's part, too.
func TestInnerCornerStaysOnItsTracks(t *testing.T) {
	const arc = "G0 X-30 Y-10 F100\nG42 D1 G1 X0\nG3 Y10 J10\nG1 Y"
	refused(t, mill(), arc+"12\nG40 Y40", "does not reach", "fits")
	list := stepsOf(t, mill(), arc+"20\nG40 Y40")
	legs := list[2].Legs
	near(t, "corner", legs[len(legs)-1].To, motion.Params{5, math.Sqrt(200)}, 1e-9)
}
