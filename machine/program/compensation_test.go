package program

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"gridswing/machine"
)

// What radius compensation does: the radius of D1 is 5 (keyed). Worked by hand: lines 5 beside those
// that are programmed, corners where these meet, or arcs of radius 5 about outer ones.
func TestCompensation(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		// A square 40 x 40 from outside, clockwise with the tool on the left.
		{"outside a square", "G0 X-20 Y0 F100\nG41 D1 G1 X0 Y0\nY40\nX40\nY0\nX0\nG40 X-20 Y-20",
			"r -20 0 0; f -5 0 0; f -5 40 0; f 0 45 0; f 40 45 0; f 45 40 0; f 45 0 0; f 40 -5 0; f 0 -5 0; f -20 -20 0"},
		// The same from inside, counter-clockwise.
		{"inside a square", "G0 X20 Y20 F100\nG41 D1 G1 X20 Y0\nX40\nY40\nX0\nY0\nX20\nG40 Y20",
			"r 20 20 0; f 20 5 0; f 35 5 0; f 35 35 0; f 5 35 0; f 5 5 0; f 20 5 0; f 20 20 0"},
		{"on the right", "G0 X20 Y20 F100\nG42 D1 G1 X20 Y0\nX0\nY40\nG40 X20 Y20", "r 20 20 0; f 20 5 0; f 5 5 0; f 5 40 0; f 20 20 0"},
		// Down at the beginning and up at the end of the contour.
		{"down and up", "G0 X-20 Y0 Z5 F100\nG41 D1 X0\nG1 Z-3\nY40\nX20\nG0 Z5\nG40 X0 Y60",
			"r -20 0 5; r -5 0 5; f -5 0 -3; f -5 40 -3; f 0 45 -3; f 20 45 -3; r 20 45 5; r 0 60 5"},
		// In an inner corner what comes between happens where the lines meet.
		{"dwell in a corner", "G0 X20 Y20 F100\nG41 D1 G1 X20 Y0\nX40\nG4 P1\nY40\nG40 X20", "r 20 20 0; f 20 5 0; f 35 5 0; w 1; f 35 40 0; f 20 40 0"},
		// Arcs: the inside of half a circle of radius 20, with lines that touch it.
		{"along an arc", "G0 X0 Y0 F100\nG41 D1 G1 X0 Y-20\nX10\nG3 Y20 J20\nG1 X0\nG40 Y0", "f 0 -15 0; f 10 -15 0; f 10 15 0; f 0 15 0; f 0 0 0"},
		{"radius 0", "G0 X-20 Y0 F100\nG41 D0 G1 X0 Y0\nY40\nX0 Y0\nG40 X-20 Y-20", "r -20 0 0; f 0 0 0; f 0 40 0; f 0 0 0; f -20 -20 0"},
		{"another plane", "G18 G0 X20 Z20 F100\nG42 D1 G1 X20 Z0\nX40\nZ40\nX0\nG40 Z20", "r 20 0 20; f 20 0 5; f 35 0 5; f 35 0 35; f 0 0 35; f 0 0 20"},
		{"in a subprogram", "G0 X20 Y20 F100\nG41 D1 G1 X20 Y0\nM98 P7\nG40 X20\nM2\nO7\nX40\nY40\nM99", "r 20 20 0; f 20 5 0; f 35 5 0; f 35 40 0; f 20 40 0"},
		{"nothing to do", "G41 D1\nG40\nG0 X1", "r 1 0 0"},
		{"nothing in the plane yet", "G41 D1\nG0 Z-2\nG40\nG0 X1", "r 0 0 -2; r 1 0 -2"},
	} {
		if got := told(stepsOf(t, mill(), c.text)); got != c.want {
			t.Errorf("%s:\n got %s\nwant %s", c.name, got, c.want)
		}
	}
}

// Sharp corners, and the move that begins as NISTIR 6556 has it: (-13, 0) to (0, 0) and a circle of radius 5, a
// triangle with sides 5, 12 and 13.
func TestCompensationOfControls(t *testing.T) {
	s := mill()
	s.Control.Corners = machine.SharpCorners
	got := told(stepsOf(t, s, "G0 X-20 Y0 F100\nG41 D1 G1 X0\nY40\nX40\nG40 Y60"))
	if want := "r -20 0 0; f -5 0 0; f -5 40 0; f -5 45 0; f 0 45 0; f 40 45 0; f 40 60 0"; got != want {
		t.Errorf("sharp: %s, want %s", got, want)
	}
	s = mill()
	s.Control.Entry = machine.Touching
	list := stepsOf(t, s, "G0 X-13 F100\nG41 D1 G1 X0\nX30\nG40 Y60")
	// The circle about (0, 0) is touched at 5 (-5, 12) / 13, from where an arc goes round to (0, 5).
	if want := "r -13 0 0; f -1.92308 4.61538 0; f 0 5 0; f 30 5 0; f 30 60 0"; told(list) != want {
		t.Errorf("touching: %s, want %s", told(list), want)
	}
	s.Control.Entry = ""
	refused(t, s, "G41 D1 G1 X9 F100\nY20", "a move that begins", "radius_begins")
	s = mill()
	s.Control.Corners = ""
	refused(t, s, "G0 X-20 Y0 F100\nG41 D1 G1 X0\nY40\nX40\nG40 Y60", "outer corner", "corners")
}

func TestCompensationRefused(t *testing.T) {
	const on = "G0 X-20 F100\nG41 D1 G1 X0\nY40\n"
	for _, c := range []struct{ text, found, expected string }{
		{"G41 G1 X9 F100", "G41", "D and"},
		{"G41 D3 G1 X9 F100", "G41", "D3 keyed in"},
		{on + "G42 D1", "G42", "G40"},
		{on + "G18", "G18", "G40"},
		{on + "G55", "G55", "G40"},
		{on + "G43 H1", "G43", "G40"},
		{on + "G53 G0 X0", "G53", "G40"},
		{on + "G28", "G28", "G40"},
		{on + "T1 M6", "M6", "G40"},
		{on + "G92 X0", "G92", "G40"},
		{on + "G81 G98 X1 Z-1 R0", "G81", "G40"},
		{on + "A10", "A with", "rotary"},
		{on + "M30", "M30", "G40"},
		{"G41 D1 G2 X10 I5 F100", "an arc that begins", "straight"},
		{"G41 D1 G1 X10 F100\nG40 X20", "G40", "a contour"},
		{on + "X-20 Y40\nY43\nX-60", "does not reach", "fits"},
		{on + "G3 X-4 Y44 I-4\nX-60", "an arc too small", ""},
		{on + "G40\nG0 Z9", "another move", "straight"},
		{on + "G40\nG2 X6 I3", "another move", "straight"},
		{on + "M8\nM9\nM8\nX40", "3 blocks", "at most 2"},
		{on + "X40 M77 M123", "line 3 ends", ""},
	} {
		refused(t, mill(), c.text, c.found, c.expected)
	}
	refused(t, mill(), "G0 X-20 F100\nG41 D1 G1 X0\nY40\nY0\nG40 X-20", "turns back", "fits")
}

// However many blocks without a corner come between, they wait; not endlessly many.
func TestCompensationWaits(t *testing.T) {
	const on = "G0 X-20 F100\nG41 D1 G1 X0\nY40\n"
	list := stepsOf(t, mill(), on+strings.Repeat("Z-1\nZ-2\n", 20)+"Y60\nG40 X-20")
	if got := list[len(list)-2].Legs[0].From; math.Abs(got[axisX]+5) > 1e-12 || got[axisY] != 60 {
		t.Errorf("ends at %v", got)
	}
	refused(t, mill(), on+strings.Repeat("Z-1\nZ-2\n", 60)+"Y60\nG40 X-20", "one more block", "at most 100")
}

// Round a polygon whose corners are all outer ones the tool goes the perimeter and 2 pi r (J. Steiner, "Ueber parallele
// Flaechen", 1840), in every plane and with every control of the machine's own that leaves lengths as they are.
func TestCompensationRoundPolygon(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for i := range 60 {
		n := 3 + rng.IntN(12)
		angles := make([]float64, n)
		for i := range angles {
			angles[i] = rng.Float64() * 2 * math.Pi
		}
		slices.Sort(angles)
		x := func(a float64) float64 { return math.Round(50e3*math.Cos(a)) / 1e3 }
		y := func(a float64) float64 { return math.Round(30e3*math.Sin(a)) / 1e3 }
		widest := angles[0] + 2*math.Pi - angles[n-1]
		for i := range n - 1 {
			widest = max(widest, angles[i+1]-angles[i])
		}
		if widest > 3 {
			continue // no polygon about the middle
		}
		// Counter-clockwise with the tool on the right; it begins and ends on a line that is as long as it was before.
		x0, y0 := (x(angles[0])+x(angles[n-1]))/2, (y(angles[0])+y(angles[n-1]))/2
		plane := []string{"G17", "G18", "G19"}[i%3]
		letters := []string{"XY", "ZX", "YZ"}[i%3]
		to := func(x, y float64) string { return fmt.Sprintf("%c%.9f %c%.9f\n", letters[0], x, letters[1], y) }
		text := plane + []string{" ", "\nG272\n", "\nG271 H0\nG0 X0Y0Z0\n"}[i/3%3] + "G0 " + to(2*x0, 2*y0) + "G42 D1 G1 F100 " + to(x0, y0)
		want, px, py := 2*math.Pi*5, x0, y0
		for _, a := range angles {
			text += to(x(a), y(a))
			want += math.Hypot(x(a)-px, y(a)-py)
			px, py = x(a), y(a)
		}
		want += math.Hypot(x0-px, y0-py)
		text += to(x0, y0) + "G40 " + to(2*x0, 2*y0)
		got, feeds := 0.0, 0
		list := stepsOf(t, mill(), text)
		for i, st := range list[:len(list)-2] {
			if st.Kind == Feed {
				if feeds++; feeds > 1 {
					got += list[i].Length
				}
			}
		}
		if math.Abs(got-want) > 1e-4 {
			t.Errorf("%s\nis %.9f round, want %.9f", text, got, want)
		}
	}
}

// BenchmarkCompensation reads a raster of short feeds with inner and outer corners.
func BenchmarkCompensation(b *testing.B) {
	benchmark(b, mill(), programOf("G0 X-9 Y0\nF1000 G41 D1 G1 X0\n", benchmarkBlocks, func(w *bytes.Buffer, i int) {
		fmt.Fprintf(w, "X%.3f Y%.3f\n", float64(i+1)*0.3, math.Sin(float64(i+1)*0.03)*2)
		if i == benchmarkBlocks-1 {
			w.WriteString("G40 Y99\n")
		}
	}), benchmarkBlocks)
}

// BenchmarkHoles reads drilling cycles, four steps each.
func BenchmarkHoles(b *testing.B) {
	benchmark(b, mill(), programOf("G0 Z10\nF1000 G98 G81 X0 Y0 Z-5 R2\n", benchmarkBlocks, func(w *bytes.Buffer, i int) {
		fmt.Fprintf(w, "X%.3f Y%.3f\n", float64(i%100), float64(i/100%100))
	}), benchmarkBlocks)
}
