package program

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/kinematics"

	"github.com/golang/geo/r3"
)

// atPart is what is keyed in where G54 is right for the part of mill: the gauge point is at (0, 0,
// 600 + Z), the part's zero at (0, -5, 250).
func atPart(v Values) Values {
	v.Offsets["G54"] = motion.Params{0, -5, -350}
	return v
}

func openAt(t testing.TB, s *machine.Setup, v Values, text string) []Step {
	t.Helper()
	in := open(t, s, text+"\nM2\n")
	in.begin(v)
	if err := in.start(s.Control.Starts); err != nil {
		t.Fatal(err)
	}
	var list []Step
	for {
		st, err := in.Next()
		if err != nil {
			if in.ended {
				return list
			}
			t.Fatalf("%s: %v", text, err)
		}
		c := *st
		c.Legs = append([]Leg(nil), st.Legs...)
		list = append(list, c)
	}
}

func end(list []Step) (p motion.Params) {
	for _, st := range list {
		for _, l := range st.Legs {
			p = l.To
		}
	}
	return p
}

// Closed forms of a tilt about X that carries a rotary axis about Z (as published for such
// machines, e.g. R.-S. Lee, C.-H. She, Int. J. Adv. Manuf. Technol. 13(9), 1997; the numbers are
// derived two ways, by matrices and by quaternions): P = Rx(-A) (d + Rz(-C) p), d = (0, -5, 50). P
// counts from the tilt's line, at 200, and the gauge point is at 600 + Z with a tool of 50 under
// it: Z = P.z - 350.
func TestTipControl(t *testing.T) {
	for _, c := range []struct{ block, want string }{
		{"X30 Y-20 Z80 A0 C0", "30 -25 130"},
		{"X100 Y0 Z25 A36.869897646 C90", "0 -39 123"},
		{"X0 Y100 Z25 A36.869897646 C0", "0 121 3"},
		{"X0 Y60 Z40 A90 C180", "0 90 65"},
		{"X30 Y-20 Z80 A45 C135", "-35.355339 83.388348 100.459415"},
		{"X10 Y20 Z30 A54.735610317 C135", "7.071068 50.185526 67.591013"},
		{"X12 Y34 Z56 A48.189685104 C63.434948823", "35.777088 78.655826 71.060113"},
		{"X100 Y0 Z25 A-36.869897646 C-90", "0 31 117"},
		{"X30 Y-20 Z80 A-45 C-45", "35.355339 -90.459415 93.388348"},
	} {
		var want [3]float64
		fmt.Sscan(c.want, &want[0], &want[1], &want[2])
		p := end(openAt(t, mill(), atPart(keyed()), "G271 H1\nG1 F100 "+c.block))
		near(t, c.block, motion.Params{p[0], p[1], p[2]}, motion.Params{want[0], want[1], want[2] - 350}, 2e-6)
	}
}

// The tip is where the program says, and goes straight from place to place in the part, on every
// leg and within what the leg allows: sampled.
func TestTipGoesStraight(t *testing.T) {
	s := mill()
	r := rand.New(rand.NewPCG(1, 2))
	m, err := kinematics.New(kin(s), s.Parts[0].Chain, s.Spindle.Chain)
	if err != nil {
		t.Fatal(err)
	}
	from, turn := vec(0, 0, 30), [2]float64{10, 0}
	text := "G271 H1\nG1 F1000 X0 Y0 Z30 A10 C0\n"
	type move struct{ from, to r3.Vector }
	var moves []move
	for range 60 {
		size := math.Pow(10, -2+4*r.Float64())
		to := from.Add(vec(r.Float64()-0.5, r.Float64()-0.5, r.Float64()-0.5).Mul(size))
		turn[0] = min(max(turn[0]+(r.Float64()-0.5)*size, -30), 90)
		turn[1] += (r.Float64() - 0.5) * size
		text += fmt.Sprintf("X%.9f Y%.9f Z%.9f A%.9f C%.9f\n", to.X, to.Y, to.Z, turn[0], turn[1])
		moves = append(moves, move{from, to})
		from = to
	}
	list := openAt(t, s, atPart(keyed()), text)
	for i, mv := range moves {
		st := list[i+1]
		if math.Abs(st.Length-mv.to.Sub(mv.from).Norm()) > 1e-6 {
			t.Fatalf("length %g", st.Length)
		}
		for n, l := range st.Legs {
			a, b := mv.from.Add(mv.to.Sub(mv.from).Mul(float64(n)/float64(len(st.Legs)))), mv.from.Add(mv.to.Sub(mv.from).Mul(float64(n+1)/float64(len(st.Legs))))
			for j := range 9 {
				f := float64(j) / 8
				var p motion.Params
				for k := range p {
					p[k] = l.From[k] + (l.To[k]-l.From[k])*f
				}
				exact, err := m.Linear(p, a.Add(b.Sub(a).Mul(f)), 50)
				if err != nil {
					t.Fatal(err)
				}
				for k := range 3 {
					if off := math.Abs(exact[k] - p[k]); off > l.Within[k]+1e-6 || l.Within[k] > 0.025 {
						t.Fatalf("move %d leg %d: axis %d is off by %g, says %g", i, n, k, off, l.Within[k])
					}
				}
			}
		}
	}
}

func kin(s *machine.Setup) (axes []kinematics.Axis) {
	for _, a := range s.Axes {
		axes = append(axes, kinematics.Axis{Kind: a.Kind, Lo: a.Travel[0], Hi: a.Travel[1], Home: a.Home})
	}
	return axes
}

// A wrong offset leads to a wrong place, and by as much: the control believes it. What it is off
// by goes with the rotary axes.
func TestWrongOffset(t *testing.T) {
	v := atPart(keyed())
	right := end(openAt(t, mill(), v, "G271 H1\nG1 F100 X30 Y-20 Z80 A45 C135"))
	o := v.Offsets["G54"]
	o[axisX] += 25
	v.Offsets["G54"] = o
	wrong := end(openAt(t, mill(), v, "G271 H1\nG1 F100 X30 Y-20 Z80 A45 C135"))
	moved := end(openAt(t, mill(), atPart(keyed()), "G271 H1\nG1 F100 X55 Y-20 Z80 A45 C135"))
	near(t, "off by 25 in the part", wrong, moved, 1e-9)
	if right == wrong {
		t.Error("the offset does not count")
	}
}

// With a rotary offset the directions of the coordinates are the machine's at the program's zero:
// X goes along the machine's X there, wherever the table stands.
func TestTurnedOffset(t *testing.T) {
	v := atPart(keyed())
	o := v.Offsets["G54"]
	o[axisC] = radians(30)
	v.Offsets["G54"] = o
	list := openAt(t, mill(), v, "G271 H1\nG1 F100 X0 Y0 Z50 A0 C0\nX10")
	near(t, "along X", list[len(list)-2].Legs[0].To, deg(10, -5, -250, 0, 30), 1e-9)
}

// A zero that is carried: Z along the machine's Z from where the zero has gone, X and Y as well;
// derived by the formula of TestTipControl for p = 0: A 90: P = (0, 50, 5).
func TestCarriedZero(t *testing.T) {
	v := atPart(keyed())
	s := mill()
	near(t, "A 90", end(openAt(t, s, v, "G272\nG43 H1 G0 Z400\nA90\nX1 Y2 Z103")), deg(1, 52, 5-400+50+103, 90, 0), 1e-9)
	near(t, "axes that are not named stay", end(openAt(t, s, v, "G272\nG0 X1 Y2 Z103\nA90\nX1")), deg(1, -3, -350+103, 90, 0), 1e-9)
	near(t, "by so much", end(openAt(t, s, v, "G272\nG0 X1 Y2 Z103\nA90\nG91 Y1")), deg(1, -2, -350+103, 90, 0), 1e-9)
	near(t, "together", end(openAt(t, s, v, "G272\nG0 X1 Y2 Z103 A90")), deg(1, 52, 5-400+103, 90, 0), 1e-9)
	near(t, "its end", end(openAt(t, s, v, "G272\nG0 A90\nX1 Y2 Z103\nG270\nG0 X1 Y2 Z103")), deg(1, -3, -350+103, 90, 0), 1e-9)
	u := openAt(t, s, v, "G272\nG0 A90\nX0 Y0 Z100\nG2 X10 Y0 I5 F100")
	near(t, "an arc", end(u), deg(10, 50, 5-400+100, 90, 0), 1e-9)
}

// Turned planes: with the tool along their Z, coordinates are those of the part turned: at A 90 C
// 0 the tool's axis is (0, -1, 0) of the part, which is Z turned about X by 90 degrees.
func TestTurnedPlane(t *testing.T) {
	v := atPart(keyed())
	const plane = "G273 X10 Y-20 Z30 I0 J90 K0\n"
	p := end(openAt(t, mill(), v, "G43 H1 G0 Z200\nA90\n"+plane+"G0 X1 Y2 Z3"))
	q := end(openAt(t, mill(), v, "G271 H1\nG0 X11 Y-23 Z32 A90"))
	near(t, "as led", p, q, 1e-9)
	list := openAt(t, mill(), v, "G43 H1 G0 Z200\nA90\n"+plane+"G0 X0 Y0 Z3\nG2 X10 Y0 I5 J0 F100\n")
	middle := list[len(list)-2].Legs[(len(list[len(list)-2].Legs)-1)/2].To
	q = end(openAt(t, mill(), v, "G271 H1\nG0 X15 Y-23 Z35 A90"))
	near(t, "an arc", middle, q, 1)
}

// What no standard settles is refused where it would have to be guessed.
func TestControlRefused(t *testing.T) {
	for _, c := range [][3]string{
		{"G271", "G271", "H"},
		{"G271 H3", "H3", "keyed"},
		{"G271 H1\nG1 X1 F1", "without Y", "name it"},
		{"G271 H1\nG1 A5 F1", "without X", "name it"},
		{"G271 H1\nG91 X1 Y1 Z1 F1 G1", "X1", "G90"},
		{"G271 H1\nG272", "G272", "ends control"},
		{"G271 H1\nG43 H2", "G43", "tip control"},
		{"G271 H1\nG92 X0", "G92", "before"},
		{"G273 X0 Y0 Z0 I0 J0", "G273", "K"},
		{"G273 X0 Y0 Z0 I0 J90 K0\nG0 X1", "does not stand along Z", "rotary axes"},
		{"G273 X0 Y0 Z0 I0 J0 K0\nG0 X1 A1", "rotary and linear", "one after the other"},
		{"G273 X0 Y0 Z0 I0 J0 K0 A30", "G273", "block of its own"},
		{"G272\nG0 A90\nG91 Y1 A-90", "while the zero", "G90"},
		{"G272\nG0 A90\nG2 X10 I5 A45 F1", "an arc while", "stand"},
		{"G0 X5\nG92 X0\nG271 H1", "G271", "no shift"},
		{"G56 G272", "G272", "keyed in"},
	} {
		refused(t, mill(), c[0], c[1], c[2])
	}
	s := mill()
	s.Offsets.Method = machine.PerPosition
	refused(t, s, "G272", "G272", "turned-by-control")
	s = mill()
	s.Offsets.Lengths = machine.TouchedOff
	refused(t, s, "G271 H1", "G271", "absolute")
	s = mill()
	s.Parts = nil
	refused(t, s, "G272", "G272", "[[part]]")
}

// A rapid that turns rotary axes under tip control holds both the straight way of the tip and the
// even one of the axes.
func TestRapidOfTheTip(t *testing.T) {
	s := mill()
	const text = "G271 H1\nG0 X0 Y0 Z50 A0 C0\nX40 Y10 Z60 A40 C30"
	legs := openAt(t, s, atPart(keyed()), text)[1].Legs
	m, err := kinematics.New(kin(s), s.Parts[0].Chain, s.Spindle.Chain)
	if err != nil {
		t.Fatal(err)
	}
	from, to, most := legs[0].From, legs[len(legs)-1].To, 0.0
	for i := range 101 {
		f := float64(i) / 100
		even, within := on(legs, f)
		for k := range even {
			if math.Abs(even[k]-(from[k]+(to[k]-from[k])*f)) > 1e-9 {
				t.Fatalf("at %g axis %d is not on the even way", f, k)
			}
		}
		led, _ := m.Linear(even, vec(40*f, 10*f, 50+10*f), 50)
		for k := range 3 {
			off := math.Abs(led[k] - even[k])
			most = max(most, off)
			if off > within[k] {
				t.Fatalf("axis %d is off by %g, within %g", k, off, within[k])
			}
		}
	}
	if most < 0.5 {
		t.Errorf("the ways differ by %g only: nothing is tested", most)
	}
	s.Rapid = machine.Independent
	if legs := openAt(t, s, atPart(keyed()), text)[1].Legs; len(legs) != 1 || !legs[0].Box || legs[0].Within[axisY] < most/2 {
		t.Errorf("%+v", legs)
	}
}

// The cone frustum of NAS 979 and ISO 10791-7 (half-angle 15 degrees, its axis tipped by 10
// towards +X), flank-milled round its base circle of radius 40 about (0, 60, 50), d = (0, 0, 50):
// axis positions derived by the formulas of TestTipControl. C goes on from 270 past 360 and comes
// round once.
func TestConeFrustum(t *testing.T) {
	s := mill()
	for i := range s.Parts[0].Chain.Joints {
		if j := &s.Parts[0].Chain.Joints[i]; j.Name == "C" {
			j.Point = vec(0, 0, 250)
		}
	}
	s.Parts[0].Chain.Home.T = vec(0, 0, 250)
	v := keyed()
	v.Offsets["G54"] = motion.Params{0, 0, -350}
	text := "G271 H1\nG1 F100"
	sin, cos := math.Sincos(radians(10))
	table := [][5]float64{ // A, C, X, Y, Z less that of the tilt's line
		{5, 270, -60, 47.3526, 89.2667},
		{13.1638, 10.1896, 36.1280, 109.2905, 73.5709},
		{21.7546, 52.7884, 63.4614, 106.0783, 69.0766},
		{25, 90, 60, 80.8989, 80.2780},
		{21.7546, 127.2116, 32.1075, 38.6756, 95.9738},
		{13.1638, 169.8104, -14.8994, -5.7133, 100.4682},
		{5, 270, -60, 47.3526, 89.2667},
	}
	for i, row := range table {
		sinU, cosU := math.Sincos(radians(60 * float64(i)))
		p := vec(0, 60, 50).Add(vec(cos*cosU, sinU, -sin*cosU).Mul(40))
		text += fmt.Sprintf(" X%.9f Y%.9f Z%.9f A%.4f C%.4f\n", p.X, p.Y, p.Z, row[0], row[1])
	}
	list := openAt(t, s, v, text)
	for i, row := range table {
		p := list[i].Legs[len(list[i].Legs)-1].To
		near(t, fmt.Sprint("position ", i), motion.Params{p[axisX], p[axisY], p[axisZ]}, motion.Params{row[2], row[3], row[4] - 350}, 3e-4)
	}
	if c := end(list)[axisC] - list[0].Legs[len(list[0].Legs)-1].To[axisC]; math.Abs(degrees(c)-360) > 1e-9 {
		t.Errorf("C turns by %g, want 360", degrees(c))
	}
}

// With the rotary axes at the zero of the program all controls lead the same way, whatever is
// keyed in but a turn, and so does a turned plane that is not turned.
func TestAllAreOneAtZero(t *testing.T) {
	const moves = "G0 X1 Y2 Z30\nG1 X20 Y-5 Z12.5 F100\nG2 X30 Y5 I5 J5\nG19 G3 Y10 Z10 R7\nG91 G1 X-3 Z2\n"
	v := keyed()
	v.Offsets["G54"] = motion.Params{12, -34, -300}
	want := openAt(t, mill(), v, "G43 H1 G0 Z30\n"+moves)
	for _, c := range []string{"G271 H1 G0 X-12 Y34 Z30\n", "G272\nG43 H1 G0 Z30\n", "G43 H1 G0 Z30\nG273 X0 Y0 Z0 I0 J0 K0\n"} {
		got := openAt(t, mill(), v, c+moves)
		for i := 1; i < len(want)-1; i++ {
			a, b := want[i].Legs, got[i].Legs
			if len(a) != len(b) {
				t.Fatalf("%s: step %d has %d legs, plainly %d", c, i, len(b), len(a))
			}
			for n := range a {
				near(t, c, b[n].To, a[n].To, 1e-9)
			}
			if math.Abs(want[i].Length-got[i].Length) > 1e-9 || math.Abs(want[i].Seconds-got[i].Seconds) > 1e-9 && i > 1 {
				t.Errorf("%s: step %d: %g mm in %g s, plainly %g in %g", c, i, got[i].Length, got[i].Seconds, want[i].Length, want[i].Seconds)
			}
		}
	}
}
