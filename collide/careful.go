package collide

import (
	"math"

	"github.com/golang/geo/r3"
)

// Needles, caps and triangles that all but coincide lose in float64 what little
// they are apart. Where nearestPoints cannot bear out its answer it is found again
// here in twice the digits: a number is the unevaluated sum of two float64
// (Dekker, "A floating-point technique for extending the available precision",
// Numer. Math. 18, 1971), some 32 decimal digits. The conversions to float64 keep a
// compiler from fusing what must be rounded.

// fine is hi + lo, |lo| at most half a unit in the last place of hi.
type fine struct{ hi, lo float64 }

func fineSum(x, y float64) fine {
	s := x + y
	t := s - x
	return fine{s, (x - (s - t)) + (y - t)}
}

func (x fine) add(y fine) fine {
	s := fineSum(x.hi, y.hi)
	t := fineSum(x.lo, y.lo)
	s = fineSum(s.hi, s.lo+t.hi)
	return fineSum(s.hi, s.lo+t.lo)
}

func (x fine) neg() fine       { return fine{-x.hi, -x.lo} }
func (x fine) sub(y fine) fine { return x.add(y.neg()) }

func (x fine) mul(y fine) fine {
	p := float64(x.hi * y.hi)
	e := math.FMA(x.hi, y.hi, -p) + (float64(x.hi*y.lo) + float64(x.lo*y.hi))
	return fineSum(p, e)
}

func (x fine) quo(y fine) fine {
	q := x.hi / y.hi
	r := x.sub(y.mul(fine{hi: q}))
	p := r.hi / y.hi
	r = r.sub(y.mul(fine{hi: p}))
	return fineSum(q, p).add(fine{hi: r.hi / y.hi})
}

func (x fine) clamp01() fine {
	switch {
	case x.hi < 0 || x.hi == 0 && x.lo < 0:
		return fine{}
	case x.hi > 1 || x.hi == 1 && x.lo > 0:
		return fine{hi: 1}
	}
	return x
}

type fineVector [3]fine

func fineOf(v r3.Vector) fineVector { return fineVector{{hi: v.X}, {hi: v.Y}, {hi: v.Z}} }

func (v *fineVector) round() r3.Vector {
	return r3.Vector{X: v[0].hi, Y: v[1].hi, Z: v[2].hi}
}

func (v fineVector) sub(w fineVector) fineVector {
	return fineVector{v[0].sub(w[0]), v[1].sub(w[1]), v[2].sub(w[2])}
}

// plus returns v + s w.
func (v fineVector) plus(s fine, w fineVector) fineVector {
	return fineVector{v[0].add(s.mul(w[0])), v[1].add(s.mul(w[1])), v[2].add(s.mul(w[2]))}
}

func (v fineVector) dot(w fineVector) fine {
	return v[0].mul(w[0]).add(v[1].mul(w[1])).add(v[2].mul(w[2]))
}

func (v fineVector) cross(w fineVector) fineVector {
	return fineVector{
		v[1].mul(w[2]).sub(v[2].mul(w[1])),
		v[2].mul(w[0]).sub(v[0].mul(w[2])),
		v[0].mul(w[1]).sub(v[1].mul(w[0])),
	}
}

type fineTriangle [3]fineVector

// nearestCarefully is nearestPoints in twice the digits.
func nearestCarefully(ta, tb *triangle) (d2 float64, pa, pb r3.Vector) {
	var a, b fineTriangle
	for i := range 3 {
		a[i], b[i] = fineOf(ta[i]), fineOf(tb[i])
	}
	d2 = math.Inf(1)
	take := func(p, q fineVector) {
		v := q.sub(p)
		if l2 := v.dot(v).hi; l2 < d2 {
			d2, pa, pb = l2, p.round(), q.round()
		}
	}
	for i := range 3 {
		for j := range 3 {
			take(segmentsCarefully(a[i], a[(i+1)%3], b[j], b[(j+1)%3]))
		}
	}
	for i := range 3 {
		if q, ok := b.foot(a[i]); ok {
			take(a[i], q)
		}
		if p, ok := a.foot(b[i]); ok {
			take(p, b[i])
		}
		if x, ok := b.crossing(a[i], a[(i+1)%3]); ok && b.holds(x) {
			return 0, x.round(), x.round()
		}
		if x, ok := a.crossing(b[i], b[(i+1)%3]); ok && a.holds(x) {
			return 0, x.round(), x.round()
		}
	}
	return d2, pa, pb
}

// segmentsCarefully is segmentsNearest in twice the digits.
func segmentsCarefully(p0, p1, q0, q1 fineVector) (p, q fineVector) {
	d1, d2, r := p1.sub(p0), q1.sub(q0), p0.sub(q0)
	a, e := d1.dot(d1), d2.dot(d2)
	c, f := d1.dot(r), d2.dot(r)
	switch {
	case a.hi == 0 && e.hi == 0:
		return p0, q0
	case a.hi == 0:
		return p0, q0.plus(f.quo(e).clamp01(), d2)
	case e.hi == 0:
		return p0.plus(c.neg().quo(a).clamp01(), d1), q0
	}
	b := d1.dot(d2)
	var s fine
	if den := a.mul(e).sub(b.mul(b)); den.hi > 1e-30*a.hi*e.hi {
		s = b.mul(f).sub(c.mul(e)).quo(den).clamp01()
	}
	t := b.mul(s).add(f).quo(e)
	if t.hi < 0 {
		t, s = fine{}, c.neg().quo(a).clamp01()
	} else if t.hi > 1 {
		t, s = fine{hi: 1}, b.sub(c).quo(a).clamp01()
	}
	return p0.plus(s, d1), q0.plus(t, d2)
}

// foot is footOn in twice the digits.
func (t *fineTriangle) foot(p fineVector) (foot fineVector, ok bool) {
	e1, e2, d := t[1].sub(t[0]), t[2].sub(t[0]), p.sub(t[0])
	n := e1.cross(e2)
	nn := n.dot(n)
	if nn.hi == 0 {
		return foot, false
	}
	v, w := d.cross(e2).dot(n).quo(nn), e1.cross(d).dot(n).quo(nn)
	if v.hi < 0 || w.hi < 0 || v.add(w).sub(fine{hi: 1}).hi > 0 {
		return foot, false
	}
	return t[0].plus(v, e1).plus(w, e2), true
}

// holds reports whether x really lies on the triangle. Even in twice the digits
// the plane of a triangle may be anything, if its corners are on one line but for
// their rounding; its edges then tell the distance.
func (t *fineTriangle) holds(x fineVector) bool {
	foot, ok := t.foot(x)
	v := foot.sub(x)
	return ok && v.dot(v).hi <= sharpness*sharpness
}

// crossing is pierces in twice the digits.
func (t *fineTriangle) crossing(p, q fineVector) (x fineVector, ok bool) {
	n := t[1].sub(t[0]).cross(t[2].sub(t[0]))
	hp, hq := n.dot(p.sub(t[0])), n.dot(q.sub(t[0]))
	if !(hp.hi > 0 && hq.hi < 0 || hp.hi < 0 && hq.hi > 0) {
		return x, false // an end on the plane is one of the nearest points
	}
	d := q.sub(p)
	a, b, c := t[0].sub(p), t[1].sub(p), t[2].sub(p)
	u, v, w := d.dot(c.cross(b)).hi, d.dot(a.cross(c)).hi, d.dot(b.cross(a)).hi
	if min(u, v, w) < 0 && max(u, v, w) > 0 {
		return x, false
	}
	return p.plus(hp.quo(hp.sub(hq)), d), true
}
