package peer_test

import (
	"math"
	"path/filepath"
	"testing"

	"gridswing/geom"
	"gridswing/geom/stl"
	"gridswing/testdata/peer"

	"github.com/golang/geo/r3"
)

// TestBruteForce holds the judge to distances known in closed form.
func TestBruteForce(t *testing.T) {
	cube := peer.Solids()[0].Mesh // half sizes 10, 15, 20
	x, z := r3.Vector{X: 1}, r3.Vector{Z: 1}
	turned := func(axis r3.Vector, degrees float64, shift r3.Vector) geom.Pose {
		pose := geom.Turn(r3.Vector{}, axis, degrees*math.Pi/180)
		pose.T = shift
		return pose
	}
	for _, c := range []struct {
		name string
		pose geom.Pose
		want float64
	}{
		{"parallel faces", geom.Shift(r3.Vector{X: 27, Y: 4, Z: -5}), 7},
		{"edge to edge", geom.Shift(r3.Vector{X: 23, Y: 34}), 5},
		{"corner to corner", geom.Shift(r3.Vector{X: 21, Y: 32, Z: 42}), 3},
		{"edge to face", turned(z, 45, r3.Vector{X: 40}), 40 - 10 - 25*math.Sqrt(0.5)},
		{"crossing edges", turned(x, 90, r3.Vector{X: 23, Y: 39}), 5},
		{"touching faces", geom.Shift(r3.Vector{X: 20}), 0},
		{"through each other", turned(x, 30, r3.Vector{X: 3}), 0},
	} {
		if got := peer.BruteForce(cube, cube, c.pose); math.Abs(got-c.want) > 1e-13 {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

// TestCases holds the stored answers of the library to brute force, and the
// poses to being proper motions.
func TestCases(t *testing.T) {
	meshes := make(map[string]*geom.Mesh)
	for _, s := range peer.Solids() {
		m, err := stl.ReadFile(filepath.Join("meshes", s.Name+".stl"))
		if err != nil {
			t.Fatal(err)
		}
		if !geom.AuditOf(m).Closed {
			t.Errorf("%s is not closed", s.Name)
		}
		meshes[s.Name] = m
	}
	cases, err := peer.ReadCases("cases.csv")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range cases {
		if got := peer.BruteForce(meshes[c.A], meshes[c.B], c.Pose); !c.Agrees(got) {
			t.Errorf("brute force says %v: %v", got, c)
		}
		r := c.Pose.R
		for i := range 3 {
			for j := range 3 {
				want := 0.0
				if i == j {
					want = 1
				}
				if dot := r[i][0]*r[j][0] + r[i][1]*r[j][1] + r[i][2]*r[j][2]; math.Abs(dot-want) > 1e-14 {
					t.Errorf("rows %d and %d of the rotation have product %v: %v", i, j, dot, c)
				}
			}
		}
	}
}

// TestNested shows a body inside another, which poses must not draw.
func TestNested(t *testing.T) {
	solids := peer.Solids()
	block, ball := &solids[0], &solids[6]
	small := &peer.Solid{Mesh: new(geom.Mesh)}
	for _, f := range block.Mesh.Facets {
		for k := range f {
			f[k] = geom.VertexOf(f[k].Vector().Mul(0.1))
		}
		small.Mesh.Facets = append(small.Mesh.Facets, f)
	}
	small.Probes = []r3.Vector{small.Mesh.Facets[0][0].Vector()}
	for _, c := range []struct {
		shift float64
		want  bool
	}{{0, true}, {45, true}, {70, false}} {
		pose := geom.Shift(r3.Vector{X: c.shift})
		if got := peer.Nested(ball, small, pose); got != c.want {
			t.Errorf("small block at %v in the ball: %v", c.shift, got)
		}
		if got := peer.Nested(small, ball, pose.Inverse()); got != c.want {
			t.Errorf("ball around the small block at %v: %v", c.shift, got)
		}
	}
}
