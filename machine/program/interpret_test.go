package program

import (
	"math"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"gridswing/geom/motion"
	"gridswing/machine"
)

// Two codes of one modal group in a block are an error (NISTIR 6556, sec. 3.4, table 5), and so is
// all that is not known or would have to be guessed.
func TestRefused(t *testing.T) {
	for _, c := range [][3]string{
		{"G0 G1 X1", "G1 beside G0", "one code"},
		{"G17 G18", "G18 beside G17", "one code"},
		{"G90 G91", "beside", "one code"},
		{"G93 G94", "beside", "one code"},
		{"G20 G21", "beside", "one code"},
		{"G40 G41 D1", "beside", "one code"},
		{"G43 G49 H1", "beside", "one code"},
		{"G98 G99", "beside", "one code"},
		{"G54 G55", "beside", "one code"},
		{"G28 G92 X0", "beside", "one code"},
		{"M3 M4", "beside", "one code"},
		{"M8 M9", "beside", "one code"},
		{"M48 M49", "beside", "one code"},
		{"M0 M30", "beside", "one code"},
		{"G38.2 X1", "G38.2", "[program.codes]"},
		{"G5 X1", "G5", "ISO 6983-1"},
		{"G1.05 X1", "G1.05", "ISO 6983-1"},
		{"M19", "M19", "ISO 6983-1"},
		{"M60", "M60", "ISO 6983-1"},
		{"G64", "rounds corners", "exact path"},
		{"M8 P3", "P3", "uses"},
		{"X1", "X1", "G0 or G1"},
		{"G80 X1", "X1", "G0 or G1"},
		{"G0 B1", "B1", "axis that the setup has: A, C, X, Y, Z"},
		{"G0 X1 Q1", "Q1", "uses"},
		{"G0 X1 E1", "E1", "uses"},
		{"G1 X1", "without F", "F"},
		{"G1 X1 F0", "without F", "F"},
		{"G1 X1 F-1", "F-1", "not negative"},
		{"G93 G1 X1 F2\nX2", "without F", "G93"},
		{"S-1 M3", "S-1", "not negative"},
		{"T1.5", "T1.5", "whole"},
		{"M6", "M6", "T"},
		{"T1 M6 X1", "M6", "without axis words"},
		{"G0 X1e9", "e9", "uses"},
		{"G0 X100000000", "X100000000", "a length of at most"},
		{"G0 C100000000", "C100000000", "an angle"},
		{"G4", "G4", "P"},
		{"G4 P-1", "P-1", "not negative"},
		{"G0 G4 P1 X1", "X1", "G0 or G1"},
		{"G1 G92 X1 F1", "G1 beside G92", "axis words"},
		{"M98", "M98", "P"},
		{"M99", "a return", "M2 or M30"},
		{"M98 P5 K2", "K2", "L"},
	} {
		refused(t, mill(), c[0], c[1], c[2])
	}
}

// What the machine file does not state matters where the program hangs on it, and only there.
func TestUnstated(t *testing.T) {
	without := func(code string) *machine.Setup {
		s := mill()
		s.Control.Starts = slices.DeleteFunc(s.Control.Starts, func(c string) bool { return c == code })
		return s
	}
	refused(t, without("G21"), "G0 X1.", "without a unit", "G20 or G21")
	refused(t, without("G90"), "G0 X1.", "how it counts", "G90 or G91")
	refused(t, without("G94"), "G1 X1. F1", "what F counts", "G93")
	refused(t, without("G40"), "G1 X1. F1", "radius compensation", "G40")
	near(t, "zero has no unit", last(t, without("G21"), "G0 A5.\nX0 Y0"), deg(0, 0, 0, 5, 0), 0)
	near(t, "plane", last(t, without("G17"), "G0 X1."), motion.Params{1}, 0)
	s := mill()
	s.Control.PlainNumbers = ""
	refused(t, s, "G0 X1", "X1 without a decimal point", "number_without_point")
	refused(t, s, "G0 A1", "A1 without a decimal point", "number_without_point")
	near(t, "with a point", last(t, s, "T1 M8\nS100 M3\nG0 X1. Y0 A2."), deg(1, 0, 0, 2, 0), 1e-15)
	s.Control.PlainNumbers = machine.SmallestSteps
	near(t, "steps", last(t, s, "G0 X1500 Y1.5 A1500"), deg(1.5, 1.5, 0, 1.5, 0), 1e-12)
	refused(t, s, "G20 G0 X1500", "without a decimal point", "known in mm")
	s.Control = nil
	if _, err := Open("p", strings.NewReader(""), s, Values{}, Options{}); err == nil || !strings.Contains(err.Error(), "[program]") {
		t.Error(err)
	}
	for _, bad := range []string{"G2", "G81", "G43", "G41", "M3", "G28", "G999", "X1", "T1", "M98"} {
		s := mill()
		s.Control.Starts = []string{bad}
		if _, err := Open("p", strings.NewReader(""), s, Values{}, Options{}); err == nil {
			t.Errorf("starts with %s", bad)
		}
	}
}

// An inch is 25.4 mm exactly (ISO 80000-3); coordinates keep their place when the unit changes.
func TestUnits(t *testing.T) {
	near(t, "inches", last(t, mill(), "G20 G0 X1 Y-2.5 A90"), deg(25.4, -63.5, 0, 90, 0), 1e-12)
	near(t, "both", last(t, mill(), "G20 G0 X1\nG91 G21 X1"), motion.Params{26.4}, 1e-12)
}

// Spindle, stops, tools: what steps say.
func TestSteps(t *testing.T) {
	list := stepsOf(t, mill(), "M3 S1000\nG1 X100 F1000\nM4\nG0 X0\nM0\nT5\nM6\nG4 P2.5\nM30")
	kinds := []Kind{Feed, Rapid, Stop, Rapid, Change, Dwell, End}
	if len(list) != len(kinds) {
		t.Fatalf("%d steps, want %d", len(list), len(kinds))
	}
	for i, k := range kinds {
		if list[i].Kind != k {
			t.Errorf("step %d is %d, want %d", i, list[i].Kind, k)
		}
	}
	if list[0].Turning != 1 || list[1].Turning != -1 || list[4].Turning != 0 || list[3].Tool != 0 || list[4].Tool != 5 || list[5].Tool != 5 {
		t.Errorf("%+v", list)
	}
	if list[0].Seconds != 6 || list[0].Length != 100 || list[5].Seconds != 2.5 || list[4].Seconds != 8 || !math.IsNaN(list[1].Seconds) {
		t.Errorf("times: %v", list)
	}
	if l := list[3].Legs[0]; !l.Box && l.To != (motion.Params{-300}) {
		t.Errorf("to the change: %+v", l)
	}
	if list[0].Place != (Place{"p.nc", 2, 1}) || list[0].Block != "G1 X100 F1000" || list[0].Offset != "G54" {
		t.Errorf("%+v", list[0])
	}
	s := mill()
	*s.Control.ChangeMoves = false
	if list := stepsOf(t, s, "T5 M6"); len(list) != 2 || list[0].Kind != Change {
		t.Errorf("%+v", list)
	}
	s.Control.ChangeMoves = nil
	refused(t, s, "T5 M6", "M6", "change_moves")
}

// What a step shows of its block ends with a whole letter.
func TestLongBlocks(t *testing.T) {
	for n := 180; n < 200; n++ {
		text := stepsOf(t, mill(), "G0 X1 ("+strings.Repeat("m", n)+"äöü€ and more)")[0].Block
		if len(text) > mostText || len(text) < mostText-3 && n > 190 || !utf8.ValidString(text) {
			t.Errorf("%d bytes: %q", len(text), text)
		}
	}
}

// Subprograms that do nothing, very often, come to an end.
func TestIdleBlocks(t *testing.T) {
	refused(t, mill(), "M98 P1 L9999\nM2\nO1\nM98 P2 L9999\nM99\nO2\nM8\nM99", "blocks that do nothing", "a move")
}

// A code that the machine file says moves nothing may have words of its own, but no axis.
func TestParameters(t *testing.T) {
	stepsOf(t, mill(), "M77 P3 E0.05 R2")
	refused(t, mill(), "M77 X3", "X3", "G0 or G1")
	refused(t, mill(), "M77 H3", "H3", "uses")
}

// The way to the tool change is a box: no file says which axis goes first.
func TestWayToTheChange(t *testing.T) {
	list := stepsOf(t, mill(), "G0 X10 Y20 Z-100\nT1 M6")
	if l := list[1].Legs[0]; !l.Box || l.To != (motion.Params{-300, 20, 0}) || list[1].Kind != Rapid {
		t.Errorf("%+v", list[1])
	}
}

// Rapid moves are boxes unless the machine file says that the axes arrive together.
func TestBoxes(t *testing.T) {
	s := mill()
	if l := stepsOf(t, s, "G0 X1 Y1")[0].Legs[0]; l.Box {
		t.Errorf("%+v", l)
	}
	s.Rapid = machine.Independent
	if l := stepsOf(t, s, "G0 X1 Y1")[0].Legs[0]; !l.Box {
		t.Errorf("%+v", l)
	}
	if l := stepsOf(t, s, "G1 X1 Y1 F1")[0].Legs[0]; l.Box {
		t.Errorf("%+v", l)
	}
}

// Which way round an axis without ends goes.
func TestRoundAndRound(t *testing.T) {
	s := mill()
	near(t, "the shorter way", last(t, s, "G0 C350\nC10\nC-170.001"), deg(0, 0, 0, 0, 189.999), 1e-9)
	near(t, "by so much", last(t, s, "G0 C10\nG91 C720"), deg(0, 0, 0, 0, 730), 1e-9)
	list := stepsOf(t, s, "G0 C90\nC270")
	if o := list[1].OtherWay; len(o) != 1 || math.Abs(list[1].Legs[0].To[axisC]+o[0].To[axisC]-radians(180)) > 1e-9 {
		t.Errorf("half a turn: %+v", list[1])
	}
	s.Axes[axisC].RollOver = machine.ByValue
	near(t, "by value", last(t, s, "G0 C350\nC10\nC-720"), deg(0, 0, 0, 0, -720), 1e-9)
	s.Axes[axisC].RollOver = machine.EitherWay
	list = stepsOf(t, s, "G0 X5 C30\nX6\nC30")
	if len(list) != 3 {
		t.Fatalf("%d steps", len(list))
	}
	if o := list[0].OtherWay; len(o) != 1 || o[0].From != list[0].Legs[0].From || math.Abs(o[0].To[axisC]-radians(-330)) > 1e-9 || o[0].To[axisX] != 5 {
		t.Errorf("%+v", list[0])
	}
	if list[1].OtherWay != nil {
		t.Errorf("%+v", list[1])
	}
	refused(t, s, "G0 C400", "a whole turn", "roll_over")
	// A limited axis goes by value.
	near(t, "A", last(t, s, "G0 A100\nA-100"), deg(0, 0, 0, -100, 0), 1e-12)
}

// Feeds: G94 a minute, of a rotary axis alone in degrees (NISTIR 6556, sec. 2.1.2.5), G93 one over
// the time, G95 a turn of the spindle. Rapids: the slowest axis, speeding up and slowing down: d/v
// + v/a, or 2 sqrt(d/a) where it does not get to its rate.
func TestTimes(t *testing.T) {
	s := mill()
	s.Axes[axisX].Rates = machine.Rates{Rapid: 500, Acceleration: 2500}
	s.Axes[axisY].Rates = machine.Rates{Rapid: 500}
	for _, c := range []struct {
		program string
		want    float64
	}{
		{"G1 X30 Y40 F1000", 3},
		{"G20 G1 X1 F10", 6},
		{"G1 A90 F3600", 1.5},
		{"G93 G1 X5 F4", 15},
		{"G95 S600 G1 X5 F0.1", 5},
		{"G3 X0 Y0 I10 J0 F1000", 20 * math.Pi / 1000 * 60},
		{"G3 X0 Y0 I10 J0 Z60 F1000", math.Hypot(20*math.Pi, 60) / 1000 * 60},
		{"G0 X300", 0.8},
		{"G0 X25", 0.2},
		{"G0 X25 Y200", 0.4},
	} {
		if got := stepsOf(t, s, c.program)[0].Seconds; math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%s takes %g, want %g", c.program, got, c.want)
		}
	}
	for _, c := range []string{"G95 G1 X5 F0.1", "G0 Z-1"} {
		if got := stepsOf(t, s, c)[0].Seconds; !math.IsNaN(got) {
			t.Errorf("%s takes %g", c, got)
		}
	}
}

// Calls: a subprogram in the same file, as often as L says.
func TestCalled(t *testing.T) {
	s := mill()
	s.Axes[axisX].Travel = [2]float64{-1000, 1000}
	in := open(t, s, "G91\nM98 P100 L3\nM2\nO100\nG0 X10\nM99\n")
	n := 0
	for {
		if _, err := in.Next(); err != nil {
			break
		}
		n++
	}
	if n != 4 || in.pos[axisX] != 30 {
		t.Errorf("%d steps, X %g", n, in.pos[axisX])
	}
	blocks, _ := in.Read()
	if blocks != 9 {
		t.Errorf("%d blocks", blocks)
	}
}
