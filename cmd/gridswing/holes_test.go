package main

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"gridswing/geom"
	"gridswing/geom/motion"
	"gridswing/geom/shape"
	"gridswing/geom/stl"
	"gridswing/machine"
	"gridswing/models"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
)

// tablesOf returns what solid --holes prints for a component file, the solid called
// as the component calls it.
func tablesOf(t *testing.T, name string, args ...string) string {
	t.Helper()
	code, out, errs := call(t, t.Context(), append([]string{"solid", "--holes"}, args...)...)
	_, tables, found := strings.Cut(out, "\nFor a component file, lengths in ")
	_, tables, _ = strings.Cut(tables, "\n")
	if code != exitClear || !found {
		t.Fatalf("exit code %d, printed %q, %q", code, out, errs)
	}
	return regexp.MustCompile(`solid = "[^"]*"`).ReplaceAllString(tables, `solid = "`+name+`"`)
}

// riserTables is what is printed for the demo's riser: models/generate/gridplate.go says
// 5 x 3 holes of 16 over M12 (core 10.2), 13.5 for M12 in the corners (ISO 273, medium),
// locating bores of 16 at the ends of the middle row.
const riserTables = `[[grid]]
name = "grid 1"
solid = "riser" # as this solid is called in the component file
origin = [-100, -50, 50]
columns = 5
rows = 3
pitch = 50
omit = ["A1", "E1", "A3", "E3"]
bore = 16
# thread = "M12" # if the core of 10.2 is tapped: the solid does not tell

# [seat] # two bores of 16, alone of that diameter in the face opposite to grid 1
# pins = [[-100, 0, 0], [100, 0, 0]]
# play = # diametral, of each pin in its bushing, at worst: state it

# [[fastener]] # bore of 13.5
# at = [-100, -50, 0]
# thread = "M12"

# [[fastener]] # bore of 13.5
# at = [100, -50, 0]
# thread = "M12"

# [[fastener]] # bore of 13.5
# at = [-100, 50, 0]
# thread = "M12"

# [[fastener]] # bore of 13.5
# at = [100, 50, 0]
# thread = "M12"

`

func TestRiserTables(t *testing.T) {
	dir, _ := demoFolder(t)
	if got := tablesOf(t, "riser", filepath.Join(dir, "solids", "riser.stl")); got != riserTables {
		t.Errorf("printed\n%s", got)
	}
}

// uncommented takes seat and fasteners in, as a user does, and states the play.
func uncommented(tables string) string {
	tables = regexp.MustCompile(`(?m)^# (\[seat\]|pins =|normal =|play =|\[\[fastener\]\]|at =|thread =)`).ReplaceAllString(tables, "$1")
	return strings.Replace(tables, "play =", "play = 0.001", 1)
}

// demoFolder copies the demo, and returns the folder and the setup as it is.
func demoFolder(t *testing.T) (string, *machine.Setup) {
	t.Helper()
	dir := t.TempDir()
	if err := os.CopyFS(dir, models.Demo); err != nil {
		t.Fatal(err)
	}
	return dir, loadSetup(t, dir)
}

func loadSetup(t *testing.T, dir string) *machine.Setup {
	t.Helper()
	s, err := machine.Load(filepath.Join(dir, filepath.FromSlash(models.GoodSetup)))
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// sameStand compares where all bodies stand with every axis at zero, but for those of
// the component that is drawn elsewhere.
func sameStand(t *testing.T, what string, got, want *machine.Setup, but string, tolerance float64) {
	t.Helper()
	if len(got.Bodies) != len(want.Bodies) {
		t.Fatalf("%s: %d bodies, want %d", what, len(got.Bodies), len(want.Bodies))
	}
	var zero motion.Params
	for i := range want.Bodies {
		if want.Bodies[i].Unit == but {
			continue
		}
		a, b := got.Pose(i, zero), want.Pose(i, zero)
		for _, p := range []r3.Vector{{}, {X: 100}, {Y: 100}} {
			if d := a.Point(p).Sub(b.Point(p)).Norm(); d > tolerance {
				t.Errorf("%s: %s stands %v mm off", what, want.Bodies[i].Name, d)
			}
		}
	}
}

// Found anew and pasted into their component files, the demo's grids and seats put
// every body where it was.
func TestPrintedTablesLoad(t *testing.T) {
	for file, c := range map[string][2]string{"riser.stl": {"riser-50.toml", "block"}, "grid-plate.stl": {"grid-plate.toml", "plate"}} {
		dir, want := demoFolder(t)
		path := filepath.Join(dir, "components", c[0])
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		head, rest, _ := strings.Cut(string(data), "[seat]")
		seat, _, _ := strings.Cut(rest, "[[grid]]")
		tables := tablesOf(t, c[1], filepath.Join(dir, "solids", file))
		for what, text := range map[string]string{
			"as printed":  head + "[seat]" + seat + tables,
			"uncommented": head + uncommented(tables),
		} {
			if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
				t.Fatal(err)
			}
			sameStand(t, file+" "+what, loadSetup(t, dir), want, "", 1e-3)
		}
	}
}

// The same with the riser drawn at a tilt, and in inches: what is drawn otherwise makes
// no difference to where the vise stands on it.
func TestPrintedTablesLoadOtherwise(t *testing.T) {
	dir, want := demoFolder(t)
	solid, component := filepath.Join(dir, "solids", "riser.stl"), filepath.Join(dir, "components", "riser-50.toml")
	m, err := stl.ReadFile(solid)
	if err != nil {
		t.Fatal(err)
	}
	pose := geom.Turn(r3.Vector{X: 3}, r3.Vector{X: 1, Y: -2, Z: 1}.Normalize(), 0.4)
	for _, unit := range []geom.Unit{geom.Millimetre, geom.Inch} {
		for what, pose := range map[string]geom.Pose{"upright": geom.Identity(), "tilted": pose} {
			s := shape.SurfaceOf(m).Moved(pose)
			for i := range s {
				for k := range s[i] {
					s[i][k] = s[i][k].Mul(1 / float64(unit))
				}
			}
			if err := stl.WriteFile(solid, s.Mesh()); err != nil {
				t.Fatal(err)
			}
			tables := tablesOf(t, "block", solid, "--units", unit.String())
			text := strings.Join([]string{`kind = "component"`, `name = "riser"`, `units = "` + unit.String() + `"`,
				`role = "workholding"`, `material = "steel"`, `[[solid]]`, `name = "block"`, `file = "../solids/riser.stl"`,
				`chord_error = 0.02`, "", uncommented(tables)}, "\n")
			if err := os.WriteFile(component, []byte(text), 0o644); err != nil {
				t.Fatal(err)
			}
			sameStand(t, what+" in "+unit.String(), loadSetup(t, dir), want, "riser", 2e-3)
		}
	}
}

// A faceplate with a bolt circle about a bore: its table is a polar grid, with which the
// setup loads, and whose holes are where they were drawn.
func TestBoltCircleTable(t *testing.T) {
	dir, want := demoFolder(t)
	var holes []shape.Hole
	for _, k := range []float64{0, 1, 2, 4, 5, 6, 7} { // of eight places
		sin, cos := math.Sincos(k * math.Pi / 4)
		holes = append(holes, shape.Hole{At: r2.Point{X: 50 * cos, Y: 50 * sin}, Radius: 8, Depth: 20})
	}
	plate := shape.Plate{Outline: shape.Rect(-120, -70, 120, 70), Thickness: 50, Round: shape.Round{Chord: 0.02},
		Holes: append(holes, shape.Hole{Radius: 20, Depth: 10})}
	s, err := plate.Surface()
	if err != nil {
		t.Fatal(err)
	}
	solid, component := filepath.Join(dir, "solids", "riser.stl"), filepath.Join(dir, "components", "riser-50.toml")
	if err := stl.WriteFile(solid, s.Mesh()); err != nil {
		t.Fatal(err)
	}
	tables := tablesOf(t, "block", solid)
	const table = `[[grid]]
name = "bolt circle 1"
solid = "block" # as this solid is called in the component file
origin = [0, 0, 50]
rings = [50]
per_ring = 8
centre = 40
u = [-1, 0, 0]
v = [0, -1, 0]
omit = ["A8"]
bore = 16

`
	if tables != table {
		t.Errorf("printed\n%s\nwant\n%s", tables, table)
	}
	data, err := os.ReadFile(component)
	if err != nil {
		t.Fatal(err)
	}
	head, _, _ := strings.Cut(string(data), "[[grid]]")
	if err := os.WriteFile(component, []byte(head+tables), 0o644); err != nil {
		t.Fatal(err)
	}
	// The vise stood in B2 and D2, 50 mm left and right of the middle.
	rewrite(t, filepath.Join(dir, filepath.FromSlash(models.GoodSetup)), `pins = ["B2", "D2"]`, `pins = ["A1", "A5"]`)
	sameStand(t, "bolt circle", loadSetup(t, dir), want, "riser", 1e-3)
}

// A block with a grid on each of four sides stands on the pins in its foot: one grid for
// each side, each with its face to the outside, and the seat in the lowest face.
func TestFourSides(t *testing.T) {
	side := shape.Plate{Outline: shape.Rect(-40, -60, 40, 60), Thickness: 10, Round: shape.Round{Chord: 0.02},
		Holes: shape.HoleGrid(shape.Hole{Radius: 5, Depth: 7}, r2.Point{}, 2, 3, 35, nil)}
	foot := shape.Plate{Outline: shape.Rect(-80, -80, 80, 80), Thickness: 10, Round: shape.Round{Chord: 0.02},
		Holes: []shape.Hole{{At: r2.Point{X: -60}, Radius: 6}, {At: r2.Point{X: 60}, Radius: 6}}}
	plate, err := side.Surface()
	if err != nil {
		t.Fatal(err)
	}
	all, err := foot.Surface()
	if err != nil {
		t.Fatal(err)
	}
	upright := plate.Moved(geom.Turn(r3.Vector{}, r3.Vector{X: 1}, math.Pi/2)).Shifted(0, -40, 70)
	for quarter := range 4 {
		all = shape.Join(all, upright.Moved(geom.Turn(r3.Vector{}, r3.Vector{Z: 1}, float64(quarter)*math.Pi/2)))
	}
	file := filepath.Join(t.TempDir(), "block.stl")
	if err := stl.WriteFile(file, all.Mesh()); err != nil {
		t.Fatal(err)
	}
	tables := tablesOf(t, "block", file)
	for want, n := range map[string]int{
		"[[grid]]": 4, "columns = 2\nrows = 3\npitch = 35\n": 4, "bore = 10\n": 4,
		"origin = [-17.5, -50, 35]\ncolumns = 2\nrows = 3\npitch = 35\nu = [1, 0, 0]\nv = [0, 0, 1]\n":                      1,
		"origin = [-17.5, 50, 105]\ncolumns = 2\nrows = 3\npitch = 35\nu = [1, 0, 0]\nv = [0, 0, -1]\n":                     1,
		"origin = [50, -17.5, 35]\ncolumns = 2\nrows = 3\npitch = 35\nu = [0, 1, 0]\nv = [0, 0, 1]\n":                       1,
		"# [seat] # two bores of 12, alone of that diameter in the lowest face\n# pins = [[-60, 0, 0], [60, 0, 0]]\n# play": 1,
	} {
		if got := strings.Count(tables, want); got != n {
			t.Errorf("%d times, want %d: %s\nin %s", got, n, want, tables)
		}
	}
}

// The data of --json are those of the text: holes by number in grids and circles.
func TestHolesAsData(t *testing.T) {
	dir, _ := demoFolder(t)
	code, out, _ := call(t, t.Context(), "solid", "--holes", "--json", filepath.Join(dir, "solids", "riser.stl"))
	var got struct {
		Round struct {
			Holes []struct {
				Mouth [3]float64 `json:"mouth_mm"`
				Steps []struct {
					Diameter float64 `json:"diameter_mm"`
				} `json:"steps"`
				Bottom string `json:"bottom"`
			} `json:"holes"`
			Grids []struct {
				Labels []string `json:"labels"`
				Holes  []int    `json:"holes"`
				Omit   []string `json:"omit"`
			} `json:"grids"`
			Tables string `json:"tables"`
		} `json:"round"`
	}
	if err := json.Unmarshal([]byte(out), &got); err != nil || code != exitClear {
		t.Fatalf("exit code %d: %v", code, err)
	}
	if len(got.Round.Holes) != 15 || len(got.Round.Grids) != 2 || !strings.Contains(got.Round.Tables, "[[grid]]") {
		t.Fatalf("found %+v", got.Round)
	}
	for i, label := range got.Round.Grids[0].Labels {
		if label != "A2" {
			continue
		}
		h := got.Round.Holes[got.Round.Grids[0].Holes[i]]
		if h.Bottom != "through" || len(h.Steps) != 1 || h.Mouth != [3]float64{-100, h.Mouth[1], 50} {
			t.Errorf("A2 is %+v", h)
		}
		return
	}
	t.Error("no hole A2")
}
