package stack

import (
	"strings"
	"testing"

	"gridswing/geom/shape"
	"gridswing/machine/check"

	"github.com/golang/geo/r2"
)

// Two vises on one plate and a bar that spans both: everything goes together, and
// the swing agrees.
func TestBarInTwoVises(t *testing.T) {
	s, r := newShop().checked(t)
	swung(t, s, r)
	goesTogether(t, r)
	plate := seatOf(t, r, "plate")
	// 16 H7/g6: 0.006 to 0.035 (ISO 286-2: H7 of 10 to 18 is 0/+18, g6 is -17/-6).
	for _, l := range plate.Locators {
		near(t, "least clearance", l.Least, 0.006, 1e-12)
		near(t, "largest clearance", l.Most, 0.035, 1e-12)
	}
	// Half of 0.006 at either pin, less half of two zones of 0.005.
	near(t, "spare", plate.Spare, 0.006-0.005, 1e-9)
	// (c1 + c2) / 2L with c = 0.035 and the zone of a hole, 0.005.
	near(t, "angle", &plate.Play.Angle, 0.040/300*180/3.141592653589793, 1e-9)
	for _, f := range plate.Fasteners {
		// 35 less 17 clamped; 1.25 diameters in grey iron: common practice.
		near(t, "engaged", f.Engaged, 18, 1e-9)
		near(t, "needed", f.Needed, 15, 1e-9)
	}
	vise := seatOf(t, r, "vise 2")
	near(t, "engaged", vise.Fasteners[0].Engaged, 30-14, 1e-9)
	near(t, "needed", vise.Fasteners[0].Needed, 12, 1e-9)
	if got := vise.Fasteners[0].Hole; got != "top F2" {
		t.Errorf("front screw of vise 2 in %q", got)
	}
	bar := seatOf(t, r, "bar")
	near(t, "held", bar.Grip.Held, 20, 1e-9)
	if len(bar.Grip.Jaws) != 4 {
		t.Errorf("jaws %q", bar.Grip.Jaws)
	}
}

// What does not go together is told with component and hole.
func TestDoesNotGoTogether(t *testing.T) {
	for _, c := range []struct {
		name           string
		file, old, new string
		verdict        check.Verdict
		words          []string
	}{
		{name: "pin fits", file: "vise.toml", old: `fit = "16 g6"`, new: `fit = "16 g6", pin_length = 12`, verdict: check.Clear},
		{name: "pin bottoms", file: "vise.toml", old: `fit = "16 g6"`, new: `fit = "16 g6", pin_length = 12.5`,
			verdict: check.Contact, words: []string{"the pin of vise 1 in hole A3", "12.5 mm long", "12 mm deep"}},
		{name: "land", file: "vise.toml", old: `fit = "16 g6"`, new: `fit = "16 g6", position_tolerance = 0.02, relieved = 6`,
			verdict: check.WithinPlay, words: []string{"vise 2 may not go on", "narrower land"}},
		{name: "spacing at worst", file: "plate.toml", old: "position_tolerance = 0.005, bore", new: "position_tolerance = 0.008, bore",
			verdict: check.WithinPlay, words: []string{"vise 1", "0.002 mm", "A3", "C3", "relieved"}},
		{name: "wrong thread", file: "vise.toml", old: `[0, -50, 0], thread = "M12"`, new: `[0, -50, 0], thread = "M10"`,
			verdict: check.Contact, words: []string{"fastener front (M10)", "hole B2 of plate/top", "M12, expected M10"}},
		{name: "no hole", file: "vise.toml", old: "[0, -50, 0]", new: "[0, -45, 0]",
			verdict: check.Contact, words: []string{"fastener front", "no hole"}},
		{name: "bottoms", file: "vise.toml", old: "length = 45, clamped = 15", new: "length = 50, clamped = 15",
			verdict: check.Contact, words: []string{"fastener front", "bottoms", "35 mm", "30"}},
		{name: "too short", file: "vise.toml", old: "length = 45, clamped = 15", new: "length = 40, clamped = 15",
			verdict: check.Tight, words: []string{"fastener front", "11 mm", "12 in steel"}},
		{name: "far too short", file: "vise.toml", old: "length = 45, clamped = 15", new: "length = 25, clamped = 15",
			verdict: check.Contact, words: []string{"does not reach the thread of the hole", "4 mm"}},
		{name: "far too short, depth not stated", file: "plate.toml", old: "thread_from = 14, thread_depth = 30", new: "thread_from = 30",
			verdict: check.Contact, words: []string{"fastener front", "ends where the thread of the hole begins", "nothing of it holds"}},
		{name: "clamped unknown", file: "vise.toml", old: "length = 45, clamped = 15", new: "length = 45",
			verdict: check.Unproven, words: []string{"clamped", "not stated"}},
		{name: "counterbore too narrow", file: "plate.toml", old: "counterbore = [20, 13]", new: "counterbore = [18, 13]",
			verdict: check.Contact, words: []string{"fastener 1", "18.27 mm", "18 mm"}}, // ISO 4762: dk of M12, knurled, 18.27
		{name: "depth of the thread", file: "plate.toml", old: "thread_from = 14, thread_depth = 30", new: "thread_from = 14",
			verdict: check.Unproven, words: []string{"fastener front", "bottoms cannot be told", "depth of the thread of the hole"}},
		{name: "material", file: "plate.toml", old: `material = "steel"`, new: "mass = 20",
			verdict: check.Unproven, words: []string{"fastener front", "material of the hole is not stated"}},
		{name: "plastic", file: "plate.toml", old: `material = "steel"`, new: `material = "acetal"`,
			verdict: check.Unproven, words: []string{"fastener front", "acetal"}},
		{name: "class that the tables have not", file: "vise.toml", old: `clamped = 15, class = "8.8"`, new: `clamped = 15, class = "4.6"`,
			verdict: check.Clear},
		{name: "head that stands out", file: "plate.toml", old: "counterbore = [20, 13]", new: "counterbore = [20, 10]", verdict: check.Clear},
		{name: "head of its own", file: "plate.toml", old: "counterbore = [20, 13]", new: "counterbore = [20, 13], head = [22, 8]",
			verdict: check.Contact, words: []string{"fastener 1", "22 mm across"}},
		{name: "fine thread", file: "vise.toml", old: `[0, -50, 0], thread = "M12"`, new: `[0, -50, 0], thread = "M12x1.25"`,
			verdict: check.Contact, words: []string{"fastener front (M12x1.25)", "M12, expected M12x1.25"}},
		{name: "no clearance hole", file: "vise.toml", old: `{ name = "front",`, new: `{ name = "front", from = "below",`,
			verdict: check.Contact, words: []string{"fastener front", "comes from below", "no clearance hole"}},
		{name: "not on its parallels", file: "setup.toml", old: "depth = 20", new: `depth = 20, parallels = "plate/plate"`,
			verdict: check.Unproven, words: []string{"bar does not lie on plate: 40 mm"}},
		{name: "on its parallels", file: "setup.toml", old: "depth = 20", new: `depth = 20, parallels = "vise 1/body"`, verdict: check.Clear},
		{name: "jaws above it", file: "setup.toml", old: "at = [100, 0, 40]", new: "at = [100, 0, 10]",
			verdict: check.Unproven, words: []string{"a jaw stands above or below bar"}},
		{name: "depth of the grip", file: "setup.toml", old: "depth = 20", new: "depth = 18",
			verdict: check.Unproven, words: []string{"18 mm", "20 mm", "bar"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, r := newShop().edit(t, c.file, c.old, c.new).checked(t)
			if c.verdict == check.Clear {
				goesTogether(t, r)
				return
			}
			f := told(t, r, c.words)
			if f.Verdict != c.verdict {
				t.Errorf("%s: %s", f.Verdict, f.Reason)
			}
		})
	}
}

// told returns the first finding that has all the words.
func told(t *testing.T, r *check.Report, words []string) *check.Finding {
	t.Helper()
next:
	for i := range r.Findings {
		for _, w := range words {
			if !strings.Contains(r.Findings[i].Reason, w) {
				continue next
			}
		}
		return &r.Findings[i]
	}
	for _, f := range r.Findings {
		t.Logf("%s: %s", f.Verdict, f.Reason)
	}
	t.Fatalf("nothing is told with %q", words)
	return nil
}

// One of two screws is over no hole: what is left does not hold the vise.
func TestTooFewScrews(t *testing.T) {
	_, r := newShop().edit(t, "vise.toml", "[0, -50, 0]", "[0, -45, 0]").checked(t)
	if f := told(t, r, []string{"vise 1 is held by 1 of its screws", "2 at least", "common practice"}); f.Verdict != check.Unproven {
		t.Error(f.Verdict)
	}
	// Left out where nothing is under it, if it may be.
	_, r = newShop().edit(t, "vise.toml", `{ name = "front", at = [0, -50, 0]`, `{ name = "front", optional = true, at = [0, -45, 0]`).checked(t)
	for _, f := range r.Findings {
		if strings.Contains(f.Reason, "front") {
			t.Error(f.Reason)
		}
	}
	told(t, r, []string{"vise 2 is held by 1 of its screws"})
	// Both with 11 of 12 mm of thread: they hold, by too little.
	short := newShop()
	for range 2 {
		short.edit(t, "vise.toml", "length = 45, clamped = 15", "length = 40, clamped = 15")
	}
	_, r = short.checked(t)
	if vise := seatOf(t, r, "vise 1"); vise.Verdict != check.Tight || strings.Contains(reasons(r), "is held by") {
		t.Errorf("%s\n%s", vise.Verdict, reasons(r))
	}
	// No screw at all, and the file wants some.
	bare := newShop()
	bare["plate.toml"] = bare["plate.toml"][:strings.Index(bare["plate.toml"], "fastener = [")]
	_, r = bare.checked(t)
	if f := only(t, r); f.Verdict != check.Unproven || !strings.Contains(f.Reason, "plate has no fastener stated, expected 4 at least") {
		t.Errorf("%s: %s", f.Verdict, f.Reason)
	}
	_, r = newShop().edit(t, "plate.toml", "least_fasteners = 4", "least_fasteners = 5").checked(t)
	if f := only(t, r); !strings.Contains(f.Reason, "by 4 of its screws, expected 5 at least (as its file says)") {
		t.Error(f.Reason)
	}
}

// Two components that want the same hole.
func TestHoleClaimedTwice(t *testing.T) {
	_, r := newShop().edit(t, "setup.toml", `pins = ["E3", "G3"]`, `pins = ["C3", "E3"]`).checked(t)
	f := told(t, r, []string{"hole C3 of plate/top", "vise 1", "vise 2"})
	if f.Verdict != check.Contact {
		t.Error(f.Verdict)
	}
	if got := strings.Count(reasons(r), "claimed twice"); got != 1 {
		t.Errorf("told %d times:\n%s", got, reasons(r))
	}
}

func reasons(r *check.Report) (all string) {
	for _, f := range r.Findings {
		all += f.Reason + "\n"
	}
	return all
}

// retractable gives the plate pins to set, and the vises bores for them.
func retractable(t *testing.T, withdrawn string) shop {
	s := newShop().
		edit(t, "plate.toml", "thread_depth = 30 }", `thread_depth = 30, retractable = { fit = "16 g6", height = 10, at = ["A3", "B3", "C3", "D3", "E3", "G3"] } }`).
		edit(t, "vise.toml", `fit = "16 g6"`, `located_by = "set pins", bore = "16 H7"`).
		edit(t, "setup.toml", `pins = ["B3", "H3"]`, `pins = ["B3", "H3"], withdrawn = `+withdrawn)
	// The vise has bores of 16 where its pins go, and is hollow nowhere else.
	bores := &shape.Plate{Outline: shape.Rect(-60, -60, 60, 60), Thickness: 40, Round: shape.Round{Chord: 0.02}}
	for _, x := range []float64{-50, 50} {
		bores.Holes = append(bores.Holes, shape.Hole{At: r2.Point{X: x}, Radius: 8.2})
	}
	surface, err := bores.Surface()
	if err != nil {
		t.Fatal(err)
	}
	return s.with("vise.stl", encode(surface))
}

// Pins that are set and locate nothing stand up; withdrawn ones are nowhere.
func TestRetractablePins(t *testing.T) {
	s, r := retractable(t, `["unused"]`).checked(t)
	swung(t, s, r)
	goesTogether(t, r)
	// The component's bore on the pin, and the pin in the plate's: 0.035 twice.
	near(t, "clearance", seatOf(t, r, "vise 1").Locators[0].Most, 0.070, 1e-12)
	up := 0
	for _, p := range s.Pins {
		if !p.Withdrawn {
			up++
		}
		if (p.Hole == "B3" || p.Hole == "D3") != p.Withdrawn || p.Body >= 0 {
			t.Errorf("pin %s: %+v", p.Hole, p)
		}
	}
	if up != 4 {
		t.Errorf("%d pins set", up)
	}

	// B3 is under vise 1; D3 stands free between the two vises.
	s, r = retractable(t, `["D3"]`).checked(t)
	f := only(t, r)
	if f.Verdict != check.Contact || !strings.Contains(f.Reason, "the pin at top/B3 of plate is set and stands under vise 1") {
		t.Errorf("%s: %s", f.Verdict, f.Reason)
	}
	swung(t, s, r)
	if !strings.Contains(bodiesOf(r), "vise 1/body and plate/top pins") {
		t.Errorf("the swing does not see it:\n%s", bodiesOf(r))
	}
	s, r = retractable(t, `["B3"]`).checked(t)
	swung(t, s, r)
	goesTogether(t, r)
}

func bodiesOf(r *check.Report) (all string) {
	for _, f := range r.Findings {
		all += f.Bodies[0] + " and " + f.Bodies[1] + "\n"
	}
	return all
}

// A stack of three risers, each screwed to the one below; stock bolted directly to the
// top one.
func TestThreeRisersAndStock(t *testing.T) {
	riser := `
kind = "component"
name = "riser"
units = "mm"
role = "workholding"
material = "steel"
solid = [{ name = "riser", file = "riser.stl", chord_error = 0 }]
seat = { pins = [[-50, 0, 0], [50, 0, 0]], fit = "16 g6", relieved = 2.5, height_tolerance = 0.01, parallelism = 0.01 }
grid = [{ name = "top", solid = "riser", origin = [-50, -50, 60], columns = 3, rows = 3, pitch = 50,
  position_tolerance = 0.02, bore = "16 H7", thread = "M12", thread_from = 16, thread_depth = 40 }]
fastener = [
  { at = [0, -50, 0], thread = "M12", length = 50, clamped = 16, class = "8.8" },
  { at = [0, 50, 0], thread = "M12", length = 50, clamped = 16, class = "8.8" },
]
`
	stock := `
kind = "component"
name = "block"
units = "mm"
role = "stock"
material = "steel"
solid = [{ name = "block", file = "block.stl", chord_error = 0 }]
fastener = [
  { at = [-50, 0, 0], thread = "M12", length = 50, clamped = 17, counterbore = [20, 13], class = "8.8" },
  { at = [50, 0, 0], thread = "M12", length = 50, clamped = 17, counterbore = [20, 13], class = "8.8" },
]
`
	setup := `
kind = "setup"
name = "three risers"
units = "mm"
machine = "machine.toml"
demand = { default = 1 }
place = [
  { name = "riser 1", component = "riser.toml", on = "top", pins = ["D3", "F3"] },
  { name = "riser 2", component = "riser.toml", on = "riser 1", pins = ["A2", "C2"] },
  { name = "riser 3", component = "riser.toml", on = "riser 2", pins = ["C2", "A2"] },
  { name = "block", component = "block.toml", on = "riser 3/top", at = [50, 50, 0], within = 0.2 },
]
`
	s := newShop().with("riser.toml", riser).with("block.toml", stock).with("setup.toml", setup).
		with("riser.stl", box(-80, -80, 0, 80, 80, 60)).with("block.stl", box(-70, -30, 0, 70, 30, 30)).
		edit(t, "machine.toml", "thread_depth = 25", "thread_depth = 40").
		edit(t, "machine.toml", "position_tolerance = 0.005", "position_tolerance = 0.02")
	loaded, r := s.checked(t)
	swung(t, loaded, r)
	goesTogether(t, r)
	if got := seatOf(t, r, "riser 3"); len(got.Fasteners) != 2 || got.Fasteners[0].Hole != "top B3" {
		t.Errorf("riser 3, half a turn round: %+v", got.Fasteners)
	}
	// 16 H7/g6, land 2.5: the corner of the land, at 1.25, moved by T stays in the
	// bore of 16 as long as (1.25 + T)^2 - 1.25^2 <= (16^2 - 15.994^2)/4 = 0.047991, so T = -1.25 +
	// sqrt(1.25^2 + 0.047991): 0.019051 by hand. The first pin takes half of 0.006.
	near(t, "spare", seatOf(t, r, "riser 2").Spare, 0.003+0.019051-0.020, 1e-6)
	// The seat allows, at each hole, 0.035 and 0.02 together, three times over.
	block := r.Stack.Locations[0]
	if block.Part != "block" || block.Point != check.PartZero || block.To != check.FromSeat {
		t.Fatalf("%+v", block)
	}
	// Sideways at the middle of each riser's pins 0.0275, and 0.2 of the block; the
	// leans of lower risers add the height above them times 0.01/160.
	lean := 0.01 / 160 * (180 + 120 + 60)
	// A bound: what is turned by all that is under it is charged a little more.
	if by := block.Along[1] - (3*0.0275 + 0.2 + lean); by < 0 || by > 0.001 {
		t.Errorf("off along Y %g", block.Along[1])
	}
	if block.Likely >= block.Off {
		t.Errorf("root-sum-square %g, worst case %g", block.Likely, block.Off)
	}
}

// A component that stands half a turn round: exchanged pins.
func TestTrunnionHalfATurn(t *testing.T) {
	s := trunnionShop(t)
	setup, r := s.checked(t)
	goesTogether(t, r)
	s = trunnionShop(t).edit(t, "setup.toml", `pins = ["B3", "H3"]`, `pins = ["H3", "B3"]`)
	turned, r2 := s.checked(t)
	goesTogether(t, r2)
	a, b := seatOf(t, r, "trunnion"), seatOf(t, r2, "trunnion")
	for i, want := range []string{"top B2", "top H2", "top B4", "top H4"} {
		if a.Fasteners[i].Hole != want {
			t.Errorf("screw %d in %s, want %s", i+1, a.Fasteners[i].Hole, want)
		}
		if opposite := a.Fasteners[3-i].Hole; b.Fasteners[i].Hole != opposite {
			t.Errorf("half a turn round screw %d in %s, want %s", i+1, b.Fasteners[i].Hole, opposite)
		}
	}
	// As far off either way.
	for i := range r.Stack.Locations {
		near(t, "off", &r2.Stack.Locations[i].Off, r.Stack.Locations[i].Off, 1e-6)
	}
	if len(setup.Seats) != len(turned.Seats) {
		t.Error("seats")
	}
}

// trunnionShop is a tilting unit on the table with a block on its faceplate, on a
// centre bore and a relieved clocking pin.
func trunnionShop(t *testing.T) shop {
	unit := `
kind = "component"
name = "unit"
units = "mm"
role = "workholding"
material = "cast iron"
solid = [
  { name = "base", file = "base.stl", chord_error = 0 },
  { name = "faceplate", file = "face.stl", carried_by = "C", chord_error = 0, material = "steel" },
]
axis = [
  { letter = "A", direction = [1, 0, 0], centre = [0, 0, 200], travel = [-90, 90], accuracy = 0.0125 },
  { letter = "C", carried_by = "A", direction = [0, 0, 1], centre = [0, 0, 0], travel = [0, 180], accuracy = 0.0056 },
]
seat = { pins = [[-150, 0, 0], [150, 0, 0]], fit = "16 g6", solids = ["base"] }
grid = [{ name = "rings", solid = "faceplate", origin = [0, 0, 180], rings = [40, 60], per_ring = 8, centre = "30 H7",
  position_tolerance = 0.02, bore = "12 H7", thread = "M10", thread_from = 12, thread_depth = 30 }]
fastener = [
  { at = [-150, -50, 0], thread = "M12" }, { at = [150, -50, 0], thread = "M12" },
  { at = [-150, 50, 0], thread = "M12" }, { at = [150, 50, 0], thread = "M12" },
]
`
	block := `
kind = "component"
name = "block"
units = "mm"
role = "stock"
material = "steel"
solid = [{ name = "block", file = "block.stl", chord_error = 0 }]
seat = { pins = [[0, 0, 0], [60, 0, 0]], fit = ["30 g6", "12 g6"], relieved = 2 }
fastener = [
  { at = [0, 40, 0], thread = "M10", length = 40, clamped = 15 }, { at = [0, -40, 0], thread = "M10", length = 40, clamped = 15 },
]
`
	setup := `
kind = "setup"
name = "trunnion"
units = "mm"
machine = "machine.toml"
demand = { default = 1 }
commanded = { A = [-90, 0], C = [0, 90] }
place = [
  { name = "trunnion", component = "unit.toml", on = "top", pins = ["B3", "H3"] },
  { name = "block", component = "block.toml", on = "trunnion/rings", pins = ["centre", "B1"] },
]
`
	return newShop().with("unit.toml", unit).with("block.toml", block).with("setup.toml", setup).
		with("base.stl", box(-180, -80, 0, 180, 80, 40)).with("face.stl", box(-80, -80, 160, 80, 80, 180)).
		with("block.stl", box(-70, -50, 0, 70, 50, 60))
}
