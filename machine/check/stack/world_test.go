package stack

import (
	"bytes"
	"context"
	"slices"
	"testing"
	"testing/fstest"

	"gridswing/geom/shape"
	"gridswing/geom/stl"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/internal/shoptest"
	"gridswing/machine/check/proof"
	"gridswing/machine/check/swing"

	"github.com/golang/geo/r3"
)

// A shop small enough to work out by hand: a table of cast iron with holes every 50
// mm, a plate of steel screwed to it, and two vises on the plate that hold one bar.
const (
	machineFile = `
kind = "machine"
name = "test machine"
units = "mm"
up = [0, 0, 1]
declared_absent = ["changer", "hoses", "guards", "spindle nose", "column", "head", "tool"]
axis = [
  { letter = "Y", moves = "workpiece", carried_by = "bed", direction = [0, 1, 0], travel = [-200, 200], home = 0, accuracy = 0.004 },
  { letter = "X", moves = "workpiece", carried_by = "Y", direction = [1, 0, 0], travel = [-300, 300], home = 0, accuracy = 0.004 },
  { letter = "Z", moves = "tool", carried_by = "bed", direction = [0, 0, 1], travel = [0, 700], home = 700, accuracy = 0.004 },
]
spindle = { carried_by = "Z", gauge_point = [0, 0, 0], axis = [0, 0, 1] }
solid = [{ name = "table", role = "table", file = "table.stl", carried_by = "X", chord_error = 0, material = "cast iron" }]
grid = [{ name = "top", solid = "table", origin = [-200, -100, 0], columns = 9, rows = 5, pitch = 50,
  position_tolerance = 0.005, bore = "16 H7", thread = "M12", thread_depth = 25 }]
slots = [{ name = "slots", solid = "table", origin = [0, -126, 0], count = 5, pitch = 63, width = "18 H8" }]
`
	plateFile = `
kind = "component"
name = "plate"
units = "mm"
role = "workholding"
material = "steel"
solid = [{ name = "plate", file = "plate.stl", chord_error = 0 }]
seat = { pins = [[-150, 0, 0], [150, 0, 0]], fit = "16 g6", pin_length = 12, least_fasteners = 4 }
grid = [{ name = "top", solid = "plate", origin = [-150, -100, 30], columns = 7, rows = 5, pitch = 50,
  position_tolerance = 0.005, bore = "16 H7", bore_depth = 12, thread = "M12", thread_from = 14, thread_depth = 30 }]
fastener = [
  { at = [-150, -100, 0], thread = "M12", length = 35, clamped = 17, counterbore = [20, 13], class = "8.8" },
  { at = [150, -100, 0], thread = "M12", length = 35, clamped = 17, counterbore = [20, 13], class = "8.8" },
  { at = [-150, 100, 0], thread = "M12", length = 35, clamped = 17, counterbore = [20, 13], class = "8.8" },
  { at = [150, 100, 0], thread = "M12", length = 35, clamped = 17, counterbore = [20, 13], class = "8.8" },
]
`
	viseFile = `
kind = "component"
name = "vise"
units = "mm"
role = "workholding"
material = "steel"
solid = [
  { name = "body", file = "vise.stl", chord_error = 0 },
  { name = "fixed jaw", file = "fixed.stl", chord_error = 0 },
  { name = "moving jaw", file = "moving.stl", chord_error = 0, carried_by = "jaw" },
]
axis = [{ name = "jaw", setting = true, kind = "linear", direction = [0, 1, 0], travel = [0, 80] }]
seat = { pins = [[-50, 0, 0], [50, 0, 0]], fit = "16 g6", solids = ["body"] }
grip = [{ jaws = ["fixed jaw", "moving jaw"] }]
fastener = [
  { name = "front", at = [0, -50, 0], thread = "M12", length = 45, clamped = 15, class = "8.8" },
  { name = "back", at = [0, 50, 0], thread = "M12", length = 45, clamped = 15, class = "8.8" },
]
`
	barFile = `
kind = "component"
name = "bar"
units = "mm"
role = "stock"
material = "aluminium 7075"
solid = [{ name = "bar", file = "bar.stl", chord_error = 0 }]
`
	setupFile = `
kind = "setup"
name = "bar in two vises"
units = "mm"
machine = "machine.toml"
demand = { default = 1 }
place = [
  { name = "plate", component = "plate.toml", on = "top", pins = ["B3", "H3"] },
  { name = "vise 1", component = "vise.toml", on = "plate", pins = ["A3", "C3"], set = { jaw = 40 } },
  { name = "vise 2", component = "vise.toml", on = "plate", pins = ["E3", "G3"], set = { jaw = 40 } },
  { name = "bar", component = "bar.toml", on = "vise 1", also_on = ["vise 2"], at = [100, 0, 40], within = 0.1, gripped = { bite = 0, depth = 20 } },
]
part = [{ name = "rail", place = "bar", at = [0, 0, 25] }]
`
)

// shop is the files of a test, by name.
type shop map[string]string

func newShop() shop {
	return shop{
		"machine.toml": machineFile, "plate.toml": plateFile, "vise.toml": viseFile, "bar.toml": barFile, "setup.toml": setupFile,
		"table.stl":  box(-250, -150, -50, 250, 150, 0),
		"plate.stl":  box(-190, -140, 0, 190, 140, 30),
		"vise.stl":   box(-60, -60, 0, 60, 60, 40),
		"fixed.stl":  box(-60, -35, 40, 60, -20, 60),
		"moving.stl": box(-60, -20, 40, 60, -5, 60),
		"bar.stl":    box(-160, -20, 0, 160, 20, 25),
	}
}

func box(x0, y0, z0, x1, y1, z1 float64) string {
	return encode(shape.Box(r3.Vector{X: x0, Y: y0, Z: z0}, r3.Vector{X: x1, Y: y1, Z: z1}))
}

func encode(s shape.Surface) string {
	var out bytes.Buffer
	if err := stl.Encode(&out, s.Mesh()); err != nil {
		panic(err)
	}
	return out.String()
}

// edit replaces text in a file, once.
func (s shop) edit(t testing.TB, file, old, new string) shop {
	t.Helper()
	shoptest.Edit(t, s, file, old, new)
	return s
}

// with adds or replaces a file.
func (s shop) with(file, text string) shop {
	s[file] = text
	return s
}

func (s shop) try() (*machine.Setup, error) {
	fs := fstest.MapFS{}
	for name, text := range s {
		fs[name] = &fstest.MapFile{Data: []byte(text)}
	}
	return machine.LoadFS(fs, "setup.toml")
}

// checked loads the setup and returns it with the report of the stack.
func (s shop) checked(t testing.TB) (*machine.Setup, *check.Report) {
	t.Helper()
	setup, err := s.try()
	if err != nil {
		t.Fatal(err)
	}
	r := check.NewReport(setup)
	if err := Check(context.Background(), setup, r, Options{Jobs: 2}); err != nil {
		t.Fatal(err)
	}
	shoptest.SameInBrief(t, r, briefly(t, setup), check.StackConcern)
	return setup, r
}

// briefly is the report in brief, looked at in two parts.
func briefly(t testing.TB, s *machine.Setup) *check.Report {
	t.Helper()
	r := check.NewReport(s)
	o := Options{Brief: true, Trees: proof.NewTrees()}
	if err := Check(context.Background(), s, r, o); err != nil {
		t.Fatal(err)
	}
	if len(s.Operations) > 0 {
		if err := Locate(context.Background(), s, r, o); err != nil {
			t.Fatal(err)
		}
	}
	return r
}

// swung adds what the swing finds.
func swung(t testing.TB, s *machine.Setup, r *check.Report) {
	t.Helper()
	if err := swing.Check(context.Background(), s, r, swing.Options{Jobs: 2}); err != nil {
		t.Fatal(err)
	}
}

// goesTogether fails the test for every finding.
func goesTogether(t *testing.T, r *check.Report) {
	t.Helper()
	for _, f := range r.Findings {
		t.Errorf("%s: %q: %s", f.Verdict, f.Bodies, f.Reason)
	}
	for _, s := range r.Stack.Seats {
		if s.Verdict != check.Clear {
			t.Errorf("seat of %s: %s", s.Unit, s.Verdict)
		}
	}
}

// seatOf returns what is said of a component.
func seatOf(t *testing.T, r *check.Report, unit string) *check.Seat {
	t.Helper()
	i := slices.IndexFunc(r.Stack.Seats, func(s check.Seat) bool { return s.Unit == unit })
	if i < 0 {
		t.Fatalf("no seat of %s", unit)
	}
	return &r.Stack.Seats[i]
}

// only returns the one finding there is.
func only(t *testing.T, r *check.Report) *check.Finding {
	t.Helper()
	if len(r.Findings) != 1 {
		for _, f := range r.Findings {
			t.Logf("%s: %q: %s", f.Verdict, f.Bodies, f.Reason)
		}
		t.Fatalf("%d findings, expected one", len(r.Findings))
	}
	return &r.Findings[0]
}

func near(t *testing.T, what string, got *float64, want, within float64) {
	t.Helper()
	if got == nil {
		t.Errorf("%s: not known, want %g", what, want)
	} else if d := *got - want; !(d <= within && -d <= within) {
		t.Errorf("%s: got %.9g, want %.9g", what, *got, want)
	}
}
