package collide

import (
	"fmt"
	"math"
	"math/big"

	"github.com/golang/geo/r3"
)

// The oracle knows the distance of two triangles exactly. Coordinates are
// binary fractions, so on a common scale they are whole numbers; the squared
// distance is then a fraction of whole numbers, found without rounding.
//
// It looks at every pair of features - corner and corner, corner and edge,
// edge and edge, corner and face - whose lines or planes have their nearest
// points inside both (Ericson, "Real-Time Collision Detection", 2005, sec.
// 5.1.10). The answer does not rest on that list being right: a distance that the
// slab across it bears out is the least one (weak duality: no two points are
// nearer than the gap along any direction), and a common point is a common point.
type oracle struct {
	a, b [3]exact
	// unit is what 1 stands for, as a power of two.
	unit int
	// The least squared distance so far is num/den in units; way points from a to b.
	num, den *big.Int
	way      exact
}

// exact is a vector of whole numbers.
type exact [3]*big.Int

func mul(x, y *big.Int) *big.Int { return new(big.Int).Mul(x, y) }
func sub(x, y *big.Int) *big.Int { return new(big.Int).Sub(x, y) }

func (v exact) sub(w exact) exact {
	return exact{sub(v[0], w[0]), sub(v[1], w[1]), sub(v[2], w[2])}
}

func (v exact) scaled(s *big.Int) exact {
	return exact{mul(v[0], s), mul(v[1], s), mul(v[2], s)}
}

func (v exact) dot(w exact) *big.Int {
	sum := mul(v[0], w[0])
	sum.Add(sum, mul(v[1], w[1]))
	return sum.Add(sum, mul(v[2], w[2]))
}

func (v exact) cross(w exact) exact {
	return exact{
		sub(mul(v[1], w[2]), mul(v[2], w[1])),
		sub(mul(v[2], w[0]), mul(v[0], w[2])),
		sub(mul(v[0], w[1]), mul(v[1], w[0])),
	}
}

// newOracle puts both triangles on one scale of whole numbers.
func newOracle(a, b *triangle) *oracle {
	o := &oracle{unit: math.MaxInt}
	for _, t := range []*triangle{a, b} {
		for _, v := range t {
			for _, x := range [3]float64{v.X, v.Y, v.Z} {
				if x != 0 {
					_, e := math.Frexp(x)
					o.unit = min(o.unit, e-53)
				}
			}
		}
	}
	whole := func(x float64) *big.Int {
		if x == 0 {
			return new(big.Int)
		}
		f, e := math.Frexp(x)
		n := big.NewInt(int64(f * (1 << 53)))
		return n.Lsh(n, uint(e-53-o.unit))
	}
	for i := range 3 {
		o.a[i] = exact{whole(a[i].X), whole(a[i].Y), whole(a[i].Z)}
		o.b[i] = exact{whole(b[i].X), whole(b[i].Y), whole(b[i].Z)}
	}
	return o
}

// meets reports whether the triangles have a point in common.
func (o *oracle) meets() bool { return o.num.Sign() == 0 }

// distance returns the distance to 200 bits.
func (o *oracle) distance() *big.Float {
	num := new(big.Float).SetPrec(200).SetInt(o.num)
	den := new(big.Float).SetPrec(200).SetInt(o.den)
	d := num.Sqrt(num.Quo(num, den))
	return d.SetMantExp(d, o.unit)
}

// least finds the squared distance; it returns an error if it cannot bear it out.
func (o *oracle) least() error {
	for i := range 3 {
		for j := range 3 {
			o.corners(o.a[i], o.b[j])
			o.cornerEdge(o.a[i], o.b[j], o.b[(j+1)%3], 1)
			o.cornerEdge(o.b[j], o.a[i], o.a[(i+1)%3], -1)
			o.edges(o.a[i], o.a[(i+1)%3], o.b[j], o.b[(j+1)%3])
		}
		o.cornerFace(o.a[i], &o.b, 1)
		o.cornerFace(o.b[i], &o.a, -1)
	}
	if o.meets() {
		return nil
	}
	for i := range 3 {
		if crosses := piercesExactly(o.a[i], o.a[(i+1)%3], &o.b) || piercesExactly(o.b[i], o.b[(i+1)%3], &o.a); crosses {
			o.num.SetInt64(0)
			return nil
		}
	}
	return o.slab()
}

// slab checks that the gap along way is the distance.
func (o *oracle) slab() error {
	var gap *big.Int
	for i := range 3 {
		for j := range 3 {
			if g := o.b[j].sub(o.a[i]).dot(o.way); gap == nil || g.Cmp(gap) < 0 {
				gap = g
			}
		}
	}
	if gap.Sign() <= 0 || mul(mul(gap, gap), o.den).Cmp(mul(o.num, o.way.dot(o.way))) != 0 {
		return fmt.Errorf("the slab does not bear out the distance %s", o.distance().Text('g', 25))
	}
	return nil
}

// take keeps the squared distance num/den if it is the least.
func (o *oracle) take(num, den *big.Int, way exact, sign int64) {
	if o.num == nil || mul(num, o.den).Cmp(mul(o.num, den)) < 0 {
		o.num, o.den, o.way = num, den, way.scaled(big.NewInt(sign))
	}
}

func (o *oracle) corners(p, q exact) {
	r := q.sub(p)
	o.take(r.dot(r), big.NewInt(1), r, 1)
}

// cornerEdge looks at corner p and the inside of edge q0 q1; sign is 1 if p is a's.
func (o *oracle) cornerEdge(p, q0, q1 exact, sign int64) {
	r, d := q0.sub(p), q1.sub(q0)
	c, a := r.dot(d), d.dot(d)
	c.Neg(c) // the foot is q0 + c/a d
	if c.Sign() <= 0 || c.Cmp(a) >= 0 {
		return
	}
	o.take(sub(mul(r.dot(r), a), mul(c, c)), a, exactSum(r.scaled(a), d.scaled(c)), sign)
}

func exactSum(v, w exact) exact {
	return v.sub(w.scaled(big.NewInt(-1)))
}

// edges looks at the insides of two edges that are not parallel.
func (o *oracle) edges(p0, p1, q0, q1 exact) {
	d1, d2, r := p1.sub(p0), q1.sub(q0), p0.sub(q0)
	n := d1.cross(d2)
	den := n.dot(n)
	if den.Sign() == 0 {
		return
	}
	a, b, c, e, f := d1.dot(d1), d1.dot(d2), d1.dot(r), d2.dot(d2), d2.dot(r)
	s, t := sub(mul(b, f), mul(c, e)), sub(mul(a, f), mul(b, c))
	if s.Sign() < 0 || s.Cmp(den) > 0 || t.Sign() < 0 || t.Cmp(den) > 0 {
		return
	}
	h := n.dot(r)
	o.take(mul(h, h), den, n, int64(-h.Sign()))
}

// cornerFace looks at corner p over the inside of a face; sign is 1 if p is a's.
func (o *oracle) cornerFace(p exact, face *[3]exact, sign int64) {
	e1, e2, d := face[1].sub(face[0]), face[2].sub(face[0]), p.sub(face[0])
	n := e1.cross(e2)
	den := n.dot(n)
	if den.Sign() == 0 {
		return
	}
	v, w := d.cross(e2).dot(n), e1.cross(d).dot(n)
	if v.Sign() < 0 || w.Sign() < 0 || new(big.Int).Add(v, w).Cmp(den) > 0 {
		return
	}
	h := n.dot(d)
	o.take(mul(h, h), den, n, sign*int64(-h.Sign()))
}

// piercesExactly reports whether p and q lie on different sides of the face's
// plane, and the segment between them passes through the face: the signs of five
// orientation determinants.
func piercesExactly(p, q exact, face *[3]exact) bool {
	n := face[1].sub(face[0]).cross(face[2].sub(face[0]))
	if n.dot(p.sub(face[0])).Sign()*n.dot(q.sub(face[0])).Sign() >= 0 {
		return false
	}
	d := q.sub(p)
	var signs [3]int
	for i := range 3 {
		signs[i] = d.dot(face[i].sub(p).cross(face[(i+1)%3].sub(p))).Sign()
	}
	return min(signs[0], signs[1], signs[2]) >= 0 || max(signs[0], signs[1], signs[2]) <= 0
}

// exactly asks the oracle.
func exactly(a, b *triangle) (*oracle, error) {
	o := newOracle(a, b)
	return o, o.least()
}

// offExactly returns how far a point is from a triangle.
func offExactly(p r3.Vector, t *triangle) (float64, error) {
	o, err := exactly(&triangle{p, p, p}, t)
	if err != nil {
		return math.NaN(), err
	}
	off, _ := o.distance().Float64()
	return off, nil
}
