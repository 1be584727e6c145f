package raster

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"math"
	"testing"

	"gridswing/geom"
	"gridswing/geom/shape"
	"gridswing/render/ink"

	"github.com/golang/geo/r3"
)

// A picture is the same wherever tiles begin: seen through a smaller window, moved by whole
// pixels, all is drawn as before. Patterns are fixed to the picture, so there are none; near the
// window's edge occlusion knows less.
func TestTilesLeaveNoSeam(t *testing.T) {
	s := busyScene(t, 60)
	for i := range s.Bodies {
		s.Bodies[i].Pattern = ink.Blank
	}
	const dx, dy, w, h, margin = 104, 72, 300, 240, 40 // multiples of eight: occlusion repeats so
	for _, test := range []struct {
		reach  float64
		window image.Rectangle
	}{{-1, image.Rect(0, 0, w, h)}, {6, image.Rect(margin, margin, w-margin, h-margin)}} {
		s.Occlusion = test.reach
		whole, _ := drawn(t, s, 500, 400)
		s.Camera.X, s.Camera.Y = s.Camera.X-dx, s.Camera.Y-dy
		part, _ := drawn(t, s, w, h)
		s.Camera.X, s.Camera.Y = s.Camera.X+dx, s.Camera.Y+dy
		if !bytes.Equal(pixels(whole, test.window.Add(image.Pt(dx, dy))), pixels(part, test.window)) {
			t.Errorf("occlusion %v: a window shows something else", test.reach)
		}
	}
}

func pixels(img *image.RGBA, r image.Rectangle) []byte {
	var list []byte
	for y := r.Min.Y; y < r.Max.Y; y++ {
		list = append(list, img.Pix[img.PixOffset(r.Min.X, y):img.PixOffset(r.Max.X, y)]...)
	}
	return list
}

// What reaches out of the picture on all sides is clipped: the picture is filled, and nothing fails.
func TestPictureInsideOfABody(t *testing.T) {
	for _, size := range []int{1, 7, 64, 65, 200} {
		s := &Scene{Camera: front(float64(size)/2, float64(size)/2, 1000), Bodies: []Body{at(cube(t, 2000), 1, 2, 3)}}
		_, seen := drawn(t, s, size, size)
		if n, _ := area(seen, 0); n != size*size {
			t.Errorf("%d x %d pixels: %d are covered", size, size, n)
		}
	}
}

// Facets far smaller than what lies between two samples make the same picture as large ones.
func TestFineFacetsLeaveNoHoles(t *testing.T) {
	ball := shape.BumpyBall(400_000)
	s := &Scene{Camera: front(40, 40, 0.3), Bodies: []Body{{Shape: NewShape(ball, true), Pose: geom.Identity(), Color: grey}}, Workers: 1}
	_, seen := drawn(t, s, 80, 80)
	for y := range 80 {
		for x := range 80 {
			if r := math.Hypot(float64(x)-39.5, float64(y)-39.5); r < 52*0.3 && seen.Body(x, y) != 0 {
				t.Fatalf("a hole in pixel (%d, %d), %.1f pixels from the middle", x, y, r)
			}
		}
	}
}

// Veils of one number look like one: no line where they end inside of each other, one round the whole.
func TestMergedVeilsAreShownAsOne(t *testing.T) {
	scene := func(merge int) *Scene {
		s := &Scene{Camera: front(60, 60, 2), Occlusion: -1}
		for _, x := range []float64{-8, 0, 8} {
			b := at(cube(t, 20), x, x, 0)
			b.Ghost, b.Merge, b.Color = true, merge, red
			s.Bodies = append(s.Bodies, b)
		}
		return s
	}
	apart, _ := drawn(t, scene(0), 120, 120)
	whole, seen := drawn(t, scene(7), 120, 120)
	// The union spans 60 +- 36 pixels by 60 +- 20; the first cube ends at 60 + 4.
	if a, b := apart.RGBAAt(64, 60), whole.RGBAAt(64, 60); a == b || b != whole.RGBAAt(50, 50) {
		t.Errorf("inside: %v apart, %v as one; beside it %v", a, b, whole.RGBAAt(50, 50))
	}
	for _, p := range [][2]int{{96, 60}, {23, 60}, {60, 40}, {60, 79}} {
		if rim, veil := whole.RGBAAt(p[0], p[1]), whole.RGBAAt(60, 60); rim.R >= veil.R {
			t.Errorf("no line round the whole at %v: %v beside %v", p, rim, veil)
		}
	}
	if n, _ := area(seen, 0); n != 0 {
		t.Errorf("%d pixels count as the veil's", n)
	}
	s := scene(7) // behind a wall nothing of it is seen
	s.Bodies = append(s.Bodies, at(NewShape(cuboid(t, r3.Vector{X: 110, Y: 2, Z: 110}).Mesh(), true), 0, -40, 0))
	hidden, _ := drawn(t, s, 120, 120)
	s.Bodies = s.Bodies[3:]
	if wall, _ := drawn(t, s, 120, 120); !bytes.Equal(hidden.Pix, wall.Pix) {
		t.Error("a veil shows through a wall")
	}
}

// Two veils of different numbers are two.
func TestVeilsOfTwoNumbersAreTwo(t *testing.T) {
	s := &Scene{Camera: front(60, 60, 2), Occlusion: -1}
	for i, x := range []float64{-8, 8} {
		b := at(cube(t, 20), x, x, 0)
		b.Ghost, b.Merge, b.Color = true, i+1, red
		s.Bodies = append(s.Bodies, b)
	}
	img, _ := drawn(t, s, 120, 120)
	if line, veil := img.RGBAAt(64, 60), img.RGBAAt(50, 60); line.R >= veil.R {
		t.Errorf("no line where the nearer veil ends: %v beside %v", line, veil)
	}
}

// Planes of any slant are left as they are; the foot of a wall and the ground of a pocket are
// darker than what lies open, and never darker than the lines.
func TestOcclusion(t *testing.T) {
	for _, tilt := range []float64{0, 0.3, 0.8, 1.2} {
		plane := NewShape(&geom.Mesh{Facets: []geom.Facet{{{-900, 0, -900}, {900, 0, -900}, {0, 0, 1800}}}}, false)
		for _, reach := range []float64{-1, 8} {
			s := &Scene{Camera: front(100, 100, 2), Occlusion: reach, Bodies: []Body{
				{Shape: plane, Pose: geom.Turn(r3.Vector{}, r3.Vector{X: 0.6, Z: 0.8}, tilt), Color: grey}}}
			img, _ := drawn(t, s, 200, 200)
			if a, b := img.RGBAAt(3, 5), img.RGBAAt(100, 100); a != b {
				t.Errorf("a plane turned by %v is %v here and %v there, reach %v", tilt, a, b, reach)
			}
		}
	}
	plate := &shape.Plate{Outline: shape.Rect(-60, -40, 60, 40), Thickness: 20, Round: shape.Round{Chord: 0.05},
		Pockets: []shape.Pocket{{Outline: shape.Rect(-40, -20, 0, 20), Depth: 15}}}
	surface, err := plate.Surface()
	if err != nil {
		t.Fatal(err)
	}
	camera := Camera{Right: r3.Vector{X: 1}, Up: r3.Vector{Y: 1}, Toward: r3.Vector{Z: 1}, X: 150, Y: 100, Scale: 2}
	s := &Scene{Camera: camera, Occlusion: 10, Bodies: []Body{{Shape: NewShape(surface.Mesh(), true), Pose: geom.Identity(), Color: grey}}}
	img, _ := drawn(t, s, 300, 200)
	open, foot, middle := img.RGBAAt(220, 100).R, img.RGBAAt(75, 100).R, img.RGBAAt(110, 100).R
	if !(foot < middle-12 && middle <= open) || foot < 70 {
		t.Errorf("open %d, in the middle of the pocket %d, at the foot of its wall %d", open, middle, foot)
	}
	for x := 76; x < 110; x++ { // the light returns evenly: no noise
		if step := int(img.RGBAAt(x+1, 100).R) - int(img.RGBAAt(x, 100).R); step < -2 || step > 9 {
			t.Errorf("from pixel %d to the next the ground grows lighter by %d", x, step)
		}
	}
}

// All kinds of bodies and effects at once, on one worker and on many.
func TestWorkersDoNotChangeAByte(t *testing.T) {
	for name, cut := range map[string]*Plane{"whole": nil, "cut": {Point: r3.Vector{Y: 30}, Normal: r3.Vector{Y: -1}}} {
		s := busyScene(t, 60)
		s.Cut, s.Lines, s.Overlap = cut, black, red
		for i := range s.Bodies {
			if i%10 == 1 {
				s.Bodies[i].Merge = 3
			}
		}
		var first string
		for _, n := range []int{1, 2, 3, 8} {
			s.Workers = n
			img := ink.NewCanvas(500, 400, paper).RGBA
			seen, err := s.Draw(context.Background(), img)
			if err != nil {
				t.Fatal(err)
			}
			all := fmt.Sprint(img.Pix, seen.owner, seen.depth)
			if first == "" {
				first = all
			} else if all != first {
				t.Errorf("%s: %d workers draw another picture than one", name, n)
			}
		}
	}
}
