package driver

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/internal/shoptest"
)

// A shop small enough to work out by hand. The unit's base is 20 high and has one
// screw M12 at (0, 30): its head ends at 32 above the table. A cradle of 60 across and 20
// thick turns about a line along X at y = 0, 100 above the table. The block stands
// beside it, on the table. The key is 11.5 thick for 40, then 30 up to 60.
const (
	machineFile = `
kind = "machine"
name = "test machine"
units = "mm"
up = [0, 0, 1]
declared_absent = ["changer", "hoses", "guards", "spindle nose", "column", "tool", "stock"]
axis = [
  { letter = "X", moves = "workpiece", carried_by = "bed", direction = [1, 0, 0], travel = [-200, 200], home = 50 },
  { letter = "Z", moves = "tool", carried_by = "bed", direction = [0, 0, 1], travel = [0, 500], home = 500 },
]
solid = [
  { name = "table", role = "table", file = "table.stl", carried_by = "X", chord_error = 0 },
  { name = "head", role = "head", file = "head.stl", carried_by = "Z", chord_error = 0 },
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
]
axis = [{ letter = "A", direction = [1, 0, 0], centre = [0, 0, 100], travel = [-100, 100] }]
seat = { pins = [[-150, 0, 0], [150, 0, 0]], play = 0 }
fastener = [{ at = [0, 30, 0], thread = "M12", length = 40, clamped = 20, class = "8.8" }]
`
	blockFile = `
kind = "component"
name = "block"
units = "mm"
role = "workholding"
material = "steel"
solid = [{ name = "block", file = "block.stl", chord_error = 0 }]
`
	setupFile = `
kind = "setup"
name = "test setup"
units = "mm"
machine = "machine.toml"
demand = { default = 1, loading = 2 }
loading = { A = 90 }
driver = [{ name = "key", key = 10, profile = [[0, 11.5], [40, 11.5], [40, 30], [60, 30]], free_height = 100 }]
place = [
  { name = "unit", component = "unit.toml", on = "table", pins = ["B3", "H3"] },
  { name = "block", component = "block.toml", on = "table", at = [0, 0, 0], within = 0 },
]
`
)

// shop is the files of a test, by name.
type shop map[string]string

func newShop() shop {
	return shop{
		"machine.toml": machineFile, "unit.toml": unitFile, "block.toml": blockFile, "setup.toml": setupFile,
		"table.stl":  solidBox(-250, -150, -50, 250, 150, 0),
		"head.stl":   solidBox(-100, -100, 0, 100, 100, 400),
		"base.stl":   solidBox(-180, -40, 0, 180, 40, 20),
		"cradle.stl": solidBox(-60, -30, 90, 60, 30, 110),
		"block.stl":  solidBox(-30, 50, 0, 30, 90, 80),
	}
}

func (s shop) edit(t testing.TB, file, old, new string) shop {
	t.Helper()
	shoptest.Edit(t, s, file, old, new)
	return s
}

// with replaces a file.
func (s shop) with(file, text string) shop {
	s[file] = text
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
	if err := Check(context.Background(), setup, r, Options{}); err != nil {
		t.Fatal(err)
	}
	shoptest.SameInBrief(t, r, briefly(t, setup), check.DriverConcern)
	return r
}

// briefly is the report in brief.
func briefly(t testing.TB, s *machine.Setup) *check.Report {
	t.Helper()
	r := check.NewReport(s)
	if err := Check(context.Background(), s, r, Options{Brief: true}); err != nil {
		t.Fatal(err)
	}
	return r
}

// solidBox returns a closed box as STL text; several may follow each other.
var solidBox = shoptest.Box

// find returns the finding about a driver and a body; nil if there is none.
func find(r *check.Report, body string) *check.Finding {
	for i := range r.Findings {
		if r.Findings[i].Question == check.Driving && r.Findings[i].Bodies[1] == body {
			return &r.Findings[i]
		}
	}
	return nil
}

func summary(r *check.Report) string {
	var out strings.Builder
	for _, f := range r.Findings {
		fmt.Fprintf(&out, "%v %s %v %v %s\n", f.Verdict, f.Question, f.Bodies, f.At, f.Reason)
		for _, v := range []*float64{f.Proven, f.Smallest, f.Nominal} {
			if v != nil {
				fmt.Fprintf(&out, " %.4f", *v)
			}
		}
	}
	return out.String()
}
