package reach

import (
	"math"
	"strings"
	"testing"

	"gridswing/machine/check"
)

// The same block on other machines: its zero on the top of a block that stands on the table.

// upright is the shop without the unit: three axes.
func upright(t testing.TB) shop {
	s := newShop()
	s.edit(t, "setup.toml", `  { name = "unit", component = "unit.toml", on = "table", pins = ["B3", "H3"] },`, "").
		edit(t, "setup.toml", `on = "unit/face", pins = ["A1", "B1"]`, `on = "table", at = [0, 0, 0], within = 0`)
	return s
}

// fourAxes has the unit without its C: the faceplate is on the cradle.
func fourAxes(t testing.TB) shop {
	return newShop().edit(t, "unit.toml", `carried_by = "C"`, `carried_by = "A"`).
		edit(t, "unit.toml", `  { letter = "C", carried_by = "A", direction = [0, 0, 1], centre = [0, 0, 0], unlimited = true },`, "")
}

// swivel is the upright machine with a head that swivels about Y, 150 above the gauge line, the
// head's solid with it.
func swivel(t testing.TB) shop {
	return upright(t).edit(t, "machine.toml", "]\nspindle", "  { letter = \"B\", moves = \"tool\", carried_by = \"Z\", direction = [0, 1, 0], centre = [0, 0, 150], travel = [-95, 95], home = 0 },\n]\nspindle").
		edit(t, "machine.toml", `spindle = { carried_by = "Z"`, `spindle = { carried_by = "B"`).
		edit(t, "machine.toml", `file = "head.stl", carried_by = "Z"`, `file = "head.stl", carried_by = "B"`)
}

// horizontal has its spindle along Z and the block on a table that turns about Y: a block
// that stands with its own Z up.
func horizontal() shop {
	s := newShop()
	s["machine.toml"] = `
kind = "machine"
name = "horizontal"
units = "mm"
up = [0, 1, 0]
declared_absent = ["changer", "hoses", "guards", "spindle nose", "column"]
axis = [
  { letter = "Z", moves = "workpiece", carried_by = "bed", direction = [0, 0, 1], travel = [0, 700], home = 700 },
  { letter = "B", moves = "workpiece", carried_by = "Z", direction = [0, 1, 0], centre = [0, 0, 0], unlimited = true },
  { letter = "X", moves = "tool", carried_by = "bed", direction = [1, 0, 0], travel = [-300, 300], home = 0 },
  { letter = "Y", moves = "tool", carried_by = "X", direction = [0, 1, 0], travel = [0, 500], home = 500 },
]
spindle = { carried_by = "Y", gauge_point = [0, 0, 0], axis = [0, 0, 1] }
solid = [
  { name = "pallet", role = "table", file = "pallet.stl", carried_by = "B", chord_error = 0 },
  { name = "head", role = "head", file = "head.stl", carried_by = "Y", chord_error = 0 },
]
`
	s["pallet.stl"] = solidBox(-100, -50, -100, 100, 0, 100)
	s["head.stl"] = solidBox(-80, -80, 0.5, 80, 80, 300)
	s["block.stl"] = solidBox(-40, 0, -30, 40, 60, 30)
	s["stock.toml"] = strings.Replace(stockFile, "seat = { pins = [[-25, 0, 0], [25, 0, 0]], play = 0 }", "", 1)
	s["setup.toml"] = `
kind = "setup"
name = "test setup"
units = "mm"
machine = "machine.toml"
tools = ["tools.toml"]
demand = { default = 2, travel = 1 }
place = [
  { name = "stock", component = "stock.toml", on = "pallet", at = [0, 0, 0], within = 0 },
]
part = [{ name = "part", place = "stock" }]
`
	return s
}

// Directions that machines with fewer axes cannot present, with the angle by which they
// miss, by hand. A turns about X: what leans along X is out of reach by the angle to the
// plane square to X.
func TestWhatIsNotPresented(t *testing.T) {
	atan := func(x float64) float64 { return math.Atan(x) * 180 / math.Pi }
	for _, c := range []struct {
		name string
		shop shop
		axis string
		miss float64 // degrees; 0: presented
	}{
		{"three axes, up", upright(t), "[0, 0, 1]", 0},
		{"three axes, leaning", upright(t), "[0.1, 0, 1]", atan(0.1)},
		{"three axes, to the side", upright(t), "[0, 1, 0]", 90},
		{"four axes, leaning back", fourAxes(t), "[0, 0.5, 1]", 0},
		{"four axes, leaning aside", fourAxes(t), "[0.1, 0, 1]", atan(0.1)},
		{"four axes, to the side", fourAxes(t), "[1, 0, 0]", 90},
		{"four axes, askew", fourAxes(t), "[1, 1, 1]", atan(1 / math.Sqrt2)},
		{"five axes, askew", newShop(), "[1, 1, 1]", 0},
		{"a swivelling head, aside", swivel(t), "[0.1, 0, 1]", 0},
		{"a swivelling head, back", swivel(t), "[0, 0.1, 1]", atan(0.1)},
		{"a turning table, round", horizontal(), "[1, 0, 1]", 0},
		{"a turning table, upward", horizontal(), "[0, 1, 0]", 90},
	} {
		_, r := c.shop.hole("op", 1, "[0, 0, 0]", c.axis, 5).check(t)
		f := operation(t, r, "op").Features[0]
		nearly(t, c.name, f.Presented[0].Miss, c.miss, 1e-6)
		if missed := met(r, "op", "", ""); c.miss > 0 && (f.Verdict != check.OverTravel || missed == nil || missed.Question != check.Presents) {
			t.Errorf("%s: %v %s", c.name, f.Verdict, f.Reason)
		}
	}
}

// Features that are clear on each machine, and what stands in their way.
func TestOtherMachines(t *testing.T) {
	post := func(s shop, on string, x0, y0, z0, x1, y1, z1 float64) shop {
		return s.box(t, "post", on, x0, y0, z0, x1, y1, z1, 0)
	}
	side := "[[operation.hole]]\nat = [[0, 30, 30]]\naxis = [0, 0, 1]\ndepth = 10\ndepth_to = \"tip\"\n"
	for _, c := range []struct {
		name string
		shop shop
		want check.Verdict
	}{
		{"three axes", upright(t).hole("op", 1, "[0, 0, 0]", upward, 10), check.Clear},
		{"three axes and a post", post(upright(t), "table", 12, -5, 0, 30, 5, 100).hole("op", 1, "[0, 0, 0]", upward, 10), check.Contact},
		{"four axes", fourAxes(t).hole("op", 1, "[0, -30, -20]", "[0, -1, 0]", 10), check.Clear},
		{"a swivelling head", swivel(t).hole("op", 1, "[0, 0, 0]", "[0.5, 0, 1]", 10), check.Clear},
		{"a swivelling head and a post", post(swivel(t), "table", 54, -5, 0, 64, 5, 100).hole("op", 1, "[0, 0, 0]", "[0.5, 0, 1]", 10), check.Contact},
		{"a turning table", horizontal().operation("op", 1, "", side), check.Clear},
		{"a turning table and a post", post(horizontal(), "pallet", 0, 0, 45, 10, 40, 55).operation("op", 1, "", side), check.Contact},
	} {
		s, r := c.shop.check(t)
		if got := operation(t, r, "op").Verdict; got != c.want {
			t.Errorf("%s: %v, want %v\n%s", c.name, got, c.want, summary(r))
		}
		o := newOracle(t, s, r, 1)
		o.feature(&s.Operations[0], &s.Operations[0].Features[0], &operation(t, r, "op").Features[0], 40)
	}
}

// A tool that is swivelled may not meet what does not swivel with it: a fork that Z
// carries. With its axis along (1, 0, 1) the tool points from the pivot, 150 above the gauge
// line, to -X and down: 150 below the pivot it is 150 to the left.
func TestToolAgainstItsOwnHead(t *testing.T) {
	for x, want := range map[float64]check.Verdict{100: check.Clear, -150: check.Contact} {
		s := swivel(t).edit(t, "machine.toml", `  { name = "head",`, `  { name = "fork", role = "other", file = "fork.stl", carried_by = "Z", chord_error = 0 },
  { name = "head",`)
		s["fork.stl"] = solidBox(x, -20, 0, x+30, 20, 60)
		_, r := s.hole("op", 1, "[0, 0, 0]", "[1, 0, 1]", 10).check(t)
		if got := operation(t, r, "op").Verdict; got != want {
			t.Errorf("a fork at %g: %v, want %v\n%s", x, got, want, summary(r))
		}
		if f := met(r, "op", "T1 holder", "machine/fork"); (f != nil) != (want == check.Contact) {
			t.Errorf("a fork at %g\n%s", x, summary(r))
		}
	}
}

// Both positions of a feature are listed, the chosen one first, and an axis that may
// stand anywhere is named.
func TestPositions(t *testing.T) {
	_, r := newShop().hole("tilted", 1, "[0, 0, 0]", "[0, -0.5, 1]", 5).hole("up", 1, "[0, 0, 0]", upward, 5).check(t)
	p := operation(t, r, "tilted").Features[0].Presented
	if len(p) != 2 || !p[0].Chosen || p[1].Chosen || p[0].Verdict != check.Clear || p[1].Why == "" {
		t.Fatalf("%+v", p)
	}
	// About X by the angle whose tangent is 0.5, one way, or the other way with C half round.
	tilt := math.Atan(0.5) * 180 / math.Pi
	for i := range p {
		nearly(t, "tilt", math.Abs(p[i].At[0].Value), tilt, 1e-9)
		if turned := math.Abs(p[i].At[1].Value); math.Abs(turned) > 1e-9 && math.Abs(turned-180) > 1e-9 {
			t.Errorf("C at %g", p[i].At[1].Value)
		}
	}
	if p[0].At[0].Value*p[1].At[0].Value >= 0 {
		t.Errorf("tilts %g and %g: both to one side", p[0].At[0].Value, p[1].At[0].Value)
	}
	if up := operation(t, r, "up").Features[0].Presented; up[0].Free != "C" {
		t.Errorf("with the spindle along C: %+v", up)
	}
}

// Positions that an operation states are kept to, and wrong ones are told with the angle.
func TestStatedPositions(t *testing.T) {
	hole := func(positions string) *check.Feature {
		_, r := newShop().operation("op", 1, "positions = { "+positions+" }\n",
			"[[operation.hole]]\nat = [[0, -30, -20]]\naxis = [0, -1, 0]\ndepth = 5\ndepth_to = \"tip\"\n").check(t)
		return &operation(t, r, "op").Features[0]
	}
	for _, c := range []struct {
		stated string
		a, c   float64
	}{{"A = 90", 90, math.NaN()}, {"A = -90", -90, math.NaN()}, {"A = 90, C = 0", 90, 0}, {"A = -90, C = 0", -90, 0}, {"A = -90, C = 180", -90, 180}, {"A = 90, C = 360", 90, 360}, {"A = 90, C = 180", 90, 180}} {
		f := hole(c.stated)
		at := f.Presented[0].At
		nearly(t, c.stated, at[0].Value, c.a, 1e-9)
		if !math.IsNaN(c.c) {
			nearly(t, c.stated, at[1].Value, c.c, 1e-9)
		}
		if f.Verdict != check.Clear && f.Presented[0].Miss == 0 {
			t.Errorf("%s: %v %s", c.stated, f.Verdict, f.Reason)
		}
	}
	f := hole("A = 80, C = 0")
	if f.Verdict != check.Unproven || !strings.Contains(f.Reason, "states") {
		t.Errorf("%v %s", f.Verdict, f.Reason)
	}
	if d := f.Presented[0].Miss; math.Abs(d-10) > 1e-6 && math.Abs(d-170) > 1e-6 {
		t.Errorf("misses by %g degrees", d)
	}
}
