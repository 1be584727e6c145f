package machine

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"

	"gridswing/geom"
	"gridswing/geom/motion"

	"github.com/golang/geo/r3"
)

// The same plate in inches stands and measures the same: 1 inch is 25.4 mm
// exactly (ISO 80000-3).
func TestInch(t *testing.T) {
	const drawn = `kind = "component"
name = "p"
units = "UNIT"
role = "workholding"
material = "steel"
[[solid]]
name = "p"
file = "FILE"
chord_error = 0
[[axis]]
name = "slide"
setting = true
direction = [0, 0, 1]
travel = [0, LONG]
[seat]
pins = [[-LONG, 0, 0], [LONG, 0, 0]]
play = 0
`
	inch := strings.NewReplacer("UNIT", "inch", "LONG", "2", "FILE", "inch.stl").Replace(drawn)
	mm := strings.NewReplacer("UNIT", "mm", "LONG", "50.8", "FILE", "mm.stl").Replace(drawn)
	place := "on = \"bed\"\nat = [AT, 0, 0]\nwithin = SMALL\nset = { slide = AT }\n"
	w := bare(inch, strings.NewReplacer("AT", "1", "SMALL", "0.01").Replace(place))
	w["inch.stl"] = string(box(-3, -1.1, 0, 3, 1.1, 1))
	w["setup.toml"] = strings.Replace(w["setup.toml"], `units = "mm"`, `units = "inch"`, 1)
	v := bare(mm, strings.NewReplacer("AT", "25.4", "SMALL", "0.254").Replace(place))
	v["mm.stl"] = string(box(-76.2, -27.94, 0, 76.2, 27.94, 25.4))
	v["setup.toml"] = strings.Replace(v["setup.toml"], "default = 2", "default = 50.8", 1)
	a, b := w.load(t), v.load(t)
	i, k := a.body(t, "unit"), b.body(t, "unit")
	if !reflect.DeepEqual(a.Bodies[i].Chain, b.Bodies[k].Chain) {
		t.Errorf("%+v\n%+v", a.Bodies[i].Chain, b.Bodies[k].Chain)
	}
	nearly(t, "mass", a.Bodies[i].Mass, b.Bodies[k].Mass, 1e-6)
	if a.Unit != geom.Inch || b.Unit != geom.Millimetre {
		t.Errorf("units %v and %v", a.Unit, b.Unit)
	}
	if a.Demand.Default != b.Demand.Default {
		t.Errorf("demands %g and %g", a.Demand.Default, b.Demand.Default)
	}
	size := a.Bodies[i].Solid.Mesh.Bounds().Size()
	near(t, "size", size, vec(152.4, 55.88, 25.4), 1e-5)
	// 1.1 inch is no float32, nor is its product with 25.4: the rounding counts.
	if e := a.Bodies[i].Solid.ChordError; e <= 0 || e > 1e-5 {
		t.Errorf("chord error %g", e)
	}
}

// The setup's ranges and index positions, beside those that are implied.
func TestCommanded(t *testing.T) {
	w := example(t).with(t, "setup.toml", "# [index]", "[index]\nX = 100 #")
	s := w.load(t)
	for letter, want := range map[string][2]float64{
		"A": {radians(-30), radians(110)}, "C": {0, 2 * math.Pi}, "Z": {0, 550}, "X": {-400, 400},
	} {
		if got := s.axis(t, letter).Commanded; got != want {
			t.Errorf("%s commanded %v, want %v", letter, got, want)
		}
	}
	if a := s.axis(t, "X"); a.Index == nil || *a.Index != 100 {
		t.Error("X is not indexed at 100")
	}
	if s.axis(t, "Z").Index != nil {
		t.Error("the machine's index position survives the setup's")
	}
	if a := example(t).load(t).axis(t, "Z"); a.Index == nil || *a.Index != 550 || a.Home != 550 {
		t.Errorf("Z is not indexed at 550: %+v", a)
	}
}

func TestDemand(t *testing.T) {
	d := example(t).load(t).Demand
	for _, c := range []struct {
		kind, a, b string
		mm         float64
		reason     bool
	}{
		{Swing, "stock", "machine/head", 3, false},
		{Rest, "stock", "machine/head", 1, false},
		{"rapid", "stock", "machine/head", 2, false},
		{Swing, "vise/fixed jaw", "trunnion/cradle", 0.5, true},
		{Rest, "trunnion/cradle", "vise/body", 0.5, true},
		{Swing, "vise/fixed jaw", "trunnion/base", 3, false},
	} {
		mm, reason := d.For(c.kind, c.a, c.b)
		if mm != c.mm || (reason != "") != c.reason {
			t.Errorf("%s of %s and %s: %g %q", c.kind, c.a, c.b, mm, reason)
		}
	}
}

// What is neither modelled nor declared absent is said to be not modelled.
func TestPresence(t *testing.T) {
	w := example(t).with(t, "machine.toml", `["changer", "hoses"]`, `["changer"]`).
		with(t, "machine.toml", "[tool] ", "[ignored]").
		with(t, "machine.toml", "[ignored]", "#")
	w = w.with(t, "machine.toml", "diameter = 80\nlength = 180", "")
	roles := func(s *Setup) (list []string) {
		for _, p := range s.Presence {
			list = append(list, fmt.Sprintf("%s: %s %v", p.What, p.State, p.Bodies))
		}
		return list
	}
	got := roles(w.load(t))
	want := []string{
		"head: modelled [machine/head]", "spindle nose: modelled [machine/nose]", "column: modelled [machine/column]",
		"table: modelled [machine/table]", "guards: modelled [machine/door frame]", "changer: declared absent []",
		"hoses: not modelled []", "stock: modelled [stock]", "tool: modelled [tool]",
	}
	if !slices.Equal(got, want) {
		t.Errorf("got  %q\nwant %q", got, want)
	}
	// Nothing is cut, and there is no largest tool: none is modelled. What the
	// changer sweeps is, as a zone.
	w = w.uncut(t).with(t, "machine.toml", `["changer"]`, "[]")
	w["machine.toml"] += "[[tool_change.zone]]\nname = \"arm\"\nfrom = [0, 0, 0]\nto = [1, 1, 1]\n"
	want[5], want[8] = "changer: modelled [machine/arm]", "tool: not modelled []"
	if got = roles(w.load(t)); !slices.Equal(got, want) {
		t.Errorf("got  %q\nwant %q", got, want)
	}
}

// Bodies that belong together, and which way they come apart.
func TestMatings(t *testing.T) {
	s := example(t).load(t)
	got := make(map[string]r3.Vector)
	for _, m := range s.Matings {
		got[s.Bodies[m.A].Name+" | "+s.Bodies[m.B].Name] = m.Lift
		if m.Reason == "" {
			t.Error("no reason")
		}
	}
	want := map[string]r3.Vector{
		"plate | machine/table": vec(0, 0, 1), "trunnion/base | plate": vec(0, 0, 1),
		"vise/body | trunnion/faceplate": vec(0, 0, 1),
		"stock | vise/body":              vec(0, 0, 1),
		"vise/moving jaw | stock":        vec(0, 1, 0), "vise/fixed jaw | stock": vec(0, -1, 0),
		"tool | machine/head": vec(0, 0, -1), "tool | machine/nose": vec(0, 0, -1),
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("got  %v\nwant %v", got, want)
	}
}

// A self-centring vise seated a quarter turn round: both jaws move, against
// each other, and open away from each other.
func TestSelfCentring(t *testing.T) {
	w := example(t).
		with(t, "vise.toml", "file = \"fixed-jaw.stl\"", "carried_by = \"jaw\"\nopposite = true\nfile = \"fixed-jaw.stl\"").
		with(t, "vise.toml", "travel = [0, 150]", "travel = [0, 150]\naccuracy = 0.01").
		with(t, "setup.toml", `pins = ["B3", "D3"]`, `pins = ["C2", "C4"]`).
		with(t, "setup.toml", "bite = 0", "bite = 0.2")
	s := w.load(t)
	var zero motion.Params
	body := s.Pose(s.body(t, "vise/body"), zero)
	for name, want := range map[string]r3.Vector{"vise/fixed jaw": vec(60, 0, 0), "vise/moving jaw": vec(-60, 0, 0)} {
		jaw := s.Pose(s.body(t, name), zero)
		near(t, name, jaw.T.Sub(body.T), want, 0)
		for _, m := range s.Matings {
			if s.Bodies[m.A].Name == name && s.Bodies[m.B].Name == "stock" {
				near(t, name+" opens", m.Lift, want.Normalize(), 0)
				nearly(t, "bite", m.Bite, 0.2, 0)
			}
		}
	}
	rel := motion.Between(s.Bodies[s.body(t, "vise/fixed jaw")].Chain, s.Bodies[s.body(t, "vise/moving jaw")].Chain)
	if len(rel.Joints) != 2 || rel.Joints[0].Slack != 0.01 || rel.Joints[0].Name == rel.Joints[1].Name {
		t.Errorf("between the jaws: %+v", rel.Joints)
	}
}

// The tool's prism encloses the true cylinder, by no more than a chord's height.
func TestToolEnclosesCylinder(t *testing.T) {
	for _, c := range []Tool{{80, 180}, {12.7, 333.3}, {0.3, 40.1}} {
		m := prism(c.Diameter, -c.Length, 0)
		audit := geom.AuditOf(m)
		if !audit.Closed || !audit.Oriented || audit.InsideOut {
			t.Fatalf("%+v", audit)
		}
		r := c.Diameter / 2
		for i := range m.Facets {
			p, q, s := m.Triangle(i)
			n := q.Sub(p).Cross(s.Sub(p)).Normalize()
			// Farthest that the cylinder, z from -length to 0, gets along n.
			reach := r*math.Hypot(n.X, n.Y) + max(0, -n.Z*c.Length)
			if out := n.Dot(p) - reach; out < -1e-12 || out > 0.001*r+1e-4 {
				t.Errorf("%+v: facet %d stands %g outside the cylinder", c, i, out)
			}
		}
	}
}

// A solid file named by two components is read once, and what is read does not
// depend on the order in which files come in.
func TestSolidsAreShared(t *testing.T) {
	w := example(t).with(t, "stock.toml", "block.stl", "base.stl")
	s, again := w.load(t), w.load(t)
	if s.Bodies[s.body(t, "stock")].Solid.Mesh != s.Bodies[s.body(t, "trunnion/base")].Solid.Mesh {
		t.Error("read twice")
	}
	if !reflect.DeepEqual(s, again) {
		t.Error("read twice, two setups")
	}
}

// An open solid and one in the wrong unit are told, and do no more harm.
func TestWarnings(t *testing.T) {
	w := example(t)
	w["block.stl"] = w["block.stl"][:80] + "\x0b\x00\x00\x00" + w["block.stl"][84:84+11*50]
	w["nose.stl"] = string(box(0, 0, 0, 6000, 10, 10))
	s := w.load(t)
	all := strings.Join(s.Warnings, "\n")
	for _, want := range []string{`stock.toml: solid "block": open`, `machine.toml: solid "nose": implausibly large`} {
		if !strings.Contains(all, want) {
			t.Errorf("%q does not say %q", all, want)
		}
	}
	if b := s.Bodies[s.body(t, "stock")]; b.Mass != 0 || b.Solid.Audit.Closed {
		t.Errorf("an open solid has mass %g", b.Mass)
	}
}

// From disk: a folder with spaces, CRLF line ends, components a folder below.
func TestLoadFromDisk(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "two words", "setups")
	if err := os.MkdirAll(filepath.Join(dir, "fix tures"), 0o777); err != nil {
		t.Fatal(err)
	}
	w := example(t)
	w["setup.toml"] = strings.ReplaceAll(w["setup.toml"], `component = "`, `component = "fix tures/`)
	w["setup.toml"] = strings.ReplaceAll(w["setup.toml"], `"machine.toml"`, `"../machine.toml"`)
	block := filepath.ToSlash(filepath.Join(dir, "fix tures", "block.stl"))
	w["stock.toml"] = strings.ReplaceAll(w["stock.toml"], `"block.stl"`, strconv.Quote(block))
	for name, text := range w {
		if !strings.HasSuffix(name, ".stl") {
			text = strings.ReplaceAll(text, "\n", "\r\n")
		}
		folder := filepath.Join(dir, "fix tures")
		switch name {
		case "setup.toml", "tools.toml", "holes.csv":
			folder = dir
		case "machine.toml", "table.stl", "column.stl", "head.stl", "nose.stl", "guards.stl":
			folder = filepath.Dir(dir)
		}
		if err := os.WriteFile(filepath.Join(folder, name), []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	s, err := Load(filepath.Join(dir, "setup.toml"))
	if err != nil {
		t.Fatal(err)
	}
	if want := filepath.Join(dir, "fix tures", "block.stl"); s.Bodies[s.body(t, "stock")].Solid.File != want {
		t.Errorf("file %q", s.Bodies[s.body(t, "stock")].Solid.File)
	}
}

// A vise that says itself how its jaws open, with two grips, one of which is
// named; its stop turns, and is set by an angle.
func TestStatedOpenings(t *testing.T) {
	w := example(t).
		with(t, "vise.toml", "# opening = [[0, -1, 0], [0, 1, 0]]", "opening = [[0, -2, 0], [0, 1, 1]]\nname = \"near\"").
		with(t, "setup.toml", "bite = 0", "bite = 0, grip = \"near\"").
		with(t, "setup.toml", "jaw = 60", "jaw = 60, stop = 90")
	w["vise.toml"] += `
[[grip]]
name = "far"
jaws = ["body", "moving jaw"]
[[solid]]
name = "stop"
file = "moving-jaw.stl"
carried_by = "stop"
chord_error = 0
[[axis]]
name = "stop"
setting = true
kind = "rotary"
centre = [50, 0, 0]
direction = [0, 0, 1]
travel = [0, 180]
`
	s := w.load(t)
	for _, m := range s.Matings {
		switch s.Bodies[m.A].Name {
		case "vise/fixed jaw":
			near(t, "fixed jaw", m.Lift, vec(0, -1, 0), 1e-15)
		case "vise/moving jaw":
			near(t, "moving jaw", m.Lift, vec(0, math.Sqrt(0.5), math.Sqrt(0.5)), 1e-15)
		case "vise/body":
			if s.Bodies[m.B].Name == "stock" {
				t.Error("the other grip grips")
			}
		}
	}
	// Turned by 90 degrees about (50, 0), (0, 0) goes to (50, -50).
	var zero motion.Params
	stop, body := s.Pose(s.body(t, "vise/stop"), zero), s.Pose(s.body(t, "vise/body"), zero)
	near(t, "stop", stop.T.Sub(body.T), vec(50, -50, 0), 0)
	e := w.with(t, "setup.toml", ", grip = \"near\"", "").onlyError(t)
	if !strings.Contains(e.Expected, "near, far") {
		t.Error(e)
	}
}

// The setup's tool stands in for the machine's, in the setup's unit.
func TestToolOfSetup(t *testing.T) {
	w := example(t).uncut(t).with(t, "setup.toml", "# [tool]", "[tool]\ndiameter = 20\nlength = 300 #")
	s := w.load(t)
	tool := s.Bodies[s.body(t, "tool")]
	size := tool.Solid.Mesh.Bounds().Size()
	near(t, "size", size, vec(20, 20, 300), 0.05)
	if size.X < 20 || size.Z < 300 {
		t.Errorf("smaller than the tool: %v", size)
	}
	tip := tool.Chain.Home.Point(vec(0, 0, -300))
	near(t, "tip", tip, vec(0, 0, -180), 1e-12)
}

// The tool that is assumed covers every tool that operations use, by hand from the tool
// file: the widest is the flange of 63.5 of the arbor and the chuck, the longest the probe, 105 +
// 50 long, and what its length can be off by.
func TestToolCoversWhatIsUsed(t *testing.T) {
	stating := func(diameter, length float64) world {
		return example(t).with(t, "setup.toml", "# [tool]", fmt.Sprintf("[tool]\ndiameter = %g\nlength = %g #", diameter, length))
	}
	long := "cutter = \"stylus 6 x 50\"\nholder = \"probe body\"\n"
	none := example(t).with(t, "machine.toml", "[tool] ", "#").with(t, "machine.toml", "diameter = 80\nlength = 180", "")
	for _, c := range []struct {
		name             string
		w                world
		diameter, length float64
		warned           []string // tools
	}{
		{"larger", stating(80, 180), 80, 180, nil},
		{"as large", stating(63.5, 155), 63.5, 155, nil},
		{"shorter", stating(80, 120), 80, 155, []string{"T4 is longer", "T20 is longer"}},
		{"slimmer", stating(63.2, 180), 63.5, 180, []string{"T1 is wider", "T4 is wider", "T2 is wider"}},
		{"within", stating(80, 155).with(t, "tools.toml", long, long+"within = 2\n"), 80, 157, []string{"T20 is longer"}},
		{"none", none, 63.5, 155, nil},
		{"none used", none.uncut(t), 0, 0, nil},
	} {
		s := c.w.load(t)
		if c.diameter == 0 {
			if s.Tool != nil {
				t.Errorf("%s: %+v", c.name, s.Tool)
			}
			continue
		}
		nearly(t, c.name+": diameter", s.Tool.Diameter, c.diameter, 1e-9)
		nearly(t, c.name+": length", s.Tool.Length, c.length, 1e-9)
		size := s.Bodies[s.body(t, "tool")].Solid.Mesh.Bounds().Size()
		if size.X < c.diameter || size.Z < c.length {
			t.Errorf("%s: a body of %v", c.name, size)
		}
		var told []string
		for _, w := range s.Warnings {
			if _, text, found := strings.Cut(w, ": "); found && strings.Contains(w, "largest tool by [tool]") {
				told = append(told, text)
			}
		}
		if !slices.EqualFunc(told, c.warned, strings.HasPrefix) {
			t.Errorf("%s: told %q, want %q", c.name, told, c.warned)
		}
	}
}

// An axis whose letter ISO 841 would give to another one is kept as the control
// calls it, and told.
func TestLetterOfControl(t *testing.T) {
	w := example(t).with(t, "machine.toml", "letter = \"X\"", "letter = \"V\"").
		with(t, "machine.toml", "carried_by = \"X\"", "carried_by = \"V\"").
		with(t, "machine.toml", "at = { X = 0", "at = { V = 0")
	s := w.load(t)
	s.axis(t, "V")
	if all := strings.Join(s.Warnings, "\n"); !strings.Contains(all, "axis V of the machine is parallel to X") {
		t.Errorf("warnings %q", all)
	}
}
