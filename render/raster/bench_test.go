package raster

import (
	"context"
	"fmt"
	"testing"

	"gridswing/geom"
	"gridswing/geom/shape"
	"gridswing/render/ink"

	"github.com/golang/geo/r3"
)

// BenchmarkDraw draws the given numbers of facets at 1600 x 1200: finely
// tessellated cylinders in rows, seen at a slant.
func BenchmarkDraw(b *testing.B) {
	toward := r3.Vector{X: 1, Y: -1, Z: 1}.Normalize()
	right := r3.Vector{X: 1, Y: 1}.Normalize()
	camera := Camera{Right: right, Up: toward.Cross(right), Toward: toward, X: 800, Y: 600, Scale: 1.5}
	for _, n := range []int{50_000, 200_000, 800_000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			const bodies = 16
			s := Scene{Camera: camera, Lines: black}
			peg := NewShape(shape.Cylinder(55, -100, 100, shape.Round{Chord: 0.02}).WithFacets(n/bodies).Mesh(), true)
			facets := 0
			for i := range bodies {
				s.Bodies = append(s.Bodies, Body{Shape: peg, Color: grey,
					Pose: geom.Shift(r3.Vector{X: float64(i%4)*150 - 225, Y: float64(i/4)*150 - 225})})
				facets += len(peg.mesh.Facets)
			}
			page := ink.NewCanvas(1600, 1200, paper)
			for b.Loop() {
				if _, err := s.Draw(context.Background(), page.RGBA); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(facets), "facets")
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
	page := ink.NewCanvas(1600, 1200, paper)
	for b.Loop() {
		if _, err := s.Draw(context.Background(), page.RGBA); err != nil {
			b.Fatal(err)
		}
	}
}
