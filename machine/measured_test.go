package machine

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"gridswing/geom/motion"

	"github.com/golang/geo/r3"
)

func measured(t testing.TB, text string) world {
	t.Helper()
	return example(t).with(t, "setup.toml", "# [[measured]] ", text+"# ")
}

// The example's A is drawn on y 0, z 220. The gauge point, at z 120 with Z at 0,
// stands on it at Y 0, Z 100. Measured at Y 0.03, Z 100.05 it is 0.03 farther
// in +Y (the tool stands there against the workpiece) and 0.05 higher.
func TestMeasured(t *testing.T) {
	plain := example(t).load(t)
	s := measured(t, "[[measured]]\naxis = \"A\"\nposition = { Y = 0.03, Z = 100.05 }\n").load(t)
	a := s.axis(t, "A")
	near(t, "centre", a.Centre, vec(0, 0.03, 220.05), 1e-12)
	if !a.Measured || s.axis(t, "C").Measured || plain.axis(t, "A").Measured {
		t.Error("A is measured, the others are not")
	}
	// Nothing stands elsewhere at zero, and at A 90 everything on A is off by
	// e - R e: (y, z) turns to (z, -y), so (0.03, 0.05) becomes (0.03 - 0.05, 0.05 + 0.03).
	var zero motion.Params
	turned := s.params(t, map[string]float64{"A": 90, "C": 30})
	for i := range s.Bodies {
		near(t, s.Bodies[i].Name+" at zero", s.Pose(i, zero).T, plain.Pose(i, zero).T, 1e-12)
		want := r3.Vector{}
		if s.Bodies[i].Chain.Uses()[3] { // A
			want = vec(0, -0.02, 0.08)
		}
		near(t, s.Bodies[i].Name+" turned", s.Pose(i, turned).T.Sub(plain.Pose(i, turned).T), want, 1e-12)
	}
	near(t, "part", s.Parts[0].Chain.Pose(turned).T.Sub(plain.Parts[0].Chain.Pose(turned).T), vec(0, -0.02, 0.08), 1e-12)
	seat := slices.IndexFunc(s.Seats, func(x Seat) bool { return x.Unit == "vise" })
	near(t, "seat", s.Seats[seat].Chain.Pose(turned).T.Sub(plain.Seats[seat].Chain.Pose(turned).T), vec(0, -0.02, 0.08), 1e-12)
}

// At the measured positions the gauge point is on the line of the axis, whatever
// carries what: here the table goes in X and Y, and the axis is reversed.
func TestMeasuredMeansOnTheLine(t *testing.T) {
	for _, c := range []struct {
		axis, position string
		at             map[string]float64
	}{
		{"A", "{ Y = -12.5, Z = 107 }", map[string]float64{"Y": -12.5, "Z": 107}},
		{"C", "{ X = 31, Y = 4 }", map[string]float64{"X": 31, "Y": 4}},
	} {
		w := measured(t, fmt.Sprintf("[[measured]]\naxis = %q\nposition = %s\n", c.axis, c.position)).
			with(t, "machine.toml", "letter = \"Y\" ", "sense = \"reversed\"\nletter = \"Y\" ")
		s := w.load(t)
		k := slices.IndexFunc(s.Axes, func(a Axis) bool { return a.Letter == c.axis })
		p := s.params(t, c.at)
		turned := p
		turned[k] = 1
		// The point of what the axis carries at which the gauge point stands
		// does not move as the axis turns.
		body := s.body(t, "trunnion/faceplate")
		gauge := s.Spindle.Chain.Pose(p).T
		pose := s.Pose(body, p)
		inverse := pose.Inverse()
		after := s.Pose(body, turned)
		near(t, c.axis, after.Point(inverse.Point(gauge)), gauge, 1e-9)
	}
}

// How far off a measured line can be is in the chains: at the joint's place,
// square to the line, twice as much either way.
func TestMeasuredWithin(t *testing.T) {
	s := measured(t, "[[measured]]\naxis = \"A\"\nposition = { Y = 0, Z = 100 }\nwithin = 0.004\n").load(t)
	cradle, base := s.Bodies[s.body(t, "trunnion/cradle")], s.Bodies[s.body(t, "trunnion/base")]
	rel := motion.Between(base.Chain, cradle.Chain)
	if len(rel.Joints) != 3 || rel.Joints[0].Slack != 0.008 || rel.Joints[1].Slack != 0.008 || rel.Joints[2].Gain[3] == 0 {
		t.Fatalf("%+v", rel.Joints)
	}
	// No line within 0.004 of it leads any point farther than the slack.
	for i := range 100 {
		angle, turn := float64(i)*0.77, float64(i)*0.031
		e := vec(0, 0.004*math.Cos(angle), 0.004*math.Sin(angle))
		sin, cos := math.Sincos(turn)
		off := e.Sub(vec(0, cos*e.Y-sin*e.Z, sin*e.Y+cos*e.Z))
		for _, j := range rel.Joints[:2] {
			if d := math.Abs(off.Dot(j.Axis)); d > j.Slack {
				t.Fatalf("a line off by %v is off by %g, more than %g", e, d, j.Slack)
			}
			nearly(t, "square to the line", j.Axis.Dot(vec(1, 0, 0)), 0, 1e-15)
		}
	}
	// What shares the line shares its slack.
	vise, stock := s.Bodies[s.body(t, "vise/body")], s.Bodies[s.body(t, "stock")]
	for _, j := range motion.Between(vise.Chain, stock.Chain).Joints {
		if strings.Contains(j.Name, "measured") {
			t.Errorf("%+v between the vise and its stock", j)
		}
	}
}

// The spindle cannot go to the line of an axis that carries it.
func TestMeasuredHead(t *testing.T) {
	w := example(t).with(t, "machine.toml", "[spindle] ", strings.NewReplacer(`"A"`, `"B"`, `"workpiece"`, `"tool"`, `"X"`, `"Z"`, "[1, 0, 0]", "[0, 1, 0]").Replace(axisA)+"[spindle] ")
	w = w.with(t, "machine.toml", "carried_by = \"Z\"\ngauge", "carried_by = \"B\"\ngauge").
		with(t, "setup.toml", "# [[measured]] ", "[[measured]]\naxis = \"B\"\nposition = { X = 0, Z = 0 }\n# ")
	if e := w.onlyError(t); !strings.Contains(e.Found, "moves the tool") {
		t.Error(e)
	}
	w = measured(t, "[[measured]]\naxis = \"A\"\nposition = { Y = 0, Z = 100 }\n")
	spindle, index := strings.Index(w["machine.toml"], "[spindle]"), strings.Index(w["machine.toml"], "[index]")
	w["machine.toml"] = w["machine.toml"][:spindle] + w["machine.toml"][index:]
	if e := w.onlyError(t); !strings.Contains(e.Found, "no spindle") {
		t.Error(e)
	}
}
