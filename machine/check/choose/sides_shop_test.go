package choose

import (
	"context"
	"fmt"
	"testing"

	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/internal/shoptest"
	"gridswing/machine/check/proof"
	"gridswing/machine/check/reach"
)

// sideShop is the files of a shop whose trunnion carries a block of 80 x 60 x 40: A tilts about
// X 200 above the table, C turns the block; its top, with the part's zero in the middle, is 20
// above the line of A. With A and C at 0 the spindle looks at the top.
type sideShop map[string]string

func newSideShop() sideShop {
	return sideShop{
		"machine.toml": `
kind = "machine"
name = "small mill"
units = "mm"
up = [0, 0, 1]
declared_absent = ["changer", "hoses", "guards", "spindle nose", "column"]
axis = [
  { letter = "Y", moves = "workpiece", carried_by = "bed", direction = [0, 1, 0], travel = [-300, 300], home = 0 },
  { letter = "X", moves = "workpiece", carried_by = "Y", direction = [1, 0, 0], travel = [-300, 300], home = 0 },
  { letter = "Z", moves = "tool", carried_by = "bed", direction = [0, 0, 1], travel = [0, 600], home = 600 },
]
spindle = { carried_by = "Z", gauge_point = [0, 0, 0], axis = [0, 0, 1] }
solid = [
  { name = "table", role = "table", file = "table.stl", carried_by = "X", chord_error = 0 },
  { name = "head", role = "head", file = "head.stl", carried_by = "Z", chord_error = 0 },
]
grid = [{ name = "top", solid = "table", origin = [-200, -100, 0], columns = 9, rows = 5, pitch = 50 }]
offsets = { method = "turned-by-control", lengths = "absolute" }
`,
		"unit.toml": `
kind = "component"
name = "unit"
units = "mm"
role = "workholding"
material = "steel"
solid = [
  { name = "base", file = "base.stl", chord_error = 0 },
  { name = "faceplate", file = "faceplate.stl", carried_by = "C", chord_error = 0 },
]
axis = [
  { letter = "A", direction = [1, 0, 0], centre = [0, 0, 200], travel = [-100, 100] },
  { letter = "C", carried_by = "A", direction = [0, 0, 1], centre = [0, 0, 0], unlimited = true, roll_over = "shorter" },
]
seat = { pins = [[-150, 0, 0], [150, 0, 0]], play = 0 }
grid = [{ name = "face", solid = "faceplate", origin = [-25, 0, 180], columns = 2, rows = 1, pitch = 50 }]
`,
		"stock.toml": `
kind = "component"
name = "block"
units = "mm"
role = "stock"
material = "steel"
solid = [{ name = "block", file = "block.stl", chord_error = 0 }]
seat = { pins = [[-25, 0, 0], [25, 0, 0]], play = 0 }
`,
		"tools.toml": `
kind = "tools"
name = "crib"
units = "mm"
holder = [{ name = "chuck", profile = [[0, 50], [30, 50], [30, 30], [70, 30]], bore = 13, grip = 25 }]
cutter = [{ name = "drill 8", kind = "drill", DC = 8, SIG = 118, APMX = 40, DMM = 8, OAL = 80 },
  { name = "end mill 10", kind = "end mill", DC = 10, APMX = 20, LU = 30, DN = 9, DMM = 10, OAL = 72 }]
tool = [{ number = 2, cutter = "drill 8", holder = "chuck", stick_out = 50 },
  { number = 4, cutter = "end mill 10", holder = "chuck", stick_out = 40 }]
`,
		"setup.toml": `
kind = "setup"
name = "test setup"
units = "mm"
machine = "machine.toml"
tools = ["tools.toml"]
demand = { default = 2, travel = 1 }
place = [
  { name = "unit", component = "unit.toml", on = "table", pins = ["B3", "H3"] },
  { name = "stock", component = "stock.toml", on = "unit/face", pins = ["A1", "B1"] },
]
part = [{ name = "part", place = "stock", at = [0, 0, 40] }]
`,
		"table.stl":     shoptest.Box(-250, -150, -50, 250, 150, 0),
		"head.stl":      shoptest.Box(-60, -60, 0.5, 60, 190, 300),
		"base.stl":      shoptest.Box(-170, -40, 0, -150, 40, 220) + shoptest.Box(150, -40, 0, 170, 40, 220),
		"faceplate.stl": shoptest.Box(-30, -15, 170, 30, 15, 180),
		"block.stl":     shoptest.Box(-40, -30, 0, 40, 30, 40),
	}
}

func (s sideShop) edit(t testing.TB, file, old, new string) sideShop {
	t.Helper()
	shoptest.Edit(t, s, file, old, new)
	return s
}

// A hole of the block: where it is, and its axis.
const (
	front = "at = [0, -30, -20]\naxis = [0, -1, 0]" // A 90 C 0, or A -90 C 180
	back  = "at = [0, 30, -20]\naxis = [0, 1, 0]"   // A 90 C 180, or A -90 C 0
	right = "at = [40, 0, -20]\naxis = [1, 0, 0]"   // A 90 C 90, or A -90 C 270
	left  = "at = [-40, 0, -20]\naxis = [-1, 0, 0]" // A 90 C 270, or A -90 C 90
	upper = "at = [0, 0, 0]\naxis = [0, 0, 1]"      // A 0, C anywhere
)

// holes adds an operation with holes 10 deep.
func (s sideShop) holes(name string, holes ...string) sideShop {
	s["setup.toml"] += fmt.Sprintf("\n[[operation]]\nname = %q\ntool = 2\napproach = 5\nretract = 25\n", name)
	for i, h := range holes {
		s["setup.toml"] += fmt.Sprintf("[[operation.hole]]\nname = \"hole %d\"\n%s\ndepth = 10\ndepth_to = \"tip\"\n", i+1, h)
	}
	return s
}

// tower stands a block on the faceplate or the table, its corners in the coordinates there.
func (s sideShop) tower(t testing.TB, name, on string, x0, y0, z0, x1, y1, z1 float64) sideShop {
	t.Helper()
	s[name+".stl"] = shoptest.Box(x0, y0, z0, x1, y1, z1)
	s[name+".toml"] = fmt.Sprintf("kind = \"component\"\nname = %q\nunits = \"mm\"\nrole = \"workholding\"\nmaterial = \"steel\"\n"+
		"solid = [{ name = %q, file = \"%s.stl\", chord_error = 0 }]\n", name, name, name)
	return s.edit(t, "setup.toml", "place = [\n", fmt.Sprintf("place = [\n  { name = %q, component = \"%s.toml\", on = %q, at = [0, 0, 0], within = 0 },\n", name, name, on))
}

func (s sideShop) load(t testing.TB) *machine.Setup {
	t.Helper()
	return shoptest.Load(t, s, "setup.toml")
}

func (s sideShop) sides(t testing.TB) *BothSides {
	t.Helper()
	return sidesOf(t, s.load(t), proof.Options{Tests: 200_000})
}

func sidesOf(t testing.TB, s *machine.Setup, o proof.Options) *BothSides {
	t.Helper()
	found, err := Sides(context.Background(), s, o)
	if err != nil {
		t.Fatal(err)
	}
	return found
}

// reached is what the full check says of a program.
func reached(t testing.TB, s *machine.Setup) *check.Report {
	t.Helper()
	r := check.NewReport(s)
	if err := reach.Check(context.Background(), s, r, reach.Options{Tests: 200_000}); err != nil {
		t.Fatal(err)
	}
	return r
}
