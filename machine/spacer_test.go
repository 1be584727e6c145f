package machine

import (
	"errors"
	"strconv"
	"strings"
	"testing"

	"gridswing/geom/motion"

	"github.com/golang/geo/r3"
)

// raised is the example with a riser of two solids between the trunnion's faceplate and its vise.
func raised(t testing.TB, mm float64) world {
	t.Helper()
	w := example(t).
		with(t, "setup.toml", "[[place]]\nname = \"vise\"", "[[place]]\nname = \"riser\"\ncomponent = \"riser.toml\"\non = \"trunnion/faceplate\"\npins = [\"B3\", \"D3\"]\n\n[[place]]\nname = \"vise\"").
		with(t, "setup.toml", "component = \"vise.toml\"\non = \"trunnion/faceplate\"\npins = [\"B3\", \"D3\"]", "component = \"vise.toml\"\non = \"riser/top\"\npins = [\"A1\", \"C1\"]")
	w["riser.stl"] = string(box(-60, -40, 0, 40, 40, mm))
	w["key.stl"] = string(box(20, -60, -5, 70, -30, mm/2))
	w["riser.toml"] = strings.Replace(riserText, "HEIGHT", number6(mm), 1)
	return w
}

const riserText = `
kind = "component"
name = "riser"
units = "mm"
role = "workholding"
material = "steel"
[[solid]]
name = "block"
file = "riser.stl"
chord_error = 0.01
[[solid]]
name = "key"
file = "key.stl"
chord_error = 0
[seat]
pins = [[-50, 0, 0], [50, 0, 0]]
play = 0.03
[[grid]]
name = "top"
solid = "block"
origin = [-50, 0, HEIGHT]
columns = 3
rows = 1
pitch = 50
[[grid]]
name = "step"
solid = "key"
origin = [30, -50, 5]
columns = 1
rows = 1
pitch = 20
`

func number6(mm float64) string { return strconv.FormatFloat(mm, 'f', -1, 64) }

// At every height both bodies of a spacer hold the block of that height, what it carries
// stands where it does on a riser of that height, and all else where it did.
func TestSpacerHoldsTheBlock(t *testing.T) {
	d := raised(t, 30).draft(t)
	s, err := d.Spacer("riser", 20, 70)
	if err != nil {
		t.Fatal(err)
	}
	p := s.Spacer
	if a := s.Axes[p.Axis]; !a.Free || a.Travel != [2]float64{-25, 25} || a.Commanded != a.Travel || a.Home != 0 || p.Middle() != 45 || p.Half() != 25 {
		t.Fatalf("%+v, %+v", p, a)
	}
	for _, mm := range []float64{20, 33, 45, 70} {
		one := raised(t, mm).load(t)
		at := motion.Params{}
		var level motion.Params
		for k := range s.Axes {
			at[k] = []float64{40, -30, 0, 0.4, 1.2, 0, 0, 0}[k]
		}
		level = at
		at[p.Axis] = mm - p.Middle()
		for i := range one.Bodies {
			b := &one.Bodies[i]
			if b.Unit == "riser" {
				continue
			}
			k := s.body(t, b.Name)
			if s.Bodies[k].Solid.Mesh == nil || one.Axes[len(one.Axes)-1].Letter != s.Axes[p.Axis-1].Letter {
				t.Fatal("axes in another order")
			}
			want, got := one.Pose(i, level), s.Pose(k, at)
			for _, x := range b.Solid.Audit.Bounds.Corners() {
				near(t, b.Name, got.Point(x), want.Point(x), 1e-9)
			}
		}
		for _, body := range []int{p.Below, p.Above} {
			b := &s.Bodies[body]
			seat := s.Pose(p.Below, at)
			back := s.Pose(body, at)
			back = back.Inverse()
			for _, z := range []float64{0, mm} {
				for _, corner := range []r3.Vector{{X: -60, Y: 40, Z: z}, {X: 70, Y: -60, Z: z}, {X: 40, Y: 40, Z: z}, {X: 70, Y: -30, Z: z}} {
					if x := back.Point(seat.Point(corner)); !inBounds(b.Solid, x) {
						t.Errorf("at %g mm %v of the block is outside of body %d", mm, corner, body)
					}
				}
			}
		}
	}
}

// inBounds reports whether a point is in the bounds of a solid, or no farther out of them than its chord error.
func inBounds(s *Solid, x r3.Vector) bool {
	b := s.Audit.Bounds
	e := s.ChordError + 1e-9
	return x.X >= b.Min.X-e && x.X <= b.Max.X+e && x.Y >= b.Min.Y-e && x.Y <= b.Max.Y+e && x.Z >= b.Min.Z-e && x.Z <= b.Max.Z+e
}

// The block is the convex hull in plan of all solids: here a hexagon, worked out by hand
// from the corners of two rectangles.
func TestSpacerIsTheHullInPlan(t *testing.T) {
	s, err := raised(t, 30).draft(t).Spacer("riser", 50, 50)
	if err != nil {
		t.Fatal(err)
	}
	// Corners (-60, -40), (20, -60), (70, -60), (70, -30), (40, 40), (-60, 40): by the shoelace
	// formula 11150.
	nearly(t, "volume", s.Bodies[s.Spacer.Below].Solid.Audit.Volume, 11150*50, 1e-3)
	nearly(t, "mass", s.Bodies[s.Spacer.Below].Mass+s.Bodies[s.Spacer.Above].Mass, 11150*50*7850e-9, 1e-9)
	if a := s.Bodies[s.Spacer.Below].Solid.Audit; !a.Closed || a.InsideOut {
		t.Errorf("%+v", a)
	}
	if s.Pose(s.Spacer.Below, motion.Params{}) != s.Pose(s.Spacer.Above, motion.Params{}) {
		t.Error("the two halves of one height are apart")
	}
}

// Each other body is looked at against one of the two, and only one.
func TestSpacerIsLookedAtOnce(t *testing.T) {
	s, err := raised(t, 30).draft(t).Spacer("riser", 20, 70)
	if err != nil {
		t.Fatal(err)
	}
	p := s.Spacer
	for i := range s.Bodies {
		if i == p.Below || i == p.Above {
			continue
		}
		above := s.Bodies[i].OnTool || s.Bodies[i].Unit == "vise" || s.Bodies[i].Unit == "stock"
		if s.Spared(i, p.Above) == above || s.Spared(p.Below, i) != above || s.Spared(i, 0) {
			t.Errorf("%s is looked at against the wrong one", s.Bodies[i].Name)
		}
	}
}

// A position at which an axis under the spacer was measured says nothing of the spacer's
// height: the axis is where it was measured, whatever stands on it.
func TestSpacerOnAMeasuredAxis(t *testing.T) {
	w := raised(t, 30).with(t, "setup.toml", "# [[measured]] ", "[[measured]]\naxis = \"A\"\nposition = { Y = 0.03, Z = 100.05 }\n# ")
	s, err := w.draft(t).Spacer("riser", 20, 70)
	if err != nil {
		t.Fatal(err)
	}
	if a := s.axis(t, "A"); !a.Measured || a.Centre.Sub(w.load(t).axis(t, "A").Centre).Norm() > 1e-12 {
		t.Errorf("A stands at %v", a.Centre)
	}
}

func TestSpacerRefuses(t *testing.T) {
	for _, c := range []struct {
		name     string
		w        world
		place    string
		from, to float64
		words    string
	}{
		{"no height", raised(t, 30), "riser", 0, 20, "above 0"},
		{"the wrong way", raised(t, 30), "riser", 30, 20, "the lesser first"},
		{"no such place", raised(t, 30), "rizer", 20, 30, "riser"},
		{"axes of its own", raised(t, 30), "trunnion", 20, 30, "axes of its own"},
		{"no seat", raised(t, 30), "stock", 20, 30, "without a seat"},
		{"nothing on it", raised(t, 30).with(t, "setup.toml", "on = \"riser/top\"\npins = [\"A1\", \"C1\"]", "on = \"trunnion/faceplate\"\npins = [\"B3\", \"D3\"]"), "riser", 20, 30, "nothing that stands on it"},
		{"by coordinates", raised(t, 30).with(t, "setup.toml", "on = \"riser/top\"\npins = [\"A1\", \"C1\"]", "on = \"riser\"\nat = [0, 0, 30]\nwithin = 0.1"), "riser", 20, 30, "by coordinates"},
	} {
		d, err := DraftFS(c.w.fs(), "setup.toml")
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		_, err = d.Spacer(c.place, c.from, c.to)
		var r *Refused
		if err == nil || !errors.As(err, &r) || !strings.Contains(err.Error(), c.words) {
			t.Errorf("%s: %v", c.name, err)
		}
	}
}
