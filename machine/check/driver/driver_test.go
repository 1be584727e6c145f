package driver

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"gridswing/machine/check"
)

// With the cradle upright, 10 to either side of its axis, the wide part of the key is 30 -
// 15 - 10 = 5 from it. The block is 50 - 30 - 15 = 5 away, but it is not there yet.
func TestClear(t *testing.T) {
	r := newShop().check(t)
	if len(r.Findings) != 0 || r.Verdict != check.Clear {
		t.Fatalf("%v\n%s", r.Verdict, summary(r))
	}
	for _, p := range r.Pairs {
		if p.Bodies[1] == "block" || p.Bodies[0] != "key at the screws of unit" || p.Demand != 2 {
			t.Errorf("%+v", p)
		}
	}
	if len(r.Pairs) != 4 { // table, head, base, cradle
		t.Errorf("%d pairs", len(r.Pairs))
	}
	s := r.Fastening.Screws
	if len(s) != 1 || s[0].Driver != "key" || s[0].Verdict == nil || *s[0].Verdict != check.Clear || s[0].Of != "unit" ||
		s[0].Thread != "M12" || *s[0].Length != 40 || s[0].Below {
		t.Errorf("%+v", s)
	}
}

// At home the cradle lies over the screw.
func TestCradleInTheWay(t *testing.T) {
	r := newShop().edit(t, "setup.toml", "loading = { A = 90 }", "").check(t)
	f := find(r, "unit/cradle")
	if f == nil || f.Verdict != check.Contact || f.Question != check.Driving || f.Bodies[0] != "key at screw 1 (M12) of unit" || r.Verdict != check.Contact {
		t.Fatalf("%s", summary(r))
	}
	if at := f.At[len(f.At)-1]; at.Axis != "height above the head" || !(at.Value >= 0 && at.Value <= 78+1e-6) {
		t.Errorf("%+v: the key begins above the cradle from 110 - 32 = 78 on", at)
	}
	// The witness is on the cradle, in the bed frame: at home X is 50, and so the table at -50.
	for _, p := range f.Points {
		if math.Abs(p[0]+50) > 15.1 || p[1] > 30.1 || p[1] < 15-0.1 || p[2] < 90-0.1 || p[2] > 110.1 {
			t.Errorf("witness %v", p)
		}
	}
	// Left of the cradle's end nothing is above the screw: then it is free at home, too.
	r = newShop().edit(t, "setup.toml", "loading = { A = 90 }", "").edit(t, "unit.toml", "[0, 30, 0]", "[-80, 30, 0]").check(t)
	if r.Verdict != check.Clear {
		t.Errorf("%s", summary(r))
	}
}

// Closer than demanded: 5 mm, less what 72 sides make of a radius of 15.
func TestTight(t *testing.T) {
	r := newShop().edit(t, "setup.toml", "loading = 2", "loading = 6").check(t)
	f := find(r, "unit/cradle")
	if f == nil || f.Verdict != check.Tight || len(r.Findings) != 1 {
		t.Fatalf("%s", summary(r))
	}
	if *f.Smallest > 5 || *f.Smallest < 5-15*(1/math.Cos(math.Pi/72)-1)-0.001 || f.Demand != 6 {
		t.Errorf("smallest %v", *f.Smallest)
	}
}

// The block is in the way once it is loaded before the unit, and from where the key comes.
func TestOrder(t *testing.T) {
	over := func() shop { return newShop().with("block.stl", solidBox(-30, 20, 120, 30, 90, 125)) }
	if r := over().check(t); r.Verdict != check.Clear {
		t.Errorf("loaded later\n%s", summary(r))
	}
	first := func() shop {
		return over().edit(t, "setup.toml", "machine = ", "loading_order = [\"block\", \"unit\"]\nmachine = ")
	}
	// On the table at (0, 0), the block is over the screw.
	if r := first().check(t); r.Verdict != check.Contact || find(r, "block") == nil {
		t.Errorf("loaded first\n%s", summary(r))
	}
	// The key ends 60 above the head, at 92: from a free height of 20 it does not get up to 120.
	if r := first().edit(t, "setup.toml", "free_height = 100", "free_height = 20").check(t); r.Verdict != check.Clear {
		t.Errorf("from below the block\n%s", summary(r))
	}
}

// Play of the seat moves the screw against what stands on the table, but not against the
// unit's own cradle.
func TestPlay(t *testing.T) {
	loose := func(edit string) *check.Report {
		return newShop().edit(t, "setup.toml", "loading = 2", "loading = 6").
			edit(t, "setup.toml", "machine = ", "loading_order = [\"block\", \"unit\"]\nmachine = ").
			edit(t, "unit.toml", "play = 0", edit).check(t)
	}
	tightly, loosely := loose("play = 0"), loose("play = 0.4")
	for body, less := range map[string]float64{"unit/cradle": 0, "block": 0.2} {
		a, b := find(tightly, body), find(loosely, body)
		if a == nil || b == nil || math.Abs(*a.Smallest-*b.Smallest-less) > 0.02 {
			t.Errorf("%s: with play %+v, without %+v", body, b, a)
		}
	}
}

// A screw from below is got at from below: through the table, here.
func TestFromBelow(t *testing.T) {
	r := newShop().edit(t, "unit.toml", "clamped = 20,", "clamped = 20, from = \"below\",").check(t)
	if f := find(r, "machine/table"); f == nil || f.Verdict != check.Contact || !r.Fastening.Screws[0].Below {
		t.Errorf("%s", summary(r))
	}
}

// Of several drivers that fit, the one that gets there is told; where none does, the one
// that gets nearest to it.
func TestSeveralDrivers(t *testing.T) {
	wide := `{ name = "wide", fits = "M12", profile = [[0, 45], [60, 45]], free_height = 100 }`
	wider := strings.NewReplacer("45", "60", "wide", "wider").Replace(wide)
	small := strings.NewReplacer("M12", "M10", "45", "10", "wide", "small").Replace(wide)
	drivers := func(list ...string) *check.Report {
		s := newShop().edit(t, "setup.toml", "loading = 2", "loading = 3.5")
		return s.edit(t, "setup.toml", "driver = [", "driver = ["+strings.Join(list, ", ")+", ").check(t)
	}
	if r := drivers(small, wide); r.Fastening.Screws[0].Driver != "key" || r.Verdict != check.Clear {
		t.Errorf("%s", summary(r))
	}
	// Both sink into the cradle, whose side is 20 from the axis of the screw.
	s := newShop().edit(t, "setup.toml", "key = 10", "key = 12").edit(t, "setup.toml", "driver = [", "driver = ["+wider+", "+wide+", ")
	if r := s.check(t); r.Verdict != check.Contact || !slices.Contains([]string{"wide", "wider"}, r.Fastening.Screws[0].Driver) {
		t.Errorf("%s", summary(r))
	}
}

// What is not known is said, and is not clear.
func TestUnknown(t *testing.T) {
	for _, c := range []struct{ old, new, says string }{
		{"clamped = 20,", "", "does not state what is clamped"},
		{`"M12"`, `"M10"`, "no driver fits screw 1 (M10) of unit"},
		{`"M12"`, `"M30"`, "no table has the thread"},
	} {
		r := newShop().edit(t, "unit.toml", c.old, c.new).check(t)
		if len(r.Findings) != 1 || r.Findings[0].Verdict != check.Unproven || !strings.Contains(r.Findings[0].Reason, c.says) ||
			r.Verdict != check.Unproven || *r.Fastening.Screws[0].Verdict != check.Unproven {
			t.Errorf("%s\n%s", c.says, summary(r))
		}
	}
	// Screws of one component are told together.
	r := newShop().edit(t, "unit.toml", "fastener = [", "fastener = [{ at = [99, 25, 0], thread = \"M12\", name = \"left\" }, ").
		edit(t, "unit.toml", "clamped = 20,", "").check(t)
	if len(r.Findings) != 1 || !strings.Contains(r.Findings[0].Reason, "head of screws left, 2 (M12) of unit is") {
		t.Errorf("%s", summary(r))
	}
	// A head that is stated takes the place of ISO 4762's; its key is not known.
	r = newShop().edit(t, "unit.toml", "length = 40,", "length = 40, head = [19, 8],").check(t)
	if len(r.Findings) != 1 || !strings.Contains(r.Findings[0].Reason, "no driver fits") || r.Fastening.Screws[0].Torque != nil {
		t.Errorf("%s", summary(r))
	}
	r = newShop().edit(t, "unit.toml", "length = 40,", "length = 40, head = [19, 8],").edit(t, "setup.toml", "key = 10", "fits = \"M12\"").check(t)
	if r.Verdict != check.Clear {
		t.Errorf("%s", summary(r))
	}
}

// Without drivers it is said that nothing was looked at, and without screws nothing is.
func TestNothingToLookAt(t *testing.T) {
	s := newShop()
	text := s["setup.toml"]
	i := strings.Index(text, "driver = ")
	s["setup.toml"] = text[:i] + text[strings.Index(text, "place = "):]
	r := s.check(t)
	if len(r.Findings) != 0 || len(r.Pairs) != 0 || !slices.ContainsFunc(r.Assumed, func(a string) bool { return strings.Contains(a, "no driver is stated") }) ||
		r.Fastening.Screws[0].Verdict != nil {
		t.Errorf("%q\n%s", r.Assumed, summary(r))
	}
	text = s["unit.toml"]
	s["unit.toml"] = text[:strings.Index(text, "fastener = ")]
	if r := s.check(t); r.Fastening != nil || len(r.Assumed) != 0 {
		t.Errorf("%q, %+v", r.Assumed, r.Fastening)
	}
	// Optional, and nothing under it.
	r = newShop().edit(t, "unit.toml", "class = \"8.8\"", "optional = true").check(t)
	if r.Fastening != nil {
		t.Errorf("%+v", r.Fastening)
	}
}

// M12 8.8: VDI 2230, 43.1 kN and 84 N m at a friction of 0.12, 41.9 kN at 0.14.
func TestTorque(t *testing.T) {
	r := newShop().check(t)
	s := r.Fastening.Screws[0]
	if math.Abs(*s.Preload-43100) > 200 || math.Abs(*s.Torque-84) > 2 || r.Fastening.Stated ||
		!slices.ContainsFunc(r.Assumed, func(a string) bool { return strings.Contains(a, "friction of 0.12") }) {
		t.Errorf("%v N, %v N m, %q", *s.Preload, *s.Torque, r.Assumed)
	}
	r = newShop().edit(t, "setup.toml", "machine = ", "friction = 0.14\nmachine = ").check(t)
	s = r.Fastening.Screws[0]
	if math.Abs(*s.Preload-41900) > 200 || math.Abs(*s.Torque-94) > 2 || !r.Fastening.Stated || !slices.Equal(r.Assumed, []string{headsWhere}) {
		t.Errorf("%v N, %v N m, %q", *s.Preload, *s.Torque, r.Assumed)
	}
	r = newShop().edit(t, "unit.toml", `, class = "8.8"`, "").check(t)
	if s := r.Fastening.Screws[0]; s.Torque != nil || s.Preload != nil || !slices.Equal(r.Assumed, []string{headsWhere}) {
		t.Errorf("without a class: %+v", s)
	}
}

// Blocks anywhere around the screw: what the key sweeps is a stack of cylinders, each from
// its lower end on the head to its upper one at the free height, and the distance of an
// upright cylinder from a box parallel to the axes is that in plan and that in height.
func TestAgainstCylinders(t *testing.T) {
	random := rand.New(rand.NewPCG(4, 7))
	const demand, top, free = 2, 32, 100
	steps := [][3]float64{{0, 40, 11.5 / 2}, {40, 60, 15}}
	verdicts := map[check.Verdict]int{}
	for n := range 40 {
		lo := [3]float64{random.Float64()*80 - 60, random.Float64()*80 - 40, random.Float64() * 200}
		size := [3]float64{5 + random.Float64()*30, 5 + random.Float64()*30, 5 + random.Float64()*60}
		want := math.Inf(1)
		for _, s := range steps {
			gap := func(x, from, to float64) float64 { return max(0, from-x, x-to) }
			plan := math.Hypot(gap(0, lo[0], lo[0]+size[0]), gap(30, lo[1], lo[1]+size[1])) - s[2]
			high := max(0, lo[2]-(top+s[1]+free), top+s[0]-(lo[2]+size[2]))
			want = min(want, math.Hypot(max(0, plan), high))
		}
		r := newShop().with("block.stl", solidBox(lo[0], lo[1], lo[2], lo[0]+size[0], lo[1]+size[1], lo[2]+size[2])).
			edit(t, "setup.toml", "machine = ", "loading_order = [\"block\", \"unit\"]\nmachine = ").check(t)
		f := find(r, "block")
		verdict := check.Clear
		if f != nil {
			verdict = f.Verdict
		}
		verdicts[verdict]++
		const polygon = 0.02 // of 72 sides at a radius of 15, mm; and 0.01 of the search
		switch verdict {
		case check.Clear:
			if want < demand {
				t.Errorf("%d: clear at %.4f mm", n, want)
			}
		case check.Tight:
			if want < 0 || want > demand+polygon || math.Abs(*f.Smallest-want) > polygon+0.01 {
				t.Errorf("%d: tight, smallest %.4f, at %.4f mm", n, *f.Smallest, want)
			}
		case check.Contact:
			if want > polygon {
				t.Errorf("%d: contact at %.4f mm", n, want)
			}
		default:
			if want > polygon+0.01 {
				t.Errorf("%d: %v at %.4f mm", n, verdict, want)
			}
		}
	}
	for _, v := range []check.Verdict{check.Clear, check.Contact} {
		if verdicts[v] < 5 {
			t.Errorf("of 40 only %d are %v", verdicts[v], v)
		}
	}
}

// A screw on the cradle turns with it: tilted by 90 it points in +Y, its seat 10 from the
// axis, its head's end at 10 + 20 + 12 = 42 and the key's, at its free height, at 42 + 60 +
// 100 = 202. The wall stands at 205. Against it counts where the table stands, too.
func TestScrewOnWhatTilts(t *testing.T) {
	tilted := func() shop {
		return newShop().with("block.stl", solidBox(-40, -25, 0, 40, 25, 20)).with("wall.stl", solidBox(-60, 205, 50, -20, 250, 150)).
			edit(t, "block.toml", "solid =", "seat = { pins = [[-25, 0, 0], [25, 0, 0]], play = 0 }\n"+
				"fastener = [{ at = [0, 0, 0], thread = \"M12\", clamped = 20 }]\nsolid =").
			edit(t, "unit.toml", "seat =", "grid = [{ name = \"face\", solid = \"cradle\", carried_by = \"A\", origin = [-25, 0, 110], columns = 2, rows = 1, pitch = 50 }]\nseat =").
			edit(t, "setup.toml", `on = "table", at = [0, 0, 0], within = 0`, `on = "unit/face", pins = ["A1", "B1"]`).
			edit(t, "machine.toml", "solid = [", "solid = [\n  { name = \"wall\", role = \"guards\", file = \"wall.stl\", carried_by = \"bed\", chord_error = 0 },").
			edit(t, "machine.toml", `"guards", `, "")
	}
	if r := tilted().check(t); r.Verdict != check.Clear || len(r.Fastening.Screws) != 2 {
		t.Errorf("%s", summary(r))
	}
	r := tilted().edit(t, "setup.toml", "loading = 2", "loading = 4").check(t)
	f := find(r, "machine/wall")
	if f == nil || f.Verdict != check.Tight || math.Abs(*f.Smallest-3) > 0.01 || f.Bodies[0] != "key at screw 1 (M12) of block" {
		t.Fatalf("%s", summary(r))
	}
	if at := f.At[len(f.At)-1]; math.Abs(at.Value-100) > 0.2 {
		t.Errorf("nearest %v above the head, which is at its free height", at.Value)
	}
	// With the table at the other side the wall is not there.
	if r := tilted().edit(t, "setup.toml", "loading = 2", "loading = 4").edit(t, "setup.toml", "{ A = 90 }", "{ A = 90, X = -150 }").check(t); find(r, "machine/wall") != nil {
		t.Errorf("%s", summary(r))
	}
}
