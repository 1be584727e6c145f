package loads

import "math"

// surface is a function of two angles:
//
//	f(x, y) = p(y) cos x + q(y) sin x + k(y).
//
// All that weight and acceleration do at a position of two rotary axes has this form
// (see stand), x being one of the two axes and y the other.
type surface struct{ p, q, k trig }

// reach is a stretch of an angle, both ends included, in rad.
type reach struct{ lo, hi float64 }

// peak is where a surface is highest.
type peak struct {
	value, x, y float64
}

// highest returns where the surface is highest over a range, exactly: no sampling. At
// the highest point one of these holds.
//
//   - x is at an end of its range. Then f is a trigonometric polynomial in y: y is at an
//     end or where its derivative is 0.
//
//   - y is at an end of its range. Then f is one sine wave in x: x is at an end or at the
//     wave's crest, x* = atan2(q, p).
//
//   - Neither: both derivatives are 0. That in x puts x at the crest x*, where
//     f = sqrt(p^2 + q^2) + k =: h(y); since f is stationary in x there, h' is its
//     derivative in y, and h' = 0 gives p p' + q q' = -k' sqrt(p^2 + q^2), or, squared,
//
//     (p p' + q q')^2 - k'^2 (p^2 + q^2) = 0,
//
//     a trigonometric polynomial in y again; where k is constant already p p' + q q' = 0.
//     (Where p = q = 0, f does not depend on x, and k' = 0.)
//
// Every such point is tried; points too many do no harm, since f itself is evaluated at
// each. A zero that is off by e costs no more than e^2, as f is flat there.
func (f *surface) highest(x, y reach) peak {
	best := peak{value: math.Inf(-1)}
	try := func(px, py float64) {
		if v := f.at(px, py); v > best.value {
			best = peak{v, px, py}
		}
	}
	for _, px := range []float64{x.lo, x.hi} {
		sin, cos := math.Sincos(px)
		g := f.p.times(cos).plus(sin, f.q).plus(1, f.k)
		for _, py := range y.points(append(g.slope().zeros(), y.lo, y.hi)) {
			try(px, py)
		}
	}
	for _, py := range y.points(append(f.ridge(), y.lo, y.hi)) {
		crest := math.Atan2(f.q.at(py), f.p.at(py))
		for _, px := range x.points([]float64{crest}) {
			try(px, py)
		}
	}
	return best
}

// ridge returns the y at which the crest can be highest.
func (f *surface) ridge() []float64 {
	a := f.p.mul(f.p.slope()).plus(1, f.q.mul(f.q.slope()))
	slope := f.k.slope()
	list := append(a.zeros(), slope.zeros()...)
	if flat(slope) {
		return list
	}
	square := f.p.mul(f.p).plus(1, f.q.mul(f.q))
	return append(list, a.mul(a).plus(-1, slope.mul(slope).mul(square)).zeros()...)
}

// flat reports whether a trigonometric polynomial is 0 everywhere.
func flat(f trig) bool {
	for k := range f.cos {
		if f.cos[k] != 0 || k > 0 && f.sin[k] != 0 {
			return false
		}
	}
	return true
}

func (f *surface) at(x, y float64) float64 {
	sin, cos := math.Sincos(x)
	return f.p.at(y)*cos + f.q.at(y)*sin + f.k.at(y)
}

// negative returns the surface of which this one is the mirror image, but for k.
func (f *surface) negative() *surface {
	return &surface{f.p.times(-1), f.q.times(-1), f.k}
}

// points returns angles as far as they lie in the range, once for each whole turn; ends
// that are given come out as they are.
func (r reach) points(angles []float64) (list []float64) {
	for _, a := range angles {
		for v := turn(a, r.lo); v <= r.hi; v += 2 * math.Pi {
			list = append(list, v)
		}
		if a == r.hi {
			list = append(list, a)
		}
	}
	return list
}

// span returns least and greatest of a trigonometric polynomial over a range.
func (r reach) span(f trig) (least, greatest float64) {
	least, greatest = math.Inf(1), math.Inf(-1)
	for _, y := range r.points(append(f.slope().zeros(), r.lo, r.hi)) {
		v := f.at(y)
		least, greatest = min(least, v), max(greatest, v)
	}
	return least, greatest
}
