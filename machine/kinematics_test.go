package machine

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/golang/geo/r3"
)

// bare is a machine without linear axes, so that a point's place in the bed
// frame is that of the rotary axes alone, with what the test gives standing
// on the bed.
func bare(component, place string) world {
	return world{
		"cube.stl": string(box(-10, -10, 0, 10, 10, 20)),
		"machine.toml": `kind = "machine"
name = "bare"
units = "mm"
up = [0, 0, 1]
[[solid]]
name = "table"
role = "table"
file = "cube.stl"
carried_by = "bed"
chord_error = 0
[[grid]]
name = "holes"
solid = "table"
origin = [0, 0, 0]
columns = 9
rows = 9
pitch = 50
`,
		"unit.toml": component,
		"setup.toml": `kind = "setup"
name = "test"
units = "mm"
machine = "machine.toml"
[demand]
default = 2
[[place]]
name = "unit"
component = "unit.toml"
` + place,
	}
}

// tilting is a unit whose plate turns about a line along Z through the given
// point, carried by a tilt about the given direction through the origin.
func tilting(letter, direction, rotary string) string {
	return `kind = "component"
name = "unit"
units = "mm"
role = "workholding"
material = "steel"
[[solid]]
name = "base"
file = "cube.stl"
chord_error = 0
[[solid]]
name = "cradle"
file = "cube.stl"
chord_error = 0
carried_by = "` + letter + `"
[[solid]]
name = "plate"
file = "cube.stl"
chord_error = 0
carried_by = "C"
[[axis]]
letter = "` + letter + `"
direction = ` + direction + `
centre = [0, 0, 0]
travel = [-120, 120]
[[axis]]
letter = "C"
carried_by = "` + letter + `"
direction = [0, 0, 1]
centre = ` + rotary + `
unlimited = true
[seat]
pins = [[-50, 0, 0], [50, 0, 0]]
play = 0
`
}

const atOrigin = "on = \"bed\"\nat = [0, 0, 0]\nwithin = 0\n"

// forward checks one row of a table of positions: where the part point p, in
// the frame of the faceplate whose origin is at d, and the tool axis go.
func forward(t *testing.T, s *Setup, d, p, toolAxis r3.Vector, at map[string]float64, want r3.Vector, within float64) {
	t.Helper()
	pose := s.Pose(s.body(t, "unit/plate"), s.params(t, at))
	near(t, "part point", pose.Point(d.Add(p)), want, within)
	near(t, "tool axis", pose.Dir(toolAxis), vec(0, 0, 1), 1e-8)
}

// Where part points go on tilting units: positions of
// P = Rx(-A) (d + Rz(-C) p) and P = Ry(-B) (d + Rz(-C) p), computed two ways
// (rotation matrices, quaternions) outside this project; rows whose values are
// whole numbers are exact. The kinematics are those of R.-S. Lee and C.-H. She,
// "Developing a postprocessor for three types of five-axis machine tools",
// Int. J. Adv. Manuf. Technol. 13(9), 658-665, 1997.
func TestTiltingUnitForward(t *testing.T) {
	half, third := math.Sqrt(0.5), 1/math.Sqrt(3)
	tilt345, tilt3, tilt2 := degrees(math.Atan2(3, 4)), degrees(math.Acos(third)), degrees(math.Acos(2./3))
	turn2 := degrees(math.Atan2(2, 1))
	for _, c := range []struct {
		toolAxis, p  r3.Vector
		tilt, rotary float64
		want         r3.Vector
		within       float64
	}{
		{vec(0, 0, 1), vec(30, -20, 80), 0, 0, vec(30, -25, 130), 0},
		{vec(0.6, 0, 0.8), vec(100, 0, 25), tilt345, 90, vec(0, -39, 123), 1e-11},
		{vec(0, -0.6, 0.8), vec(0, 100, 25), tilt345, 0, vec(0, 121, 3), 1e-11},
		{vec(0, 1, 0), vec(0, 60, 40), 90, 180, vec(0, 90, 65), 0},
		{vec(0.5, 0.5, half), vec(30, -20, 80), 45, 135, vec(-35.355339, 83.388348, 100.459415), 1e-6},
		{vec(third, third, third), vec(10, 20, 30), tilt3, 135, vec(7.071068, 50.185526, 67.591013), 1e-6},
		{vec(2./3, -1./3, 2./3), vec(12, 34, 56), tilt2, turn2, vec(35.777088, 78.655826, 71.060113), 1e-6},
		// The other solutions.
		{vec(0.6, 0, 0.8), vec(100, 0, 25), -tilt345, -90, vec(0, 31, 117), 1e-11},
		{vec(0.5, 0.5, half), vec(30, -20, 80), -45, -45, vec(35.355339, -90.459415, 93.388348), 1e-6},
	} {
		s := bare(tilting("A", "[1, 0, 0]", "[0, -5, 50]"), atOrigin).load(t)
		forward(t, s, vec(0, -5, 50), c.p, c.toolAxis, map[string]float64{"A": c.tilt, "C": c.rotary}, c.want, c.within)
	}
	for _, c := range []struct {
		toolAxis, p  r3.Vector
		tilt, rotary float64
		want         r3.Vector
		within       float64
	}{
		{vec(0, 0, 1), vec(30, -20, 80), 0, 0, vec(25, -20, 130), 0},
		{vec(0.6, 0, 0.8), vec(100, 0, 25), tilt345, 0, vec(31, 0, 117), 1e-11},
		{vec(0, -0.6, 0.8), vec(0, 100, 25), tilt345, -90, vec(-129, 0, -3), 1e-11},
		{vec(0, 1, 0), vec(0, 60, 40), 90, 90, vec(-90, 0, 55), 0},
		{vec(0.5, 0.5, half), vec(30, -20, 80), 45, 45, vec(-90.459415, -35.355339, 93.388348), 1e-6},
		{vec(third, third, third), vec(10, 20, 30), tilt3, 45, vec(-55.959029, 7.071068, 59.426047), 1e-6},
		{vec(2./3, -1./3, 2./3), vec(12, 34, 56), tilt2, turn2 - 90, vec(-85.322493, 35.777088, 63.606553), 1e-6},
	} {
		s := bare(tilting("B", "[0, 1, 0]", "[-5, 0, 50]"), atOrigin).load(t)
		forward(t, s, vec(-5, 0, 50), c.p, c.toolAxis, map[string]float64{"B": c.tilt, "C": c.rotary}, c.want, c.within)
	}
}

// A table axis inclined at 45 degrees: cos(tilt) = (1 + cos B)/2, from the
// rotation of Z about the line between Y and Z.
func TestNutatingAxis(t *testing.T) {
	s := bare(tilting("B", "[0, 1, 1]", "[0, 0, 0]"), atOrigin).load(t)
	if s.Axes[0].Letter != "B" {
		t.Errorf("an inclined axis was renamed %s", s.Axes[0].Letter)
	}
	for b, tilt := range map[float64]float64{60: 41.409622, 90: 60, 120: 75.522488} {
		pose := s.Pose(s.body(t, "unit/cradle"), s.params(t, map[string]float64{"B": b}))
		up := pose.Dir(vec(0, 0, 1))
		nearly(t, "tilt", degrees(math.Acos(up.Z)), tilt, 1e-6)
	}
}

// Signs of ISO 841: the program moves the tool against a workpiece thought to
// stand still, so an axis that carries the workpiece, primed in the standard,
// moves it the other way: X'+10 shifts a part point by -10; C'+90 takes (1,0,0)
// to (0,-1,0); A'+90 takes (0,1,0) to (0,0,-1) and the face with normal
// (0,-1,0) up; part rotations are Rx(-A), Ry(-B), Rz(-C).
func TestSigns(t *testing.T) {
	s := example(t).load(t)
	stock := s.body(t, "stock")
	var zero [8]float64
	home := s.Pose(stock, zero)
	near(t, "X'", s.pointAt(t, "stock", "X", 10).Sub(home.T), vec(-10, 0, 0), 0)
	near(t, "Y'", s.pointAt(t, "stock", "Y", 10).Sub(home.T), vec(0, -10, 0), 0)
	near(t, "Z of the head", s.pointAt(t, "machine/head", "Z", 10), vec(0, 0, 10), 0)
	near(t, "Z of the tool", s.pointAt(t, "tool", "Z", 10), vec(0, 0, 130), 0)
	near(t, "X of the head", s.pointAt(t, "machine/head", "X", 10), vec(0, 0, 0), 0)

	unit := bare(tilting("A", "[1, 0, 0]", "[0, 0, 0]"), atOrigin)
	turned := func(w world, letter string, v r3.Vector) r3.Vector {
		s := w.load(t)
		pose := s.Pose(s.body(t, "unit/plate"), s.params(t, map[string]float64{letter: 90}))
		return pose.Dir(v)
	}
	near(t, "C'", turned(unit, "C", vec(1, 0, 0)), vec(0, -1, 0), 0)
	near(t, "A'", turned(unit, "A", vec(0, 1, 0)), vec(0, 0, -1), 0)
	near(t, "A' front face", turned(unit, "A", vec(0, -1, 0)), vec(0, 0, 1), 0)
	b := bare(tilting("B", "[0, 1, 0]", "[0, 0, 0]"), atOrigin)
	near(t, "B'", turned(b, "B", vec(0, 0, 1)), vec(-1, 0, 0), 0)

	reversed := unit.with(t, "unit.toml", "carried_by = \"A\"\ndirection", "sense = \"reversed\"\ncarried_by = \"A\"\ndirection")
	near(t, "C reversed", turned(reversed, "C", vec(1, 0, 0)), vec(0, 1, 0), 0)
	if a := reversed.load(t).axis(t, "C"); !a.Reversed {
		t.Error("sense = reversed is not told")
	}
	backward := unit.with(t, "unit.toml", "direction = [0, 0, 1]", "direction = [0, 0, -1]")
	near(t, "C about -Z", turned(backward, "C", vec(1, 0, 0)), vec(0, 1, 0), 0)
	if a := backward.load(t).axis(t, "C"); !a.Reversed || a.Direction != vec(0, 0, 1) {
		t.Errorf("C about -Z is told as %+v", a)
	}
}

// pointAt returns where a body's zero stands with one axis moved.
func (s *Setup) pointAt(t testing.TB, body, letter string, value float64) r3.Vector {
	t.Helper()
	return s.Pose(s.body(t, body), s.params(t, map[string]float64{letter: value})).T
}

// A unit hung on an upright face: its C turns about the line of Y there, the
// other way than ISO 841's B, and its A about Z. The machine's letters stay.
func TestSeatedUpright(t *testing.T) {
	w := bare(tilting("A", "[1, 0, 0]", "[0, -5, 50]"), "on = \"table\"\npins = [\"A2\", \"A4\"]\n").
		with(t, "machine.toml", "pitch = 50", "pitch = 50\nu = [1, 0, 0]\nv = [0, 0, 1]")
	s := w.load(t)
	// u x v is -Y; the pins, along the unit's X, stand along Z.
	pose := s.Pose(s.body(t, "unit/base"), s.params(t, nil))
	near(t, "middle", pose.T, vec(0, 0, 100), 0)
	near(t, "X", pose.Dir(vec(1, 0, 0)), vec(0, 0, 1), 0)
	near(t, "Z", pose.Dir(vec(0, 0, 1)), vec(0, -1, 0), 0)
	if a, c := s.Axes[0], s.Axes[1]; a.Letter != "C" || a.Reversed || a.Direction != vec(0, 0, 1) ||
		c.Letter != "B" || !c.Reversed || c.Direction != vec(0, 1, 0) {
		t.Errorf("%+v\n%+v", a, c)
	}
}

// Places in any order: what a thing stands on may be listed after it.
func TestOrderOfPlaces(t *testing.T) {
	w := example(t)
	text := w["setup.toml"]
	first := strings.Index(text, "[[place]]")
	last := strings.Index(text, "[commanded]")
	places := strings.Split(text[first:last], "[[place]]")[1:]
	slices.Reverse(places)
	v := w.with(t, "setup.toml", text[first:last], "[[place]]"+strings.Join(places, "[[place]]"))
	s, r := w.load(t), v.load(t)
	for i := range s.Bodies {
		k := r.body(t, s.Bodies[i].Name)
		if p, q := s.Pose(i, s.params(t, nil)), r.Pose(k, r.params(t, nil)); p != q {
			t.Errorf("%s at %v and %v", s.Bodies[i].Name, p, q)
		}
	}
	if r.Bodies[6].Name != "stock" {
		t.Errorf("bodies are not in file order: %s", r.Bodies[6].Name)
	}
}

// A ninth axis has no parameter left.
func TestTooManyAxes(t *testing.T) {
	w := example(t)
	extra := ""
	for _, l := range []string{"B1", "B2", "B3", "B4"} {
		extra += strings.Replace(axisA, `"A"`, `"`+l+`"`, 1)
	}
	w = w.with(t, "machine.toml", "[spindle] ", extra+"[spindle] ")
	if e := w.onlyError(t); !strings.Contains(e.Error(), "at most 8") {
		t.Error(e)
	}
}

// A unit seated a quarter and a half turn round: its tilt turns about Y and is
// a B; half round it turns about X again, against ISO 841, as it is wired. What
// it does, seen from itself, is the same each time.
func TestSeatedRound(t *testing.T) {
	unit := tilting("A", "[1, 0, 0]", "[0, -5, 50]")
	for _, c := range []struct {
		pins, letter string
		degrees      float64
		direction    r3.Vector
		reversed     bool
	}{
		{`"C3", "E3"`, "A", 0, vec(1, 0, 0), false},
		{`"D2", "D4"`, "B", 90, vec(0, 1, 0), false},
		{`"E3", "C3"`, "A", 180, vec(1, 0, 0), true},
		{`"D4", "D2"`, "B", 270, vec(0, 1, 0), true},
	} {
		s := bare(unit, "on = \"table\"\npins = ["+c.pins+"]\n").load(t)
		a := s.Axes[0]
		if a.Letter != c.letter || a.Direction != c.direction || a.Reversed != c.reversed || a.Unit != "unit" {
			t.Errorf("seated at %s: %+v", c.pins, a)
		}
		if warned := strings.Contains(strings.Join(s.Warnings, "\n"), "against ISO 841"); warned != c.reversed {
			t.Errorf("seated at %s: warnings %q", c.pins, s.Warnings)
		}
		if a.Travel != (span{radians(-120), radians(120)}) {
			t.Errorf("seated at %s: travel %v", c.pins, a.Travel)
		}
		// Seated is the drawn motion, turned as a whole about D3: exactly.
		drawn := bare(unit, "on = \"bed\"\nat = [150, 100, 0]\nwithin = 0\n").load(t)
		for _, tilt := range []float64{0, 90, -90} {
			own := drawn.Pose(drawn.body(t, "unit/plate"), drawn.params(t, map[string]float64{"A": tilt, "C": 90}))
			got := s.Pose(s.body(t, "unit/plate"), s.params(t, map[string]float64{c.letter: tilt, "C": 90}))
			p := own.Point(vec(1, 2, 3)).Sub(vec(150, 100, 0))
			for range int(c.degrees) / 90 {
				p.X, p.Y = -p.Y, p.X
			}
			near(t, c.pins, got.Point(vec(1, 2, 3)), p.Add(vec(150, 100, 0)), 0)
		}
	}
}
