package reach

import (
	"context"
	"fmt"
	"math"
	"strings"
	"testing"

	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/internal/shoptest"
)

// A shop small enough to work out by hand. A table in Y and X with its top at 0, a head in
// Z with the gauge line at the height of Z, a unit with an A axis 200 above the table, a
// faceplate whose top is 20 below that axis, and a block of 80 x 60 x 40 on it: its top,
// where the part's zero is, is 20 above the axis, at 220.
//
// T1 is an end mill with LPR 110: 20 mm that cut, a neck to 30, a shank to 40, then 40 mm
// of holder 30 wide and 30 of 50. T2 is a drill with LPR 120, T3 a face mill with LPR 105,
// T9 a probe with LPR 120.
const (
	machineFile = `
kind = "machine"
name = "test machine"
units = "mm"
up = [0, 0, 1]
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
	toolFile = `
kind = "tools"
name = "crib"
units = "mm"
holder = [
  { name = "chuck", profile = [[0, 50], [30, 50], [30, 30], [70, 30]], bore = 13, grip = 25 },
  { name = "probe body", profile = [[0, 50], [70, 40]] },
]
cutter = [
  { name = "end mill 10", kind = "end mill", DC = 10, APMX = 20, LU = 30, DN = 9, DMM = 10, OAL = 72 },
  { name = "drill 8", kind = "drill", DC = 8, SIG = 118, APMX = 40, DMM = 8, OAL = 80 },
  { name = "face mill 40", kind = "face mill", DC = 40, APMX = 6, OAL = 35 },
  { name = "stylus 6", kind = "touch probe", DC = 6, DN = 4, LU = 50, OAL = 50 },
]
tool = [
  { number = 1, cutter = "end mill 10", holder = "chuck", stick_out = 40 },
  { number = 2, cutter = "drill 8", holder = "chuck", stick_out = 50 },
  { number = 3, cutter = "face mill 40", holder = "chuck", stick_out = 35 },
  { number = 9, cutter = "stylus 6", holder = "probe body", stick_out = 50 },
]
`
	setupFile = `
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
`
)

// shop is the files of a test, by name.
type shop map[string]string

func newShop() shop {
	return shop{
		"machine.toml": machineFile, "unit.toml": unitFile, "stock.toml": stockFile, "tools.toml": toolFile, "setup.toml": setupFile,
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

// edit replaces text in a file of the shop, once.
func (s shop) edit(t testing.TB, file, old, new string) shop {
	t.Helper()
	shoptest.Edit(t, s, file, old, new)
	return s
}

// more adds text to the setup file.
func (s shop) more(text string) shop {
	s["setup.toml"] += text
	return s
}

// operation adds an operation with one feature: approach 5 and retract 25, unless
// keys say otherwise.
func (s shop) operation(name string, tool int, keys, feature string) shop {
	heights := "approach = 5\nretract = 25\n"
	if strings.Contains(keys, "approach") {
		heights = ""
	}
	return s.more(fmt.Sprintf("\n[[operation]]\nname = %q\ntool = %d\n%s%s\n%s\n", name, tool, heights, keys, feature))
}

// hole adds an operation with holes, depths counted to the tip.
func (s shop) hole(name string, tool int, at, axis string, depth float64) shop {
	return s.operation(name, tool, "", fmt.Sprintf(
		"[[operation.hole]]\nat = [%s]\naxis = %s\ndepth = %g\ndepth_to = \"tip\"\n", at, axis, depth))
}

// box puts a block of workholding somewhere: on a grid or a solid, its corners in the
// coordinates there.
func (s shop) box(t testing.TB, name, on string, x0, y0, z0, x1, y1, z1, within float64) shop {
	t.Helper()
	s[name+".stl"] = solidBox(x0, y0, z0, x1, y1, z1)
	s[name+".toml"] = fmt.Sprintf("kind = \"component\"\nname = %q\nunits = \"mm\"\nrole = \"workholding\"\nmaterial = \"steel\"\n"+
		"solid = [{ name = %q, file = \"%s.stl\", chord_error = 0 }]\n", name, name, name)
	return s.edit(t, "setup.toml", "place = [\n", fmt.Sprintf("place = [\n  { name = %q, component = \"%s.toml\", on = %q, at = [0, 0, 0], within = %g },\n", name, name, on, within))
}

func (s shop) load(t testing.TB) *machine.Setup {
	t.Helper()
	return shoptest.Load(t, s, "setup.toml")
}

func (s shop) check(t testing.TB) (*machine.Setup, *check.Report) {
	t.Helper()
	setup := s.load(t)
	return setup, checked(t, setup, Options{})
}

func checked(t testing.TB, s *machine.Setup, o Options) *check.Report {
	t.Helper()
	r := check.NewReport(s)
	if err := Check(context.Background(), s, r, o); err != nil {
		t.Fatal(err)
	}
	if o.Tests == 0 { // in brief a budget goes farther
		brief := briefly(t, s, o)
		shoptest.SameInBrief(t, r, brief, reachConcerns...)
		travelAtBest(t, s, r, brief)
	}
	return r
}

// travelAtBest asserts that what is said of travel alone is never worse than what the check
// finds, unless something is met there as well.
func travelAtBest(t testing.TB, s *machine.Setup, full, brief *check.Report) {
	t.Helper()
	alone := check.NewReport(s)
	if err := Travel(context.Background(), s, alone, Options{}); err != nil {
		t.Fatal(err)
	}
	of := func(r *check.Report, concern string) check.Judged {
		for _, j := range r.Judge() {
			if j.Concern == concern {
				return j
			}
		}
		t.Fatalf("no %s", concern)
		return check.Judged{}
	}
	best, found := of(alone, check.TravelConcern), of(brief, check.TravelConcern)
	if best.Verdict.Worse(found.Verdict) && of(full, check.ReachConcern).Verdict == check.Clear {
		t.Errorf("travel alone: %v, the check has %v: %+v", best.Verdict, found.Verdict, best.Worst)
	}
	if (best.Margin == nil) != (found.Margin == nil) || best.Margin != nil && best.Margin.Share < found.Margin.Share-1e-9 {
		t.Errorf("travel alone: %+v, the check has %+v", best.Margin, found.Margin)
	}
	for _, j := range alone.Judge() {
		if j.Concern != check.TravelConcern && (j.Worst != nil || j.Margin != nil) {
			t.Errorf("travel alone says something of %s: %+v", j.Concern, j)
		}
	}
}

var reachConcerns = []string{check.TravelConcern, check.ReachConcern, check.IndexConcern, check.ChangeConcern}

// briefly is the report in brief.
func briefly(t testing.TB, s *machine.Setup, o Options) *check.Report {
	t.Helper()
	r := check.NewReport(s)
	o.Brief = true
	if err := Check(context.Background(), s, r, o); err != nil {
		t.Fatal(err)
	}
	return r
}

// solidBox returns a closed box as STL text; several may follow each other.
var solidBox = shoptest.Box

// met returns the finding about two bodies at an operation or on the move to it, nil
// if there is none.
func met(r *check.Report, operation, a, b string) *check.Finding {
	for i := range r.Findings {
		f := &r.Findings[i]
		if f.Operation == operation && (f.Bodies == [2]string{a, b} || f.Bodies == [2]string{b, a}) {
			return f
		}
	}
	return nil
}

func operation(t testing.TB, r *check.Report, name string) *check.Operation {
	t.Helper()
	for i := range r.Reach.Operations {
		if o := &r.Reach.Operations[i]; o.Name == name {
			return o
		}
	}
	t.Fatalf("no operation %q", name)
	return nil
}

func nearly(t testing.TB, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: got %.9g, want %.9g", what, got, want)
	}
}

// params turns positions of a report into parameters; axes left out stay at home.
func params(s *machine.Setup, at []check.Position) motion.Params {
	p := home(s)
	for _, a := range at {
		for k := range s.Axes {
			if s.Axes[k].Letter == a.Axis {
				p[k] = a.Value
				if a.Unit == "deg" {
					p[k] *= math.Pi / 180
				}
			}
		}
	}
	return p
}

func summary(r *check.Report) string {
	var out strings.Builder
	fmt.Fprintf(&out, "verdict %v\n", r.Verdict)
	for _, f := range r.Findings {
		fmt.Fprintf(&out, "%v %s %s/%s %v", f.Verdict, f.Question, f.Operation, f.Feature, f.Bodies)
		for _, v := range []*float64{f.Proven, f.Smallest} {
			if v == nil {
				out.WriteString(" -")
			} else {
				fmt.Fprintf(&out, " %.4f", *v)
			}
		}
		fmt.Fprintf(&out, " %v %s %q\n", f.At, f.Reason, f.Cures)
	}
	if r.Reach != nil {
		for _, o := range r.Reach.Operations {
			fmt.Fprintf(&out, "%s: %v\n", o.Name, o.Verdict)
			for _, f := range o.Features {
				fmt.Fprintf(&out, "  %s: %v %s\n  %+v\n  %+v\n", f.Name, f.Verdict, f.Reason, f.Presented, f.Travel)
			}
		}
		for _, m := range r.Reach.Moves {
			fmt.Fprintf(&out, "%s %q to %q T%d: %v %s\n", m.Kind, m.From, m.To, m.Tool, m.Verdict, m.Reason)
		}
	}
	return out.String()
}
