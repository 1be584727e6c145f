package program

import (
	"math"
	"testing"

	"gridswing/geom/motion"
	"gridswing/machine"
)

// Offsets as the interpreter of NISTIR 6556 (RS274NGC version 3, run on these programs) has them:
// G10 sets them, G53 goes to machine zero under any, where G54 reads (-100, -50, 200) and G55
// (-200, -150, 100).
func TestOffsets(t *testing.T) {
	s := mill()
	const set = "G10 L2 P1 X100 Y50 Z-200 C30\nG10 L2 P2 X200 Y150 Z-100\n"
	near(t, "G54", last(t, s, set+"G54 G0 X1 Y2 Z3 C0"), deg(101, 52, -197, 0, 30), 1e-12)
	near(t, "G55", last(t, s, set+"G55 G0 X1 Y2 Z3"), deg(201, 152, -97, 0, 0), 1e-12)
	near(t, "G53", last(t, s, set+"G55 G0 X1 Y2 Z3\nG53 G0 X0 Y0 Z0"), motion.Params{}, 1e-12)
	in := open(t, s, set+"G0 X1 Y1\nG53 G0 X0 Y0 Z0\nG55\nG54\n")
	for range 2 {
		if _, err := in.Next(); err != nil {
			t.Fatal(err)
		}
	}
	near(t, "read under G54", in.at, deg(-100, -50, 200, 0, -30), 1e-12)
	b, _ := in.source.next()
	if err := in.do(b); err != nil {
		t.Fatal(err)
	}
	near(t, "read under G55", in.at, deg(-200, -150, 100, 0, 0), 1e-12)
	// G54 at X5, G92 X0: the origin of X is at 105.
	near(t, "G92", last(t, s, set+"G54 G0 X5\nG92 X0\nG0 X1"), deg(106, 0, 0, 0, 0), 1e-12)
	near(t, "G92 counts for all offsets", last(t, s, set+"G54 G0 X5\nG92 X0\nG55 G0 X1"), deg(206, 0, 0, 0, 0), 1e-12)
	near(t, "G92.1", last(t, s, set+"G54 G0 X5\nG92 X0\nG92.1\nG0 X1"), deg(101, 0, 0, 0, 0), 1e-12)
	near(t, "G92.3", last(t, s, set+"G54 G0 X5\nG92 X0\nG92.2\nG92.3\nG0 X1"), deg(106, 0, 0, 0, 0), 1e-12)
	near(t, "G91 does not ask where zero is", last(t, s, set+"G54 G0 X5\nG55 G91 G0 X1"), deg(106, 0, 0, 0, 0), 1e-12)
	near(t, "number 7", last(t, s, "G57.5 P7 G0 X1 Y1 Z1"), deg(2, 3, 4, 0, 0), 1e-12)
	near(t, "local zero", last(t, s, "G52 X10\nG55 G0 X1\nG54 G0 X1"), deg(11, 0, 0, 0, 0), 1e-12)
	near(t, "no local zero", last(t, s, "G52 X10\nG52 X0\nG0 X1"), deg(1, 0, 0, 0, 0), 1e-12)
}

func TestOffsetsRefused(t *testing.T) {
	for _, c := range [][3]string{
		{"G56 G0 X1", "no value of G56", "[[part]]"},
		{"G10 L2 P3 X1\nG56 G0 X1 Y1", "no value of G56", "keyed"},
		{"G59.1", "G59.1", "numbers under [offsets]"},
		{"G57.5 P8", "G57.5 P8", "numbers under [offsets]"},
		{"G57.5", "without P", "P"},
		{"G10 L20 P1 X1", "G10", "L2"},
		{"G10 L2 X1", "G10", "P"},
		{"G10 L2 P7 X1", "G59.1", "numbers"},
		{"G91 G10 L2 P1 X1", "G10", "G90"},
		{"G92", "G92", "axis words"},
		{"G0 G53 X1 G91", "G53", "G90"},
		{"G53 X1", "G53", "G0 or G1"},
		{"G53 G2 X1 I1", "G53", "G0 or G1"},
		{"G53 G0", "G53", "axis words"},
	} {
		refused(t, mill(), c[0], c[1], c[2])
	}
	s := mill()
	s.Control.Starts = []string{"G17", "G21", "G40", "G49", "G90", "G94"}
	refused(t, s, "G0 X1", "no work offset", "G54")
}

// Lengths: G43 H2 with a tool of 100 moves nothing by itself (NISTIR 6556, sec. 3.5.15); Z is led
// so that the tip is at the coordinate.
func TestLengths(t *testing.T) {
	s := mill()
	if list := stepsOf(t, s, "G43 H2"); len(list) != 1 {
		t.Errorf("%d steps, want the end only", len(list))
	}
	near(t, "G43", last(t, s, "G43 H2\nG0 Z-300"), motion.Params{0, 0, -200}, 0)
	near(t, "in one block", last(t, s, "G0 X1 G43 H2 Z-300"), motion.Params{1, 0, -200}, 0)
	near(t, "H0", last(t, s, "G43 H0\nG0 Z-300"), motion.Params{0, 0, -300}, 0)
	near(t, "G49", last(t, s, "G43 H2\nG0 Z-300\nG49\nG0 Z-300"), motion.Params{0, 0, -300}, 0)
	near(t, "G53 is of the gauge point", last(t, s, "G43 H2\nG0 Z-300\nG53 G0 Z-1"), motion.Params{0, 0, -1}, 0)
	refused(t, s, "G43 H2\nG0 X1", "without Z", "name it")
	if _, f := steps(t, s, "G43 H2\nG53 G0 Z-10\nG0 X1"); f != nil {
		t.Error(f)
	}
	refused(t, s, "G43 H2\nG91 G0 Z-1", "Z-1", "G90")
	refused(t, s, "G43 H3", "H3", "keyed")
	refused(t, s, "G43", "G43", "H")
	refused(t, s, "G0 X1 H1", "H1", "uses")
	s.Control.LengthMoves = machine.AtOnce
	near(t, "at once", last(t, s, "G0 Z-300\nG43 H2"), motion.Params{0, 0, -200}, 0)
	near(t, "at once, fed", last(t, s, "G1 F1 Z-300\nG43 H2\nG49"), motion.Params{0, 0, -300}, 0)
	s.Control.LengthMoves = ""
	refused(t, s, "G43 H2\nG0 Z1", "G43", "length_moves")
	near(t, "does not matter", last(t, s, "G43 H2 G0 Z-300"), motion.Params{0, 0, -200}, 0)
	s.Control.Starts = []string{"G17", "G21", "G40", "G90", "G94", "G54"}
	refused(t, s, "G0 Z1", "whether a length counts", "G43 or G49")
	near(t, "does not matter", last(t, s, "G0 X1"), motion.Params{1}, 0)
}

// Home: with axis words by way of that point (NISTIR 6556, sec. 3.5.8: all axes then go home).
func TestHome(t *testing.T) {
	s := mill()
	s.Axes[axisX].Home, s.Axes[axisY].Home = 300, 200
	list := stepsOf(t, s, "G0 X10 Y10 Z-100\nG28 Z-50")
	if len(list) != 4 {
		t.Fatalf("%d steps", len(list))
	}
	near(t, "through", list[1].Legs[0].To, motion.Params{10, 10, -50}, 0)
	near(t, "home", list[2].Legs[0].To, motion.Params{300, 200, 0}, 0)
	near(t, "without words", last(t, s, "G0 X10 Y10 Z-100\nG28"), motion.Params{300, 200, 0}, 0)
	// Unless it is stated, nobody knows which of the axes is home first; that of the way to the point is that of rapids.
	if list[1].Legs[0].Box || !list[2].Legs[0].Box {
		t.Errorf("to the point %+v, home %+v: a box home, and only there", list[1].Legs, list[2].Legs)
	}
	s.Control.HomeRapid = machine.Interpolated
	if list := stepsOf(t, s, "G0 X10 Y10 Z-100\nG28 Z-50"); list[2].Legs[0].Box {
		t.Error("a box where home is interpolated")
	}
	s.Control.HomeAxes = machine.NamedAxes
	list = stepsOf(t, s, "G0 X10 Y10 Z-100\nG91 G28 Z0")
	if len(list) != 3 {
		t.Fatalf("%d steps", len(list))
	}
	near(t, "named", list[1].Legs[0].To, motion.Params{10, 10, 0}, 0)
	refused(t, s, "G28", "G28", "axes")
	s.Control.HomeReturn = machine.Direct
	near(t, "direct", last(t, s, "G0 X10 Y10 Z-100\nG28 X1000 Z1000"), motion.Params{300, 10, 0}, 0)
	second := motion.Params{1, 2, -3}
	refused(t, s, "G30 X0", "G30", "second_home")
	s.Control.SecondHome = &second
	near(t, "second", last(t, s, "G0 X10\nG30 X0 Y0 Z0"), second, 0)
	s.Control.HomeAxes = ""
	refused(t, s, "G28 X0", "G28", "home_axes")
	s.Control.HomeReturn = ""
	refused(t, s, "G28 X0", "G28", "home_return")
}

// What a program has moved with is listed once each, in the order in which it led a feed.
func TestUsed(t *testing.T) {
	in := open(t, mill(), "T3 M6\nG0 A30 C90\nG43 H1 G0 Z-100\nG1 X1 F100\nG55 G1 X-100\nG54 G1 X3\nG10 L2 P1 X1\nG1 X2\nG43 H2 Z-100\nX4\nM2\n")
	for {
		if _, err := in.Next(); err != nil {
			break
		}
	}
	u := in.Used()
	if len(u.Offsets) != 3 || len(u.Lengths) != 2 {
		t.Fatalf("%+v", u)
	}
	o := u.Offsets[0]
	if o.Name != "G54" || o.Set || o.First.Line != 4 || math.Abs(o.Rotary[axisA]-radians(30)) > 1e-12 || o.Carried {
		t.Errorf("%+v", o)
	}
	if o := u.Offsets[2]; o.Name != "G54" || !o.Set || o.Values[axisX] != 1 {
		t.Errorf("%+v", o)
	}
	if l := u.Lengths[1]; l.Tool != 3 || l.H != 2 || l.Length != 100 || l.First.Line != 9 {
		t.Errorf("%+v", l)
	}
}

// An offset for one rotary position is listed at each that it leads a feed at, whole turns apart once; one that the
// control turns is not.
func TestUsedWhereRotaryAxesStand(t *testing.T) {
	const text = "T3 M6\nG43 H1 G0 Z-100\nG1 X1 F100\nG0 A30\nG1 X2\nG0 C360\nG1 X3\nG0 A0\nG1 X4\nM2\n"
	s := mill()
	for method, want := range map[string]int{machine.PerPosition: 2, machine.TurnedByControl: 1} {
		s.Offsets.Method = method
		in := open(t, s, text)
		for {
			if _, err := in.Next(); err != nil {
				break
			}
		}
		list := in.Used().Offsets
		if len(list) != want || want == 2 && (list[1].First.Line != 5 || math.Abs(list[1].Rotary[axisA]-radians(30)) > 1e-12) {
			t.Errorf("%s: %+v", method, list)
		}
	}
}
