package kinematics

import (
	"math"
	"testing"

	"gridswing/geom"
	"gridswing/geom/motion"

	"github.com/golang/geo/r3"
)

type row struct {
	axis, p      r3.Vector
	tilt, rotary float64
	want         r3.Vector
	within       float64
}

var (
	half, third = math.Sqrt(0.5), 1 / math.Sqrt(3)
)

// Positions for tables that tilt about X and about Y: derived from
// P = Rx(-A) (d + Rz(-C) p) and P = Ry(-B) (d + Rz(-C) p) with A = acos k,
// C = atan2(i, -j) and B = acos k, C = atan2(j, i), and computed two ways
// (rotation matrices, quaternions) outside this project; whole numbers are exact. The
// kinematics are those of R.-S. Lee and C.-H. She, "Developing a postprocessor for
// three types of five-axis machine tools", Int. J. Adv. Manuf. Technol. 13(9),
// 658-665, 1997.
func TestTiltingTables(t *testing.T) {
	a := table(t, vec(1, 0, 0), vec(0, -5, 50), unlimited, unlimited)
	check(t, a, 0, []row{
		{vec(0.6, 0, 0.8), vec(100, 0, 25), 36.869898, 90, vec(0, -39, 123), 1e-12},
		{vec(0, -0.6, 0.8), vec(0, 100, 25), 36.869898, 0, vec(0, 121, 3), 1e-12},
		{vec(0, 1, 0), vec(0, 60, 40), 90, 180, vec(0, 90, 65), 1e-12},
		{vec(0.5, 0.5, half), vec(30, -20, 80), 45, 135, vec(-35.355339, 83.388348, 100.459415), 1e-6},
		{vec(third, third, third), vec(10, 20, 30), 54.735610, 135, vec(7.071068, 50.185526, 67.591013), 1e-6},
		{vec(2./3, -1./3, 2./3), vec(12, 34, 56), 48.189685, 63.434949, vec(35.777088, 78.655826, 71.060113), 1e-6},
	})
	check(t, a, 1, []row{
		{vec(0.6, 0, 0.8), vec(100, 0, 25), -36.869898, -90, vec(0, 31, 117), 1e-12},
		{vec(0.5, 0.5, half), vec(30, -20, 80), -45, -45, vec(35.355339, -90.459415, 93.388348), 1e-6},
	})
	b := table(t, vec(0, 1, 0), vec(-5, 0, 50), unlimited, unlimited)
	check(t, b, 0, []row{
		{vec(0.6, 0, 0.8), vec(100, 0, 25), 36.869898, 0, vec(31, 0, 117), 1e-12},
		{vec(0, -0.6, 0.8), vec(0, 100, 25), 36.869898, -90, vec(-129, 0, -3), 1e-12},
		{vec(0, 1, 0), vec(0, 60, 40), 90, 90, vec(-90, 0, 55), 1e-12},
		{vec(0.5, 0.5, half), vec(30, -20, 80), 45, 45, vec(-90.459415, -35.355339, 93.388348), 1e-6},
		{vec(third, third, third), vec(10, 20, 30), 54.735610, 45, vec(-55.959029, 7.071068, 59.426047), 1e-6},
		{vec(2./3, -1./3, 2./3), vec(12, 34, 56), 48.189685, -26.565051, vec(-85.322493, 35.777088, 63.606553), 1e-6},
	})
}

func check(t *testing.T, m *Machine, branch int, rows []row) {
	t.Helper()
	for _, c := range rows {
		list := m.Present(c.axis, motion.Params{})
		if len(list) != 2 {
			t.Fatalf("%d solutions for %v", len(list), c.axis)
		}
		s := list[branch]
		nearly(t, "tilt", degrees(s.Position[tilt]), c.tilt, 1e-6)
		nearly(t, "rotary", degrees(s.Position[rotary]), c.rotary, 1e-6)
		if s.Branch != branch || s.Free >= 0 || s.Miss != 0 {
			t.Errorf("%+v", s)
		}
		p, err := m.Linear(s.Position, c.p, 0)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "part point", vec(p[x], p[y], p[z]), c.want, c.within)
	}
}

// Straight along the rotary axis the tilt is 0 and the rotary free: it stays.
// The positions are those of the tables above.
func TestFreeRotary(t *testing.T) {
	for _, c := range []struct{ direction, d, want r3.Vector }{
		{vec(1, 0, 0), vec(0, -5, 50), vec(30, -25, 130)},
		{vec(0, 1, 0), vec(-5, 0, 50), vec(25, -20, 130)},
	} {
		m := table(t, c.direction, c.d, unlimited, unlimited)
		list := m.Present(vec(0, 0, 1), motion.Params{tilt: 0.3})
		if len(list) != 1 || list[0].Free != rotary || list[0].Position != (motion.Params{}) {
			t.Fatalf("%+v", list)
		}
		p, err := m.Linear(list[0].Position, vec(30, -20, 80), 0)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "part point", vec(p[x], p[y], p[z]), c.want, 1e-12)
		list = m.Present(vec(1e-14, 0, -1), motion.Params{rotary: 2})
		if len(list) != 1 || list[0].Free != rotary || list[0].Position != (motion.Params{tilt: math.Pi, rotary: 2}) {
			t.Errorf("upside down: %+v", list)
		}
	}
}

// Signs of ISO 841:2001: the program moves the tool against a workpiece thought to
// stand still; axes that carry the workpiece (primed in the standard) move the
// other way with the same sign of the program. With C'+90 the tool, at the
// spindle, stands where the part has (cos 90, sin 90).
func TestSigns(t *testing.T) {
	m := table(t, vec(1, 0, 0), vec(0, 0, 0), unlimited, unlimited)
	tip := func(p motion.Params) r3.Vector {
		v, _ := m.Forward(p, 0)
		return v
	}
	axis := func(p motion.Params) r3.Vector {
		_, v := m.Forward(p, 0)
		return v
	}
	near(t, "C'+90", tip(motion.Params{x: 1, rotary: math.Pi / 2}), vec(0, 1, 0), 1e-12)
	near(t, "A'+90", axis(motion.Params{tilt: math.Pi / 2}), vec(0, -1, 0), 1e-12)
	near(t, "A'+90, C'+90", axis(motion.Params{tilt: math.Pi / 2, rotary: math.Pi / 2}), vec(1, 0, 0), 1e-12)
	b := table(t, vec(0, 1, 0), vec(0, 0, 0), unlimited, unlimited)
	_, v := b.Forward(motion.Params{tilt: math.Pi / 2}, 0)
	near(t, "B'+90", v, vec(1, 0, 0), 1e-12)

	// X of the table instead of the head: the same program, and the same part point.
	part := m.part
	part.Joints = append([]motion.Joint{joint(motion.Linear, x, -1, vec(1, 0, 0), r3.Vector{})}, part.Joints...)
	spindle := m.spindle
	spindle.Joints = spindle.Joints[1:]
	moved := made(t, axesOf(unlimited, unlimited), part, spindle)
	p := motion.Params{x: 3, y: 4, z: 5, tilt: 0.6, rotary: 0.7}
	want := tip(p)
	got, _ := moved.Forward(p, 0)
	near(t, "X'", got, want, 1e-12)
	at := moved.part.Pose(motion.Params{x: 10})
	near(t, "the part itself at X'+10", at.T, vec(-10, 0, 0), 1e-12)
	// Reversed in its control: the same place with the other sign.
	part.Joints[2].Gain[rotary] = 1
	wired := made(t, axesOf(unlimited, unlimited), part, spindle)
	p[rotary] = -p[rotary]
	got, _ = wired.Forward(p, 0)
	near(t, "C reversed", got, want, 1e-12)
	list := wired.Present(vec(0.6, 0, 0.8), motion.Params{})
	nearly(t, "C reversed", degrees(list[0].Position[rotary]), -90, 1e-9)
}

// A table axis between Y and Z: cos(tilt) = (1 + cos B)/2, derived from the
// rotation of Z about that line. Beyond tilt 90 nothing is presented.
func TestNutating(t *testing.T) {
	m := table(t, vec(0, 1, 1), vec(0, -5, 50), unlimited, unlimited)
	for b, lean := range map[float64]float64{60: 41.409622, 90: 60, 120: 75.522488, 180: 90} {
		axis := geom.Turn(r3.Vector{}, vec(1, 0, 0), radians(lean))
		list := m.Present(axis.Dir(vec(0, 0, 1)), motion.Params{})
		within := 1e-6
		if b == 180 { // the circles touch
			if len(list) != 1 {
				t.Errorf("%d solutions at 180", len(list))
			}
		} else if len(list) != 2 {
			t.Fatalf("%d solutions at %g", len(list), b)
		} else {
			nearly(t, "the other B", degrees(list[1].Position[tilt]), -b, within)
		}
		nearly(t, "B", degrees(list[0].Position[tilt]), b, within)
		_, got := m.Forward(list[0].Position, 0)
		near(t, "axis", got, axis.Dir(vec(0, 0, 1)), 1e-9)
	}
	list := m.Present(vec(0, -math.Sin(radians(100)), math.Cos(radians(100))), motion.Params{})
	if len(list) != 1 || list[0].Free >= 0 {
		t.Fatalf("%+v", list)
	}
	nearly(t, "miss", degrees(list[0].Miss), 10, 1e-9)
	nearly(t, "B", degrees(list[0].Position[tilt]), 180, 1e-6)
}
