package raster

import (
	"bytes"
	"context"
	"image"
	"image/color"
	"math"
	"math/rand/v2"
	"testing"

	"gridswing/geom"
	"gridswing/geom/shape"
	"gridswing/render/ink"

	"github.com/golang/geo/r3"
)

var (
	paper = color.RGBA{250, 250, 250, 255}
	grey  = color.RGBA{190, 190, 190, 255}
	black = color.RGBA{A: 255}
	red   = color.RGBA{255, 0, 0, 255}
)

// front looks along +Y: X to the right, Z up.
func front(x, y, scale float64) Camera {
	return Camera{Right: r3.Vector{X: 1}, Up: r3.Vector{Z: 1}, Toward: r3.Vector{Y: -1}, X: x, Y: y, Scale: scale}
}

func cuboid(t testing.TB, size r3.Vector) shape.Surface {
	t.Helper()
	s, err := (&shape.Plate{Outline: shape.Rect(-size.X/2, -size.Y/2, size.X/2, size.Y/2), Thickness: size.Z}).Surface()
	if err != nil {
		t.Fatal(err)
	}
	return s.Shifted(0, 0, -size.Z/2)
}

func cube(t testing.TB, size float64) *Shape {
	return NewShape(cuboid(t, r3.Vector{X: size, Y: size, Z: size}).Mesh(), true)
}

func at(s *Shape, x, y, z float64) Body {
	return Body{Shape: s, Pose: geom.Shift(r3.Vector{X: x, Y: y, Z: z}), Color: grey}
}

func drawn(t testing.TB, s *Scene, w, h int) (*image.RGBA, *Seen) {
	t.Helper()
	s.Lines, s.Overlap = black, red
	img := ink.NewCanvas(w, h, paper).RGBA
	seen, err := s.Draw(context.Background(), img)
	if err != nil {
		t.Fatal(err)
	}
	return img, seen
}

// area counts the pixels that show the body, and their extent.
func area(s *Seen, body int) (n int, box image.Rectangle) {
	for y := range s.Height {
		for x := range s.Width {
			if s.Body(x, y) == body {
				n++
				box = box.Union(image.Rect(x, y, x+1, y+1))
			}
		}
	}
	return n, box
}

func TestCubeCoversItsPixels(t *testing.T) {
	for _, scale := range []float64{0.5, 2, 5} {
		s := Scene{Camera: front(150, 130, scale), Bodies: []Body{at(cube(t, 40), 10, 0, -4)}}
		_, seen := drawn(t, &s, 320, 270)
		n, box := area(seen, 0)
		half := 20 * scale
		cx, cy := 150+10*scale, 130+4*scale
		want := image.Rect(int(cx-half), int(cy-half), int(cx+half), int(cy+half))
		if box != want || n != want.Dx()*want.Dy() {
			t.Errorf("scale %v: %d pixels in %v, want %d in %v", scale, n, box, want.Dx()*want.Dy(), want)
		}
	}
}

// A cube seen along its diagonal is a regular hexagon of area sqrt(3) a^2.
func TestCubeAlongItsDiagonal(t *testing.T) {
	toward := r3.Vector{X: 1, Y: -1, Z: 1}.Normalize()
	right := r3.Vector{X: 1, Y: 1}.Normalize()
	s := Scene{Camera: Camera{Right: right, Up: toward.Cross(right), Toward: toward, X: 300, Y: 300, Scale: 3},
		Bodies: []Body{at(cube(t, 100), 0, 0, 0)}}
	_, seen := drawn(t, &s, 600, 600)
	n, _ := area(seen, 0)
	want := math.Sqrt(3) * 300 * 300
	if math.Abs(float64(n)-want) > 0.002*want {
		t.Errorf("%d pixels, want %.0f", n, want)
	}
}

func TestNearerBodyHides(t *testing.T) {
	near, far := at(cube(t, 20), 0, -50, 0), at(cube(t, 40), 0, 50, 0)
	for _, bodies := range [][]Body{{near, far}, {far, near}} {
		nearest := 0
		if bodies[0].Pose.T.Y > 0 {
			nearest = 1
		}
		_, seen := drawn(t, &Scene{Camera: front(100, 100, 2), Bodies: bodies}, 200, 200)
		if n, _ := area(seen, nearest); n != 40*40 {
			t.Errorf("near cube, drawn as number %d: %d pixels, want %d", nearest, n, 40*40)
		}
		if n, _ := area(seen, 1-nearest); n != 80*80-40*40 {
			t.Errorf("far cube: %d pixels, want %d", n, 80*80-40*40)
		}
	}
}

// Two blocks that cross: the left one is turned about Z by 45 degrees, so that
// its face comes out of the other's where x = 0.
func TestCrossingBodiesPartWhereTheyCross(t *testing.T) {
	wall := NewShape(cuboid(t, r3.Vector{X: 100, Y: 40, Z: 60}).Mesh(), true)
	turned := Body{Shape: wall, Color: grey, Pose: geom.Turn(r3.Vector{}, r3.Vector{Z: 1}, math.Pi/4)}
	still := at(wall, 0, 20, 0) // its front face is the plane y = 0
	turned.Pose.T = r3.Vector{X: 20 * math.Sqrt2 / 2, Y: -20*math.Sqrt2/2 + 20*math.Sqrt2}
	_, seen := drawn(t, &Scene{Camera: front(100, 100, 1), Bodies: []Body{still, turned}}, 200, 200)
	// The front face of the turned block: points T + R(u, -20), so y = 0 where
	// u = -20 (from T.Y + (u - 20)/sqrt 2 = 0), there x = T.X + (u + 20)/sqrt 2.
	u := 20 - turned.Pose.T.Y*math.Sqrt2
	x := turned.Pose.T.X + (u+20)*math.Sqrt2/2
	for px := range 200 {
		mid := float64(px) + 0.5 - 100
		if math.Abs(mid-x) < 1 || mid < -20 || mid > 20 {
			continue
		}
		want := 0
		if mid < x {
			want = 1
		}
		if got := seen.Body(px, 100); got != want {
			t.Errorf("x = %.1f mm shows body %d, want %d (they cross at %.2f)", mid, got, want, x)
		}
	}
}

func TestHiddenLinesAreHidden(t *testing.T) {
	wall := at(NewShape(cuboid(t, r3.Vector{X: 80, Y: 4, Z: 80}).Mesh(), true), 0, 0, 0)
	alone, _ := drawn(t, &Scene{Camera: front(100, 100, 2), Bodies: []Body{wall}}, 200, 200)
	for _, y := range []float64{4.5, 50} {
		img, _ := drawn(t, &Scene{Camera: front(100, 100, 2), Bodies: []Body{wall, at(cube(t, 5), 3, y, 7)}}, 200, 200)
		if !bytes.Equal(img.Pix, alone.Pix) {
			t.Errorf("a cube %g mm behind a wall shows through it", y)
		}
	}
	img, _ := drawn(t, &Scene{Camera: front(100, 100, 2), Bodies: []Body{wall, at(cube(t, 5), 3, -50, 7)}}, 200, 200)
	// Its left edge is seen at x = 100 + 2(3 - 2.5) = 101, its middle at y = 100 - 14.
	if edge, face := img.RGBAAt(101, 86), img.RGBAAt(106, 86); int(edge.R)+60 > int(face.R) {
		t.Errorf("the edge of a cube in front is not drawn: %v on a face of %v", edge, face)
	}
}

func TestOpenSurfaceIsSeenFromBothSides(t *testing.T) {
	f := geom.Facet{{-20, 0, -20}, {20, 0, -20}, {0, 0, 20}}
	back := geom.Facet{f[0], f[2], f[1]}
	for name, facet := range map[string]geom.Facet{"front": f, "back": back} {
		s := NewShape(&geom.Mesh{Facets: []geom.Facet{facet}}, false)
		_, seen := drawn(t, &Scene{Camera: front(50, 50, 1), Bodies: []Body{{Shape: s, Pose: geom.Identity(), Color: grey}}}, 100, 100)
		if n, _ := area(seen, 0); math.Abs(float64(n)-800) > 45 { // half the base times the height, +- half the outline
			t.Errorf("%s: %d pixels, want about 800", name, n)
		}
	}
}

// Every sample of a square cut into a fan belongs to one facet, never to two
// and never to none, though many samples lie exactly on an edge: corners lie at
// odd multiples of 1/32 of a pixel, as samples do.
func TestSharedEdgesAreDrawnOnce(t *testing.T) {
	rim := []geom.Vertex{{-40, 0, -40}, {40, 0, -40}, {40, 0, 40}, {-40, 0, 40}}
	hub := geom.Vertex{3, 0, -2}
	var facets []geom.Facet
	for i, a := range rim {
		b := rim[(i+1)%4]
		last := a
		for k := 1; k <= 16; k++ {
			p := geom.Vertex{}
			for c := range p {
				p[c] = a[c] + (b[c]-a[c])*float32(k)/16
			}
			facets = append(facets, geom.Facet{last, p, hub})
			last = p
		}
	}
	s := &Scene{Camera: front(48.28125, 48.28125, 1), Bodies: []Body{{Shape: NewShape(&geom.Mesh{Facets: facets}, true), Pose: geom.Identity()}},
		Cut: &Plane{Point: r3.Vector{Y: -5}, Normal: r3.Vector{Y: -1}}, Workers: 1}
	j, err := newJob(s, image.NewRGBA(image.Rect(0, 0, 96, 96)))
	if err != nil {
		t.Fatal(err)
	}
	for c := range j.facetChunks {
		j.setFacets(&j.facetChunks[c], &scratch{})
	}
	times := map[[2]float64]int{}
	tile := j.tiles[0]
	for ty := range j.down {
		for tx := range j.across {
			l := &tile.solid
			l.clear(tx*tileSize-apron, ty*tileSize-apron)
			for c := range j.facetChunks {
				for i := range j.facetChunks[c].facets {
					l.shown = append(l.shown, shown{face: &j.facetChunks[c].facets[i]})
					tile.fill(l, &j.facetChunks[c].facets[i], &j.bodies[0])
				}
			}
			for i, n := range tile.section.wind {
				p := i / samples
				x, y := sampleAt(i % samples)
				times[[2]float64{float64(l.x0+p%side) + x, float64(l.y0+p/side) + y}] = -int(int8(n))
			}
			clear(tile.section.wind)
		}
	}
	for at, n := range times {
		x, y := at[0]-48.28125, at[1]-48.28125
		want := 0
		if math.Abs(x) < 40 && math.Abs(y) < 40 {
			want = 1
		}
		onRim := math.Abs(math.Abs(x)-40) < 0.001 || math.Abs(math.Abs(y)-40) < 0.001
		if n != want && !onRim {
			t.Fatalf("sample at %v: counted %d, want %d", at, n, want)
		}
	}
}

// busyScene is a heap of cubes, some in all ways special.
func busyScene(t testing.TB, n int) *Scene {
	rng := rand.New(rand.NewPCG(7, 7))
	c := cube(t, 30)
	s := &Scene{Camera: front(250, 200, 2)}
	for i := range n {
		b := at(c, 0, 0, 0)
		b.Pose = geom.Turn(r3.Vector{}, r3.Vector{X: rng.NormFloat64(), Y: rng.NormFloat64(), Z: rng.NormFloat64()}.Normalize(), 6*rng.Float64())
		b.Pose.T = r3.Vector{X: 200*rng.Float64() - 100, Y: 100 * rng.Float64(), Z: 160*rng.Float64() - 80}
		switch i % 5 {
		case 1:
			b.Ghost = true
		case 2:
			b.Outline, b.Pattern, b.Stroke = 4, ink.Hatch, black
		}
		s.Bodies = append(s.Bodies, b)
	}
	return s
}

func TestDoneContextStopsDrawing(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	s := busyScene(t, 10)
	if _, err := s.Draw(ctx, image.NewRGBA(image.Rect(0, 0, 100, 100))); err != context.Canceled {
		t.Errorf("error %v, want %v", err, context.Canceled)
	}
}

func TestSceneTooLargeForTheScale(t *testing.T) {
	s := Scene{Camera: front(50, 50, 1e6), Bodies: []Body{at(cube(t, 10), 1e4, 0, 0)}}
	if _, err := s.Draw(context.Background(), image.NewRGBA(image.Rect(0, 0, 100, 100))); err == nil {
		t.Error("10 m at a million pixels per mm were drawn; want an error")
	}
	s.Camera.Scale = 1e4 // 1e8 pixels:
	s.Bodies[0].Pose.T.X = 0
	_, seen := drawn(t, &s, 100, 100)
	if n, _ := area(seen, 0); n != 100*100 {
		t.Errorf("a cube larger than the picture covers %d pixels of %d", n, 100*100)
	}
}
