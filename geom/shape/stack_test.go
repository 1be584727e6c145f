package shape

import (
	"math"
	"strings"
	"testing"

	"gridswing/geom"

	"github.com/golang/geo/r2"
	"pgregory.net/rapid"
)

func TestPlateWithHoles(t *testing.T) {
	p := Plate{
		Outline: Rect(-100, -50, 100, 50), Thickness: 30, Chamfer: 1, Round: fine,
		Holes: []Hole{
			{At: r2.Point{X: -60}, Radius: 8},
			{At: r2.Point{X: -20, Y: 20}, Radius: 8, Depth: 12},
			{At: r2.Point{X: 20, Y: -20}, Radius: 6.75, HeadRadius: 10, HeadDepth: 13},
			{At: r2.Point{X: 60}, Radius: 5.1, HeadRadius: 8, HeadDepth: 18, Chamfer: 0.5},
		},
		Pockets: []Pocket{{Outline: Rect(-10, 5, 30, 30), Depth: 7}, {Outline: Rect(70, -40, 90, -20)}},
	}
	s, err := p.Surface()
	disc := func(widest, r float64) float64 { return math.Pi * r * r * ngonRatio(fine.Segments(widest)) }
	frustum := func(widest, a, b, h float64) float64 {
		return math.Pi * h / 3 * (a*a + a*b + b*b) * ngonRatio(fine.Segments(widest))
	}
	// the outline's chamfers: frusta of a pyramid between 200 x 100 and 198 x 98 (prismatoid formula)
	want := 200*100*28 + 2*(200*100+4*199*99+198*98)/6.0
	want -= disc(8, 8) * 30
	want -= disc(8, 8) * 12
	want -= disc(10, 10)*13 + disc(10, 6.75)*17
	want -= frustum(8.5, 8.5, 8, 0.5) + disc(8.5, 8)*17.5 + disc(8.5, 5.1)*11.5 + frustum(8.5, 5.1, 5.6, 0.5)
	want -= 40*25*7 + 20*20*30
	a := sound(t, must(t, s, err), 1, want)
	if euler := a.Vertices - a.Edges + a.Facets; euler != 2-2*4 {
		t.Errorf("Euler number %d, want -6: four through holes", euler)
	}
	sound(t, s.Refined(7), 1, want)
}

// Layers that touch along part of their outlines: an L, a boss at the edge, and
// two separate posts on one foot, as a trunnion's cradle and a table's lands are built.
func TestStackOfUnlikeLayers(t *testing.T) {
	s, err := Stack(0,
		Layer{Height: 10, Bottom: Region{Contour{{X: 0}, {X: 20}, {X: 80}, {X: 100}, {X: 100, Y: 60}, {X: 0, Y: 60}}}},
		Layer{Height: 40, Bottom: Region{Rect(0, 0, 20, 60), Rect(80, 0, 100, 60)}},
		Layer{Height: 5, Bottom: Region{fine.Circle(r2.Point{X: 10, Y: 30}, 8), Rect(80, 0, 100, 60)}})
	// the posts' corners at y = 60 are no corners of the foot
	if a := geom.AuditOf(must(t, s, err).Mesh()); a.Closed {
		t.Error("closed, though a corner lies on an edge without one")
	}
	foot := Contour{{X: 0}, {X: 20}, {X: 80}, {X: 100}, {X: 100, Y: 60}, {X: 80, Y: 60}, {X: 20, Y: 60}, {X: 0, Y: 60}}
	s, err = Stack(0,
		Layer{Height: 10, Bottom: Region{foot}},
		Layer{Height: 40, Bottom: Region{Rect(0, 0, 20, 60), Rect(80, 0, 100, 60)}},
		Layer{Height: 5, Bottom: Region{fine.Circle(r2.Point{X: 10, Y: 30}, 8), Rect(80, 0, 100, 60)}})
	boss := math.Pi * 64 * ngonRatio(fine.Segments(8))
	sound(t, must(t, s, err), 1, 100*60*10+2*20*60*40+5*(boss+20*60))
}

func TestExtrudeManyHoles(t *testing.T) {
	region := Region{Rect(0, 0, 1000, 600)}
	hole := Contour{}
	for _, h := range HoleGrid(Hole{Radius: 8}, r2.Point{X: 500, Y: 300}, 38, 22, 25, nil) {
		hole = fine.Circle(h.At, 8)
		region = append(region, hole)
	}
	s, err := Extrude(region, 20, -5)
	a := sound(t, must(t, s, err), 1, 25*(600000-836*hole.area()))
	// by Euler: each end has corners + 2 holes - 2, the walls two for each corner
	if want := 4*(len(hole)*836+4) + 2*(2*836-2); a.Facets != want {
		t.Errorf("%d facets, want %d", a.Facets, want)
	}
}

func TestStackErrors(t *testing.T) {
	cross := Region{Rect(0, 0, 10, 10), Rect(5, 5, 15, 15)}
	for want, l := range map[string]Layer{
		"contours cross":      {Height: 5, Bottom: cross},
		"above zero":          {Bottom: Region{Rect(0, 0, 1, 1)}},
		"3 or more":           {Height: 1, Bottom: Region{{{X: 1}, {X: 2}}}},
		"1 contours below, 2": {Height: 1, Bottom: Region{Rect(0, 0, 1, 1)}, Top: cross},
		"4 corners below, 12": {Height: 1, Bottom: Region{Rect(0, 0, 1, 1)}, Top: Region{Round{Chord: 1}.Circle(r2.Point{}, 1)}},
	} {
		if _, err := Stack(0, l); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("error %v, want one that says %q", err, want)
		}
	}
}

// star draws a star-shaped polygon around a point, anything from convex to
// spiky, its corners between two radii: two of them cannot cross.
func star(t *rapid.T, center r2.Point, inner, outer float64) Contour {
	n := rapid.IntRange(3, 24).Draw(t, "corners")
	turned := rapid.Float64Range(0, 1).Draw(t, "turned")
	c := make(Contour, n)
	for i := range c {
		r := rapid.Float64Range(inner, outer).Draw(t, "radius")
		if rapid.Bool().Draw(t, "clamped") {
			r = inner
		}
		sin, cos := math.Sincos(2 * math.Pi * (float64(i) + turned) / float64(n))
		c[i] = center.Add(r2.Point{X: r * cos, Y: r * sin})
	}
	if rapid.Bool().Draw(t, "clockwise") {
		return c.reversed()
	}
	return c
}

func TestExtrudeRandomRegions(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		region := Region{star(t, r2.Point{}, 100, 200)} // a triangle's edges come as near as 50
		area := math.Abs(region[0].area())
		for i := range rapid.IntRange(0, 9).Draw(t, "holes") {
			at := r2.Point{X: float64(i%3-1) * 20, Y: float64(i/3-1) * 20}
			hole := star(t, at, 1, 9)
			area -= math.Abs(hole.area())
			region = append(region, hole)
			if rapid.Bool().Draw(t, "island") && len(hole) > 5 { // its edges stay above 1 x cos(pi/6) away
				island := star(t, at, 0.2, 0.8)
				area += math.Abs(island.area())
				region = append(region, island)
			}
		}
		height := rapid.Float64Range(0.5, 300).Draw(t, "height")
		s, err := Extrude(region, 0, height)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(volumeOf(s)-area*height) > 1e-9*area*height {
			t.Fatalf("volume %v, want %v", volumeOf(s), area*height)
		}
		up, down, err := flatFace(region, nil)
		if err != nil || len(down) != 0 {
			t.Fatalf("%d triangles below, %v", len(down), err)
		}
		for _, f := range up {
			if orientation(f[0], f[1], f[2]) <= 0 {
				t.Fatalf("triangle %v has no area or looks down", f)
			}
		}
		closedExactly(t, s)
		closedExactly(t, s.Refined(40))
	})
}

// closedExactly pairs the directed edges of the float64 surface.
func closedExactly(t interface{ Fatalf(string, ...any) }, s Surface) {
	edges := map[[6]float64]int{}
	for _, f := range s {
		for k := range 3 {
			a, b := f[k], f[(k+1)%3]
			edges[[6]float64{a.X, a.Y, a.Z, b.X, b.Y, b.Z}]++
			edges[[6]float64{b.X, b.Y, b.Z, a.X, a.Y, a.Z}]--
		}
	}
	for e, n := range edges {
		if n != 0 {
			t.Fatalf("edge %v is used %d times more one way", e, n)
		}
	}
}

func BenchmarkExtrudeManyHoles(b *testing.B) {
	region := Region{Rect(0, 0, 1000, 600)}
	for _, h := range HoleGrid(Hole{Radius: 8}, r2.Point{X: 500, Y: 300}, 38, 22, 25, nil) {
		region = append(region, fine.Circle(h.At, 8))
	}
	for b.Loop() {
		if _, err := Extrude(region, 0, 25); err != nil {
			b.Fatal(err)
		}
	}
}
