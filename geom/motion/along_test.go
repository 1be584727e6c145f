package motion

import (
	"math"
	"math/rand/v2"
	"testing"

	"gridswing/geom"

	"github.com/golang/geo/r3"
)

// randomWays draws a position, how far off it each parameter can be, and up to four ways.
func randomWays(r *rand.Rand) (from, within Params, ways []Params) {
	for k := range 3 {
		from[k] = 3 * r.NormFloat64()
		if r.IntN(3) == 0 {
			within[k] = 0.1 * r.Float64()
		}
	}
	for range r.IntN(5) {
		var w Params
		for k := range 3 {
			w[k] = []float64{0, 1, 3}[r.IntN(3)] * r.NormFloat64()
		}
		ways = append(ways, w)
	}
	return from, within, ways
}

// A chain led along ways stands where the chain itself does at the parameters that the ways
// lead to.
func TestAlongStandsWhereTheChainDoes(t *testing.T) {
	for seed := range uint64(500) {
		r := rand.New(rand.NewPCG(seed, 13))
		chain, _ := randomChain(r)
		from, within, ways := randomWays(r)
		led := chain.Along(from, within, ways...)
		for range 10 {
			var s Params
			p := from
			for w := range ways {
				s[w] = r.Float64()
				for k := range p {
					p[k] += s[w] * ways[w][k]
				}
			}
			x := point(r, 100)
			want, got := chain.Pose(p), led.Pose(s)
			if d := got.Point(x).Sub(want.Point(x)).Norm(); d > 1e-9 {
				t.Fatalf("seed %d: off by %g at %v", seed, d, s)
			}
		}
	}
}

// The bounds of a led chain hold what the chain itself does anywhere on the ways, off by
// up to within in each parameter and by each joint's own slack.
func TestBoundsHoldAlong(t *testing.T) {
	for seed := range uint64(1500) {
		r := rand.New(rand.NewPCG(seed, 17))
		chain, _ := randomChain(r)
		from, within, ways := randomWays(r)
		led := chain.Along(from, within, ways...)
		box := Unit(len(ways))
		e := led.Over(&box, nil)
		center, radius := point(r, 300), 40*r.Float64()
		placed, u := e.Pose.Point(center), unit(r)
		plain, toward := e.Plain(placed, radius), e.Toward(u, placed, radius)
		for range 200 {
			s, _ := somewhere(r, &led, &box)
			off := Box{Lo: from, Hi: from}
			for k := range off.Lo {
				for w := range ways {
					off.Lo[k] += s[w] * ways[w][k]
				}
				off.Hi[k] = off.Lo[k] + within[k]
				off.Lo[k] -= within[k]
			}
			p, loose := somewhere(r, &chain, &off)
			body := center.Add(unit(r).Mul(radius))
			pose := loose.Pose(p)
			moved := pose.Point(body).Sub(e.Pose.Point(body))
			if d := moved.Norm(); d > plain+1e-9 {
				t.Fatalf("seed %d: a point moves by %.12g, plain bound %.12g", seed, d, plain)
			}
			if d := -u.Dot(moved); d > toward+1e-9 {
				t.Fatalf("seed %d: a point comes nearer by %.12g, directional bound %.12g", seed, d, toward)
			}
		}
	}
}

func TestUnit(t *testing.T) {
	for n := range MaxParams + 1 {
		b := Unit(n)
		for k := range MaxParams {
			want := 0.0
			if k < n {
				want = 1
			}
			if b.Lo[k] != 0 || b.Hi[k] != want {
				t.Errorf("%d: %v", n, b)
			}
		}
	}
}

// Frees are square to two slides each, those that go farthest first; none without two
// slides that differ in direction.
func TestFrees(t *testing.T) {
	slide := func(k int, axis r3.Vector) Joint {
		j := Joint{Kind: Linear, Axis: axis}
		j.Gain[k] = 1
		return j
	}
	x, y, z := r3.Vector{X: 1}, r3.Vector{Y: 1}, r3.Vector{Z: 1}
	frees := func(ranges []float64, axes ...r3.Vector) []r3.Vector {
		c := Chain{Home: geom.Identity()}
		var b Box
		for k, a := range axes {
			c.Joints = append(c.Joints, slide(k, a))
			b.Hi[k] = ranges[k]
		}
		return append([]r3.Vector(nil), c.Over(&b, nil).Frees()...)
	}
	for _, c := range []struct {
		what   string
		ranges []float64
		axes   []r3.Vector
		want   []r3.Vector // either sense
	}{
		{"none", nil, nil, nil},
		{"one", []float64{10}, []r3.Vector{x}, nil},
		{"two", []float64{10, 20}, []r3.Vector{x, y}, []r3.Vector{z}},
		{"two, one of which stands", []float64{10, 0}, []r3.Vector{x, y}, nil},
		{"two alike", []float64{10, 20}, []r3.Vector{x, x}, nil},
		{"three", []float64{10, 20, 5}, []r3.Vector{x, y, z}, []r3.Vector{z, x, y}},
		{"three, X least", []float64{1, 20, 30}, []r3.Vector{x, y, z}, []r3.Vector{x, y, z}},
		{"three, two alike", []float64{10, 20, 30}, []r3.Vector{x, x, z}, []r3.Vector{y, y}},
	} {
		got := frees(c.ranges, c.axes...)
		if len(got) != len(c.want) {
			t.Errorf("%s: %v, want %v", c.what, got, c.want)
			continue
		}
		for i := range got {
			if math.Abs(math.Abs(got[i].Dot(c.want[i]))-1) > 1e-12 || math.Abs(got[i].Norm()-1) > 1e-12 {
				t.Errorf("%s: %v, want %v", c.what, got, c.want)
			}
		}
	}
	// Free takes the nearest to a direction, on its side.
	c := Chain{Home: geom.Identity()}
	b := Box{Hi: Params{10, 20, 5}}
	c.Joints = []Joint{slide(0, x), slide(1, y), slide(2, z)}
	e := c.Over(&b, nil)
	if f, ok := e.Free(r3.Vector{X: -3, Y: 1, Z: 2}); !ok || f.Sub(r3.Vector{X: -1}).Norm() > 1e-12 {
		t.Errorf("free along %v", f)
	}
}
