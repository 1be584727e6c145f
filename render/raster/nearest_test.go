package raster

import (
	"math"
	"math/rand/v2"
	"testing"

	"gridswing/geom"
	"gridswing/geom/shape"

	"github.com/golang/geo/r3"
)

// The distance of a point from a cuboid has a closed form.
func TestNearestOnACuboid(t *testing.T) {
	half := r3.Vector{X: 10, Y: 20, Z: 5}
	s := NewShape(cuboid(t, half.Mul(2)).Mesh(), true)
	rng := rand.New(rand.NewPCG(3, 5))
	for range 500 {
		p := r3.Vector{X: 60*rng.Float64() - 30, Y: 60*rng.Float64() - 30, Z: 60*rng.Float64() - 30}
		over := r3.Vector{X: math.Abs(p.X) - half.X, Y: math.Abs(p.Y) - half.Y, Z: math.Abs(p.Z) - half.Z}
		want := math.Sqrt(math.Pow(max(over.X, 0), 2) + math.Pow(max(over.Y, 0), 2) + math.Pow(max(over.Z, 0), 2))
		if most := max(over.X, over.Y, over.Z); most < 0 {
			want = -most
		}
		q, normals := s.Nearest(p, 1e-9)
		if got := q.Sub(p).Norm(); math.Abs(got-want) > 1e-9 || len(normals) == 0 {
			t.Fatalf("from %v: %v mm with %d normals, want %v mm", p, got, len(normals), want)
		}
	}
}

func TestNearestNormals(t *testing.T) {
	s := NewShape(cuboid(t, r3.Vector{X: 20, Y: 20, Z: 20}).Mesh(), true)
	for name, c := range map[string]struct {
		p r3.Vector
		n int
	}{"face": {r3.Vector{X: 3, Y: 4, Z: 10.5}, 1}, "edge": {r3.Vector{X: 10, Y: 4, Z: 10}, 2}, "corner": {r3.Vector{X: 10, Y: -10, Z: 10}, 3}} {
		if _, normals := s.Nearest(c.p, 1e-3); len(normals) != c.n {
			t.Errorf("%s: normals %v, want %d", name, normals, c.n)
		}
	}
	if _, normals := s.Nearest(r3.Vector{X: 3, Y: 4, Z: 12}, 1e-3); normals[0] != (r3.Vector{Z: 1}) {
		t.Errorf("the upper face looks along %v", normals[0])
	}
	if _, normals := NewShape(&geom.Mesh{Facets: []geom.Facet{{}}}, false).Nearest(r3.Vector{}, 1); normals != nil {
		t.Errorf("a facet without area has the normals %v", normals)
	}
}

func BenchmarkNearest(b *testing.B) {
	s := NewShape(shape.Cylinder(55, -100, 100, shape.Round{Chord: 0.02}).WithFacets(500_000).Mesh(), true)
	for b.Loop() {
		s.Nearest(r3.Vector{X: 40, Y: 40, Z: 3}, 0.02)
	}
}
