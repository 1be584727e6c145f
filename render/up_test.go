package render

import (
	"math"
	"strings"
	"testing"

	"gridswing/geom"
	"gridswing/render/internal/golden"

	"github.com/golang/geo/r3"
)

// Sides of the compass in each view, for the ways a machine can stand: to the
// right, upward, towards the viewer. ISO 841, from memory: +Z of a machining
// centre leads from the workpiece to the spindle, and X is level; an operator who
// looks from the spindle at the workpiece, Y up, therefore has +X at his right.
func TestViewsStandUpright(t *testing.T) {
	tests := []struct {
		up    r3.Vector
		front string
		right string
		top   string
	}{
		{r3.Vector{}, "+X +Z -Y", "+Y +Z +X", "+X +Y +Z"},
		{r3.Vector{Z: 3}, "+X +Z -Y", "+Y +Z +X", "+X +Y +Z"},
		{r3.Vector{Y: 1}, "+X +Y +Z", "-Z +Y +X", "+X -Z +Y"},
		{r3.Vector{Y: -1}, "+X -Y -Z", "+Z -Y +X", "+X +Z -Y"},
		{r3.Vector{Z: -1}, "+X -Z +Y", "-Y -Z +X", "+X -Y -Z"},
		{r3.Vector{X: 1}, "-Y +X +Z", "-Z +X -Y", "-Y -Z +X"},
		{r3.Vector{X: -1}, "+Y -X +Z", "-Z -X +Y", "+Y -Z -X"},
	}
	for _, test := range tests {
		for view, want := range map[View]string{Front: test.front, Right: test.right, Top: test.top} {
			d := scene(t, Picture{Items: compass(t), View: view, Up: test.up, Width: 400, Height: 300})
			cx, cy, _ := d.camera.Project(r3.Vector{})
			var got [3]string
			for i := range d.Items {
				x, y, n := middle(d.seen, i)
				switch dx, dy := math.Round(x-cx), math.Round(cy-y); {
				case i == 0 || n == 0:
				case dx > 30 && dy == 0:
					got[0] = d.Items[i].Name
				case dx == 0 && dy > 30:
					got[1] = d.Items[i].Name
				case dx == 0 && dy == 0:
					got[2] = d.Items[i].Name
				}
			}
			if strings.Join(got[:], " ") != want {
				t.Errorf("up %v, %s: right, up and towards the viewer are %v, want %s", test.up, view, got, want)
			}
		}
	}
}

// Whatever is up: views are right-handed, up is upward, and what runs to the
// right, away or up looks as long as the scale says.
func TestAnyUp(t *testing.T) {
	for _, up := range []r3.Vector{{X: 1, Y: 2, Z: 3}, {X: -4, Y: 0.1}, {Y: 1, Z: 1}, {X: 0.8, Y: -0.6}} {
		up = up.Normalize()
		f := operator(up)
		for _, v := range Views() {
			right, upward, toward := v.axes(f)
			if right.Cross(upward).Sub(toward).Norm() > 1e-12 || math.Abs(toward.Norm()-1) > 1e-12 {
				t.Errorf("up %v, %s: axes %v %v %v", up, v, right, upward, toward)
			}
			for _, a := range []r3.Vector{f.right, f.away, f.up} {
				if l := math.Hypot(right.Dot(a), upward.Dot(a)); l > 1e-12 && math.Abs(l-v.foreshortening()) > 1e-12 {
					t.Errorf("up %v, %s: %v looks %v long", up, v, a, l)
				}
			}
			if v != Top && (math.Abs(right.Dot(up)) > 1e-12 || upward.Dot(up) < 0.8) {
				t.Errorf("up %v, %s: it is not upright", up, v)
			}
		}
		if f.square() {
			t.Errorf("the frame for up %v counts as along X, Y and Z", up)
		}
	}
}

func TestUpMustBeADirection(t *testing.T) {
	for _, up := range []r3.Vector{{X: math.NaN()}, {Z: math.Inf(1)}, {Y: 1e-9}} {
		p := Picture{Items: compass(t), Up: up}
		if _, err := p.Draw(t.Context()); err == nil || !strings.Contains(err.Error(), "direction") {
			t.Errorf("up %v: error %v", up, err)
		}
	}
}

// horizontal is a machine of the tests' own with a horizontal spindle: a table
// with a column for clamping on, a bar that touches it, the spindle along Z.
func horizontal(t testing.TB) []Item {
	t.Helper()
	item := func(name string, group int, x0, y0, z0, x1, y1, z1 float64) Item {
		return Item{Name: name, Shape: Prepare(block(t, x0, y0, z0, x1, y1, z1).Mesh(), true), Pose: geom.Identity(), Group: group}
	}
	return []Item{
		item("table", 0, -250, -60, -250, 250, 0, 250),
		item("column", 5, -100, 0, -60, 100, 400, 60),
		item("bar", 1, -40, 400, -20, 40, 460, 140),
		item("head", 0, -90, 150, 260, 90, 330, 420),
		item("spindle nose", 2, -35, 205, 200, 35, 275, 260),
	}
}

func TestHorizontalPictures(t *testing.T) {
	for name, v := range map[string]View{"horizontal": Isometric, "horizontal-top": Top, "horizontal-right": Right} {
		p := Picture{Title: "Horizontal machine", Items: horizontal(t), View: v, Up: r3.Vector{Y: 1}, Width: 800, Height: 600}
		img, err := p.Draw(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		golden.Check(t, name, img)
	}
}
