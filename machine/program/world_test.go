package program

import (
	"errors"
	"io"
	"math"
	"slices"
	"strings"
	"testing"

	"gridswing/geom"
	"gridswing/geom/motion"
	"gridswing/machine"

	"github.com/golang/geo/r3"
)

func vec(x, y, z float64) r3.Vector { return r3.Vector{X: x, Y: y, Z: z} }

// The axes of the machine of these tests.
const (
	axisX = iota
	axisY
	axisZ
	axisA
	axisC
)

// mill is a vertical machine: X and Y in the table, Z in the head with the gauge point 600 above
// the bed's zero, a trunnion on the table whose A, about a line along X through (0, 0, 200),
// carries C about one along Z through (0, -5, 250). The part's zero is at (0, -5, 250): on the
// line of C. Its control reads as NISTIR 6556 has it.
func mill() *machine.Setup {
	inf := math.Inf(1)
	s := &machine.Setup{
		Rapid: machine.Interpolated,
		Axes: []machine.Axis{
			{Letter: "X", Kind: motion.Linear, Direction: vec(1, 0, 0), Travel: [2]float64{-400, 400}},
			{Letter: "Y", Kind: motion.Linear, Direction: vec(0, 1, 0), Travel: [2]float64{-400, 400}},
			{Letter: "Z", Kind: motion.Linear, Direction: vec(0, 0, 1), Travel: [2]float64{-600, 0}, OnTool: true},
			{Letter: "A", Kind: motion.Rotary, Direction: vec(1, 0, 0), Centre: vec(0, 0, 200), Travel: [2]float64{-2, 2}, Unit: "trunnion"},
			{Letter: "C", Kind: motion.Rotary, Direction: vec(0, 0, 1), Centre: vec(0, -5, 250), Travel: [2]float64{-inf, inf},
				Unlimited: true, RollOver: machine.ShorterWay, Unit: "trunnion"},
		},
		Offsets: &machine.OffsetRules{
			Method: machine.TurnedByControl, Lengths: machine.AbsoluteLengths,
			Numbers: []string{"G54", "G55", "G56", "G57", "G58", "G59", "G57.5 P7"},
		},
		ToolChange: &machine.ToolChange{At: []machine.AxisPosition{{Axis: axisX, Value: -300}}},
	}
	var part, spindle []motion.Joint
	for k := range s.Axes {
		a := &s.Axes[k]
		j := motion.Joint{Name: a.Letter, Kind: a.Kind, Axis: a.Direction, Point: a.Centre}
		if j.Gain[k] = -1; a.OnTool { // ISO 841: what carries the workpiece goes against its program
			j.Gain[k] = 1
			spindle = append(spindle, j)
			continue
		}
		part = append(part, j)
	}
	s.Spindle = &machine.Spindle{Chain: motion.Chain{Joints: spindle, Home: geom.Shift(vec(0, 0, 600))}, Axis: axisZ}
	s.Parts = []machine.Part{{Name: "part", Unit: "stock", Offset: "G54",
		Chain: motion.Chain{Joints: part, Home: geom.Shift(vec(0, -5, 250))}}}
	yes := true
	clear := 0.254
	s.Control = &machine.Control{
		PlainNumbers: machine.AsWritten, Step: 0.001, TurnStep: radians(0.001),
		Starts:       []string{"G17", "G21", "G40", "G49", "G80", "G90", "G94", "G54"},
		ArcTolerance: 0.002, Centres: machine.FromStart, HomeReturn: machine.ThroughPoint, HomeAxes: machine.AllAxes,
		LengthMoves: machine.WithNextMove, Corners: machine.RoundCorners, Entry: machine.SquareToNext, Return: machine.BeforeBlock,
		PeckClear: &clear, ChipBreak: &clear, Dwell: machine.Seconds, Repeats: "L", ChangeMoves: &yes, ChangeSeconds: 8,
		Codes: map[string]string{
			"G271": machine.TipControl, "G272": machine.CarriedZero, "G273": machine.TurnedPlane, "G270": machine.EndsControl,
			"G57.5": machine.MoreOffsets, "G61": machine.ExactPath, "M10": machine.RotaryClamp, "G52": machine.LocalZero, "M77": machine.NoMotion,
		},
	}
	return s
}

// keyed is what is keyed in in these tests: G54 at machine zero, G55 elsewhere, lengths of tools.
func keyed() Values {
	return Values{
		Offsets: map[string]motion.Params{"G54": {}, "G55": {200, 150, -100}, "G57.5 P7": {1, 2, 3}},
		Lengths: map[int]float64{1: 50, 2: 100},
		Radii:   map[int]float64{1: 5},
	}
}

func open(t testing.TB, s *machine.Setup, text string) *interpreter {
	t.Helper()
	steps, err := Open("p.nc", strings.NewReader(text), s, keyed(), Options{})
	if err != nil {
		t.Fatal(err)
	}
	return steps.(*interpreter)
}

// steps reads a program, M2 added, to its end or its Fault.
func steps(t testing.TB, s *machine.Setup, text string) ([]Step, *Fault) {
	t.Helper()
	in := open(t, s, text+"\nM2\n")
	var list []Step
	at := in.pos
	for {
		st, err := in.Next()
		var f *Fault
		switch {
		case err == io.EOF:
			return list, nil
		case errors.As(err, &f):
			if f.Line < 1 || f.Column < 1 || f.Found == "" || f.Expected == "" {
				t.Errorf("a fault without its place: %v", f)
			}
			return list, f
		case err != nil:
			t.Fatal(err)
		}
		c := *st
		c.Legs, c.OtherWay = slices.Clone(st.Legs), slices.Clone(st.OtherWay)
		for _, l := range c.Legs {
			if l.From != at {
				t.Fatalf("%s: a leg begins at %v, the one before ended at %v", c.Block, l.From, at)
			}
			at = l.To
		}
		list = append(list, c)
	}
}

// stepsOf reads a program that has no Fault.
func stepsOf(t testing.TB, s *machine.Setup, text string) []Step {
	t.Helper()
	list, f := steps(t, s, text)
	if f != nil {
		t.Fatalf("%s: %v", text, f)
	}
	return list
}

// last is where the axes stand at the end.
func last(t testing.TB, s *machine.Setup, text string) motion.Params {
	t.Helper()
	var p motion.Params
	for _, st := range stepsOf(t, s, text) {
		if n := len(st.Legs); n > 0 {
			p = st.Legs[n-1].To
		}
	}
	return p
}

// deg is a position with the rotary axes in degrees.
func deg(x, y, z, a, c float64) motion.Params {
	return motion.Params{x, y, z, radians(a), radians(c)}
}

func near(t testing.TB, what string, got, want motion.Params, within float64) {
	t.Helper()
	for k := range got {
		if !(math.Abs(got[k]-want[k]) <= within) {
			t.Errorf("%s: %v, want %v", what, got, want)
			return
		}
	}
}

// refused wants a Fault whose text has both words.
func refused(t testing.TB, s *machine.Setup, text, found, expected string) {
	t.Helper()
	_, f := steps(t, s, text)
	if f == nil {
		t.Errorf("%q: no fault, want %s", text, found)
		return
	}
	if !strings.Contains(f.Found, found) || !strings.Contains(f.Expected, expected) {
		t.Errorf("%q: %v, want %q and %q", text, f, found, expected)
	}
}
