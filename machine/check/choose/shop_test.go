package choose

import (
	"context"
	"fmt"
	"strings"
	"testing"
	"testing/fstest"

	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/driver"
	"gridswing/machine/check/internal/shoptest"
	"gridswing/machine/check/loads"
	"gridswing/machine/check/proof"
	"gridswing/machine/check/reach"
	"gridswing/machine/check/stack"
	"gridswing/machine/check/swing"

	"pgregory.net/rapid"
)

// A shop small enough to be checked from scratch many times: a table in X and Y, a head
// in Z, a unit with a tilt axis 200 above the table and a face of 4 x 3 holes, a riser on
// it and a block on that. Walls before and behind it stop what is high.
const (
	machineFile = `
kind = "machine"
name = "test machine"
units = "mm"
up = [0, 0, 1]
table_load = 200
declared_absent = ["changer", "hoses", "guards", "spindle nose"]
axis = [
  { letter = "Y", moves = "workpiece", carried_by = "bed", direction = [0, 1, 0], travel = [-200, 200], home = 150 },
  { letter = "X", moves = "workpiece", carried_by = "Y", direction = [1, 0, 0], travel = [-300, 300], home = 0 },
  { letter = "Z", moves = "tool", carried_by = "bed", direction = [0, 0, 1], travel = [0, 500], home = 500 },
]
spindle = { carried_by = "Z", gauge_point = [0, 0, 0], axis = [0, 0, 1] }
solid = [
  { name = "table", role = "table", file = "table.stl", carried_by = "X", chord_error = 0 },
  { name = "column", role = "column", file = "column.stl", carried_by = "bed", chord_error = 0 },
  { name = "head", role = "head", file = "head.stl", carried_by = "Z", chord_error = 0 },
]
grid = [{ name = "top", solid = "table", origin = [-200, -100, 0], columns = 9, rows = 5, pitch = 50 }]

[offsets]
method = "turned-by-control"
lengths = "absolute"
`
	unitFile = `
kind = "component"
name = "unit"
units = "mm"
role = "workholding"
material = "steel"
solid = [
  { name = "base", file = "base.stl", chord_error = 0 },
  { name = "cradle", file = "cradle.stl", carried_by = "A", chord_error = 0 },
  { name = "faceplate", file = "faceplate.stl", carried_by = "C", chord_error = 0 },
]
axis = [
  { letter = "A", direction = [1, 0, 0], centre = [0, 0, 200], travel = [-100, 100] },
  { letter = "C", carried_by = "A", direction = [0, 0, 1], centre = [0, 0, 0], unlimited = true },
]
seat = { pins = [[-150, 0, 0], [150, 0, 0]], play = 0.02 }
grid = [{ name = "face", solid = "faceplate", origin = [-75, -50, 180], columns = 4, rows = 3, pitch = 50 }]

[ratings]
tilt = "A"
rotary = "C"
load = 40
tilt_moment = %TILT%
rotary_moment = 40
faceplate_moment = 40
face = [0, 0, 180]
includes_own = false
`
	blockFile = `
kind = "component"
name = "block"
units = "mm"
role = "stock"
material = "steel"
solid = [{ name = "block", file = "block.stl", chord_error = 0.01 }]
seat = { pins = [[-25, 0, 0], [25, 0, 0]], play = 0.02 }
`
	toolFile = `
kind = "tools"
name = "crib"
units = "mm"
holder = [{ name = "chuck", profile = [[0, 50], [30, 50], [30, 30], [70, 30]], bore = 13, grip = 25 }]
cutter = [
  { name = "end mill 10", kind = "end mill", DC = 10, APMX = 20, LU = 30, DN = 9, DMM = 10, OAL = 82 },
  { name = "drill 8", kind = "drill", DC = 8, SIG = 118, APMX = 40, DMM = 8, OAL = 90 },
]
tool = [
  { number = 1, cutter = "end mill 10", holder = "chuck", stick_out = %OUT% },
  { number = 2, cutter = "drill 8", holder = "chuck", stick_out = 50 },
]
`
	setupFile = `
kind = "setup"
name = "test setup"
units = "mm"
machine = "machine.toml"
tools = ["tools.toml"]
demand = { default = %DEMAND%, rest = 0.5, travel = 1 }
commanded = { A = [%FROM%, %TO%], C = [0, 360] }
place = [
  { name = "unit", component = "unit.toml", on = "table", pins = ["B3", "H3"] },
  #stack
  { name = "riser", component = "riser-0.toml", on = "unit/face", pins = ["B2", "C2"] },
  #block
  { name = "block", component = "block.toml", on = "riser", pins = ["A1", "B1"] },
  #end
]
part = [{ name = "part", place = "block", at = [0, 0, 40] }]

[[operation]]
name = "top"
tool = 1
approach = 5
retract = 25
[[operation.hole]]
at = [[%X%, 0, 0], [-20, 10, 0]]
axis = [0, 0, 1]
depth = 8
depth_to = "tip"

[[operation]]
name = "side"
tool = 2
approach = 5
retract = 25
[[operation.hole]]
at = [[0, -30, -%DOWN%]]
axis = [0, -1, 0]
depth = 10
depth_to = "tip"
`
)

// shop is the files of a test, by name.
type shop map[string]string

// sizes are what is different from shop to shop.
type sizes struct {
	tilt, out, demand, from, to, x, down float64
	heights                              []float64
}

func (z *sizes) shop() shop {
	s := shop{
		"machine.toml": machineFile, "unit.toml": unitFile, "block.toml": blockFile, "tools.toml": toolFile, "setup.toml": setupFile,
		"table.stl":  shoptest.Box(-250, -150, -50, 250, 150, 0),
		"column.stl": shoptest.Box(-300, 400, -300, 300, 600, 900),
		"head.stl":   shoptest.Box(-100, -100, 0.5, 100, 290, 400),
		"base.stl": shoptest.Box(-170, -40, 0, -150, 40, 220) +
			shoptest.Box(150, -40, 0, 170, 40, 220) + shoptest.Box(-145, -40, 0, 145, 40, 10) +
			shoptest.Box(-145, -125, 0, 145, -115, 240) + shoptest.Box(-145, 115, 0, 145, 125, 240),
		"cradle.stl":    shoptest.Box(-140, -20, 150, 140, 20, 168),
		"faceplate.stl": shoptest.Box(-80, -60, 170, 80, 60, 180),
		"block.stl":     shoptest.Box(-40, -30, 0, 40, 30, 40),
	}
	for i, h := range z.heights {
		s[fmt.Sprintf("riser-%d.stl", i)] = shoptest.Box(-40, -30, 0, 40, 30, h)
		s[fmt.Sprintf("riser-%d.toml", i)] = fmt.Sprintf(`
kind = "component"
name = "riser %d"
units = "mm"
role = "workholding"
material = "steel"
solid = [{ name = "block", file = "riser-%d.stl", chord_error = 0.01 }]
seat = { pins = [[-25, 0, 0], [25, 0, 0]], play = 0.02, height_tolerance = 0.01, parallelism = 0.01 }
grid = [{ name = "top", solid = "block", origin = [-25, 0, %g], columns = 2, rows = 1, pitch = 50 }]
`, i, i, h)
	}
	for key, v := range map[string]float64{"TILT": z.tilt, "OUT": z.out, "DEMAND": z.demand, "FROM": z.from, "TO": z.to, "X": z.x, "DOWN": z.down} {
		for name := range s {
			s[name] = strings.ReplaceAll(s[name], "%"+key+"%", fmt.Sprintf("%g", v))
		}
	}
	return s
}

// drawn draws a shop of two to four risers.
func drawn(t *rapid.T) *sizes {
	of := func(name string, values ...float64) float64 { return rapid.SampledFrom(values).Draw(t, name) }
	z := &sizes{
		tilt: of("tilt", 1, 3, 100), out: of("out", 40, 55, 66), demand: of("demand", 0.5, 2, 8),
		from: of("from", -100, -90, -30), to: of("to", 0, 90, 100), x: of("x", 0, 20, 34), down: of("down", 10, 25, 34),
	}
	for range rapid.IntRange(2, 4).Draw(t, "risers") {
		z.heights = append(z.heights, float64(rapid.IntRange(2, 18).Draw(t, "height"))*5)
	}
	return z
}

func (s shop) fs() fstest.MapFS {
	fsys := fstest.MapFS{}
	for name, text := range s {
		fsys[name] = &fstest.MapFile{Data: []byte(text)}
	}
	return fsys
}

// catalogue lists the files of the risers.
func (s shop) catalogue() (files []string) {
	for i := 0; s[fmt.Sprintf("riser-%d.toml", i)] != ""; i++ {
		files = append(files, fmt.Sprintf("riser-%d.toml", i))
	}
	return files
}

func (s shop) draft(t testing.TB) *machine.Draft {
	t.Helper()
	d, err := machine.DraftFS(s.fs(), "setup.toml")
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// with returns the shop with the places of a candidate written into the setup file.
func (s shop) with(c *Candidate) shop {
	out := shop{}
	for name, text := range s {
		out[name] = text
	}
	text := out["setup.toml"]
	for _, change := range c.Changes {
		switch {
		case change.Seat != nil:
			at := strings.Index(text, fmt.Sprintf("name = %q", change.Seat.Place))
			from := at + strings.Index(text[at:], "pins = ")
			to := from + strings.Index(text[from:], "]") + 1
			text = text[:from] + fmt.Sprintf("pins = [%q, %q]", change.Seat.Pins[0], change.Seat.Pins[1]) + text[to:]
		case change.Stack != nil:
			head, rest, _ := strings.Cut(text, "#stack\n")
			_, tail, _ := strings.Cut(rest, "#end\n")
			on, name := "unit/face", "riser"
			head += "#stack\n"
			for i, l := range change.Stack.Levels {
				if i > 0 {
					on, name = name, fmt.Sprintf("riser %d", i+1)
				}
				head += fmt.Sprintf("{ name = %q, component = %q, on = %q, pins = [%q, %q] },\n", name, l.Component, on, l.Pins[0], l.Pins[1])
			}
			above := change.Stack.Above["block"]
			text = head + fmt.Sprintf("{ name = \"block\", component = \"block.toml\", on = %q, pins = [%q, %q] },\n#end\n", name, above[0], above[1]) + tail
		}
	}
	out["setup.toml"] = text
	return out
}

// fromScratch loads what the files say and checks everything, sharing nothing; in brief, with
// margins of what the candidate changes against the setup that it is a variant of.
func (s shop) fromScratch(t testing.TB) *check.Report {
	return everything(t, s.load(t), proof.Options{})
}

func (s shop) briefly(t testing.TB, of *machine.Draft, c *Candidate) *check.Report {
	return everything(t, s.load(t), proof.Options{Brief: true, Common: commonOf(of.Setup(), c.Changes)})
}

func (s shop) load(t testing.TB) *machine.Setup {
	t.Helper()
	setup, err := machine.LoadFS(s.fs(), "setup.toml")
	if err != nil {
		t.Fatal(err)
	}
	return setup
}

// everything checks a setup as the command line does.
func everything(t testing.TB, setup *machine.Setup, o proof.Options) *check.Report {
	t.Helper()
	r := check.NewReport(setup)
	ctx := context.Background()
	for _, err := range []error{
		swing.Check(ctx, setup, r, o), reach.Check(ctx, setup, r, o), stack.Check(ctx, setup, r, o),
		driver.Check(ctx, setup, r, o), loads.Check(ctx, setup, r, o),
	} {
		if err != nil {
			t.Fatal(err)
		}
	}
	return r
}
