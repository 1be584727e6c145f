package machine

import (
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"
)

// What the example's machine states of programs, in mm, radians and seconds.
func TestControl(t *testing.T) {
	w := example(t).with(t, "machine.toml", "# second_home", "second_home").
		with(t, "machine.toml", `# "M77"`, `"M77"`)
	s := w.load(t)
	c := s.Control
	if c == nil {
		t.Fatal("no control")
	}
	home := s.params(t, map[string]float64{"X": 0, "Y": 250, "Z": 550})
	if c.SecondHome == nil || *c.SecondHome != home {
		t.Errorf("second home %v, want %v", c.SecondHome, home)
	}
	no, yes, one, half := false, true, 1.0, 0.5
	want := &Control{
		PlainNumbers: AsWritten, Step: 0.001, TurnStep: 0.001 * math.Pi / 180,
		Starts: []string{"G17", "G21", "G40", "G49", "G80", "G90", "G94"},
		Codes: map[string]string{"M77": NoMotion, "G271": TipControl, "G272": CarriedZero, "G273": TurnedPlane,
			"G270": EndsControl, "G57.5": MoreOffsets, "G52": LocalZero, "G61": ExactPath, "M10": RotaryClamp, "M11": RotaryClamp},
		ArcTolerance: 0.002, Centres: FromStart, HomeReturn: ThroughPoint, HomeAxes: NamedAxes, HomeRapid: Interpolated, SecondHome: c.SecondHome,
		LengthMoves: WithNextMove, Corners: RoundCorners, Entry: SquareToNext, Return: BeforeFirst, PeckClear: &one, ChipBreak: &half, Dwell: Seconds, Repeats: "L",
		Subprograms: "{number}.nc", Digits: 4, BlockDelete: &no, Expressions: true, ChangeMoves: &yes, ChangeSeconds: 8,
	}
	nearly(t, "smallest turn", c.TurnStep, want.TurnStep, 1e-18)
	want.TurnStep = c.TurnStep
	if !reflect.DeepEqual(c, want) {
		t.Errorf("got %+v, want %+v", c, want)
	}
	for _, meaning := range c.Codes {
		if !slices.Contains(CodeMeanings(), meaning) {
			t.Errorf("%q is no meaning", meaning)
		}
	}
	for _, meaning := range CodeMeanings() {
		if !strings.Contains(w["machine.toml"], `"`+meaning+`"`) {
			t.Errorf("the example does not show %q", meaning)
		}
	}
	y := s.axis(t, "Y")
	nearly(t, "rapid rate", y.Rates.Rapid, 400, 1e-12)
	nearly(t, "acceleration", y.Rates.Acceleration, 4000, 1e-12)
	if s.axis(t, "X").Rates != (Rates{}) {
		t.Errorf("X goes at %+v", s.axis(t, "X").Rates)
	}
	// A rotary axis that a component brings, in degrees: 60 turns a minute are 2 pi a second.
	s = w.with(t, "trunnion.toml", "roll_over = \"shorter\"", "roll_over = \"shorter\"\nrapid_rate = 21600\nacceleration = 360").load(t)
	nearly(t, "turning", s.axis(t, "C").Rates.Rapid, 2*math.Pi, 1e-12)
	nearly(t, "starting to turn", s.axis(t, "C").Rates.Acceleration, 2*math.Pi, 1e-12)
}

// Without [program] nothing is known of the control, and nothing that a key does not state.
func TestNoControl(t *testing.T) {
	w := example(t)
	text := w["machine.toml"]
	from := strings.Index(text, "[program]")
	s := w.with(t, "machine.toml", text[from:], "").load(t)
	if s.Control != nil || s.Keyed != nil {
		t.Errorf("control %+v, keyed %+v", s.Control, s.Keyed)
	}
	s = w.with(t, "machine.toml", text[from:], "[program]\n").load(t)
	if !reflect.DeepEqual(s.Control, &Control{}) {
		t.Errorf("got %+v", s.Control)
	}
}

const keyedIn = `[[keyed.offset]]
number = "G54"
at = { X = -12.5, Z = -310, C = 90 }
[[keyed.offset]]
number = "G57.5 P7"
at = { Y = 1 }
[[keyed.length]]
h = 1
length = 120.5
[[keyed.radius]]
d = 3
radius = -0.02
`

// What is keyed in is in the unit of the setup file, whatever the machine's is.
func TestKeyedIn(t *testing.T) {
	s := example(t).with(t, "setup.toml", "# [[keyed.offset]]", keyedIn+"#").load(t)
	x, z, c := s.index(t, "X"), s.index(t, "Z"), s.index(t, "C")
	g54 := s.Keyed.Offsets["G54"]
	var want KeyedOffset
	want.Values[x], want.Values[z], want.Values[c] = -12.5, -310, math.Pi/2
	want.Stated[x], want.Stated[z], want.Stated[c] = true, true, true
	if g54 != want {
		t.Errorf("G54 %+v, want %+v", g54, want)
	}
	if o := s.Keyed.Offsets["G57.5 P7"]; len(s.Keyed.Offsets) != 2 || o.Values[s.index(t, "Y")] != 1 {
		t.Errorf("offsets %+v", s.Keyed.Offsets)
	}
	if !reflect.DeepEqual(s.Keyed.Lengths, map[int]float64{1: 120.5}) || !reflect.DeepEqual(s.Keyed.Radii, map[int]float64{3: -0.02}) {
		t.Errorf("lengths %v, radii %v", s.Keyed.Lengths, s.Keyed.Radii)
	}
}

const finishedPart = "finished = \"finished.stl\"\nfinished_chord_error = 0.01\ngouge_within = 0.05\n"

// A finished part is read once, in the unit of the setup file, and stands in the part's frame.
func TestFinished(t *testing.T) {
	w := example(t).with(t, "setup.toml", "# unprobed_within", finishedPart+"# unprobed_within")
	w["finished.stl"] = string(box(-30, -20, -40, 30, 20, -2))
	s := w.load(t)
	p := &s.Parts[0]
	if p.Finished == nil || p.GougeWithin != 0.05 || p.Finished.ChordError != 0.01 || p.Finished.File != "finished.stl" {
		t.Fatalf("got %+v", p)
	}
	nearly(t, "volume", p.Finished.Audit.Volume, 60*40*38, 1e-6)
	d, err := DraftFS(w.fs(), "setup.toml")
	if err != nil {
		t.Fatal(err)
	}
	again, err := d.With()
	if err != nil || again.Parts[0].Finished == nil || again.Parts[0].Finished.Mesh != d.Setup().Parts[0].Finished.Mesh {
		t.Errorf("not shared: %v", err)
	}
	if p := example(t).load(t).Parts[0]; p.Finished != nil || p.GougeWithin != 0 {
		t.Errorf("not stated, and yet %+v", p)
	}
}

func (s *Setup) index(t testing.TB, letter string) int {
	t.Helper()
	i := slices.IndexFunc(s.Axes, func(a Axis) bool { return a.Letter == letter })
	if i < 0 {
		t.Fatalf("no axis %q", letter)
	}
	return i
}

// What is wrong with what files say of programs is told with its place.
func TestProgramFaults(t *testing.T) {
	w := example(t)
	w["open.stl"] = string(box(0, 0, 0, 1, 1, 1)[:84+50*11])
	w["open.stl"] = w["open.stl"][:80] + "\x0b" + w["open.stl"][81:]
	keyed := func(old, new string) string {
		if !strings.Contains(keyedIn, old) {
			t.Fatalf("no %q", old)
		}
		return strings.Replace(keyedIn, old, new, 1) + "#"
	}
	for _, c := range []faulty{
		{"unknown key", "machine.toml", "peck_clear = 1", "peck_claer = 1", "peck_claer", "", []string{"unknown key", `"peck_clear"`}},
		{"numbers", "machine.toml", `"as written"`, `"as writen"`, "number_without", "", []string{`"as writen"`, `"smallest steps"`}},
		{"no step", "machine.toml", "\"as written\"  # X100 is 100 mm; or \"smallest steps\", which X100 counts\nsmallest_step = 0.001", "\"smallest steps\" #", "number_without", "", []string{"no smallest_step"}},
		{"step", "machine.toml", "smallest_step = 0.001", "smallest_step = 0", "smallest_step", "", []string{"more than 0"}},
		{"turn", "machine.toml", "smallest_turn = 0.001", "smallest_turn = -1", "smallest_turn", "", []string{"more than 0"}},
		{"start", "machine.toml", `"G17", "G21", "G40"`, `"G17", "G021", "G40"`, `"G021"`, "", []string{"leading zeros"}},
		{"start twice", "machine.toml", `"G17", "G21", "G40"`, `"G17", "G21", "G17"`, `"G17", "G49"`, "", []string{"a second time"}},
		{"tolerance", "machine.toml", "arc_tolerance = 0.002", "arc_tolerance = 0", "arc_tolerance", "", []string{"more than 0"}},
		{"centres", "machine.toml", `"from start"`, `"absolute"`, "arc_centres", "", []string{`"from start" or "from zero"`}},
		{"home", "machine.toml", `home_return = "through point"`, `home_return = "through"`, "home_return", "", []string{`"direct"`}},
		{"length", "machine.toml", `"with next move"`, `"next move"`, "length_moves", "", []string{`"at once"`}},
		{"corners", "machine.toml", `corners = "round"`, `corners = "chamfered"`, "corners =", "", []string{`"sharp"`}},
		{"begin", "machine.toml", `"square to the next"`, `"square"`, "radius_begins", "", []string{`"touching"`}},
		{"return", "machine.toml", `"before the first"`, `"first"`, "cycle_return", "", []string{`"before the block"`}},
		{"peck", "machine.toml", "peck_clear = 1", "peck_clear = -1", "peck_clear", "", []string{"0 or more"}},
		{"chip", "machine.toml", "chip_break = 0.5", "chip_break = -1", "chip_break", "", []string{"0 or more"}},
		{"dwell", "machine.toml", `dwell = "seconds"`, `dwell = "ms"`, "dwell", "", []string{`"milliseconds"`}},
		{"repeats", "machine.toml", `repeats = "L"`, `repeats = "P"`, "repeats", "", []string{`"L" or "K"`}},
		{"subprograms", "machine.toml", `"{number}.nc"`, `"sub.nc"`, "subprograms", "", []string{"{number}"}},
		{"folder of subprograms", "machine.toml", `"{number}.nc"`, `"../{number}.nc"`, "subprograms", "", []string{"file name"}},
		{"digits", "machine.toml", "digits = 4", "digits = 9", "digits", "", []string{"1 to 8"}},
		{"digits of nothing", "machine.toml", "subprograms = ", "# ", "digits", "", []string{"no subprograms"}},
		{"change", "machine.toml", "change_seconds = 8", "change_seconds = -8", "change_seconds", "", []string{"more than 0"}},
		{"code", "machine.toml", `"G271" =`, `"G0271" =`, `"G0271"`, "", []string{"leading zeros"}},
		{"code of a standard", "machine.toml", `"G271" =`, `"G43" =`, `"G43"`, "", []string{"settled"}},
		{"decimal code", "machine.toml", `"G57.5" = "more offsets"`, `"G57.5" = "further offsets"`, `"G57.5"`, "", []string{`"further offsets"`, "more offsets"}},
		{"second home of nothing", "machine.toml", "# second_home = { X = 0,", "second_home = { X = 0, W = 0,", "W = 0", "", []string{`"W"`, "X"}},
		{"second home beyond", "machine.toml", "# second_home = { X = 0,", "second_home = { X = 999,", "X = 999", "", []string{"-400 to 400"}},
		{"second home without", "machine.toml", "# second_home = { X = 0, Y = 250,", "second_home = { X = 0,", "second_home", "", []string{"no Y"}},
		{"rate", "machine.toml", "rapid_rate = 24000", "rapid_rate = 0", "rapid_rate", "", []string{"more than 0"}},
		{"rate of a setting axis", "vise.toml", "setting = true", "setting = true\nrapid_rate = 1", "rapid_rate", "", []string{"setting axis"}},
		{"acceleration", "machine.toml", "acceleration = 4000", "acceleration = -4000", "acceleration", "", []string{"more than 0"}},
		{"keyed where", "setup.toml", "# [[keyed.offset]]", keyed(`number = "G54"`, `number = "G60"`), `number = "G60"`, "", []string{"G54", `"G57.5 P1"`}},
		{"keyed further", "setup.toml", "# [[keyed.offset]]", keyed("G57.5 P7", "G57.6 P7"), `number = "G57.6 P7"`, "", []string{`"G57.6 P7"`}},
		{"keyed twice", "setup.toml", "# [[keyed.offset]]", keyed("G57.5 P7", "G54"), "number = \"G54\"\nat = { Y", "", []string{"a second time"}},
		{"keyed axis", "setup.toml", "# [[keyed.offset]]", keyed("C = 90", "B = 90"), "B = 90", "", []string{`axis "B"`}},
		{"keyed nothing", "setup.toml", "# [[keyed.offset]]", keyed("at = { Y = 1 }", ""), "offset]]\nnumber = \"G57.5", "", []string{"no at"}},
		{"number of a length", "setup.toml", "# [[keyed.offset]]", keyed("h = 1", "h = 0"), "h = 0\nlength", "", []string{"1 to 9999"}},
		{"length twice", "setup.toml", "# [[keyed.offset]]", keyed("h = 1", "h = 2\nlength = 1\n[[keyed.length]]\nh = 2"), "h = 2\nlength = 120", "", []string{"a second time"}},
		{"finished and nothing", "setup.toml", "# unprobed_within", "finished = \"block.stl\"\nfinished_chord_error = 0\n#", "part]]", "", []string{"no gouge_within", "gouge_within = 0.05"}},
		{"finished without error", "setup.toml", "# unprobed_within", "finished = \"block.stl\"\ngouge_within = 0.05\n#", "part]]", "", []string{"no finished_chord_error"}},
		{"nothing finished", "setup.toml", "# unprobed_within", "gouge_within = 0.05\n#", "gouge_within", "", []string{"no finished"}},
		{"finished is missing", "setup.toml", "# unprobed_within", finishedPart + "#", "finished = ", "", []string{"finished.stl", "does not exist"}},
		{"finished is open", "setup.toml", "# unprobed_within", strings.Replace(finishedPart, "finished.stl", "open.stl", 1) + "#", "finished = ", "", []string{"open.stl", "closed"}},
		{"gouge", "setup.toml", "# unprobed_within", "finished = \"block.stl\"\nfinished_chord_error = 0\ngouge_within = 0\n#", "gouge_within", "", []string{"more than 0"}},
		{"negative chord error", "setup.toml", "# unprobed_within", "finished = \"block.stl\"\nfinished_chord_error = -1\ngouge_within = 1\n#", "finished_chord_error", "", []string{"0 or more"}},
	} {
		t.Run(c.name, func(t *testing.T) { c.told(t, w) })
	}
}
