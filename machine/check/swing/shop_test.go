package swing

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/internal/shoptest"
)

// A shop small enough to work out by hand: a table in X and Y, a head in Z, a
// unit with an A axis 200 above the table and a faceplate 20 below that axis, and a
// block of 80 x 60 x 40 on it, so that its top stands 20 above the axis.
const (
	machineFile = `
kind = "machine"
name = "test machine"
units = "mm"
up = [0, 0, 1]
declared_absent = ["changer", "hoses", "guards", "spindle nose"]
axis = [
  { letter = "Y", moves = "workpiece", carried_by = "bed", direction = [0, 1, 0], travel = [-100, 100], home = 100 },
  { letter = "X", moves = "workpiece", carried_by = "Y", direction = [1, 0, 0], travel = [-200, 200], home = 0 },
  { letter = "Z", moves = "tool", carried_by = "bed", direction = [0, 0, 1], travel = [0, 500], home = 500 },
]
spindle = { carried_by = "Z", gauge_point = [0, 0, 0], axis = [0, 0, 1] }
tool = { diameter = 20, length = 100 }
solid = [
  { name = "table", role = "table", file = "table.stl", carried_by = "X", chord_error = 0 },
  { name = "column", role = "column", file = "column.stl", carried_by = "bed", chord_error = 0 },
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
  { name = "faceplate", file = "faceplate.stl", carried_by = "C", chord_error = 0 },
]
axis = [
  { letter = "A", direction = [1, 0, 0], centre = [0, 0, 200], travel = [-100, 100] },
  { letter = "C", carried_by = "A", direction = [0, 0, 1], centre = [0, 0, 0], unlimited = true },
]
seat = { pins = [[-150, 0, 0], [150, 0, 0]], play = 0 }
grid = [{ name = "face", solid = "faceplate", origin = [-25, 0, 180], columns = 2, rows = 1, pitch = 50 }]
`
	stockFile = `
kind = "component"
name = "block"
units = "mm"
role = "stock"
material = "steel"
solid = [{ name = "block", file = "block.stl", chord_error = 0 }]
seat = { pins = [[-25, 0, 0], [25, 0, 0]], play = 0 }
`
	setupFile = `
kind = "setup"
name = "test setup"
units = "mm"
machine = "machine.toml"
demand = { default = 2, rest = 0.5 }
commanded = { A = [-90, 0], C = [0, 90] }
index = { Z = 400 }
place = [
  { name = "unit", component = "unit.toml", on = "table", pins = ["B3", "H3"] },
  { name = "stock", component = "stock.toml", on = "unit/face", pins = ["A1", "B1"] },
]
`
)

// shop is the files of a test, by name; edits replace text in them.
type shop map[string]string

func newShop() shop {
	return shop{
		"machine.toml": machineFile, "unit.toml": unitFile, "stock.toml": stockFile, "setup.toml": setupFile,
		"table.stl":  solidBox(-250, -150, -50, 250, 150, 0),
		"column.stl": solidBox(-300, 400, -300, 300, 600, 900),
		"head.stl":   solidBox(-100, -100, 0.5, 100, 290, 400),
		"base.stl": solidBox(-170, -40, 0, -150, 40, 220) +
			solidBox(150, -40, 0, 170, 40, 220) + solidBox(-145, -40, 0, 145, 40, 10),
		"cradle.stl":    solidBox(-140, -20, 150, 140, 20, 168),
		"faceplate.stl": solidBox(-30, -15, 170, 30, 15, 180),
		"block.stl":     solidBox(-40, -30, 0, 40, 30, 40),
	}
}

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

func (s shop) load(t testing.TB) *machine.Setup {
	t.Helper()
	return shoptest.Load(t, s, "setup.toml")
}

func (s shop) check(t testing.TB) (*machine.Setup, *check.Report) {
	t.Helper()
	setup := s.load(t)
	r := check.NewReport(setup)
	if err := Check(context.Background(), setup, r, Options{}); err != nil {
		t.Fatal(err)
	}
	shoptest.SameInBrief(t, r, briefly(t, setup), check.SwingConcern)
	return setup, r
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

// find returns the finding about two bodies.
func find(t testing.TB, r *check.Report, a, b string) *check.Finding {
	t.Helper()
	for _, list := range [][]check.Finding{r.Findings, r.Closest} {
		for i := range list {
			if f := &list[i]; f.Bodies == [2]string{a, b} || f.Bodies == [2]string{b, a} {
				return f
			}
		}
	}
	t.Fatalf("nothing found about %s and %s:\n%s", a, b, summary(r))
	return nil
}

func summary(r *check.Report) string {
	var out strings.Builder
	fmt.Fprintf(&out, "verdict %v\n", r.Verdict)
	for _, f := range append(r.Findings, r.Closest...) {
		fmt.Fprintf(&out, "%v %s %v", f.Verdict, f.Question, f.Bodies)
		for _, v := range []*float64{f.Proven, f.Smallest, f.Nominal} {
			if v == nil {
				out.WriteString(" -")
			} else {
				fmt.Fprintf(&out, " %.4f", *v)
			}
		}
		fmt.Fprintf(&out, " %v %v %s\n", f.At, f.Where, f.Reason)
	}
	for _, w := range r.Warnings {
		fmt.Fprintln(&out, "warning:", w)
	}
	return out.String()
}
