package pictures

import (
	"bytes"
	"io/fs"
	"math"
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"gridswing/cmd/gridswing/internal/text"
	"gridswing/geom"
	"gridswing/geom/bores"
	"gridswing/geom/motion"
	"gridswing/geom/shape"
	"gridswing/geom/stl"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/render"
	"gridswing/render/drafting"
	"gridswing/render/ink"

	"github.com/golang/geo/r3"
)

// demo loads the demo's good setup with changes: file, old, new in turn.
func demo(t *testing.T, changes ...string) *machine.Setup {
	t.Helper()
	root := os.DirFS("../../../../models/demo")
	files := fstest.MapFS{}
	err := fs.WalkDir(root, ".", func(name string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return err
		}
		data, err := fs.ReadFile(root, name)
		files[name] = &fstest.MapFile{Data: data}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	for i := 0; i < len(changes); i += 3 {
		f := files[changes[i]]
		if f == nil || !strings.Contains(string(f.Data), changes[i+1]) {
			t.Fatalf("%s has no %q", changes[i], changes[i+1])
		}
		f.Data = []byte(strings.ReplaceAll(string(f.Data), changes[i+1], changes[i+2]))
	}
	s, err := machine.LoadFS(files, "setups/bracket-op10.toml")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func millimetres() text.Lengths { return text.NewLengths(geom.Millimetre, nil) }

// onSetPins is the demo with pins that can be set in the riser, on two of which the vise stands; two
// more stand up, the others are withdrawn.
func onSetPins(t *testing.T) *machine.Setup {
	return demo(t,
		"components/riser-50.toml", "bore = 16\n", "bore = \"16 H7\"\nretractable = { fit = \"16 g6\", height = 12 }\n",
		"components/vise-125.toml", "play = 0.035 # 16 H7/g6, worst: ISO 286-2\n", "located_by = \"set pins\"\nbore = \"16 H7\"\nrelieved = 4\n",
		"setups/bracket-op10.toml", "pins = [\"C5\", \"C1\"] # so", "withdrawn = [\"A2\", \"B1\", \"B3\", \"C1\", \"C2\", \"C3\", \"D1\"]\npins = [\"C5\", \"C1\"] # so")
}

// planNamed returns the drawing of a plan, and its words.
func planNamed(t *testing.T, s *machine.Setup, name string) (*machine.HolePlan, *drafting.Plan, string) {
	t.Helper()
	sc, err := Prepare(t.Context(), s, 1)
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range s.Plans() {
		if p.Name == name {
			d, words := sc.planOf(p, millimetres())
			return p, d, strings.Join(words, "\n")
		}
	}
	t.Fatalf("no plan of %s", name)
	return nil, nil, ""
}

// Which pins are set, which are withdrawn and which locate is told by mark and word.
func TestPlanOfSetPins(t *testing.T) {
	s := onSetPins(t)
	_, d, words := planNamed(t, s, "riser/top")
	marks := map[string]drafting.Mark{}
	told := map[string]string{}
	for _, l := range d.Locators {
		marks[l.Hole], told[l.Hole] = l.Mark, l.Words
	}
	for hole, want := range map[string]drafting.Mark{
		"B2": drafting.Round, "D2": drafting.Relieved, "D3": drafting.Set, "E2": drafting.Set,
		"A2": drafting.Withdrawn, "C3": drafting.Withdrawn, "D1": drafting.Withdrawn,
	} {
		if got, is := marks[hole]; !is || got != want {
			t.Errorf("%s is drawn as %d, want %d", hole, got, want)
		}
	}
	if len(marks) != 11 {
		t.Errorf("%d pins, want 11", len(marks))
	}
	if told["D2"] != "set pin 2, relieved" || told["D3"] != "set" || told["A2"] != "withdrawn" {
		t.Errorf("%v", told)
	}
	for _, want := range []string{"set pin 1 in B2 (round), set pin 2 in D2 (relieved)", "locate nothing: E2, D3", "withdrawn: B1, C1, D1, A2, C2, B3, C3"} {
		if !strings.Contains(words, want) {
			t.Errorf("%q does not say %q", words, want)
		}
	}
}

// The words of every plan have all holes in which something is set.
func TestPlanWords(t *testing.T) {
	for _, s := range []*machine.Setup{demo(t), onSetPins(t)} {
		n := 0
		for _, p := range s.Plans() {
			_, d, words := planNamed(t, s, p.Name)
			for _, l := range d.Locators {
				if n++; !strings.Contains(words, l.Hole) {
					t.Errorf("%s: %q does not say %s", p.Name, words, l.Hole)
				}
			}
			for _, f := range d.Screws {
				if n++; !strings.Contains(words, f.Hole) {
					t.Errorf("%s: %q does not say %s", p.Name, words, f.Hole)
				}
			}
		}
		if n < 22 {
			t.Errorf("%d things set in holes", n)
		}
	}
}

// openingsIn returns the openings in the plane of a plan's face, from both sides of it, of all bodies but
// those of the face.
func openingsIn(s *machine.Setup, p *machine.HolePlan) (openings []drafting.Point) {
	frame := p.Pose()
	back := frame.Inverse()
	for i := range s.Bodies {
		b := &s.Bodies[i]
		if !onTable(b) || b.Unit == p.Unit {
			continue
		}
		pose := back.Mul(b.Chain.Home)
		for _, o := range bores.Find(b.Solid.Mesh).Openings() {
			if at := pose.Point(o.At); math.Abs(at.Z) < 0.05 {
				openings = append(openings, drafting.Point{X: at.X, Y: at.Y})
			}
		}
	}
	return openings
}

// What a plan draws is where the bodies stand: holes and screws are at bores that are found in the
// solids as they are posed, pins at the bosses or bores of what stands there, and outlines within the
// boxes of what they are of.
func TestPlanAgainstBodies(t *testing.T) {
	s := demo(t)
	screwed := 0
	for _, p := range s.Plans() {
		_, d, _ := planNamed(t, s, p.Name)
		frame := p.Pose()
		back := frame.Inverse()
		openings := openingsIn(s, p)
		near := func(q drafting.Point) bool {
			for _, o := range openings {
				if math.Hypot(o.X-q.X, o.Y-q.Y) < 0.05 {
					return true
				}
			}
			return false
		}
		for _, f := range d.Screws { // each goes through a hole of what it holds
			if screwed++; !near(f.At) {
				t.Errorf("%s: no hole over the screw at %v", p.Name, f.At)
			}
		}
		for _, st := range d.Stands {
			box := geom.EmptyBox()
			for i := range s.Bodies {
				if b := &s.Bodies[i]; b.Unit == st.Name {
					pose := back.Mul(s.Pose(i, motion.Params{}))
					for _, f := range b.Solid.Mesh.Facets {
						for _, v := range f {
							box = box.Include(pose.Point(v.Vector()))
						}
					}
				}
			}
			if len(st.Outline) == 0 {
				t.Errorf("%s: %s has no outline", p.Name, st.Name)
			}
			for _, line := range st.Outline {
				for _, q := range line {
					if !box.Contains(r3.Vector{X: q.X, Y: q.Y, Z: box.Min.Z}) {
						t.Fatalf("%s: outline of %s at %v, its box is %v", p.Name, st.Name, q, box)
					}
				}
			}
		}
	}
	if screwed != 14 {
		t.Errorf("%d screws", screwed)
	}
}

// The operator's side is at the bottom of every level face: of the riser, which stands turned by a quarter,
// letters run downward.
func TestPlanTurn(t *testing.T) {
	s := demo(t)
	for _, p := range s.Plans() {
		_, d, _ := planNamed(t, s, p.Name)
		frame := p.Pose()
		toward := frame.Inverse()
		o := toward.Dir(r3.Vector{Y: -1}) // where the operator stands at a machine with Z up
		for range ((d.Turn % 4) + 4) % 4 {
			o.X, o.Y = -o.Y, o.X
		}
		if math.Abs(o.X) > 1e-9 || o.Y > -1+1e-9 {
			t.Errorf("%s: turned by %d quarters, the operator is at %v", p.Name, d.Turn, o)
		}
	}
}

// The outline of an invented plate is its own, whatever holes are in it.
func TestOutline(t *testing.T) {
	s := demo(t)
	plate := &s.Bodies[9]
	lines := linesIn(geom.EdgesOf(plate.Solid.Mesh, 1), geom.Identity()) // its underside is at Z = 0
	out := outer(lines)
	if plate.Name != "plate" || len(out) != 1 || len(lines) < 10 {
		t.Fatalf("%s: %d lines, %d of them outside", plate.Name, len(lines), len(out))
	}
	b := plate.Solid.Audit.Bounds
	for _, q := range out[0] { // the chamfer takes a little
		if math.Abs(math.Abs(q.X)-b.Max.X) > 2 && math.Abs(math.Abs(q.Y)-b.Max.Y) > 2 {
			t.Errorf("outline at %v of a plate up to %v", q, b.Max)
		}
	}
	h := hull(plate.Solid.Mesh, geom.Identity(), math.Inf(1))
	area := 0.0
	for i := 1; i < len(h); i++ {
		area += (h[i-1].X*h[i].Y - h[i].X*h[i-1].Y) / 2
	}
	if size := b.Size(); area > size.X*size.Y+1e-6 || area < 0.98*size.X*size.Y {
		t.Errorf("hull of %g mm2, the box has %g", area, size.X*size.Y)
	}
}

// uprightFiles are those of uprightFace.
var uprightFiles = map[string]string{
	"m.toml": `kind = "machine"
name = "horizontal"
units = "mm"
up = [0, 1, 0]
[[axis]]
letter = "X"
moves = "workpiece"
carried_by = "bed"
direction = [1, 0, 0]
travel = [-300, 300]
home = 0
[[solid]]
name = "cube"
role = "table"
file = "column.stl"
chord_error = 0
carried_by = "X"
[[grid]]
name = "front"
solid = "cube"
carried_by = "X"
origin = [-350, -350, 0]
columns = 8
rows = 8
pitch = 100
bore = 16
`,
	"p.toml": `kind = "component"
name = "plate"
units = "mm"
role = "workholding"
[[solid]]
name = "plate"
file = "plate.stl"
chord_error = 0
[seat]
pins = [[-100, 0, 0], [100, 0, 0]]
play = 0.03
`,
	"s.toml": `kind = "setup"
name = "on its side"
units = "mm"
machine = "m.toml"
[demand]
default = 2
[[place]]
name = "plate"
component = "p.toml"
on = "front"
pins = ["D3", "D5"]
`,
}

// uprightFace is a machine with a horizontal spindle: a plate on two pins of an upright face, and a block on it.
func uprightFace(t *testing.T) *machine.Setup {
	t.Helper()
	solid := func(x, y, z0, z1 float64) *fstest.MapFile {
		plate := shape.Plate{Outline: shape.Contour{{X: -x, Y: -y}, {X: x, Y: -y}, {X: x, Y: y}, {X: -x, Y: y}}, Thickness: z1 - z0}
		surface, err := plate.Surface()
		if err != nil {
			t.Fatal(err)
		}
		var data bytes.Buffer
		if err := stl.Encode(&data, surface.Moved(geom.Shift(r3.Vector{Z: z0})).Mesh()); err != nil {
			t.Fatal(err)
		}
		return &fstest.MapFile{Data: data.Bytes()}
	}
	files := fstest.MapFS{"column.stl": solid(400, 400, -200, 0), "plate.stl": solid(150, 100, 0, 30)}
	for name, text := range uprightFiles {
		files[name] = &fstest.MapFile{Data: []byte(text)}
	}
	s, err := machine.LoadFS(files, "s.toml")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// A face that stands upright is seen from its own side, up on the paper as it is at the machine; nothing that
// stands so has a height as a seat.
func TestPlanOfAStandingFace(t *testing.T) {
	s := uprightFace(t)
	_, d, words := planNamed(t, s, "machine/front")
	if d.Turn != 0 || math.Hypot(d.Operator.X, d.Operator.Y) > 1e-9 {
		t.Errorf("turned by %d, operator at %v", d.Turn, d.Operator)
	}
	if !strings.Contains(words, "pin 1 in D3 (round), pin 2 in D5 (round)") || len(d.Stands) != 1 || len(d.Stands[0].Outline) != 1 {
		t.Errorf("%q, %+v", words, d.Stands)
	}
	sc, err := Prepare(t.Context(), s, 1)
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range sc.elevationOf(render.Front, millimetres(), nil).Levels {
		if strings.Contains(l.Words, " on ") {
			t.Errorf("a seat that stands upright is told at %g", l.Height)
		}
	}
	for _, f := range sc.Figures(check.NewReport(s)) {
		if err := f.Draw(t.Context(), ink.NewCanvas(600, int(600/f.Aspect), ink.Paper)); err != nil {
			t.Errorf("%s: %v", f.Title, err)
		}
	}
}

// Screws are worded by their size, one as one.
func TestPlanScrews(t *testing.T) {
	s := demo(t, "components/vise-125.toml", "[[fastener]]\nat = [0, 50, 0]\nthread = \"M12\"", "[[fastener]]\nat = [0, 50, 0]\nthread = \"M12\"\nlength = 45\nclamped = 30")
	_, d, words := planNamed(t, s, "riser/top")
	if !strings.Contains(words, "1 screw M12: C1; 1 screw M12 × 45: C3") && !strings.Contains(words, "1 screw M12: C3; 1 screw M12 × 45: C1") {
		t.Errorf("%q", words)
	}
	if len(d.Screws) != 2 || d.Screws[0].Diameter != 12 || d.Screws[0].Words != "M12" {
		t.Errorf("%+v", d.Screws)
	}
	if _, _, words := planNamed(t, s, "plate/top"); !strings.Contains(words, "8 screws M12: ") {
		t.Errorf("%q", words)
	}
}
