package bores

import "github.com/golang/geo/r2"

// straighten fits origin and steps to the members: least squares along each
// direction, the direction from the longer one.
func (l *lattice) straighten(points []r2.Point) {
	for range 2 {
		var n float64
		var mean r2.Point
		var middle [2]float64
		for _, at := range l.sorted() {
			n++
			mean = mean.Add(points[l.members[at]])
			middle[0] += float64(at[0])
			middle[1] += float64(at[1])
		}
		if n == 0 {
			return
		}
		mean = mean.Mul(1 / n)
		middle[0] /= n
		middle[1] /= n
		var steps [2]r2.Point
		var weight [2]float64
		for _, at := range l.sorted() {
			p := points[l.members[at]].Sub(mean)
			for k := range 2 {
				c := float64(at[k]) - middle[k]
				steps[k] = steps[k].Add(p.Mul(c))
				weight[k] += c * c
			}
		}
		l.fitSteps(steps, weight)
		l.origin = mean.Sub(l.u.Mul(middle[0])).Sub(l.v.Mul(middle[1]))
	}
}

// fitSteps takes over the sums of place times point: the direction is that of the
// sum that tells more, a quarter turn back for rows.
func (l *lattice) fitSteps(sums [2]r2.Point, weight [2]float64) {
	along := func(old r2.Point, k int) r2.Point {
		if weight[k] == 0 {
			return old
		}
		d := old.Normalize()
		return d.Mul(sums[k].Dot(d) / weight[k])
	}
	turned := l.u.Normalize()
	// Places need not be a full rectangle, so the sums are not square to each other:
	// only what is across the old direction corrects it.
	if weight[0] > 0 {
		across := turned.Ortho()
		u := along(l.u, 0).Norm()
		spread := weight[0]*u*u + weight[1]*l.v.Dot(l.v)
		lean := sums[0].Dot(across)*u - sums[1].Dot(turned)*l.v.Dot(across)
		turned = turned.Add(across.Mul(lean / spread)).Normalize()
	}
	side := 1.0
	if l.v.Dot(turned.Ortho()) < 0 {
		side = -1
	}
	l.u = turned.Mul(l.u.Norm())
	if l.v != (r2.Point{}) {
		l.v = turned.Ortho().Mul(side * l.v.Norm())
	}
	l.u, l.v = along(l.u, 0), along(l.v, 1)
}
