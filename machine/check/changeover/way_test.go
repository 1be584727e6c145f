package changeover

import (
	"math"
	"slices"
	"strings"
	"testing"

	"gridswing/machine/check"

	"github.com/golang/geo/r3"
)

// plateWith returns a shop with a way of the plate.
func plateWith(t testing.TB, path string) shop {
	return newShop().edit(t, "setup.toml", `pins = ["B2", "H2"]`, "pins = [\"B2\", \"H2\"]\npath = "+path)
}

// In through the door: the sill's top is at 40, so the plate must come over it by what
// is demanded.
func TestThroughTheDoor(t *testing.T) {
	for _, c := range []struct {
		path     string
		want     check.Verdict
		smallest float64
	}{
		{"[[0, -600, 60], [0, 0, 60], [0, 0, 0]]", check.Clear, 0},
		{"[[0, -600, 42.5], [0, 0, 42.5], [0, 0, 0]]", check.Clear, 0},
		{"[[0, -600, 41], [0, 0, 41], [0, 0, 0]]", check.Tight, 1},
		{"[[0, -600, 35], [0, 0, 35], [0, 0, 0]]", check.Contact, 0},
		// Beside the opening of 600: half the plate is 200 wide, so there are 100 on either side.
		{"[[97, -600, 60], [97, 0, 60], [0, 0, 60], [0, 0, 0]]", check.Clear, 0},
		{"[[105, -600, 60], [105, 0, 60], [0, 0, 60], [0, 0, 0]]", check.Contact, 0},
	} {
		p := plateWith(t, c.path).empty(t)
		w := p.step(t, PutOn, "plate").Way
		if w.Verdict != c.want || p.Verdict != c.want || !w.Stated {
			t.Errorf("%s: %v, want %v\n%s", c.path, w.Verdict, c.want, p)
			continue
		}
		m := w.meets("plate", "machine/door frame")
		switch {
		case c.want == check.Clear:
			if len(w.Meetings) > 0 {
				t.Errorf("%s: %+v", c.path, w.Meetings)
			}
		case m == nil:
			t.Errorf("%s: the door frame is not what it meets: %s", c.path, p)
		case c.want == check.Tight:
			// Play of the plate and of the table's axes comes off it; none is stated of the latter.
			if m.Smallest == nil || *m.Smallest > c.smallest || *m.Smallest < c.smallest-0.2 || *m.Proven > *m.Smallest {
				t.Errorf("%s: smallest %s", c.path, show(m.Smallest))
			}
		case m.Leg != 1 || m.Points == nil:
			t.Errorf("%s: %+v", c.path, m)
		}
	}
}

// Where a contact is told: the sill stands from Y -520 to -500, the plate is 300 deep and
// stands 0 to Y 0.
func TestWhereItMeets(t *testing.T) {
	w := plateWith(t, "[[0, -600, 35], [0, 0, 35], [0, 0, 0]]").empty(t).step(t, PutOn, "plate").Way
	m := w.meets("plate", "machine/door frame")
	if y := m.At.Shift[1]; y < -670 || y > -345 || m.At.Shift[2] != 35 {
		t.Errorf("at %v", m.At)
	}
	for _, p := range m.Points {
		if p[1] < -521 || p[1] > -499 || p[2] < 34 || p[2] > 66 {
			t.Errorf("points %v", m.Points)
		}
	}
}

// The way out is the way in, backwards, with the same verdict.
func TestBackwards(t *testing.T) {
	from := plateWith(t, "[[0, -600, 35], [0, 0, 35], [0, 0, 0]]").load(t, "setup.toml")
	to := newShop().edit(t, "setup.toml", `["B2", "H2"]`, `["B3", "H3"]`).load(t, "setup.toml")
	p := plan(t, from, to)
	off := p.step(t, TakeOff, "plate")
	if off.Way.Verdict != check.Contact || off.Way.Points[0].Shift != [3]float64{} || off.Way.Points[2].Shift != [3]float64{0, -600, 35} {
		t.Errorf("%+v", off.Way)
	}
	if m := off.Way.Meetings[0]; m.Leg != 2 {
		t.Errorf("leg %d", m.Leg)
	}
	off.says(t, "Lift it straight by 35 mm", "Move it 600 mm towards Y-, and take it away", "Keep it by: it goes on again as plate")
	if p.Verdict != check.Contact {
		t.Errorf("%v", p.Verdict)
	}
}

// What it stands on is excepted near the seat only, and only as far as it does not sink in.
func TestSeat(t *testing.T) {
	s := newShop(carrierPlace)
	if v := s.empty(t).step(t, PutOn, "carrier").Way.Verdict; v != check.Clear {
		t.Errorf("%v", v)
	}
	// 0.2 mm into the plate.
	sunk := newShop(carrierPlace).with("carrier.stl", solidBox(-55, -50, -0.2, 55, 50, 20)).empty(t)
	if m := sunk.step(t, PutOn, "carrier").Way.meets("carrier", "plate"); m == nil || m.Verdict != check.Contact {
		t.Errorf("%s", sunk)
	}
	// A post of the plate: the carrier's side is at X 5, the post stands 1 beside it, then 3.
	for x, want := range map[float64]check.Verdict{6: check.Tight, 8: check.Clear} {
		post := newShop(carrierPlace, "\n[[place]]\nname = \"post\"\ncomponent = \"block.toml\"\non = \"plate/top\"\nat = [0, 0, 0]\nwithin = 0\n").
			edit(t, "setup.toml", "[[place]]", "loading_order = [\"plate\", \"post\", \"carrier\"]\n[[place]]").
			with("block.stl", solidBox(150+x, 0, 0, 150+x+20, 100, 90))
		p := post.empty(t)
		st := p.step(t, PutOn, "carrier")
		if st.Way.Verdict != want {
			t.Errorf("%v: %s", x, p)
		}
		// The post reaches 90 above the plate's face, 100 above it with the demand of 2.
		if st.Way.FreeHeight != 100 {
			t.Errorf("free height %v", st.Way.FreeHeight)
		}
	}
	s.edit(t, "setup.toml", "[[place]]", "lifting = { free_height = 140 }\n[[place]]")
	if w := s.empty(t).step(t, PutOn, "carrier").Way; w.FreeHeight != 140 || w.Points[0].Shift != [3]float64{0, 0, 140} {
		t.Errorf("%+v", w)
	}
}

// Slid in with both pins withdrawn, the first set, turned about it, the second set: the
// carrier comes in on the face.
func TestSlidAndTurned(t *testing.T) {
	path := "path = [{ at = [-60, 0, 0], turned = 20 }, { at = [0, 0, 0], turned = 20 }, [0, 0, 0]]\n"
	s := newShop(carrierPlace + path)
	p := s.empty(t)
	st := p.step(t, PutOn, "carrier")
	st.says(t, "Bring it to where it is 60 mm towards X- of its place, turned by 20 degrees counter-clockwise about its first pin (B2)",
		"Slide it 60 mm towards X+", "Set the pin at B2 of plate/top", "Turn it by 20 degrees clockwise about its first pin (B2), until it sits on its seat",
		"Set the pin at D2 of plate/top", "Put in and tighten 1 screw")
	if st.Way.Verdict != check.Clear || len(st.Pins) != 2 {
		t.Errorf("%s", p)
	}
	// Its second pin is 100 from the first, at (-100, -50) on the plate's face.
	bodies := bodiesOf(st.scene.setup, "carrier")
	legs := st.Legs()
	// The carrier's middle is 50 from the first pin.
	sin, cos := math.Sincos(20 * math.Pi / 180)
	pose := st.PoseAt(bodies[0], legs[1])
	if want := (r3.Vector{X: -100 + 50*cos, Y: -50 + 50*sin, Z: 30}); pose.T.Sub(want).Norm() > 1e-9 {
		t.Errorf("at %v, want %v", pose.T, want)
	}
	if pose = st.PoseAt(bodies[0], legs[0]); pose.T.Sub(r3.Vector{X: -160 + 50*cos, Y: -50 + 50*sin, Z: 30}).Norm() > 1e-9 {
		t.Errorf("at %v", pose.T)
	}
	// Taking it off: both withdrawn before it is turned away.
	off := plan(t, s.load(t, "setup.toml"), newShop().load(t, "setup.toml")).step(t, TakeOff, "carrier")
	off.says(t, "Withdraw the pins at B2 and D2", "Turn it by 20 degrees counter-clockwise", "Slide it 60 mm towards X-, and take it away")
	// Something in the way of the turning corner only: from (-55, -50) round the first
	// pin, the far corner at (105, 50) swings towards Y+.
	corner := r3.Vector{X: 105*cos - 50*sin, Y: 105*sin + 50*cos}
	x, y := 50+corner.X-5, 50+corner.Y-5 // of hole A1
	post := newShop(carrierPlace+path, "\n[[place]]\nname = \"post\"\ncomponent = \"block.toml\"\non = \"plate/top\"\nat = [0, 0, 0]\nwithin = 0\n").
		edit(t, "setup.toml", "[[place]]", "loading_order = [\"plate\", \"post\", \"carrier\"]\n[[place]]").
		with("block.stl", solidBox(x, y, 0, x+20, y+20, 10))
	p = post.empty(t)
	if w := p.step(t, PutOn, "carrier").Way; w.Verdict != check.Contact || w.meets("carrier", "post") == nil {
		t.Errorf("%s", p)
	}
}

// Pins of its own cannot slide over the face: with their length it is a contact, without
// it nobody can tell.
func TestOwnPins(t *testing.T) {
	const path = "[[0, -600, 70], [0, -300, 70], [0, -300, %], [0, 0, %], [0, 0, 0]]"
	for _, c := range []struct {
		height, length string
		want           check.Verdict
	}{
		{"12", "pin_length = 12", check.Clear}, {"11.9", "pin_length = 12", check.Contact},
		// Not stated, pins of 16 are taken to stand out less than 64.
		{"12", "", check.Unproven}, {"65", "", check.Clear},
	} {
		s := plateWith(t, strings.ReplaceAll(path, "%", c.height)).edit(t, "plate.toml", ", pin_length = 12", comma(c.length))
		p := s.empty(t)
		w := p.step(t, PutOn, "plate").Way
		if w.Verdict != c.want {
			t.Errorf("%s %s: %s", c.height, c.length, p)
		}
		if c.want != check.Clear && (w.Meetings[0].Bodies != [2]string{"plate", "machine"} || w.Meetings[0].Reason == "") {
			t.Errorf("%+v", w.Meetings[0])
		}
	}
}

// Jaws are opened as far as their travel lets them; what is left must do.
func TestJaws(t *testing.T) {
	s := newShop(visePlace, blockPlace)
	st := s.empty(t).step(t, PutOn, "block")
	if st.Way.Verdict != check.Clear {
		t.Fatalf("%+v", st.Way)
	}
	jaw := st.scene.setup.Settings[0].Moves[0].Body
	// Drawn closed at X 0 to -30 of the vise, whose middle is at (100, 0); set to 60, opened to 63.
	if pose := st.Pose(jaw); pose.T.Sub(r3.Vector{X: 100 + 63, Z: 30}).Norm() > 1e-9 {
		t.Errorf("jaw at %v", pose.T)
	}
	s.edit(t, "vise.toml", "travel = [0, 66]", "travel = [0, 61]")
	st = s.empty(t).step(t, PutOn, "block")
	m := st.Way.meets("block", "vise/moving jaw")
	if st.says(t, "Open jaw of vise to 61 mm"); m == nil || m.Verdict != check.Tight || *m.Smallest > 1 || *m.Smallest < 0.7 {
		t.Errorf("%+v", st.Way)
	}
	// A post 2.5 mm beyond the jaw as it is set: it is met as the jaw is opened by 3. The jaw's
	// far face is at 60 from the vise's middle, which is at X 100.
	post := "\n[[place]]\nname = \"post\"\ncomponent = \"post.toml\"\non = \"plate/top\"\nat = [0, 0, 0]\nwithin = 0\n"
	s = newShop(visePlace, post, blockPlace).with("post.toml", strings.Replace(blockFile, "block.stl", "post.stl", 1)).
		with("post.stl", solidBox(150+100+60+2.5, 80, 45, 150+100+60+20, 120, 50))
	p := s.empty(t)
	m = p.step(t, PutOn, "block").Way.meets("vise/moving jaw", "post")
	if m == nil || m.Verdict != check.Contact || m.At != nil || m.Leg != 0 || m.Reason != "as the jaw is opened" {
		t.Errorf("%s", p)
	}
	// A jaw that opens the other way: the axis goes up as it closes.
	s = newShop(visePlace, blockPlace).edit(t, "vise.toml", "direction = [1, 0, 0], travel = [0, 66]", "direction = [-1, 0, 0], travel = [-66, 0]").
		edit(t, "vise.toml", `jaws = ["fixed jaw", "moving jaw"]`, `jaws = ["fixed jaw", "moving jaw"], opening = [[-1, 0, 0], [1, 0, 0]]`).
		edit(t, "setup.toml", "jaw = 60", "jaw = -60")
	if st = s.empty(t).step(t, PutOn, "block"); st.Way.Verdict != check.Clear {
		t.Errorf("%+v", st.Way)
	}
	st.says(t, "Open jaw of vise to -63 mm", "Close jaw of vise: it reads -60 mm")
}

// On something that is turned for loading, the way turns with it.
func TestTurnedForLoading(t *testing.T) {
	s := newShop(`
[[place]]
name = "unit"
component = "unit.toml"
on = "plate"
pins = ["B2", "D2"]
[[place]]
name = "block"
component = "block.toml"
on = "unit/face"
at = [0, 0, 0]
within = 0.1
path = [[40, 0, 30], [0, 0, 30], [0, 0, 0]]
[loading]
C = 90
`).with("unit.toml", unitFile).with("face.stl", solidBox(-30, -30, 20.2, 30, 30, 40)).with("block.stl", solidBox(-20, -10, 0, 20, 10, 30))
	p := s.empty(t)
	st := p.step(t, PutOn, "block")
	st.says(t, "C at 90 must be clamped", "Move it 40 mm towards Y", "Lower it")
	unit := p.step(t, PutOn, "unit")
	unit.says(t, "Lock its axis (C at 90)", "Connect its lines")
	if st.Way.Verdict != check.Clear || unit.Way.Verdict != check.Clear {
		t.Errorf("%s", p)
	}
	// The table turns the other way than the program says (ISO 841): at C 90 the grid's
	// letters, along X, lead towards Y-.
	b := bodiesOf(st.scene.setup, "block")[0]
	if pose := st.PoseAt(b, st.Begin()); pose.T.Sub(r3.Vector{X: -50, Y: -50 - 40, Z: 30 + 40 + 30}).Norm() > 1e-9 {
		t.Errorf("at %v", pose.T)
	}
	// Whatever is left of a step, it is the setup's.
	if set, at := st.Of(); set.Pose(b, at) != st.Pose(b) && st.Pose(b).T.Sub(set.Pose(b, at).T).Norm() > 1e-9 {
		t.Errorf("%v", st.Pose(b))
	}
}

// A way straight down says how far, and why so far; the seat's demand is that of loading.
func TestStraightDown(t *testing.T) {
	w := newShop().empty(t).step(t, PutOn, "plate").Way
	if w.Stated || w.FreeHeight != 50 || w.Demand != 2 || w.Pairs != 4 {
		t.Errorf("%+v", w)
	}
}

func comma(s string) string {
	if s == "" {
		return ""
	}
	return ", " + s
}

// A sliding door of the machine is closed for the work and open while it is loaded: it is
// said so first and last, and is not in the way.
func TestDoor(t *testing.T) {
	shopWith := func(loading string) shop {
		s := plateWith(t, "[[0, -600, 60], [0, 0, 60], [0, 0, 0]]").
			edit(t, "machine.toml", "axis = [", `axis = [
  { name = "door", setting = true, carried_by = "bed", direction = [1, 0, 0], travel = [0, 650] },`).
			edit(t, "machine.toml", `carried_by = "Z", chord_error = 0 },`, `carried_by = "Z", chord_error = 0 },
  { name = "door", role = "guards", file = "door.stl", carried_by = "door", chord_error = 0 },`).
			with("door.stl", solidBox(-300, -540, -100, 300, -530, 600))
		return s.edit(t, "setup.toml", "[[place]]", "set = { door = 0 }\n"+loading+"\n[[place]]")
	}
	closed := shopWith("").empty(t)
	if w := closed.step(t, PutOn, "plate").Way; w.Verdict != check.Contact || w.meets("plate", "machine/door") == nil {
		t.Errorf("%s", closed)
	}
	s := shopWith("[loading]\ndoor = 610\n")
	p := s.empty(t)
	if p.Verdict != check.Clear {
		t.Errorf("%s", p)
	}
	p.Steps[0].says(t, "Move the axes", "Set door of machine to 610 mm")
	last := &p.Steps[len(p.Steps)-1]
	if last.says(t, "Set door of machine to 0 mm"); last.Kind != Adjust || last.Unit != machineUnit {
		t.Errorf("%+v", last)
	}
	to := s.load(t, "setup.toml")
	replay(t, nil, to, p)
	from := shopWith("").edit(t, "setup.toml", `["B2", "H2"]`, `["B3", "H3"]`).load(t, "setup.toml")
	p = plan(t, from, to)
	if v := verdicts(p); v["take off plate"] != check.Contact || v["put on plate"] != check.Clear {
		t.Errorf("%s", p)
	}
	replay(t, from, to, p)
}

// Two vises on one plate and a part that spans both; a pin that stands up in the way.
func TestSpanning(t *testing.T) {
	first := strings.Replace(strings.Replace(visePlace, `"vise"`, `"near vise"`, 1), `["E3", "G3"]`, `["E1", "G1"]`, 1)
	second := strings.Replace(strings.Replace(visePlace, `"vise"`, `"far vise"`, 1), `["E3", "G3"]`, `["E5", "G5"]`, 1)
	part := strings.Replace(strings.Replace(blockPlace, `on = "vise"`, "on = \"near vise\"\nalso_on = [\"far vise\"]", 1), "at = [0, 0, 40]", "at = [0, 100, 40]", 1)
	p := newShop(part, first, second).with("block.stl", solidBox(-30, -130, 0, 30, 130, 50)).empty(t)
	if want := []string{"plate", "near vise", "far vise", "block"}; !slices.Equal(p.On, want) || p.Verdict != check.Clear {
		t.Errorf("%s", p)
	}
	p.step(t, PutOn, "block").says(t, "Open jaw of near vise to 63 mm", "Open jaw of far vise to 63 mm", "Close jaw of near vise", "Close jaw of far vise")

	slid := carrierPlace + "path = [[250, 0, 0], [0, 0, 0]]\n"
	if v := newShop(slid).empty(t).Verdict; v != check.Clear {
		t.Errorf("%v", v)
	}
	p = newShop(slid).edit(t, "setup.toml", `["unused"]`, `["B4", "D4", "F4"]`).empty(t)
	if m := p.step(t, PutOn, "carrier").Way.meets("carrier", "plate/top pins"); m == nil || m.Verdict != check.Contact {
		t.Errorf("%s", p)
	}
}

// A unit that turns a face about C, which stands on set pins of the plate.
const unitFile = `
kind = "component"
name = "unit"
units = "mm"
role = "workholding"
material = "steel"
solid = [
  { name = "base", file = "carrier.stl", chord_error = 0 },
  { name = "face", file = "face.stl", chord_error = 0, carried_by = "C" },
]
axis = [{ letter = "C", direction = [0, 0, 1], centre = [0, 0, 0], unlimited = true }]
seat = { pins = [[-50, 0, 0], [50, 0, 0]], located_by = "set pins", bore = "16 H7" }
grid = [{ name = "face", solid = "face", origin = [0, 0, 40], columns = 1, rows = 1, pitch = 50 }]
`

// A counterweight goes on last and comes off first, though no place is it.
func TestCounterweight(t *testing.T) {
	shopWith := func(angle string) shop {
		return newShop(`
[[place]]
name = "unit"
component = "unit.toml"
on = "plate"
pins = ["B2", "D2"]
minutes = 5
[counterweight]
on = "unit/face"
radius = 20
height = 0
diameter = 10
material = "steel"
mass = 0.1
angle = `+angle+`
within = 0.2
`).edit(t, "setup.toml", `withdrawn = ["unused"]`, "withdrawn = [\"unused\"]\nminutes = 10").
			with("unit.toml", unitFile).with("face.stl", solidBox(-30, -30, 20.2, 30, 30, 40))
	}
	p := shopWith("90").empty(t)
	if want := []string{"plate", "unit", "counterweight"}; !slices.Equal(p.On, want) || p.Verdict != check.Clear || p.Minutes == nil || *p.Minutes != 15 {
		t.Errorf("%s %v", p, p.Minutes)
	}
	st := p.step(t, PutOn, "counterweight")
	st.says(t, "C at 0 must be clamped", "Lower it straight", "It stands on unit/face, its middle 20 mm from the rotary axis, 90 degrees from")
	if *st.Mass != 0.1 || st.Component != "cylinder of diameter 10 mm, 0.1 kg" {
		t.Errorf("%v %s", *st.Mass, st.Component)
	}
	from, same, other := shopWith("90").load(t, "setup.toml"), shopWith("90").load(t, "setup.toml"), shopWith("180").load(t, "setup.toml")
	if p = plan(t, from, same); len(p.Stays) != 3 || len(p.Steps) != 1 {
		t.Errorf("%s", p)
	}
	p = plan(t, from, other)
	if one := []string{"counterweight"}; !slices.Equal(p.Off, one) || !slices.Equal(p.On, one) {
		t.Errorf("%s", p)
	}
	p.step(t, TakeOff, "counterweight").says(t, "Lift it straight by 50 mm, and take it away", "Keep it by")
}

// A whole turn with the pins in their holes, or a way that begins so, is no way in. The pins
// stand out 12.
func TestPinsOnTheWay(t *testing.T) {
	for path, want := range map[string]string{
		"[[0, 0, 40], [0, 0, 0]]": "",
		"[[0, 0, 5], [0, 0, 0]]":  "its way begins 5 mm over the face with its pins in their holes: how it gets there is not told",
		"[{ at = [0, 0, 40], turned = 360 }, { at = [0, 0, 5], turned = 360 }, [0, 0, 5], [0, 0, 0]]": "its pins stand out 12 mm, and it comes in beside their holes, 5 mm over the face",
	} {
		w := plateWith(t, path).empty(t).step(t, PutOn, "plate").Way
		found := w.Verdict == check.Clear && want == ""
		for i := range w.Meetings {
			found = found || w.Meetings[i].Reason != "" && w.Meetings[i].Reason == want
		}
		if !found {
			t.Errorf("%s: %+v, want %q", path, w, want)
		}
	}
}
