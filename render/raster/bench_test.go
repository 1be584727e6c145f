package raster

import (
	"context"
	"fmt"
	"math"
	"sync"
	"testing"

	"gridswing/geom"
	"gridswing/geom/shape"
	"gridswing/render/ink"

	"github.com/golang/geo/r3"
)

// isometric sees the origin in the middle of 1600 x 1200 pixels, at a slant.
func isometric(scale float64) Camera {
	toward := r3.Vector{X: 1, Y: -1, Z: 1}.Normalize()
	right := r3.Vector{X: 1, Y: 1}.Normalize()
	return Camera{Right: right, Up: toward.Cross(right), Toward: toward, X: 800, Y: 600, Scale: scale}
}

// The bodies to measure with, of about a million facets each; each nearly fills the picture.
var (
	// A dense tube: most facets are 1 to 3 pixels.
	knot = sync.OnceValue(func() *geom.Mesh { return shape.TorusKnot(1_000_000) })
	// Two large faces full of slivers, and 48 bores of long narrow facets.
	holes = sync.OnceValue(func() *geom.Mesh { return boredPlate(8, 6, 50, 16, 30, 5208) })
	// A plate with holes of evenly small facets.
	evenHoles = sync.OnceValue(func() *geom.Mesh { return shape.GridPlate(1_000_000) })
)

// boredPlate is a plate of so many square cells, each with a bore of so many sides: each side
// makes two facets of the bore's wall, and one above and one below that reach to the nearest
// corner of the cell. Its outer walls are left out.
func boredPlate(columns, rows int, pitch, radius, thickness float64, sides int) *geom.Mesh {
	m := &geom.Mesh{}
	add := func(a, b, c r3.Vector) {
		m.Facets = append(m.Facets, geom.Facet{geom.VertexOf(a), geom.VertexOf(b), geom.VertexOf(c)})
	}
	for cell := range columns * rows {
		center := r3.Vector{X: (float64(cell%columns) - float64(columns-1)/2) * pitch, Y: (float64(cell/columns) - float64(rows-1)/2) * pitch}
		down := r3.Vector{Z: -thickness}
		corner := func(quarter int) r3.Vector {
			sin, cos := math.Sincos(math.Pi/4 + math.Pi/2*float64(quarter%4))
			return center.Add(r3.Vector{X: math.Round(cos), Y: math.Round(sin)}.Mul(pitch / 2))
		}
		rim := func(k int) r3.Vector {
			sin, cos := math.Sincos(2 * math.Pi * float64(k%sides) / float64(sides))
			return center.Add(r3.Vector{X: cos, Y: sin}.Mul(radius))
		}
		for k := range sides {
			a, b, c := rim(k), rim(k+1), corner(4*k/sides)
			add(b, a, c)
			add(a.Add(down), b.Add(down), c.Add(down))
			add(a, b, b.Add(down))
			add(a, b.Add(down), a.Add(down))
			if next := corner(4 * (k + 1) / sides); next != c {
				add(c, next, b)
				add(next.Add(down), c.Add(down), b.Add(down))
			}
		}
	}
	return m
}

var millions = []struct {
	name  string
	mesh  func() *geom.Mesh
	scale float64
}{{"knot", knot, 8}, {"holes", holes, 3}, {"even", evenHoles, 3}}

// BenchmarkMillion draws a million facets at 1600 x 1200.
func BenchmarkMillion(b *testing.B) {
	for _, m := range millions {
		for _, workers := range []int{1, 2} {
			b.Run(fmt.Sprintf("%s/%d", m.name, workers), func(b *testing.B) {
				s := Scene{Camera: isometric(m.scale), Lines: black, Workers: workers,
					Bodies: []Body{{Shape: NewShape(m.mesh(), true), Pose: geom.Identity(), Color: grey}}}
				drawAgain(b, &s)
				b.ReportMetric(float64(len(m.mesh().Facets)), "facets")
			})
		}
	}
}

// BenchmarkEffects draws the same with one thing more or less than the plain picture: no edges, no
// occlusion; cut through the middle; as a veil; as a veil of many bodies that are shown as one.
func BenchmarkEffects(b *testing.B) {
	for _, m := range millions[:2] {
		shape := NewShape(m.mesh(), true)
		bare := *shape
		bare.edges = nil
		for _, effect := range []struct {
			name string
			set  func(s *Scene)
		}{
			{"plain", func(s *Scene) { s.Occlusion, s.Bodies[0].Shape = -1, &bare }},
			{"edges", func(s *Scene) { s.Occlusion = -1 }},
			{"occlusion", func(s *Scene) { s.Bodies[0].Shape = &bare }},
			{"section", func(s *Scene) {
				s.Occlusion, s.Bodies[0].Shape = -1, &bare
				s.Cut = &Plane{Normal: r3.Vector{X: 1, Y: -1, Z: 1}.Normalize()}
			}},
			{"veil", func(s *Scene) { s.Occlusion, s.Bodies[0].Shape, s.Bodies[0].Ghost = -1, &bare, true }},
			{"outline", func(s *Scene) { s.Occlusion, s.Bodies[0].Shape, s.Bodies[0].Outline = -1, &bare, MaxOutline }},
		} {
			b.Run(m.name+"/"+effect.name, func(b *testing.B) {
				s := Scene{Camera: isometric(m.scale), Lines: black, Overlap: red, Workers: 1,
					Bodies: []Body{{Shape: shape, Pose: geom.Identity(), Color: grey}}}
				effect.set(&s)
				drawAgain(b, &s)
			})
		}
	}
}

// BenchmarkEnvelope draws the veil of 72 bodies that are shown as one over a solid.
func BenchmarkEnvelope(b *testing.B) {
	peg := NewShape(shape.Cylinder(55, -100, 100, shape.Round{Chord: 0.02}).WithFacets(10_000).Mesh(), true)
	s := Scene{Camera: isometric(3), Lines: black, Workers: 1, Bodies: []Body{{Shape: peg, Pose: geom.Identity(), Color: grey}}}
	for i := range 72 {
		turn := geom.Turn(r3.Vector{X: 40}, r3.Vector{Y: 1}, 2*math.Pi*float64(i)/72)
		s.Bodies = append(s.Bodies, Body{Shape: peg, Pose: turn, Color: grey, Ghost: true, Merge: 1})
	}
	drawAgain(b, &s)
}

func drawAgain(b *testing.B, s *Scene) {
	page := ink.NewCanvas(1600, 1200, paper)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := s.Draw(context.Background(), page.RGBA); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkNewShape finds the edges of a million facets.
func BenchmarkNewShape(b *testing.B) {
	for _, m := range millions {
		b.Run(m.name, func(b *testing.B) {
			mesh := m.mesh()
			for b.Loop() {
				NewShape(mesh, true)
			}
		})
	}
}

// BenchmarkDraw draws the given numbers of facets at 1600 x 1200: finely
// tessellated cylinders in rows, seen at a slant.
func BenchmarkDraw(b *testing.B) {
	for _, n := range []int{50_000, 200_000, 800_000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			const bodies = 16
			s := Scene{Camera: isometric(1.5), Lines: black}
			peg := NewShape(shape.Cylinder(55, -100, 100, shape.Round{Chord: 0.02}).WithFacets(n/bodies).Mesh(), true)
			for i := range bodies {
				s.Bodies = append(s.Bodies, Body{Shape: peg, Color: grey,
					Pose: geom.Shift(r3.Vector{X: float64(i%4)*150 - 225, Y: float64(i/4)*150 - 225})})
			}
			drawAgain(b, &s)
			b.ReportMetric(float64(bodies*len(peg.mesh.Facets)), "facets")
		})
	}
}

// BenchmarkDrawCut draws a close-up as above, cut through one row of cylinders;
// most bodies, as in any setup, stand in a small part of the picture.
func BenchmarkDrawCut(b *testing.B) {
	s := Scene{Camera: front(800, 600, 6), Lines: black, Overlap: red, Workers: 1,
		Cut: &Plane{Point: r3.Vector{Y: -75}, Normal: r3.Vector{Y: -1}}}
	peg := NewShape(shape.Cylinder(55, -100, 100, shape.Round{Chord: 0.02}).WithFacets(10_000).Mesh(), true)
	for i := range 16 {
		s.Bodies = append(s.Bodies, Body{Shape: peg, Color: grey,
			Pose: geom.Shift(r3.Vector{X: float64(i%4)*150 - 225, Y: float64(i/4)*150 - 225})})
	}
	drawAgain(b, &s)
}
