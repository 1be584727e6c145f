package motion

import (
	"math"
	"math/rand/v2"
	"testing"

	"gridswing/geom"

	"github.com/golang/geo/r3"
)

func unit(r *rand.Rand) r3.Vector {
	for {
		v := r3.Vector{X: r.NormFloat64(), Y: r.NormFloat64(), Z: r.NormFloat64()}
		if n := v.Norm(); n > 1e-3 {
			return v.Mul(1 / n)
		}
	}
}

func point(r *rand.Rand, size float64) r3.Vector { return unit(r).Mul(size * r.Float64()) }

// randomChain returns up to five joints in three parameters, some of them
// coupled, some with slack, and a box over them. Ranges go from tiny to several turns.
func randomChain(r *rand.Rand) (Chain, Box) {
	c := Chain{Home: geom.Turn(point(r, 50), unit(r), r.Float64()*6)}
	for range 1 + r.IntN(5) {
		j := Joint{Kind: Kind(r.IntN(2)), Axis: unit(r), Point: point(r, 200), Offset: r.NormFloat64()}
		if r.IntN(3) == 0 { // axes as machines have them
			j.Axis = [3]r3.Vector{{X: 1}, {Y: 1}, {Z: -1}}[r.IntN(3)]
		}
		for range 1 + r.IntN(2) {
			j.Gain[r.IntN(3)] = []float64{1, -1, 0.5}[r.IntN(3)]
		}
		if r.IntN(3) == 0 {
			j.Slack = 0.01 * r.Float64()
		}
		c.Joints = append(c.Joints, j)
	}
	var b Box
	width := []float64{1e-6, 0.01, 0.3, 2, 7}[r.IntN(5)]
	for k := range 3 {
		b.Lo[k] = 3 * r.NormFloat64()
		b.Hi[k] = b.Lo[k] + width*r.Float64()
	}
	return c, b
}

// somewhere draws a position of the box and a value for every joint's slack,
// mostly at the ends, where bounds break first.
func somewhere(r *rand.Rand, c *Chain, b *Box) (Params, Chain) {
	draw := func(lo, hi float64) float64 {
		switch r.IntN(3) {
		case 0:
			return lo
		case 1:
			return hi
		default:
			return lo + (hi-lo)*r.Float64()
		}
	}
	var p Params
	for k := range p {
		p[k] = draw(b.Lo[k], b.Hi[k])
	}
	off := Chain{Home: c.Home, Joints: append([]Joint(nil), c.Joints...)}
	for i := range off.Joints {
		off.Joints[i].Offset += draw(-off.Joints[i].Slack, off.Joints[i].Slack)
	}
	return p, off
}

// Nothing may leave the bounds: points of random balls are carried to random
// positions of the box, location uncertainty included, and must stay within.
func TestBoundsHoldEverywhere(t *testing.T) {
	tightest := math.Inf(1)
	for seed := range uint64(3000) {
		r := rand.New(rand.NewPCG(seed, 11))
		chain, box := randomChain(r)
		e := chain.Over(&box, nil)
		center := point(r, 300) // as the body sees it
		radius := 40 * r.Float64()
		if r.IntN(3) == 0 {
			radius = 0
		}
		placed := e.Pose.Point(center)
		u := unit(r)
		if r.IntN(3) == 0 {
			u = r3.Vector{Z: 1}
		}
		plain, toward := e.Plain(placed, radius), e.Toward(u, placed, radius)
		if toward > plain*(1+1e-12) {
			t.Fatalf("seed %d: the directional bound %g is above the plain one %g", seed, toward, plain)
		}
		e.Hold(placed, radius+100)
		for _, enough := range []float64{0, toward, 2 * toward, math.Inf(1)} {
			if got := e.TowardUpTo(enough, u, placed, radius); got < toward*(1-1e-12) || got > max(enough, toward*(1+1e-12)) {
				t.Fatalf("seed %d: up to %g the bound is %g, exactly %g", seed, enough, got, toward)
			}
		}
		most := 0.0
		for range 300 {
			p, off := somewhere(r, &chain, &box)
			body := center.Add(unit(r).Mul(radius))
			pose := off.Pose(p)
			moved := pose.Point(body).Sub(e.Pose.Point(body))
			if d := moved.Norm(); d > plain+1e-9 {
				t.Fatalf("seed %d: a point moves by %.12g, plain bound %.12g\nchain %#v\nbox %#v", seed, d, plain, chain, box)
			}
			d := -u.Dot(moved)
			if d > toward+1e-9 {
				t.Fatalf("seed %d: a point comes nearer by %.12g, directional bound %.12g\nchain %#v\nbox %#v", seed, d, toward, chain, box)
			}
			most = max(most, d)
		}
		if most > 1 && toward/most < tightest {
			tightest = toward / most
		}
	}
	// A bound that never comes near what it bounds would prove nothing.
	if tightest > 1.05 {
		t.Errorf("the directional bound is at best %.3f times what was reached", tightest)
	}
}

func TestBetweenCancelsWhatIsShared(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	for range 200 {
		shared, box := randomChain(r)
		a, _ := randomChain(r)
		b, _ := randomChain(r)
		name := func(c *Chain, prefix string) {
			for i := range c.Joints {
				c.Joints[i].Name = prefix + string(rune('0'+i))
			}
		}
		name(&shared, "s")
		name(&a, "a")
		name(&b, "b")
		bodyA := Chain{Joints: append(append([]Joint(nil), shared.Joints...), a.Joints...), Home: a.Home}
		bodyB := Chain{Joints: append(append([]Joint(nil), shared.Joints...), b.Joints...), Home: b.Home}
		rel := Between(bodyA, bodyB)
		if got, want := len(rel.Joints), len(a.Joints)+len(b.Joints); got != want {
			t.Fatalf("%d joints between the bodies, want %d", got, want)
		}
		p, _ := somewhere(r, &bodyA, &box)
		x := point(r, 100)
		poseA, poseB, poseRel := bodyA.Pose(p), bodyB.Pose(p), rel.Pose(p)
		inA := poseA.Inverse()
		want := inA.Point(poseB.Point(x))
		if got := poseRel.Point(x); got.Sub(want).Norm() > 1e-9 {
			t.Fatalf("point of b at %v as seen from a, want %v", got, want)
		}
	}
	one := Chain{Joints: []Joint{{Name: "A", Kind: Rotary, Axis: r3.Vector{X: 1}, Gain: Params{1}}}, Home: geom.Identity()}
	if rel := Between(one, one); len(rel.Joints) != 0 || !rel.Rigid() {
		t.Errorf("bodies on the same axis move against each other: %v", rel)
	}
}

// The chord of a point at radius 134.629120 turned by 1 degree is 2.349692,
// from 2 r sin(h/2); the corner (125, 50) under an A axis.
func TestPlainBoundIsTheChord(t *testing.T) {
	c := Chain{
		Joints: []Joint{{Kind: Rotary, Axis: r3.Vector{X: 1}, Gain: Params{1}}},
		Home:   geom.Identity(),
	}
	b := Box{Lo: Params{-math.Pi / 180}, Hi: Params{math.Pi / 180}}
	e := c.Over(&b, nil)
	if got := e.Plain(r3.Vector{Y: 125, Z: 50}, 0); math.Abs(got-2.349692) > 1e-6 {
		t.Errorf("chord %.6f, want 2.349692", got)
	}
}

func TestSplitLeavesNoGap(t *testing.T) {
	b := Box{Lo: Params{-0.3, 1}, Hi: Params{0.7, 1}}
	lower, upper := b.Split(0)
	if lower.Hi[0] != upper.Lo[0] || lower.Lo != b.Lo || upper.Hi != b.Hi {
		t.Errorf("%v splits into %v and %v", b, lower, upper)
	}
}
