package collide

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"gridswing/geom"

	"github.com/golang/geo/r3"
)

// bruteDistance looks at every pair of facets.
func bruteDistance(a, b *geom.Mesh, pose geom.Pose) float64 {
	best := math.Inf(1)
	for i := range a.Facets {
		for j := range b.Facets {
			var ta, tb triangle
			ta.load(&a.Facets[i])
			tb.loadPosed(&b.Facets[j], &pose)
			d2, _, _ := nearestPoints(&ta, &tb)
			best = min(best, d2)
		}
	}
	return math.Sqrt(best)
}

func TestDistanceAgainstEveryPair(t *testing.T) {
	meshes := map[string]*geom.Mesh{
		"one facet": {Facets: cuboid(r3.Vector{}, r3.Vector{X: 9, Y: 7, Z: 5}).Facets[:1]},
		"3 facets":  {Facets: centered(9, 7, 5).Facets[:3]},
		"box":       centered(20, 12, 6),
		"ball":      bumpy(12, 10, 1.5, 0.3),
		"two boxes": joined(centered(4, 4, 4), cuboid(r3.Vector{X: 8}, r3.Vector{X: 12, Y: 2, Z: 9})),
	}
	for nameA, a := range meshes {
		for nameB, b := range meshes {
			ta, tb := NewTree(a), NewTree(b)
			r := rand.New(rand.NewPCG(7, uint64(len(a.Facets)*100+len(b.Facets))))
			for n := range 60 {
				pose := randomPose(r, 50)
				want := bruteDistance(a, b, pose)
				got := Distance(ta, tb, pose)
				if diff := math.Abs(got.Distance - want); diff > max(1e-9*want, 1e-7) {
					t.Fatalf("%s, %s, pose %d: distance %.12g, want %.12g\npose %#v", nameA, nameB, n, got.Distance, want, pose)
				}
				if gap := got.B.Sub(got.A).Norm(); math.Abs(gap-got.Distance) > 1e-9 {
					t.Fatalf("%s, %s, pose %d: points are %.12g apart, distance says %.12g", nameA, nameB, n, gap, got.Distance)
				}
				if want > 1e-6 && (!Apart(ta, tb, pose, want*(1-1e-6)) || Apart(ta, tb, pose, want*(1+1e-6))) {
					t.Fatalf("%s, %s, pose %d: Apart disagrees with distance %.12g", nameA, nameB, n, want)
				}
			}
		}
	}
}

// Exact answers, each by hand from the coordinates.
func TestDistanceKnown(t *testing.T) {
	unit := centered(1, 1, 1)
	two := centered(2, 2, 2)
	turn := func(axis r3.Vector, deg float64, at r3.Vector) geom.Pose {
		p := geom.Turn(r3.Vector{}, axis, deg*math.Pi/180)
		p.T = at
		return p
	}
	x, y, z := r3.Vector{X: 1}, r3.Vector{Y: 1}, r3.Vector{Z: 1}
	// A cube standing on a body diagonal along x: turn (1,1,1)/sqrt 3 onto x.
	diagonal := r3.Vector{X: 1, Y: 1, Z: 1}.Normalize()
	onCorner := turn(diagonal.Cross(x).Normalize(), math.Acos(diagonal.X)*180/math.Pi, x.Mul(3))
	tests := []struct {
		name string
		a, b *geom.Mesh
		pose geom.Pose
		want float64
	}{
		{"edge to face", unit, unit, turn(z, 45, x.Mul(3)), 3 - 0.5 - math.Sqrt(0.5)},
		{"corner to face", unit, unit, onCorner, 3 - 0.5 - math.Sqrt(3)/2},
		{"edge to edge", moved(two, turn(x, 45, r3.Vector{})), two, turn(y, 45, z.Mul(5)), 5 - 2*math.Sqrt2},
		{"parallel faces", unit, unit, turn(z, 0, x.Mul(3)), 2},
		{"touching", unit, unit, turn(z, 0, x), 0},
		{"overlapping", unit, unit, turn(z, 30, x.Mul(0.4)), 0},
		{"nested: surfaces only", two, unit, geom.Identity(), 0.5},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got := Distance(NewTree(tt.a), NewTree(tt.b), tt.pose)
			if math.Abs(got.Distance-tt.want) > 2e-7 { // vertices are float32
				t.Errorf("distance %.10f, want %.10f", got.Distance, tt.want)
			}
		})
	}
}

func TestTreeHoldsEveryFacet(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	var directions []r3.Vector
	for range 8 {
		directions = append(directions, randomUnit(r))
	}
	// A strip 400 mm long and 0.02 mm high, 1e-4 rad off the y axis: its box is turned
	// by an angle whose cosine is 1 in float32.
	meshes := []*geom.Mesh{{Facets: []geom.Facet{
		{{-0.04, 400, 0.02}, {0, 0, 0.02}, {0, 0, 0}},
		{{0, 0, 0}, {-0.04, 400, 0}, {-0.04, 400, 0.02}},
	}}}
	for _, n := range []int{1, 2, 3, 4, 5, 12, 200, 20_000} {
		meshes = append(meshes, &geom.Mesh{Facets: bumpy(120, 40, 3, 1).Facets[:min(n, 28_000)]})
	}
	for _, m := range meshes {
		n := len(m.Facets)
		tree := NewTree(m)
		seen := make([]int, n)
		var check func(i int32, up []int32)
		check = func(i int32, up []int32) {
			up = append(up, i)
			nd := &tree.nodes[i]
			if !nd.leaf() {
				check(i+1, up)
				check(nd.next, up)
				return
			}
			for f := nd.next; f < nd.next+nd.count; f++ {
				seen[tree.index[f]]++
				if tree.facets[f] != m.Facets[tree.index[f]] {
					t.Fatalf("%d facets: place %d holds another facet than %d", n, f, tree.index[f])
				}
				for _, v := range &tree.facets[f] {
					for _, k := range up {
						var b box
						tree.nodes[k].load(&b)
						// What a box promises is its support: nothing it holds lies beyond.
						for _, u := range append(b.axis[:], directions...) {
							d := v.Vector().Sub(b.center)
							reach := math.Abs(u.Dot(b.axis[0]))*b.half[0] + math.Abs(u.Dot(b.axis[1]))*b.half[1] + math.Abs(u.Dot(b.axis[2]))*b.half[2]
							if out := math.Abs(u.Dot(d)) - reach; out > 1e-12 {
								t.Fatalf("%d facets: vertex %v is %g beyond node %d along %v", n, v, out, k, u)
							}
							if d.Norm() > b.radius {
								t.Fatalf("%d facets: vertex %v is outside the ball of node %d", n, v, k)
							}
						}
					}
				}
			}
			if len(up) > 64 {
				t.Fatalf("%d facets: depth %d", n, len(up))
			}
		}
		check(0, nil)
		for i, k := range seen {
			if k != 1 {
				t.Fatalf("%d facets: facet %d stands in %d leaves", n, i, k)
			}
		}
	}
}

func BenchmarkDistance(b *testing.B) {
	for _, n := range []int{30, 100, 300} {
		ta, tb := NewTree(bumpy(n, 60, 3, 1)), NewTree(bumpy(n, 50, 3, 2))
		for _, kind := range []string{"distance", "apart 2 mm"} {
			b.Run(fmt.Sprintf("%d facets/%s", ta.Facets(), kind), func(b *testing.B) {
				r := rand.New(rand.NewPCG(1, 2))
				poses := make([]geom.Pose, 64)
				for i := range poses {
					poses[i] = randomPose(r, 0)
					poses[i].T = randomUnit(r).Mul(120 + 40*r.Float64())
				}
				b.ReportAllocs()
				for i := 0; b.Loop(); i++ {
					if kind == "distance" {
						Distance(ta, tb, poses[i%64])
					} else {
						Apart(ta, tb, poses[i%64], 2)
					}
				}
			})
		}
	}
}
