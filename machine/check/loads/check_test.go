package loads

import (
	"context"
	"errors"
	"math"
	"strings"
	"testing"

	"gridswing/machine/check"
)

// The block weighs 0.1 x 0.06 x 0.04 m3 x 7850 kg/m3 = 1.884 kg. Its middle is 30 off the
// rotary axis and on the tilt axis' height, 20 above the face.
const (
	block = 0.1 * 0.06 * 0.04 * 7850
	force = block * gravity
)

// All by hand. About A the arm is 30 |sin C| |cos A|, most with A level: 1.884 kg x g x 0.03. About C it is
// 30 with A at 90. On the faceplate the middle is 30 out and 20 up: the moment is h G" - G' r, with A = a
// sqrt((20 sin a)^2 + (30 cos a)^2 + 2 x 20 x 30 sin a cos a) where the lever is straight down, the hypotenuse
// of 20 and 30 at tan a = 20/30.
func TestLoadsByHand(t *testing.T) {
	r := newShop().check(t)
	total := block + 7850*(0.34*0.08*0.1+0.28*0.04*0.018+0.06*0.03*0.01)
	has(t, rated(t, r, check.TableLoad, false), total, 200, check.Clear)
	load := rated(t, r, check.FaceplateLoad, false)
	has(t, load, block, 2.2, check.Clear) // at 90, between 4 at 0 and 2 at 100
	if len(load.At) != 1 || load.At[0].Axis != "A" || load.At[0].Value != 90 {
		t.Errorf("least rated at %v", load.At)
	}
	tilt := rated(t, r, check.TiltMoment, false)
	has(t, tilt, force*0.03, 5, check.Clear)
	if a, c := tilt.At[0], tilt.At[1]; !close(a.Value, 0, 1e-6) || !close(math.Mod(c.Value, 180), 90, 1e-6) {
		t.Errorf("largest about A at %v", tilt.At)
	}
	rotary := rated(t, r, check.RotaryMoment, false)
	has(t, rotary, force*0.03, 2, check.Clear)
	if c, a := rotary.At[0], rotary.At[1]; c.Axis != "C" || !close(a.Value, 90, 1e-6) {
		t.Errorf("largest about C at %v", rotary.At)
	}
	face := rated(t, r, check.FaceplateMoment, false)
	has(t, face, force*math.Hypot(0.02, 0.03), 3, check.Clear)
	if a := face.At[1]; !close(a.Value, math.Atan2(20, 30)*180/math.Pi, 1e-5) {
		t.Errorf("largest on the faceplate at %v", face.At)
	}
	if len(r.Findings) != 0 {
		t.Errorf("findings %+v", r.Findings)
	}
}

// With its own cradle: 0.28 x 0.04 x 0.018 m3 of steel, its middle 41 below the axis, and the
// faceplate 25 below, hang under A; at A 90 both pull back.
func TestOwnWeightCounts(t *testing.T) {
	r := newShop().edit(t, "unit.toml", "includes_own = false", "includes_own = true").check(t)
	cradle, faceplate := 7850*0.28*0.04*0.018, 7850*0.06*0.03*0.01
	down := gravity * (cradle*0.041 + faceplate*0.025)
	q := rated(t, r, check.TiltMoment, false)
	// y cos A + z sin A with y = 30 of the block and z of the unit's own: the hypotenuse; but
	// the commanded range goes to 90, where it is negative, and to -30.
	want := math.Hypot(force*0.03, down)
	has(t, q, want, 5, check.Clear)
	if !q.Own {
		t.Error("it does not say that its own is counted")
	}
	// tan A = down / (m g 30): between 0 and 90.
	if at := q.At[0].Value; !close(at, math.Atan2(down, force*0.03)*180/math.Pi, 1e-5) {
		t.Errorf("largest at %v", q.At)
	}
}

// Acceleration adds inertia times it: the block about C has V (100^2 + 60^2)/12 about its
// own middle and 30^2 more; about A it goes with C.
func TestInertiaCounts(t *testing.T) {
	r := newShop().edit(t, "unit.toml", "includes_own = false", "includes_own = false\nrotary_acceleration = 720\ntilt_acceleration = 360").check(t)
	i := block * ((100*100+60*60)/12.0 + 900) * 1e-6
	has(t, rated(t, r, check.RotaryMoment, true), force*0.03+i*4*math.Pi, 2, check.Clear)
	// At C 90 the 100 lies across A and the middle is 30 off it.
	i = block * ((100*100+40*40)/12.0 + 900) * 1e-6
	q := rated(t, r, check.TiltMoment, true)
	has(t, q, force*0.03+i*2*math.Pi, 5, check.Clear)
	has(t, rated(t, r, check.TiltMoment, false), force*0.03, 5, check.Clear) // standing still it is as before
	has(t, rated(t, r, check.RotaryMoment, false), force*0.03, 2, check.Clear)
	e := r.Loads.Units[0].Envelope
	if e == nil || e.Moving == nil || !close(math.Abs(e.Moving.Moment), *q.Load, 1e-9) || !close(math.Abs(e.Most), force*0.03, 1e-9) {
		t.Errorf("envelope %+v", e)
	}
}

// The envelope has each tilt's least and greatest over the rotary axis.
func TestEnvelope(t *testing.T) {
	e := newShop().check(t).Loads.Units[0].Envelope
	if e == nil || len(e.Points) != 121 || *e.Rating != 5 || e.Own {
		t.Fatalf("%+v", e)
	}
	for _, p := range e.Points {
		want := force * 0.03 * math.Cos(p.Tilt*math.Pi/180)
		if !close(p.Greatest, want, 1e-7) || !close(p.Least, -want, 1e-7) || p.Highest != p.Greatest || p.Lowest != p.Least {
			t.Errorf("%+v, want %v", p, want)
		}
	}
}

func TestOverloads(t *testing.T) {
	for _, c := range []struct{ name, file, old, new, says string }{
		{"tilt", "unit.toml", "tilt_moment = 5", "tilt_moment = 0.5", "moment about A: 0.5543 N m, 0.0543 more than the 0.5 it is rated for"},
		{"rotary", "unit.toml", "rotary_moment = 2", "rotary_moment = 0.55", "moment about C: 0.5543 N m"},
		{"faceplate", "unit.toml", "faceplate_moment = 3", "faceplate_moment = 0.6", "moment on the faceplate"},
		{"load", "unit.toml", "[0, 4], [100, 2]", "[0, 4], [100, 1]", "faceplate load: 1.884 kg"},
		{"load at any tilt", "unit.toml", "[[-100, 1], [0, 4], [100, 2]]", "1.8", "faceplate load: 1.884 kg"},
		{"table", "machine.toml", "table_load = 200", "table_load = 20", "table load: "},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := newShop().edit(t, c.file, c.old, c.new).check(t)
			f := finding(t, r, c.says)
			if f.Verdict != check.Overload || f.Question != check.Carrying || r.Verdict != check.Overload {
				t.Errorf("%+v", f)
			}
			if c.name == "table" && f.Bodies[0] != "machine" || c.name != "table" && f.Bodies[0] != "unit" {
				t.Errorf("told of %q", f.Bodies)
			}
		})
	}
}

// What is over its rating standing still is not found again accelerating; what is over it only
// then is.
func TestOverloadOnlyAccelerating(t *testing.T) {
	s := newShop().edit(t, "unit.toml", "tilt_moment = 5", "tilt_moment = 0.555\ntilt_acceleration = 360")
	if r := s.check(t); len(r.Findings) != 1 || !strings.HasPrefix(r.Findings[0].Reason, "moment about A, accelerating: ") {
		t.Errorf("%+v", r.Findings)
	}
	s.edit(t, "unit.toml", "tilt_moment = 0.555", "tilt_moment = 0.5")
	if r := s.check(t); len(r.Findings) != 1 || !strings.HasPrefix(r.Findings[0].Reason, "moment about A: ") {
		t.Errorf("%+v", r.Findings)
	}
}

// What is exactly as much as is rated is not too much.
func TestAtTheRating(t *testing.T) {
	r := newShop().edit(t, "unit.toml", "[[-100, 1], [0, 4], [100, 2]]", "1.884").check(t)
	has(t, rated(t, r, check.FaceplateLoad, false), block, 1.884, check.Clear)
}

// What cannot be told is unproven, with the reason, and never passed.
func TestUnproven(t *testing.T) {
	steel := `material = "steel"`
	for _, c := range []struct {
		name, file, old, new string
		kinds                []string
		says                 string
	}{
		{"a rating missing", "unit.toml", "rotary_moment = 2\n", "", []string{check.RotaryMoment}, "no rating given: moment about C"},
		{"no faceplate moment", "unit.toml", "faceplate_moment = 3\n", "", []string{check.FaceplateMoment}, "no rating given: moment on the faceplate"},
		{"no load", "unit.toml", "load = [[-100, 1], [0, 4], [100, 2]]\n", "", []string{check.FaceplateLoad}, "no rating given: faceplate load"},
		{"load of less tilt", "unit.toml", "[100, 2]", "[60, 3]", []string{check.FaceplateLoad}, "no rating given beyond A -100 to 60 deg"},
		{"stock of what", "stock.toml", steel, "", []string{check.TableLoad, check.FaceplateLoad, check.TiltMoment, check.RotaryMoment, check.FaceplateMoment}, "mass not known: stock (neither mass nor material)"},
		{"unit of what", "unit.toml", steel, "", []string{check.TableLoad}, "unit/base (neither mass nor material), unit/cradle"},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := newShop().edit(t, c.file, c.old, c.new).check(t)
			for _, kind := range c.kinds {
				if q := rated(t, r, kind, false); q.Verdict == nil || *q.Verdict != check.Unproven || q.Reason == "" {
					t.Errorf("%s: %+v", kind, q)
				}
			}
			for i := range r.Loads.Rated {
				q := &r.Loads.Rated[i]
				if *q.Verdict != check.Clear && !strings.Contains(strings.Join(c.kinds, ", "), q.Kind) {
					t.Errorf("%s is %v too: %s", q.Kind, *q.Verdict, q.Reason)
				}
			}
			if f := finding(t, r, c.says); f.Verdict != check.Unproven {
				t.Errorf("%+v", f)
			}
		})
	}
}

// What the maker does not rate, and the file says so, is not judged, and that is printed.
func TestWhatTheMakerDoesNotRate(t *testing.T) {
	r := newShop().edit(t, "unit.toml", "rotary_moment = 2\nfaceplate_moment = 3\n", "not_rated = [\"rotary_moment\", \"faceplate_moment\"]\n").check(t)
	for _, kind := range []string{check.RotaryMoment, check.FaceplateMoment} {
		if q := rated(t, r, kind, false); q.Verdict != nil || q.Rating != nil {
			t.Errorf("%+v", q)
		}
	}
	if said := strings.Join(r.Stated, "\n"); len(r.Findings) != 0 || !strings.Contains(said, "moment about C of unit: its maker rates none") ||
		!strings.Contains(said, "moment on the faceplate of unit: its maker rates none") {
		t.Errorf("findings %+v, stated %q", r.Findings, r.Stated)
	}
	has(t, rated(t, r, check.TiltMoment, false), force*0.03, 5, check.Clear)
}

// Several ratings that are missing are one finding.
func TestMissingRatingsAreOneFinding(t *testing.T) {
	r := newShop().edit(t, "unit.toml", "rotary_moment = 2\n", "").edit(t, "unit.toml", "tilt_moment = 5\n", "").check(t)
	f := finding(t, r, "no rating given: moment about A, moment about C")
	if len(r.Findings) != 1 || f.Bodies[0] != "unit" {
		t.Errorf("%+v", r.Findings)
	}
}

// An open solid with a stated mass weighs, but where its middle is nobody can tell.
func TestOpenSolid(t *testing.T) {
	s := newShop().edit(t, "stock.toml", `material = "steel"`, "mass = 3")
	lines := strings.SplitN(s["block.stl"], "endfacet", 2)
	s["block.stl"] = "solid box" + lines[1]
	r := s.check(t)
	has(t, rated(t, r, check.FaceplateLoad, false), 3, 2.2, check.Overload)
	if f := finding(t, r, "where its mass is cannot be told"); f.Verdict != check.Unproven {
		t.Errorf("%+v", f)
	}
}

// A mass stated for several solids of which one is open weighs on the table, but cannot be shared
// out among what moves and what does not.
func TestMassThatCannotBeSharedOut(t *testing.T) {
	s := newShop().edit(t, "unit.toml", `material = "steel"`, "mass = 50").edit(t, "unit.toml", "includes_own = false", "includes_own = true")
	r := s.check(t)
	has(t, rated(t, r, check.TableLoad, false), block+50, 200, check.Clear)
	if said := strings.Join(r.Loads.Notes, "\n"); !strings.Contains(said, "shared out among the solids by volume: unit") {
		t.Errorf("notes %q", r.Loads.Notes)
	}
	s["base.stl"] = "solid box" + strings.SplitN(s["base.stl"], "endfacet", 2)[1]
	r = s.check(t)
	has(t, rated(t, r, check.TableLoad, false), block+50, 200, check.Clear)
	if f := finding(t, r, "unit/cradle (the mass of unit cannot be shared out: a solid of it is not closed)"); f.Verdict != check.Unproven {
		t.Errorf("%+v", f)
	}
}

// A unit without any ratings is told and not judged, and nothing is found of it.
func TestUnratedIsNotJudged(t *testing.T) {
	s := newShop()
	s["unit.toml"] = unitFile
	r := s.check(t)
	q := rated(t, r, check.TiltMoment, false)
	if q.Verdict != nil || q.Rating != nil || q.Load == nil || !close(*q.Load, force*0.03, 1e-9) {
		t.Errorf("%+v", q)
	}
	if len(r.Findings) != 0 || !strings.Contains(strings.Join(r.Loads.Notes, "\n"), "no [ratings] stated, so that loads are told and not judged, without what the unit itself moves: unit") {
		t.Errorf("findings %+v, notes %q", r.Findings, r.Loads.Notes)
	}
	// Nor are masses that nobody knows anything to find fault with.
	s.edit(t, "machine.toml", "table_load = 200\n", "").edit(t, "stock.toml", `material = "steel"`, "")
	if r = s.check(t); len(r.Findings) != 0 {
		t.Errorf("findings %+v", r.Findings)
	}
	if q := rated(t, r, check.TableLoad, false); q.Load != nil || q.Verdict != nil || !strings.Contains(q.Reason, "mass not known: stock") {
		t.Errorf("%+v", q)
	}
}

// What the table carries is told where nothing says how much it may.
func TestTableLoadNotRated(t *testing.T) {
	r := newShop().edit(t, "machine.toml", "table_load = 200\n", "").check(t)
	q := rated(t, r, check.TableLoad, false)
	total := block + 7850*(0.34*0.08*0.1+0.28*0.04*0.018+0.06*0.03*0.01)
	if q.Load == nil || !close(*q.Load, total, 1e-6) || q.Rating != nil || q.Margin != nil || q.Verdict != nil || len(r.Findings) != 0 {
		t.Errorf("%+v, %+v", q, r.Findings)
	}
}

// A load is printed so that it can be told from its rating: the block's 1.884 kg and 4 g more.
func TestOverloadByLittle(t *testing.T) {
	s := newShop().edit(t, "stock.toml", `material = "steel"`, "mass = 800.00402").edit(t, "unit.toml", "[[-100, 1], [0, 4], [100, 2]]", "800")
	finding(t, s.check(t), "faceplate load: 800.004 kg, 0.00402 more than the 800 it is rated for")
	for _, c := range []struct {
		load, rating float64
		want         string
	}{{0.5543, 0.5, "0.5543"}, {800.4, 800, "800.4"}, {800.00402, 800, "800.004"}, {12345.6, 12000, "12350"}} {
		if got := distinct(c.load, c.rating); got != c.want {
			t.Errorf("%v over %v: %s, want %s", c.load, c.rating, got, c.want)
		}
	}
}

// Where nothing turns and nothing is rated there is nothing to look at, which is said.
func TestNothingToLookAt(t *testing.T) {
	s := newShop().edit(t, "machine.toml", "table_load = 200\n", "")
	s["setup.toml"] = strings.Replace(strings.Replace(setupFile, "on = \"unit/face\"", "on = \"table\"", 1), "commanded = { A = [-30, 90], C = [0, 360] }\n", "", 1)
	s["setup.toml"] = strings.Replace(s["setup.toml"], "  { name = \"unit\", component = \"unit.toml\", on = \"table\", pins = [\"B3\", \"H3\"] },\n", "", 1)
	r := s.check(t)
	if r.Loads != nil || len(r.Assumed) != 1 || !strings.Contains(r.Assumed[0], "no loads are looked at") || !strings.Contains(r.Assumed[0], "the table carries 1.884 kg") {
		t.Errorf("%+v, %q", r.Loads, r.Assumed)
	}
}

// What stands beside the table does not load it.
func TestOnlyTheTableIsLoaded(t *testing.T) {
	s := newShop().edit(t, "setup.toml", "place = [", "place = [\n  { name = \"crate\", component = \"stock.toml\", on = \"bed\", at = [0, -900, 0], within = 0 },")
	total := block + 7850*(0.34*0.08*0.1+0.28*0.04*0.018+0.06*0.03*0.01)
	has(t, rated(t, s.check(t), check.TableLoad, false), total, 200, check.Clear)
}

// On a horizontal machine gravity goes along its own up: the same block about C, whose axis
// lies level at A 0, and nothing about A, whose axis is upright.
func TestGravityGoesAlongUp(t *testing.T) {
	r := newShop().edit(t, "machine.toml", "up = [0, 0, 1]", "up = [1, 0, 0]").check(t)
	has(t, rated(t, r, check.TiltMoment, false), 0, 5, check.Clear)
	has(t, rated(t, r, check.RotaryMoment, false), force*0.03, 2, check.Clear)
}

// A rotary axis under the unit that is upright changes nothing; one that lies is more than is
// looked at, and so is an axis on the faceplate.
func TestOtherAxes(t *testing.T) {
	under := `  { letter = "B", moves = "workpiece", carried_by = "X", direction = [0, 0, 1], centre = [0, 0, 0], travel = [-20, 20] },
]
solid`
	s := newShop().edit(t, "machine.toml", "]\nsolid", under).edit(t, "machine.toml", `file = "table.stl", carried_by = "X"`, `file = "table.stl", carried_by = "B"`)
	has(t, rated(t, s.check(t), check.TiltMoment, false), force*0.03, 5, check.Clear)
	s.edit(t, "machine.toml", `letter = "B", moves = "workpiece", carried_by = "X", direction = [0, 0, 1]`, `letter = "B", moves = "workpiece", carried_by = "X", direction = [0, 1, 0]`)
	r := s.check(t)
	if f := finding(t, r, "axis B tilts it"); f.Verdict != check.Unproven || rated(t, r, check.TiltMoment, false).Load != nil {
		t.Errorf("%+v", f)
	}
	s = newShop().edit(t, "unit.toml", "unlimited = true },", "unlimited = true },\n  { letter = \"U\", carried_by = \"C\", direction = [1, 0, 0], travel = [0, 20] },").
		edit(t, "unit.toml", `file = "faceplate.stl", carried_by = "C"`, `file = "faceplate.stl", carried_by = "U"`)
	if f := finding(t, s.check(t), "axis U moves "); f.Verdict != check.Unproven {
		t.Errorf("%+v", f)
	}
}

// A machine's own rotary table is rated in the machine file: it carries the unit and the block,
// 1.884 kg and what the unit weighs; upright, nothing pulls about it. As long as the unit on it moves,
// its moments cannot be told.
func TestMachineWithARotaryTable(t *testing.T) {
	table := `  { letter = "B", moves = "workpiece", carried_by = "X", direction = [0, 0, 1], centre = [0, 0, 0], travel = [-180, 180] },
]
ratings = { rotary = "B", load = 20, rotary_moment = 10, faceplate_moment = 30, face = [0, 0, 0], includes_own = false }
solid`
	s := newShop().edit(t, "machine.toml", "]\nsolid", table).edit(t, "machine.toml", `file = "table.stl", carried_by = "X"`, `file = "table.stl", carried_by = "B"`)
	if f := finding(t, s.check(t), "axis A moves unit/cradle on it: moment about B"); f.Verdict != check.Unproven {
		t.Errorf("%+v", f)
	}
	r := s.edit(t, "setup.toml", "A = [-30, 90], C = [0, 360]", "A = [0, 0], C = [0, 0]").check(t)
	total := block + 7850*(0.34*0.08*0.1+0.28*0.04*0.018+0.06*0.03*0.01)
	f := finding(t, r, "faceplate load: ")
	if len(r.Findings) != 1 || f.Bodies[0] != "machine" || f.Verdict != check.Overload {
		t.Errorf("%+v", r.Findings)
	}
	for i := range r.Loads.Rated {
		q := &r.Loads.Rated[i]
		switch {
		case q.Unit == "machine" && q.Kind == check.FaceplateLoad:
			has(t, q, total, 20, check.Overload)
		case q.Unit == "machine" && q.Kind == check.RotaryMoment:
			has(t, q, 0, 10, check.Clear)
		case q.Unit == "unit" && q.Kind == check.TiltMoment:
			has(t, q, 0, 5, check.Clear) // the block is off along A
		}
	}
}

// Three rotary axes one on another, and nobody says which one tilts: nothing is guessed.
func TestThreeAxesWithoutRatings(t *testing.T) {
	s := newShop()
	s["unit.toml"] = strings.Replace(strings.Replace(unitFile, `letter = "C", carried_by = "A"`, `letter = "C", carried_by = "B"`, 1),
		"axis = [", "axis = [\n  { letter = \"B\", carried_by = \"A\", direction = [0, 1, 0], centre = [0, 0, 200], travel = [-10, 10] },", 1)
	r := s.check(t)
	if len(r.Loads.Units) != 0 || len(r.Findings) != 0 || !strings.Contains(strings.Join(r.Loads.Notes, "\n"), "unit has 3 rotary axes one on another") {
		t.Errorf("%+v", r.Loads)
	}
}

// The unit seated half a turn round carries the same.
func TestSeatedTheOtherWayRound(t *testing.T) {
	r := newShop().edit(t, "setup.toml", `["B3", "H3"]`, `["H3", "B3"]`).check(t)
	has(t, rated(t, r, check.TiltMoment, false), force*0.03, 5, check.Clear)
	has(t, rated(t, r, check.FaceplateMoment, false), force*math.Hypot(0.02, 0.03), 3, check.Clear)
}

func TestDigits(t *testing.T) {
	for _, c := range []struct {
		v    float64
		n    int
		want string
	}{{0, 3, "0"}, {1234.56, 3, "1230"}, {0.554271, 4, "0.5543"}, {0.0542, 3, "0.0542"}, {800, 12, "800"}, {999.96, 4, "1000"}, {0.1, 12, "0.1"}} {
		if got := digits(c.v, c.n); got != c.want {
			t.Errorf("%v to %d digits: %s, want %s", c.v, c.n, got, c.want)
		}
	}
}

func TestInterrupted(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	s := newShop().load(t)
	if err := Check(ctx, s, check.NewReport(s), Options{}); !errors.Is(err, context.Canceled) {
		t.Errorf("error %v", err)
	}
}
