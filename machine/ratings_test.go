package machine

import (
	"math"
	"slices"
	"strings"
	"testing"

	"gridswing/geom"
	"gridswing/geom/motion"
)

// The example's ratings, as its file states them.
func TestRatings(t *testing.T) {
	s := example(t).load(t)
	if len(s.Ratings) != 1 {
		t.Fatalf("%d ratings", len(s.Ratings))
	}
	r := s.Ratings[0]
	if r.Unit != "trunnion" || s.Axes[r.Tilt].Letter != "A" || s.Axes[r.Rotary].Letter != "C" {
		t.Errorf("ratings of %s about axes %d and %d", r.Unit, r.Tilt, r.Rotary)
	}
	if r.TiltMoment != 300 || r.RotaryMoment != 60 || r.FaceplateMoment != 250 || !r.IncludesOwn {
		t.Errorf("%+v", r)
	}
	nearly(t, "acceleration of A", r.TiltAcceleration, math.Pi, 1e-12)
	nearly(t, "acceleration of C", r.RotaryAcceleration, 2*math.Pi, 1e-12)
	near(t, "face", r.Face, vec(0, 0, 240), 1e-9) // the trunnion stands 40 up
	want := []RatedLoad{{-math.Pi / 6, 100}, {0, 150}, {math.Pi / 2, 80}, {math.Pi * 2 / 3, 80}}
	if !slices.EqualFunc(r.Load, want, func(a, b RatedLoad) bool { return math.Abs(a.Tilt-b.Tilt) < 1e-12 && a.Mass == b.Mass }) {
		t.Errorf("load %v", r.Load)
	}
}

// A single number holds at any tilt; a machine can have ratings of its own axes.
func TestRatingsOfMachine(t *testing.T) {
	w := example(t).with(t, "trunnion.toml", "[[-30, 100], [0, 150], [90, 80], [120, 80]]", "90")
	s := w.load(t)
	if l := s.Ratings[0].Load; len(l) != 2 || l[0] != (RatedLoad{math.Inf(-1), 90}) || l[1] != (RatedLoad{math.Inf(1), 90}) {
		t.Errorf("load %v", l)
	}
	b := "letter = \"B\"\nmoves = \"workpiece\"\ncarried_by = \"X\"\ndirection = [0, 1, 0]\ncentre = [0, 0, 0]\ntravel = [0, 10]\n"
	s = example(t).with(t, "machine.toml", "[spindle] ", "[[axis]]\n"+b+"[ratings]\nrotary = \"B\"\nload = 40\n[spindle] ").load(t)
	if len(s.Ratings) != 2 || s.Ratings[0].Unit != "machine" || s.Ratings[0].Tilt != -1 || s.Axes[s.Ratings[0].Rotary].Letter != "B" {
		t.Errorf("%+v", s.Ratings)
	}
}

func TestFaultyRatings(t *testing.T) {
	w := example(t)
	for _, c := range []faulty{
		{"no axis", "trunnion.toml", "tilt = \"A\"  ", "tilt = \"B\"  ", `tilt = "B"`, "", []string{`"B"`, "A, C"}},
		{"the wrong way round", "trunnion.toml", "tilt = \"A\"                  # the axis that tilts, and the one on it that turns the faceplate;\nrotary = \"C\"", "tilt = \"C\"\nrotary = \"A\"", `rotary = "A"`, "", []string{"an axis that C carries"}},
		{"moments of whom", "trunnion.toml", "includes_own = true ", "#", "ratings]", "", []string{"no includes_own", "true"}},
		{"negative", "trunnion.toml", "tilt_moment = 300 ", "tilt_moment = -300 ", "tilt_moment", "", []string{"-300", "more than 0"}},
		{"no load", "trunnion.toml", "[0, 150],", "[0, 0],", "0, 0], [90, 80]", "", []string{"0 kg"}},
		{"falling tilt", "trunnion.toml", "[90, 80],", "[-5, 80],", "-5, 80]", "", []string{"a tilt of -5 after 0"}},
		{"one pair", "trunnion.toml", "[[-30, 100], [0, 150], [90, 80], [120, 80]]", "[[0, 80]]", "load = [[0", "", []string{"two or more pairs"}},
		{"a number of three", "trunnion.toml", "[0, 150],", "[0, 150, 1],", "0, 150, 1]", "", []string{"3 entries"}},
		{"a word", "trunnion.toml", "[[-30, 100], [0, 150], [90, 80], [120, 80]]", `"heavy"`, `load = "heavy"`, "", []string{"two or more pairs"}},
		{"no face", "trunnion.toml", "face = [0, 0, 200] ", "#", "ratings]", "", []string{"no face", "[x, y, z]"}},
		{"unknown key", "trunnion.toml", "tilt_moment = 300 ", "tilting_moment = 300 ", "tilting_moment", "", []string{"unknown key", "tilt_moment"}},
		{"no table", "stock.toml", "kind = ", "ratings = 3\nkind = ", "ratings", "", []string{"a table", "[ratings]"}},
		{"of what has no axis", "stock.toml", "[[solid]]", "[ratings]\nrotary = \"C\"\n[[solid]]", `rotary = "C"`, "", []string{"this file has none"}},
		{"of the tool's side", "machine.toml", "[spindle] ", "[ratings]\nrotary = \"Z\"\n[spindle] ", `rotary = "Z"`, "", []string{"carries the workpiece"}},
		{"of nothing", "stock.toml", "[[solid]]", "[ratings]\nload = 3\n[[solid]]", "ratings]", "", []string{"neither tilt nor rotary"}},
		{"a load over no tilt", "machine.toml", "[spindle] ", "[[axis]]\nletter = \"B\"\nmoves = \"workpiece\"\ncarried_by = \"X\"\ndirection = [0, 1, 0]\ncentre = [0, 0, 0]\ntravel = [0, 10]\n[ratings]\nrotary = \"B\"\nload = [[0, 9], [5, 8]]\n[spindle] ", "load = [[0", "", []string{"a load over tilt", "one number"}},
		{"not rated and rated", "trunnion.toml", "includes_own = true ", "not_rated = [\"tilt_moment\"]\nincludes_own = true ", `"tilt_moment"]`, "", []string{"which is rated here"}},
		{"no rating of that name", "trunnion.toml", "includes_own = true ", "not_rated = [\"tilting_moment\"]\nincludes_own = true ", `"tilting_moment"]`, "", []string{"tilt_moment"}},
		{"negative mass", "trunnion.toml", "mass = 165", "mass = -165", "mass = -165", "", []string{"more than 0"}},
	} {
		t.Run(c.name, func(t *testing.T) { c.told(t, w) })
	}
}

// What is said of an axis that is not named is refused, key by key.
func TestRatingsOfNoAxis(t *testing.T) {
	w := example(t).with(t, "trunnion.toml", "rotary = \"C\"                #", "#")
	_, err := LoadFS(w.fs(), "setup.toml")
	if err == nil {
		t.Fatal("loaded")
	}
	for _, key := range []string{"rotary_moment", "rotary_acceleration", "faceplate_moment"} {
		if want := w.place(t, "trunnion.toml", key+" =") + ": " + key + ": found a rating of no axis"; !strings.Contains(err.Error(), want) {
			t.Errorf("%v\ndoes not say %q", err, want)
		}
	}
}

const weight = "[counterweight]\non = \"trunnion/faceplate\"\nradius = 80\nheight = 5\ndiameter = 50\nmaterial = \"steel\"\n"

// The cylinder weighs what its length says, and stands where the angle says: from the
// way of the letters, +X, counter-clockwise.
func TestCounterweight(t *testing.T) {
	s := example(t).with(t, "setup.toml", "[commanded]", weight+"[commanded]").load(t)
	c := s.Counterweight
	if c == nil || c.Body != -1 || s.Axes[c.Rotary].Letter != "C" {
		t.Fatalf("%+v", c)
	}
	near(t, "foot", c.Foot, vec(0, 0, 240), 1e-9)
	s = example(t).with(t, "setup.toml", "[commanded]", weight+"mass = 2\nangle = 120\nwithin = 0.5\n[commanded]").load(t)
	c = s.Counterweight
	body := s.Bodies[c.Body]
	// 2 kg of steel at 7850 kg/m3, 50 across: 2/7850/(pi/4 0.05^2) = 129.757 mm.
	nearly(t, "length", c.Length(2), 2.0/7850/(math.Pi/4*0.05*0.05)*1e3, 1e-9)
	m := geom.MassOf(body.Solid.Mesh)
	want := vec(80*math.Cos(2*math.Pi/3), 80*math.Sin(2*math.Pi/3), 240+5+c.Length(2)/2)
	pose := s.Pose(c.Body, motion.Params{})
	near(t, "middle", pose.Point(m.Centroid), want, 1e-4)
	near(t, "said", c.At(c.Angle, c.Mass), want, 1e-9)
	// A prism of 72 sides around a cylinder is (n/pi) tan(pi/n) of it.
	nearly(t, "volume", m.Volume*7850e-9, 2*72/math.Pi*math.Tan(math.Pi/72), 1e-5)
	if !body.Solid.Audit.Closed || body.Solid.Audit.InsideOut || body.Mass != 2 {
		t.Errorf("%+v", body)
	}
	// It turns with the faceplate, and stands on it.
	p := s.params(t, map[string]float64{"A": 0, "C": 90})
	turned := s.Pose(c.Body, p)
	at := turned.Point(m.Centroid)
	near(t, "at C 90", at, vec(want.Y, -want.X, want.Z), 1e-4) // C' turns the part clockwise
	if !slices.ContainsFunc(s.Matings, func(m Mating) bool { return m.A == c.Body && s.Bodies[m.B].Name == "trunnion/faceplate" }) {
		t.Errorf("it may touch nothing: %+v", s.Matings)
	}
}

func TestFaultyCounterweight(t *testing.T) {
	w := example(t)
	w = w.with(t, "setup.toml", "[commanded]", weight+"mass = 2\nangle = 120\nwithin = 0.5\n[commanded]")
	for _, c := range []faulty{
		{"half placed", "setup.toml", "angle = 120\n", "", "counterweight]\n", "", []string{"not all of mass, angle and within"}},
		{"no mass", "setup.toml", "mass = 2\n", "mass = 0\n", "mass = 0", "", []string{"more than 0"}},
		{"no radius", "setup.toml", "radius = 80\n", "", "counterweight]\n", "", []string{"no radius"}},
		{"in the middle", "setup.toml", "radius = 80", "radius = 0", "radius = 0", "", []string{"more than 0"}},
		{"material", "setup.toml", "material = \"steel\"", "material = \"lead\"", `material = "lead"`, "", []string{`"lead"`, "steel"}},
		{"on no grid", "setup.toml", "on = \"trunnion/faceplate\"\nradius", "on = \"trunnion/cradle\"\nradius", "on = \"trunnion/cradle\"", "", []string{"no grid"}},
		{"on nothing", "setup.toml", "on = \"trunnion/faceplate\"\nradius", "on = \"trunnion/plate\"\nradius", "on = \"trunnion/plate\"", "", []string{"faceplate"}},
		{"on what stands still", "setup.toml", "on = \"trunnion/faceplate\"\nradius", "on = \"plate/top\"\nradius", "on = \"plate/top\"\nradius", "", []string{"no rotary axis carries"}},
		{"below the face", "setup.toml", "height = 5", "height = -5", "height = -5", "", []string{"0 or more"}},
	} {
		t.Run(c.name, func(t *testing.T) { c.told(t, w) })
	}
}
