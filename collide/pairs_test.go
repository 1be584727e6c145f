package collide

import (
	"math"
	"math/rand/v2"

	"gridswing/geom"

	"github.com/golang/geo/r3"
)

// Pairs of triangles drawn on purpose: each kind is one on which triangle tests
// are known to slip.
var pairKinds = []struct {
	name string
	draw func(r *rand.Rand) (a, b triangle)
}{
	{"anyhow", func(r *rand.Rand) (a, b triangle) {
		return anyTriangle(r, 10), shifted(anyTriangle(r, 10), randomUnit(r).Mul(30*r.Float64()))
	}},
	{"on a coarse lattice", func(r *rand.Rand) (a, b triangle) {
		return latticeTriangle(r, 4), latticeTriangle(r, 4)
	}},
	{"corner on face", func(r *rand.Rand) (a, b triangle) {
		a, b = anyTriangle(r, 10), anyTriangle(r, 10)
		return a, shifted(b, within(r, &a).Sub(b[0]))
	}},
	{"corner all but on face", func(r *rand.Rand) (a, b triangle) {
		a, b = anyTriangle(r, 10), anyTriangle(r, 10)
		return a, shifted(b, within(r, &a).Sub(b[0]).Add(randomUnit(r).Mul(tiny(r))))
	}},
	{"edge through edge", func(r *rand.Rand) (a, b triangle) {
		a, b = anyTriangle(r, 10), anyTriangle(r, 10)
		return a, shifted(b, onSegment(r, a[0], a[1]).Sub(onSegment(r, b[0], b[1])))
	}},
	{"coplanar", func(r *rand.Rand) (a, b triangle) { return coplanar(r, 0) }},
	{"parallel planes", func(r *rand.Rand) (a, b triangle) { return coplanar(r, tiny(r)) }},
	{"nested in a plane", func(r *rand.Rand) (a, b triangle) {
		a = anyTriangle(r, 100)
		return a, triangle{within(r, &a), within(r, &a), within(r, &a)}
	}},
	{"needles", func(r *rand.Rand) (a, b triangle) {
		return needle(r), shifted(needle(r), randomUnit(r).Mul(10*r.Float64()))
	}},
	{"crossing needles", func(r *rand.Rand) (a, b triangle) {
		a, b = needle(r), needle(r)
		return a, shifted(b, within(r, &a).Sub(within(r, &b)).Add(randomUnit(r).Mul(tiny(r))))
	}},
	{"caps", func(r *rand.Rand) (a, b triangle) {
		return flatCap(r), shifted(flatCap(r), randomUnit(r).Mul(20*r.Float64()))
	}},
	{"cap under a triangle", func(r *rand.Rand) (a, b triangle) {
		a, b = flatCap(r), anyTriangle(r, 20)
		return a, shifted(b, within(r, &a).Sub(within(r, &b)).Add(randomUnit(r).Mul(tiny(r))))
	}},
	{"all but the same", func(r *rand.Rand) (a, b triangle) {
		a = [3]func(*rand.Rand) triangle{needle, flatCap, func(r *rand.Rand) triangle { return anyTriangle(r, 50) }}[r.IntN(3)](r)
		return a, posed(a, geom.Turn(within(r, &a), randomUnit(r), tiny(r)), randomUnit(r).Mul(tiny(r)))
	}},
	{"neighbours", func(r *rand.Rand) (a, b triangle) {
		a, b = anyTriangle(r, 10), anyTriangle(r, 10)
		for i := range 1 + r.IntN(2) {
			b[i] = a[i]
		}
		return a, b
	}},
	{"segments and points", func(r *rand.Rand) (a, b triangle) {
		a, b = degenerate(r), degenerate(r)
		if r.IntN(2) == 0 {
			a = anyTriangle(r, 10)
		}
		if r.IntN(2) == 0 {
			b = shifted(b, within(r, &a).Sub(within(r, &b)))
		}
		return a, b
	}},
	{"collinear", func(r *rand.Rand) (a, b triangle) {
		u, o := randomUnit(r), randomUnit(r).Mul(10)
		for i := range 3 {
			a[i], b[i] = o.Add(u.Mul(20*r.Float64())), o.Add(u.Mul(30*r.Float64()))
		}
		return a, b
	}},
	{"far", func(r *rand.Rand) (a, b triangle) {
		return anyTriangle(r, 10), shifted(anyTriangle(r, 10), randomUnit(r).Mul(math.Pow(10, 3+3*r.Float64())))
	}},
	{"near, far from the origin", func(r *rand.Rand) (a, b triangle) {
		o := randomUnit(r).Mul(math.Pow(10, 3+2*r.Float64()))
		return shifted(anyTriangle(r, 10), o), shifted(anyTriangle(r, 10), o.Add(randomUnit(r).Mul(10*r.Float64())))
	}},
	{"small at large", func(r *rand.Rand) (a, b triangle) {
		a, b = anyTriangle(r, 1000), anyTriangle(r, tiny(r)*1000)
		return a, shifted(b, within(r, &a).Add(randomUnit(r).Mul(tiny(r))))
	}},
}

// trianglePair returns the pair of a seed: its corners as they are drawn, or as
// meshes have them: float32, the second one posed.
func trianglePair(r *rand.Rand, seed uint64) (kind string, a, b triangle) {
	k := &pairKinds[seed%uint64(len(pairKinds))]
	a, b = k.draw(r)
	switch r.IntN(4) {
	case 0:
		a, b = stored(a), stored(b)
	case 1:
		pose := geom.Turn(r3.Vector{}, randomUnit(r), 6*r.Float64())
		a, b = stored(posed(a, pose, r3.Vector{})), stored(b)
		b = posed(b, pose, r3.Vector{})
	}
	for range r.IntN(3) {
		a, b = triangle{a[1], a[2], a[0]}, triangle{b[2], b[1], b[0]}
	}
	if r.IntN(2) == 0 {
		a, b = b, a
	}
	return k.name, a, b
}

// tiny is some length or angle from 1e-12 to 1e-1.
func tiny(r *rand.Rand) float64 { return math.Pow(10, -1-11*r.Float64()) }

func anyTriangle(r *rand.Rand, size float64) (t triangle) {
	for i := range t {
		t[i] = randomUnit(r).Mul(size * r.Float64())
	}
	return t
}

func latticeTriangle(r *rand.Rand, n int) (t triangle) {
	for i := range t {
		t[i] = r3.Vector{X: float64(r.IntN(n)), Y: float64(r.IntN(n)), Z: float64(r.IntN(n))}
	}
	return t
}

// within returns a point of the triangle, now and then one of an edge.
func within(r *rand.Rand, t *triangle) r3.Vector {
	v, w := r.Float64(), r.Float64()
	if v+w > 1 {
		v, w = 1-v, 1-w
	}
	if r.IntN(3) == 0 {
		v = 0
	}
	return t[0].Add(t[1].Sub(t[0]).Mul(v)).Add(t[2].Sub(t[0]).Mul(w))
}

// onSegment returns a point of the segment.
func onSegment(r *rand.Rand, p, q r3.Vector) r3.Vector { return p.Add(q.Sub(p).Mul(r.Float64())) }

func shifted(t triangle, by r3.Vector) triangle {
	return triangle{t[0].Add(by), t[1].Add(by), t[2].Add(by)}
}

func posed(t triangle, pose geom.Pose, by r3.Vector) triangle {
	return shifted(triangle{pose.Point(t[0]), pose.Point(t[1]), pose.Point(t[2])}, by)
}

func stored(t triangle) triangle {
	return triangle{geom.VertexOf(t[0]).Vector(), geom.VertexOf(t[1]).Vector(), geom.VertexOf(t[2]).Vector()}
}

// coplanar returns two triangles in one plane, exactly, or in planes h apart:
// corners on a lattice, which whole multiples of two axes span.
func coplanar(r *rand.Rand, h float64) (a, b triangle) {
	axes := latticeTriangle(r, 9)
	u, v := axes[0], axes[1]
	for i := range 3 {
		a[i] = u.Mul(float64(r.IntN(9))).Add(v.Mul(float64(r.IntN(9))))
		b[i] = u.Mul(float64(r.IntN(9))).Add(v.Mul(float64(r.IntN(9))))
	}
	if n := u.Cross(v); h > 0 && n.Norm() > 0 {
		b = shifted(b, n.Normalize().Mul(h))
	}
	return a, b
}

// needle has two corners that all but coincide.
func needle(r *rand.Rand) triangle {
	p := randomUnit(r).Mul(10)
	q := p.Add(randomUnit(r).Mul(100 * r.Float64()))
	return triangle{p, q, q.Add(randomUnit(r).Mul(tiny(r)))}
}

// flatCap has a corner all but on its longest edge.
func flatCap(r *rand.Rand) triangle {
	p := randomUnit(r).Mul(10)
	q := p.Add(randomUnit(r).Mul(100 * r.Float64()))
	return triangle{p, q, onSegment(r, p, q).Add(randomUnit(r).Mul(tiny(r)))}
}

// degenerate is a segment or a point.
func degenerate(r *rand.Rand) triangle {
	p, q := randomUnit(r).Mul(10), randomUnit(r).Mul(10)
	return [4]triangle{{p, p, p}, {p, q, p}, {p, q, q}, {p, q, p.Add(q).Mul(0.5)}}[r.IntN(4)]
}
