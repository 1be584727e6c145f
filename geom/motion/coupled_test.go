package motion

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/golang/geo/r3"
)

// slides turns a random chain into one in which no parameter turns anything, with up to three
// parameters from 0 to 1.
func slides(r *rand.Rand) (Chain, Box) {
	c, _ := randomChain(r)
	for range 3 {
		more, _ := randomChain(r)
		c.Joints = append(c.Joints, more.Joints...)
	}
	for i := range c.Joints {
		if j := &c.Joints[i]; j.Kind == Rotary {
			j.Gain = Params{}
		} else {
			j.Gain = Params{20 * r.NormFloat64(), 0, 50 * r.NormFloat64()}
		}
	}
	return c, Unit(3)
}

// Coupled changes nothing of where a chain stands, and its bounds hold what the chain itself
// can do, slack included.
func TestCoupledHoldsTheChain(t *testing.T) {
	for seed := range uint64(1500) {
		r := rand.New(rand.NewPCG(seed, 29))
		c, box := slides(r)
		w := 2 * r.IntN(2)
		coupled := c.Coupled(w)
		e := coupled.Over(&box, nil)
		for range 20 {
			p, off := somewhere(r, &c, &box)
			x := point(r, 100)
			want, got := c.Pose(p), coupled.Pose(p)
			if d := got.Point(x).Sub(want.Point(x)).Norm(); d > 1e-9 {
				t.Fatalf("seed %d: off by %g at %v", seed, d, p)
			}
			at, is := e.Pose.Point(x), off.Pose(p)
			moved := is.Point(x).Sub(at)
			if most := e.Plain(at, 0); moved.Norm() > most+1e-9 {
				t.Fatalf("seed %d: moved by %g, bound %g", seed, moved.Norm(), most)
			}
			u := unit(r)
			if toward, most := -u.Dot(moved), e.Toward(u, at, 0); toward > most+1e-9 {
				t.Fatalf("seed %d: %g toward, bound %g", seed, toward, most)
			}
		}
	}
}

// What one slide lifts and another one follows does not move, whatever turned joint without
// slack is between the two.
func TestCoupledTakesOutWhatFollows(t *testing.T) {
	c := Chain{Joints: []Joint{
		{Name: "Y", Kind: Linear, Axis: r3.Vector{Y: 1}, Gain: Params{0, 45}},
		{Name: "A", Kind: Rotary, Axis: r3.Vector{X: 1}, Offset: math.Pi / 2},
		{Name: "height", Kind: Linear, Axis: r3.Vector{Z: 1}, Gain: Params{0, 45}},
	}}
	box := Unit(2)
	coupled := c.Coupled(1)
	e := coupled.Over(&box, nil)
	if most := e.Plain(r3.Vector{X: 100, Y: 30, Z: 10}, 50); most > 1e-8 {
		t.Errorf("moves by %g mm, expected nothing: what A turns Z into is -Y", most)
	}
	turns := c
	turns.Joints = append([]Joint(nil), c.Joints...)
	turns.Joints[1].Gain[0] = 1
	if got := turns.Coupled(1); len(got.Joints) != 3 || got.Joints[0].Gain != c.Joints[0].Gain {
		t.Error("a chain that a parameter turns was changed")
	}
}
