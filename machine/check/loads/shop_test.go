package loads

import (
	"math"
	"strings"
	"testing"

	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/internal/shoptest"
)

// A shop small enough to work out by hand: a table in X and Y that may carry 200 kg, a unit
// with a tilt axis A 200 above it and a faceplate C whose face is 20 below that axis. On it
// stands a block of steel, 100 x 60 x 40, 30 off the middle along X: 1.884 kg, its middle
// on the tilt axis' height.
const (
	machineFile = `
kind = "machine"
name = "test machine"
units = "mm"
up = [0, 0, 1]
table_load = 200
declared_absent = ["changer", "hoses", "guards", "spindle nose", "head", "tool"]
axis = [
  { letter = "Y", moves = "workpiece", carried_by = "bed", direction = [0, 1, 0], travel = [-100, 100], home = 100 },
  { letter = "X", moves = "workpiece", carried_by = "Y", direction = [1, 0, 0], travel = [-200, 200], home = 0 },
]
solid = [
  { name = "table", role = "table", file = "table.stl", carried_by = "X", chord_error = 0 },
  { name = "column", role = "column", file = "column.stl", carried_by = "bed", chord_error = 0 },
]
grid = [{ name = "top", solid = "table", origin = [-200, -100, 0], columns = 9, rows = 5, pitch = 50 }]
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
seat = { pins = [[-150, 0, 0], [150, 0, 0]], play = 0 }
grid = [{ name = "face", solid = "faceplate", origin = [-25, 0, 180], columns = 3, rows = 1, pitch = 50 }]
`
	ratingsTable = `
[ratings]
tilt = "A"
rotary = "C"
load = [[-100, 1], [0, 4], [100, 2]]
tilt_moment = 5
rotary_moment = 2
faceplate_moment = 3
face = [0, 0, 180]
includes_own = false
`
	stockFile = `
kind = "component"
name = "block"
units = "mm"
role = "stock"
material = "steel"
solid = [{ name = "block", file = "block.stl", chord_error = 0 }]
`
	setupFile = `
kind = "setup"
name = "test setup"
units = "mm"
machine = "machine.toml"
demand = { default = 2 }
commanded = { A = [-30, 90], C = [0, 360] }
place = [
  { name = "unit", component = "unit.toml", on = "table", pins = ["B3", "H3"] },
  { name = "stock", component = "stock.toml", on = "unit/face", at = [55, 0, 0], within = 0 },
]
`
)

// shop is the files of a test, by name; edits replace text in them.
type shop map[string]string

func newShop() shop {
	return shop{
		"machine.toml": machineFile, "unit.toml": unitFile + ratingsTable, "stock.toml": stockFile, "setup.toml": setupFile,
		"table.stl":     solidBox(-250, -150, -50, 250, 150, 0),
		"column.stl":    solidBox(-300, 400, -300, 300, 600, 900),
		"base.stl":      solidBox(-170, -40, 0, 170, 40, 100),
		"cradle.stl":    solidBox(-140, -20, 150, 140, 20, 168),
		"faceplate.stl": solidBox(-30, -15, 170, 30, 15, 180),
		"block.stl":     solidBox(-50, -30, 0, 50, 30, 40),
	}
}

func (s shop) edit(t testing.TB, file, old, new string) shop {
	t.Helper()
	shoptest.Edit(t, s, file, old, new)
	return s
}

func (s shop) load(t testing.TB) *machine.Setup {
	t.Helper()
	return shoptest.Load(t, s, "setup.toml")
}

func (s shop) check(t testing.TB) *check.Report {
	t.Helper()
	setup := s.load(t)
	r := check.NewReport(setup)
	if err := Check(t.Context(), setup, r, Options{}); err != nil {
		t.Fatal(err)
	}
	brief := check.NewReport(setup)
	if err := Check(t.Context(), setup, brief, Options{Brief: true}); err != nil {
		t.Fatal(err)
	}
	shoptest.SameInBrief(t, r, brief, check.LoadConcern)
	return r
}

// rated returns a line of the table.
func rated(t testing.TB, r *check.Report, kind string, inertia bool) *check.Rated {
	t.Helper()
	if r.Loads == nil {
		t.Fatalf("no loads: %q", r.Assumed)
	}
	for i := range r.Loads.Rated {
		if q := &r.Loads.Rated[i]; q.Kind == kind && q.Inertia == inertia {
			return q
		}
	}
	t.Fatalf("no %s among %+v", kind, r.Loads.Rated)
	return nil
}

func has(t testing.TB, q *check.Rated, load, rating float64, v check.Verdict) {
	t.Helper()
	if q.Load == nil || !(math.Abs(*q.Load-load) <= 1e-6*(1+math.Abs(load))) {
		t.Errorf("%s: load %v, want %v (%s)", q.Kind, show(q.Load), load, q.Reason)
	}
	if q.Rating == nil || !(math.Abs(*q.Rating-rating) <= 1e-9) {
		t.Errorf("%s: rating %v, want %v", q.Kind, show(q.Rating), rating)
	}
	if q.Verdict == nil || *q.Verdict != v {
		t.Errorf("%s: verdict %v, want %v (%s)", q.Kind, q.Verdict, v, q.Reason)
	}
}

func show(v *float64) any {
	if v == nil {
		return nil
	}
	return *v
}

// finding returns the one finding that says something.
func finding(t testing.TB, r *check.Report, says string) *check.Finding {
	t.Helper()
	for i := range r.Findings {
		if strings.Contains(r.Findings[i].Reason, says) {
			return &r.Findings[i]
		}
	}
	var all []string
	for i := range r.Findings {
		all = append(all, r.Findings[i].Reason)
	}
	t.Fatalf("no finding says %q: %q", says, all)
	return nil
}

// solidBox returns a closed box as STL text; several may follow each other.
var solidBox = shoptest.Box
