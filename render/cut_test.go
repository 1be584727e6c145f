package render

import (
	"math"
	"strings"
	"testing"

	"gridswing/geom"
	"gridswing/render/internal/golden"

	"github.com/golang/geo/r3"
)

// closing returns a close-up of the bar that stands on the column, at a point of
// the column's upper face Y = 400.
func closing(t testing.TB, at r3.Vector) Picture {
	t.Helper()
	return Picture{Title: "Bar meets column", Items: emphasised(horizontal(t), Contact, "bar", "column"), Up: r3.Vector{Y: 1},
		Close: &CloseUp{Center: at, Radius: 50}, Marks: []Mark{{Point: at, Label: "here"}}, Width: 800, Height: 600}
}

// Where bodies touch and nobody says in which direction, the cut is square to
// the face; at the end of the bar it goes through the bar, not along its side.
func TestCutIsSquareToTheFaceThatIsTouched(t *testing.T) {
	tests := []struct {
		at   r3.Vector
		want string
	}{
		{r3.Vector{X: 5, Y: 400, Z: 10}, "Z = 10 mm"},
		{r3.Vector{X: 5, Y: 400, Z: 60}, "X = 5 mm"},        // the column's rim: its side lies in Z = 60
		{r3.Vector{X: 38.5, Y: 400, Z: 10}, "Z = 10 mm"},    // the bar's rim, by the chamfer
		{r3.Vector{X: 100, Y: 398.5, Z: 5}, "Z = 5 mm"},     // the column's side
		{r3.Vector{X: 5, Y: 400, Z: -18.5}, "Z = -18.5 mm"}, // the bar's end, by the chamfer
	}
	for _, test := range tests {
		p := closing(t, test.at)
		d := scene(t, p)
		if got := d.Caption[len(d.Caption)-1]; !strings.Contains(got, "cut at "+test.want+";") {
			t.Errorf("at %v: %q, want %s", test.at, got, test.want)
		}
		if p.View != "" || *p.Close != (CloseUp{Center: test.at, Radius: 50}) {
			t.Error("the caller's picture was changed")
		}
	}
}

// A cut along a face would show one body filling the picture; the right one
// shows both, and what lies between.
func TestCloseUpOfATouchShowsBothBodies(t *testing.T) {
	p := closing(t, r3.Vector{X: 5, Y: 400, Z: 10})
	d := scene(t, p)
	for i, name := range []string{"column", "bar"} {
		if _, _, n := middle(d.seen, 1+i); n < 800*600/8 {
			t.Errorf("%s covers %d pixels", name, n)
		}
	}
	img, err := p.Draw(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	golden.Check(t, "closeup-touch", img)
}

// A sharp cube's corner on a slab: every plane through it contains a face of the
// cube, so the cut is moved into the cube.
func TestCutIsMovedIntoABodyThatEndsThere(t *testing.T) {
	for _, side := range []float64{1, -1} {
		cube := sharp(r3.Vector{X: side * 10, Y: side * 10, Z: 10}, 10)
		slab := sharp(r3.Vector{Z: -50}, 50)
		p := Picture{Items: []Item{{Shape: Prepare(cube, true), Pose: geom.Identity(), Emphasis: Contact},
			{Shape: Prepare(slab, true), Pose: geom.Identity(), Emphasis: Contact}},
			Close: &CloseUp{Radius: 25}, Width: 400, Height: 300}
		d := scene(t, p)
		want := map[float64]string{1: "cut at Y = 0.5 mm", -1: "cut at Y = -0.5 mm"}[side]
		if !strings.Contains(d.Caption[0], want) {
			t.Errorf("caption %q, want %s", d.Caption[0], want)
		}
		_, _, n := middle(d.seen, 0)
		if whole := math.Pow(20*d.camera.Scale, 2); math.Abs(float64(n)/whole-1) > 0.05 {
			t.Errorf("the cube covers %d pixels, want %.0f", n, whole)
		}
	}
}

// sharp returns a cube without chamfers.
func sharp(center r3.Vector, half float64) *geom.Mesh {
	m := &geom.Mesh{}
	at := func(i int) geom.Vertex {
		return geom.VertexOf(center.Add(r3.Vector{X: float64(i&1)*2 - 1, Y: float64(i>>1&1)*2 - 1, Z: float64(i>>2)*2 - 1}.Mul(half)))
	}
	for _, q := range [][4]int{{0, 2, 3, 1}, {4, 5, 7, 6}, {0, 1, 5, 4}, {2, 6, 7, 3}, {0, 4, 6, 2}, {1, 3, 7, 5}} {
		m.Facets = append(m.Facets, geom.Facet{at(q[0]), at(q[1]), at(q[2])}, geom.Facet{at(q[0]), at(q[2]), at(q[3])})
	}
	return m
}

func TestAcross(t *testing.T) {
	x, y, z := r3.Vector{X: 1}, r3.Vector{Y: 1}, r3.Vector{Z: 1}
	tests := []struct {
		name string
		a, b []r3.Vector
		want r3.Vector // or its opposite
	}{
		{"nothing", nil, nil, r3.Vector{}},
		{"one face", []r3.Vector{y}, nil, y},
		{"face on face", []r3.Vector{y}, []r3.Vector{y.Mul(-1)}, y},
		{"edge on face", []r3.Vector{x, y.Mul(-1)}, []r3.Vector{y}, y},
		{"corner on face", []r3.Vector{z}, []r3.Vector{x, y, z.Mul(-1)}, z},
		{"side by side, flush on top", []r3.Vector{z, x}, []r3.Vector{z, x.Mul(-1)}, x},
		{"one pierces the other", []r3.Vector{y}, []r3.Vector{z}, y.Sub(z).Normalize()},
		{"the same face", []r3.Vector{y}, []r3.Vector{y}, y},
	}
	for _, test := range tests {
		var faces []face
		for _, n := range [][]r3.Vector{test.a, test.b} {
			if n != nil {
				faces = append(faces, face{normals: n})
			}
		}
		got := across(faces)
		if got.Sub(test.want).Norm() > 1e-9 && got.Add(test.want).Norm() > 1e-9 {
			t.Errorf("%s: %v, want %v", test.name, got, test.want)
		}
	}
}

// A cut may face anywhere: it is seen square to it, with what is to be upright as upright as
// it can be; where that is along the line of sight, up is up, or away.
func TestCutFacesWhereItIsTold(t *testing.T) {
	y := r3.Vector{Y: 1}
	for _, test := range []struct{ facing, upright, up, right r3.Vector }{
		{r3.Vector{X: 3, Z: 3}, r3.Vector{Y: 2}, y, r3.Vector{X: math.Sqrt2 / 2, Z: -math.Sqrt2 / 2}},
		{r3.Vector{Z: 1}, r3.Vector{X: 1, Z: 5}, r3.Vector{X: 1}, r3.Vector{Y: -1}},
		{r3.Vector{Z: 1}, r3.Vector{Z: 1}, y, r3.Vector{X: 1}},
		{r3.Vector{Z: 1}, r3.Vector{}, y, r3.Vector{X: 1}},
		{r3.Vector{Y: 1}, r3.Vector{}, r3.Vector{Z: -1}, r3.Vector{X: 1}},
	} {
		p := closing(t, r3.Vector{X: 5, Y: 400, Z: 10})
		p.Close.Facing, p.Close.Upright = test.facing, test.upright
		d := scene(t, p)
		toward := test.facing.Normalize()
		if c := d.camera; c.Toward.Sub(toward).Norm() > 1e-12 || c.Up.Sub(test.up).Norm() > 1e-9 || c.Right.Sub(test.right).Norm() > 1e-9 {
			t.Errorf("facing %v: seen from %v, up %v, right %v; want up %v, right %v", test.facing, c.Toward, c.Up, c.Right, test.up, test.right)
		}
		if words := d.Caption[len(d.Caption)-1]; words != "Close-up within 50 mm, seen square to the cut." {
			t.Errorf("caption %q", words)
		}
		if _, err := p.Draw(t.Context()); err != nil {
			t.Error(err)
		}
	}
	p := closing(t, r3.Vector{X: 5, Y: 400, Z: 10})
	p.Close.Facing = r3.Vector{X: math.NaN()}
	if _, err := p.Draw(t.Context()); err == nil {
		t.Error("a cut that faces nowhere was drawn")
	}
}

// A gap is shown by a line from one nearest point to the other where there is room for it.
func TestGapHasALine(t *testing.T) {
	at := r3.Vector{X: 150, Y: 430, Z: 0} // beside the bar: nothing but paper
	ink := func(gap r3.Vector) int {
		p := closing(t, at)
		p.Close.Facing, p.Close.Center, p.Marks[0] = r3.Vector{Z: 1}, at, Mark{Point: at, Label: "here", Gap: gap}
		img, err := p.Draw(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		d := scene(t, p)
		x, y, _ := d.camera.Project(at.Sub(r3.Vector{X: 12}))
		n := 0
		for dx := -3; dx <= 3; dx++ {
			for dy := -3; dy <= 3; dy++ {
				if c := img.RGBAAt(int(x)+dx, int(y)+dy); int(c.R)+int(c.G)+int(c.B) < 450 {
					n++
				}
			}
		}
		return n
	}
	if with, without := ink(r3.Vector{X: 40}), ink(r3.Vector{}); with == 0 || without != 0 {
		t.Errorf("%d dark pixels on the line along a gap of 40 mm, %d without it", with, without)
	}
}

// What a cut takes away is no part of the view: what is left of two cubes is in the middle and as large as it can be.
func TestViewIsOfWhatTheCutLeaves(t *testing.T) {
	low, high := Prepare(sharp(r3.Vector{}, 10), true), Prepare(sharp(r3.Vector{}, 10), true)
	slanting := r3.Vector{X: 1, Z: 1}
	for _, test := range []struct {
		normal     r3.Vector
		at         float64
		emphasis   Emphasis // of the high one
		wide, deep float64  // of what is left, mm
	}{
		{r3.Vector{Z: 1}, 40, Plain, 120, 20},
		{r3.Vector{Z: -1}, -20, Plain, 20, 20},
		{r3.Vector{Z: 1}, 5, Swept, 120, 20}, // no cut takes a veil away
		{slanting, -5 * math.Sqrt2, Plain, 10, 20},
		{slanting, -9 * math.Sqrt2, Plain, 2, 20},
	} {
		p := Picture{Items: []Item{{Shape: low, Pose: geom.Identity()}, {Shape: high, Pose: geom.Shift(r3.Vector{X: 100, Z: 40}), Emphasis: test.emphasis}},
			View: Top, Width: 800, Height: 600, Bare: true, Plane: &Plane{Name: "Z", Normal: test.normal, At: test.at}}
		d := scene(t, p)
		view := d.view.Shrunk(d.room() * d.unit)
		want := min(view.Width()/test.wide, view.Height()/test.deep)
		if math.Abs(d.camera.Scale/want-1) > 1e-6 {
			t.Errorf("cut at %g along %v: %.4f pixels to a mm, want %.4f", test.at, test.normal, d.camera.Scale, want)
		}
		if x, _, n := middle(d.seen, 0); test.emphasis == Plain && test.wide < 120 && (n == 0 || math.Abs(float64(x)-400) > 2) {
			t.Errorf("cut at %g along %v: what is left is at %v", test.at, test.normal, x)
		}
	}
}
