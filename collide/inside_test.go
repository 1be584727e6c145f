package collide

import (
	"math"
	"math/rand/v2"
	"testing"

	"gridswing/geom"

	"github.com/golang/geo/r3"
)

func TestContains(t *testing.T) {
	inward := func(m *geom.Mesh) *geom.Mesh {
		out := &geom.Mesh{}
		for _, f := range m.Facets {
			out.Facets = append(out.Facets, geom.Facet{f[0], f[2], f[1]})
		}
		return out
	}
	box := centered(20, 20, 20)
	hollow := joined(box, inward(centered(10, 10, 10)))
	overlapping := joined(box, moved(centered(20, 20, 20), geom.Shift(r3.Vector{X: 10})))
	tests := []struct {
		name string
		mesh *geom.Mesh
		p    r3.Vector
		want bool
	}{
		{"middle", box, r3.Vector{}, true},
		{"just inside a face", box, r3.Vector{Z: 9.999}, true},
		{"just outside a face", box, r3.Vector{Z: 10.001}, false},
		{"beside", box, r3.Vector{X: 30}, false},
		{"far below, ray through the middle", box, r3.Vector{Z: -500}, false},
		{"in the wall of a hollow", hollow, r3.Vector{X: 7}, true},
		{"in the cavity", hollow, r3.Vector{X: 3}, false},
		{"in two overlapping shells", overlapping, r3.Vector{X: 5}, true},
		{"in one of them", overlapping, r3.Vector{X: -5}, true},
		{"in none", overlapping, r3.Vector{X: -11}, false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			tree := NewTree(tt.mesh)
			if got := tree.Contains(tt.p); got != tt.want {
				t.Errorf("Contains(%v) = %v, want %v", tt.p, got, tt.want)
			}
		})
	}
	if (NewTree(&geom.Mesh{})).Contains(r3.Vector{}) {
		t.Error("a body without facets contains a point")
	}
}

// Rays and the solid angle are two unrelated ways to the winding number.
func TestContainsAgainstSolidAngle(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 9))
	tree := NewTree(joined(bumpy(20, 30, 6, 1), moved(bumpy(16, 20, 4, 2), geom.Shift(r3.Vector{X: 25}))))
	inside := 0
	for range 2000 {
		p := randomUnit(r).Mul(60 * r.Float64())
		want := math.Abs(tree.solidAngle(p)) > 2*math.Pi
		if want {
			inside++
		}
		if got := tree.Contains(p); got != want {
			t.Fatalf("Contains(%v) = %v, the solid angle is %.6f", p, got, tree.solidAngle(p))
		}
	}
	if inside < 200 || inside > 1800 {
		t.Errorf("%d of 2000 points are inside: the points prove nothing", inside)
	}
}
