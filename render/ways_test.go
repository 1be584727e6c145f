package render

import (
	"image"
	"math"
	"strings"
	"testing"

	"gridswing/geom"
	"gridswing/render/ink"

	"github.com/golang/geo/r3"
)

// A way is drawn over everything, from its first point to its last, where its arrow is; the
// view is wide enough for it.
func TestWay(t *testing.T) {
	cube := Item{Name: "cube", Unit: "cube", Shape: Prepare(block(t, -50, -50, 0, 50, 50, 100).Mesh(), true), Pose: geom.Identity(), Emphasis: Moved}
	p := &Picture{Title: "way", Items: []Item{cube}, View: Front,
		Ways: []Way{{{X: -300, Z: 250}, {Z: 250}, {Z: 50}}}}
	img := drawnPicture(t, p)
	q := *p
	if err := q.complete(); err != nil {
		t.Fatal(err)
	}
	made, err := q.drawScene(t.Context(), 1)
	if err != nil {
		t.Fatal(err)
	}
	dark := func(at r3.Vector, dx, dy float64) bool {
		o := made.onPage(at)
		c := img.RGBAAt(int(o.X+dx), int(o.Y+dy))
		return c == ink.Text
	}
	for _, at := range []r3.Vector{{X: -299, Z: 250}, {X: -150, Z: 250}, {X: -1, Z: 250}, {Z: 150}, {Z: 70}} {
		if !dark(at, 0, 0) {
			t.Errorf("no line at %v", at)
		}
	}
	// The arrow is broad at its foot, some 30 pixels before its end, and ends there.
	tip := r3.Vector{Z: 50}
	if !dark(tip, 8, -28) || !dark(tip, -8, -28) || dark(tip, 8, -2) || dark(tip, 0, 6) {
		t.Error("no arrow at the end of the way")
	}
	for _, at := range p.Ways[0] {
		if o := made.onPage(at); !image.Pt(int(o.X), int(o.Y)).In(img.Rect) || !made.view.Holds(o) {
			t.Errorf("%v is out of the picture, at %v", at, o)
		}
	}
	if !made.overWay(ink.Area{X0: made.onPage(tip).X - 5, Y0: made.onPage(tip).Y - 60, X1: made.onPage(tip).X + 5, Y1: made.onPage(tip).Y - 40}) ||
		made.overWay(ink.Area{X0: 0, Y0: 0, X1: 30, Y1: 30}) {
		t.Error("a label does not know where the way is")
	}
}

// In the isometric view X leads 60 degrees off the way down: the arrow of a short last leg
// points down all the same.
func TestArrowPointsAlongTheLastLeg(t *testing.T) {
	a, b, c := ink.Point{X: -100}, ink.Point{X: 0, Y: 57.7}, ink.Point{X: 0, Y: 90}
	if !bends(a, b, c) || bends(a, b, ink.Point{X: 100, Y: 100}) {
		t.Error("not the bends that there are")
	}
}

// Ways that go nowhere, and that end with a hairpin, are drawn as far as can be; one
// that is nowhere is refused.
func TestOddWays(t *testing.T) {
	cube := Item{Unit: "cube", Shape: Prepare(block(t, -50, -50, 0, 50, 50, 100).Mesh(), true), Pose: geom.Identity()}
	for _, way := range []Way{nil, {{X: 1}}, {{X: 1}, {X: 1}}, {{}, {X: 200}, {}}, {{}, {X: 200}, {X: 195}}, {{}, {X: 0.001}}} {
		drawnPicture(t, &Picture{Title: "odd", Items: []Item{cube}, Ways: []Way{way}})
	}
	p := &Picture{Title: "nowhere", Items: []Item{cube}, Ways: []Way{{{X: math.NaN()}, {}}}}
	if _, err := p.Draw(t.Context()); err == nil || !strings.Contains(err.Error(), "finite") {
		t.Errorf("%v", err)
	}
}

func drawnPicture(t *testing.T, p *Picture) *image.RGBA {
	t.Helper()
	img, err := p.Draw(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	return img
}
