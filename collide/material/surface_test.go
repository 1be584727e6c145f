package material

import (
	"math"
	"math/rand/v2"
	"testing"

	"gridswing/collide"
	"gridswing/geom"
	"gridswing/geom/motion"
	"gridswing/geom/shape"

	"github.com/golang/geo/r3"
)

// A surface asked about a cylinder on its way, beside the general proof over the same motion: where the one says
// apart by a little more than the other's distance it is wrong, and where it denies a little less.
func TestSurfaceAgainstSweeps(t *testing.T) {
	ball := shape.BumpyBall(600)
	surface, tree := NewSurface(ball), collide.NewTree(ball)
	said := [2]int{}
	for seed := range uint64(60) {
		r := rand.New(rand.NewPCG(seed, 3))
		radius, height := 0.2+r.Float64(), 0.5+2*r.Float64()
		size := ball.Bounds().Size().Norm()
		at := r3.Vector{X: r.NormFloat64(), Y: r.NormFloat64(), Z: r.NormFloat64()}.Normalize().Mul(size * (0.2 + 0.2*r.Float64()))
		way := r3.Vector{X: r.NormFloat64(), Y: r.NormFloat64(), Z: r.NormFloat64()}.Mul(size / 20)
		// A prism of many sides about a cylinder along Z, and one in it.
		around, err := shape.Enclose(shape.Contour{{X: radius, Y: 0}, {X: radius, Y: height}}, 72)
		if err != nil {
			t.Fatal(err)
		}
		chain := motion.Chain{Home: geom.Shift(at), Joints: []motion.Joint{{Kind: motion.Linear, Axis: way.Normalize(), Gain: motion.Params{way.Norm()}}}}
		out, err := collide.Sweep(t.Context(), collide.Pair{A: tree, B: collide.NewTree(around), Motion: chain}, motion.Unit(1),
			collide.Limits{Enough: math.Inf(1), Absolute: 1e-3})
		if err != nil {
			t.Fatal(err)
		}
		b := Body{Outline: Outline{{radius, 0}, {radius, height}}}
		s := Sweep{Origin: at, Axis: r3.Vector{Z: 1}, Ways: []r3.Vector{way}}
		near := 0.0
		if !out.Contact {
			near = out.Upper
		}
		if _, ok := surface.Apart(&b, &s, near+0.01+0.002*radius); ok {
			t.Fatalf("seed %d: apart by more than %g", seed, near)
		}
		if _, ok := surface.Apart(&b, &s, near-0.01); near > 0.01 && !ok {
			t.Fatalf("seed %d: not apart by less than %g", seed, near)
		}
		s.Off = near - 0.01
		if _, ok := surface.Apart(&b, &s, 0); near > 0.01 && !ok {
			t.Fatalf("seed %d: not apart by Off", seed)
		}
		if near > 0.01 {
			said[1]++
		} else {
			said[0]++
		}
	}
	if said[0] < 10 || said[1] < 10 {
		t.Errorf("contacts and gaps: %v", said)
	}
}

// Whether a body keeps clear is the same whether it is asked where it does not or not.
func TestApartIsKeeps(t *testing.T) {
	m, err := New(shape.BumpyBall(600), 0, 0.1, 0.3)
	if err != nil {
		t.Fatal(err)
	}
	size := m.Bounds().Size().Norm()
	for seed := range uint64(300) {
		r := rand.New(rand.NewPCG(seed, 4))
		u := r3.Vector{X: r.NormFloat64(), Y: r.NormFloat64(), Z: r.NormFloat64()}.Normalize()
		s := Sweep{Origin: u.Mul(size * (0.2 + 0.3*r.Float64())), Axis: u, Ways: []r3.Vector{{X: r.NormFloat64(), Y: r.NormFloat64()}}, Off: 0.01}
		b := Body{Outline: Outline{{1, 0}, {1, 3}}}
		gap := r.Float64()
		if _, ok := m.Keeps(&b, &s, gap); ok != m.Apart(&b, &s, gap) {
			t.Fatalf("seed %d: Keeps says %v", seed, ok)
		}
	}
}
