package loads

import (
	"math"

	"gridswing/geom"
	"gridswing/geom/motion"
	"gridswing/machine"

	"github.com/golang/geo/r3"
)

// pivot is a rotary axis that carries the workpiece, bed frame with every axis at zero: a
// parameter a turns what it carries by sense a about axis, right-handed, sense
// being 1 or -1.
type pivot struct {
	index int // in Setup.Axes
	axis  r3.Vector
	point r3.Vector
	sense float64
	over  reach // commanded, in the programmed sense
}

// pivotOf finds the joint of an axis in the chain of a body that it moves.
func pivotOf(s *machine.Setup, body, index int) *pivot {
	for _, j := range s.Bodies[body].Chain.Joints {
		if j.Kind == motion.Rotary && j.Gain[index] != 0 {
			c := s.Axes[index].Commanded
			return &pivot{index, j.Axis, j.Point, j.Gain[index], reach{c[0], min(c[1], c[0]+2*math.Pi)}}
		}
	}
	return nil
}

// vectorWave is a + b cos y + c sin y of vectors.
type vectorWave struct{ a, b, c r3.Vector }

func (v *vectorWave) dot(u r3.Vector) trig { return wave(v.a.Dot(u), v.b.Dot(u), v.c.Dot(u)) }

// turned is a vector that a pivot turns, about a line through nowhere in particular: its
// part along the axis stays, the rest goes round.
func (p *pivot) turned(v r3.Vector) vectorWave {
	along := p.axis.Mul(p.axis.Dot(v))
	return vectorWave{along, v.Sub(along), p.axis.Cross(v).Mul(p.sense)}
}

// stand is what a unit moves: bodies that tilt only, and bodies that also turn with the
// rotary axis, as two rigid ones. Tilt or rotary is nil where the unit has it not.
type stand struct {
	tilt, rotary *pivot
	tilts, turns geom.Rigid
	up           r3.Vector
}

// weight is the force of gravity on a mass, in N.
func (st *stand) weight(mass float64) r3.Vector { return st.up.Mul(-gravity * mass) }

// Moments below are in N m, lengths in mm, inertia in kg mm2.
const (
	perMetre  = 1e-3 // N mm to N m
	perMetre2 = 1e-6 // kg mm2 to kg m2
)

// tiltMoment returns the moment that weight makes about the tilt axis, positive where it
// turns the axis to +, over x = tilt and y = rotary, with k = 0.
//
// Let t be the axis, o a point on it, d the middle of the mass from o with tilt at zero,
// F its weight, and a the angle by which tilt turns it, R that rotation. Then
//
//	t . (R d x F) = F . (t x R d) = F . R (t x d) = cos a F . (t x d) + sin a F . (t x (t x d)),
//
// since R turns t x d, which is square to t, about t. And d goes round the rotary axis: it
// is a vector wave in y.
func (st *stand) tiltMoment() *surface {
	p, q := zeroTrig(1), zeroTrig(1)
	t := st.tilt
	add := func(mass float64, d vectorWave) {
		f := st.weight(mass).Mul(perMetre)
		first := f.Cross(t.axis)      // F . (t x d) = d . (F x t)
		second := first.Cross(t.axis) // F . (t x (t x d)) = (t x d) . (F x t) = d . ((F x t) x t)
		p = p.plus(t.sense, d.dot(first))
		q = q.plus(1, d.dot(second)) // sin a is sense sin x, and so is the moment's sign
	}
	add(st.tilts.Mass, vectorWave{a: st.tilts.Centroid.Sub(t.point)})
	add(st.turns.Mass, st.aroundTilt())
	return &surface{p, q, constant(0)}
}

// aroundTilt returns where the middle of what turns is from the tilt axis' point, with
// tilt at zero, over the rotary axis.
func (st *stand) aroundTilt() vectorWave {
	if st.rotary == nil {
		return vectorWave{a: st.turns.Centroid.Sub(st.tilt.point)}
	}
	d := st.rotary.turned(st.turns.Centroid.Sub(st.rotary.point))
	d.a = d.a.Add(st.rotary.point).Sub(st.tilt.point)
	return d
}

// tiltInertia returns the inertia about the tilt axis over the rotary axis, kg mm2. Tilt
// does not change it. What turns has m |t x d|^2 (Huygens and Steiner), and about its own
// middle s . I s, s being the tilt axis as the turning body sees it: turned the other way.
func (st *stand) tiltInertia() trig {
	t := st.tilt.axis
	own := st.tilts.About(st.tilt.point)
	sum := constant(quadratic(&own, t))
	if st.turns.Mass == 0 {
		return sum
	}
	d := st.aroundTilt()
	s := vectorWave{a: t}
	if st.rotary != nil {
		s = st.rotary.turned(t)
		s.c = s.c.Mul(-1)
	}
	for _, u := range unitVectors {
		side := d.dot(u.Cross(t)) // u . (t x d) = d . (u x t)
		sum = sum.plus(st.turns.Mass, side.mul(side))
		i := st.turns.Inertia
		row := r3.Vector{X: u.X*i[0][0] + u.Y*i[1][0] + u.Z*i[2][0], Y: u.X*i[0][1] + u.Y*i[1][1] + u.Z*i[2][1], Z: u.X*i[0][2] + u.Y*i[1][2] + u.Z*i[2][2]}
		sum = sum.plus(1, s.dot(u).mul(s.dot(row)))
	}
	return sum
}

var unitVectors = [3]r3.Vector{{X: 1}, {Y: 1}, {Z: 1}}

// quadratic returns v . I v.
func quadratic(i *[3][3]float64, v r3.Vector) float64 {
	x := [3]float64{v.X, v.Y, v.Z}
	sum := 0.0
	for r := range 3 {
		for c := range 3 {
			sum += x[r] * i[r][c] * x[c]
		}
	}
	return sum
}

// force returns the weight of what turns, in N, as the faceplate sees it, over tilt:
// turned the other way.
func (st *stand) force() vectorWave {
	f := st.weight(st.turns.Mass)
	if st.tilt == nil {
		return vectorWave{a: f}
	}
	g := st.tilt.turned(f)
	g.c = g.c.Mul(-1)
	return g
}

// lever returns the middle of what turns from the rotary axis, square to it, at zero.
func (st *stand) lever() r3.Vector {
	c := st.turns.Centroid.Sub(st.rotary.point)
	return c.Sub(st.rotary.axis.Mul(c.Dot(st.rotary.axis)))
}

// rotaryMoment returns the moment that weight makes about the rotary axis, positive where
// it turns the axis to +, over x = rotary and y = tilt, with k = 0. With w the axis, r the
// lever at zero, and G the weight as the faceplate sees it, the moment is
//
//	w . (r(x) x G) = G . (w x r(x)),   r(x) = cos b r + sin b (w x r),
//
// b being the angle by which the axis turns.
func (st *stand) rotaryMoment() *surface {
	w, r, g := st.rotary.axis, st.lever().Mul(perMetre), st.force()
	return &surface{
		p: g.dot(w.Cross(r)).times(st.rotary.sense),
		q: g.dot(w.Cross(w.Cross(r))),
		k: constant(0),
	}
}

// rotaryInertia returns the inertia about the rotary axis, kg mm2. Nothing changes it.
func (st *stand) rotaryInertia() float64 {
	about := st.turns.About(st.rotary.point)
	return quadratic(&about, st.rotary.axis)
}

// faceplateMoment returns the square of the moment that weight makes on the faceplate
// about the point of the rotary axis on its face, as far as it is square to that axis;
// over x = rotary and y = tilt. With h the height of the middle above the face, r its
// lever and G the weight as the faceplate sees it, of which G' goes along the axis and G"
// is square to it,
//
//	((r + h w) x G), square to w  =  w x (h G" - G' r),
//
// whose square is h^2 G"^2 + G'^2 r^2 - 2 h G' (r . G).
func (st *stand) faceplateMoment(face r3.Vector) *surface {
	w, r, g := st.rotary.axis, st.lever().Mul(perMetre), st.force()
	h := st.turns.Centroid.Sub(face).Dot(w) * perMetre
	along := g.dot(w)
	square := along.mul(along)
	all := constant(st.weight(st.turns.Mass).Norm2())
	return &surface{
		p: along.mul(g.dot(r)).times(-2 * h),
		q: along.mul(g.dot(w.Cross(r))).times(-2 * h * st.rotary.sense),
		k: all.plus(-1, square).times(h*h).plus(r.Norm2(), square),
	}
}
