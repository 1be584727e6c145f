package changeover

import (
	"fmt"
	"strings"
	"testing"
	"testing/fstest"

	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/internal/shoptest"
)

// A shop small enough to work out by hand: a table in X and Y whose top is at 0, a head
// in Z, and a door frame before it whose sill's top is at 40 and which is open between X -300 and
// 300. A base plate of 400 x 300 x 30 has pins of its own that stand out 12, a carrier
// of 110 x 100 x 20 stands on retractable pins of the plate, a vise stands on two
// dowels, blocks of 60 x 40 x 50 stand in it.
const (
	machineFile = `
kind = "machine"
name = "test machine"
units = "mm"
up = [0, 0, 1]
declared_absent = ["changer", "hoses", "column", "spindle nose", "stock"]
axis = [
  { letter = "Y", moves = "workpiece", carried_by = "bed", direction = [0, 1, 0], travel = [-100, 100], home = 0 },
  { letter = "X", moves = "workpiece", carried_by = "Y", direction = [1, 0, 0], travel = [-200, 200], home = 0 },
  { letter = "Z", moves = "tool", carried_by = "bed", direction = [0, 0, 1], travel = [0, 500], home = 500 },
]
spindle = { carried_by = "Z", gauge_point = [0, 0, 0], axis = [0, 0, 1] }
tool = { diameter = 20, length = 100 }
solid = [
  { name = "table", role = "table", file = "table.stl", carried_by = "X", chord_error = 0 },
  { name = "door frame", role = "guards", file = "frame.stl", carried_by = "bed", chord_error = 0 },
  { name = "head", role = "head", file = "head.stl", carried_by = "Z", chord_error = 0 },
]
grid = [{ name = "holes", solid = "table", origin = [-200, -150, 0], columns = 9, rows = 7, pitch = 50, bore = "16 H7", thread = "M12" }]
`
	plateFile = `
kind = "component"
name = "plate"
units = "mm"
role = "workholding"
material = "steel"
solid = [{ name = "plate", file = "plate.stl", chord_error = 0 }]
seat = { pins = [[-150, -100, 0], [150, -100, 0]], fit = "16 g6", pin_length = 12 }
[[grid]]
name = "top"
solid = "plate"
origin = [-150, -100, 30]
columns = 7
rows = 5
pitch = 50
bore = "16 H7"
thread = "M12"
retractable = { fit = "16 g6", height = 10, at = ["B2", "D2", "B4", "D4", "F2", "F4"] }
[[fastener]]
at = [-150, 100, 0]
thread = "M12"
length = 40
class = "8.8"
[[fastener]]
at = [150, 100, 0]
thread = "M12"
length = 40
class = "8.8"
`
	carrierFile = `
kind = "component"
name = "carrier"
units = "mm"
role = "workholding"
material = "steel"
solid = [{ name = "carrier", file = "carrier.stl", chord_error = 0 }]
seat = { pins = [[-50, 0, 0], [50, 0, 0]], located_by = "set pins", bore = "16 H7" }
grid = [{ name = "face", solid = "carrier", origin = [-50, 0, 20], columns = 3, rows = 1, pitch = 50, bore = "16 H7", thread = "M12" }]
fastener = [{ at = [0, 0, 0], thread = "M12", from = "above" }]
`
	viseFile = `
kind = "component"
name = "vise"
units = "mm"
role = "workholding"
mass = 9
solid = [
  { name = "body", file = "body.stl", chord_error = 0 },
  { name = "fixed jaw", file = "fixed.stl", chord_error = 0 },
  { name = "moving jaw", file = "moving.stl", chord_error = 0, carried_by = "jaw" },
]
axis = [{ name = "jaw", setting = true, direction = [1, 0, 0], travel = [0, 66] }]
seat = { pins = [[-50, 0, 0], [50, 0, 0]], located_by = "dowels", fit = "16 m6", bore = "16 H7" }
grip = [{ jaws = ["fixed jaw", "moving jaw"] }]
`
	blockFile = `
kind = "component"
name = "block"
units = "mm"
role = "part"
material = "aluminium"
solid = [{ name = "block", file = "block.stl", chord_error = 0 }]
`
	setupFile = `
kind = "setup"
name = "test setup"
units = "mm"
machine = "machine.toml"
demand = { default = 3, loading = 2 }
[[place]]
name = "plate"
component = "plate.toml"
on = "holes"
pins = ["B2", "H2"]
withdrawn = ["unused"]
`
	carrierPlace = `
[[place]]
name = "carrier"
component = "carrier.toml"
on = "plate"
pins = ["B2", "D2"]
`
	visePlace = `
[[place]]
name = "vise"
component = "vise.toml"
on = "plate"
pins = ["E3", "G3"]
set = { jaw = 60 }
`
	blockPlace = `
[[place]]
name = "block"
component = "block.toml"
on = "vise"
at = [0, 0, 40]
within = 0.1
gripped = { bite = 0 }
`
)

// shop is the files of a test, by name; edits replace text in them.
type shop map[string]string

func newShop(places ...string) shop {
	return shop{
		"machine.toml": machineFile, "plate.toml": plateFile, "carrier.toml": carrierFile, "vise.toml": viseFile,
		"block.toml": blockFile, "setup.toml": setupFile + strings.Join(places, ""),
		"table.stl": solidBox(-300, -200, -50, 300, 200, 0),
		"frame.stl": solidBox(-400, -520, -100, 400, -500, 40) + solidBox(-400, -520, 41, -300, -500, 600) +
			solidBox(300, -520, 41, 400, -500, 600),
		"head.stl":    solidBox(-100, -100, 0.5, 100, 290, 400),
		"plate.stl":   solidBox(-200, -150, 0, 200, 150, 30),
		"carrier.stl": solidBox(-55, -50, 0, 55, 50, 20),
		"body.stl":    solidBox(-90, -40, 0, 90, 40, 40),
		"fixed.stl":   solidBox(-60, -40, 40.2, -30, 40, 80),
		"moving.stl":  solidBox(-30, -40, 40.2, 0, 40, 80), // drawn closed
		"block.stl":   solidBox(-30, -20, 0, 30, 20, 50),
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

func (s shop) load(t testing.TB, name string) *machine.Setup {
	t.Helper()
	setup, err := s.try(name)
	if err != nil {
		t.Fatal(err)
	}
	return setup
}

func (s shop) try(name string) (*machine.Setup, error) {
	fs := fstest.MapFS{}
	for name, text := range s {
		fs[name] = &fstest.MapFile{Data: []byte(text)}
	}
	return machine.LoadFS(fs, name)
}

// empty plans from the empty machine to setup.toml.
func (s shop) empty(t testing.TB) *Plan {
	t.Helper()
	return plan(t, nil, s.load(t, "setup.toml"))
}

func plan(t testing.TB, from, to *machine.Setup) *Plan {
	t.Helper()
	p, err := Make(t.Context(), from, to, Options{})
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// step finds the step that does something with a unit.
func (p *Plan) step(t testing.TB, kind, unit string) *Step {
	t.Helper()
	for i := range p.Steps {
		if p.Steps[i].Kind == kind && p.Steps[i].Unit == unit {
			return &p.Steps[i]
		}
	}
	t.Fatalf("no step %s %s:\n%s", kind, unit, p)
	return nil
}

// says checks that sentences of a step come in this order.
func (s *Step) says(t testing.TB, wanted ...string) {
	t.Helper()
	all := strings.Join(append(append([]string{}, s.Caution...), s.Do...), "\n")
	rest := all
	for _, w := range wanted {
		i := strings.Index(rest, w)
		if i < 0 {
			t.Errorf("step %d does not say %q after what comes before:\n%s", s.Number, w, all)
			return
		}
		rest = rest[i+len(w):]
	}
}

func (p *Plan) String() string {
	var b strings.Builder
	fmt.Fprintln(&b, p.Verdict, p.Off, p.Stays, p.On)
	for i := range p.Steps {
		st := &p.Steps[i]
		fmt.Fprintln(&b, st.Number, st.Kind, st.Unit, strings.Join(st.Caution, " "), strings.Join(st.Do, " "))
		if st.Way != nil {
			fmt.Fprintln(&b, "  ", st.Way.Verdict, st.Way.Words)
			for _, m := range st.Way.Meetings {
				fmt.Fprintln(&b, "    ", m.Verdict, m.Bodies, m.Leg, m.at, m.Reason, show(m.Smallest))
			}
		}
	}
	return b.String()
}

func show(x *float64) string {
	if x == nil {
		return "-"
	}
	return fmt.Sprintf("%.3f", *x)
}

// meets finds what is said of two bodies.
func (w *Way) meets(a, b string) *Meeting {
	for i := range w.Meetings {
		if w.Meetings[i].Bodies == [2]string{a, b} {
			return &w.Meetings[i]
		}
	}
	return nil
}

// worst is the worst verdict of the ways of a plan's steps.
func verdicts(p *Plan) map[string]check.Verdict {
	list := map[string]check.Verdict{}
	for _, s := range p.Steps {
		if s.Way != nil {
			list[s.Kind+" "+s.Unit] = s.Way.Verdict
		}
	}
	return list
}

// solidBox returns a closed box as STL text; several may follow each other.
var solidBox = shoptest.Box
