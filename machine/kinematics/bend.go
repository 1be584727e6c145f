package kinematics

import (
	"math"
	"slices"

	"gridswing/geom"
	"gridswing/geom/motion"

	"github.com/golang/geo/r3"
)

// stretch is the way between two points of a contour. Let s go evenly from 0 to
// 1 along it; every rotary axis is affine in s, and so is the tip with tip control.
//
// How far a curve x(s) can leave its chord. On a piece of it, let s be counted
// from 0 to 1 again. The difference of x and its chord is 0 at both ends and has the second
// derivative of x, so it is at most an eighth of the largest of that (the error of linear
// interpolation). And the distance of the piece's chord from the chord of the whole stretch, an
// affine function of s less another, is largest at one of the piece's ends. So over all pieces
//
//	|x(s) - chord(s)| <= max at the ends of the pieces |x - chord| + max|x''|/8,
//
// and only the second term, which falls with the square of the number of pieces, needs
// a bound of the second derivative.
//
// Derivatives. Let a point be u = E1 E2 ... En q with motions Ei about (along)
// axis i whose values are affine in s with rates ri, and q affine in s. Twice by
// the product rule; second derivatives of the values are 0, so
//
//	u'' = sum over i of E1..Ei''..En q + 2 sum over i < j of E1..Ei'..Ej'..En q
//	      + 2 sum over i of E1..Ei'..En q'.
//
// For a rotary joint Ei' takes a point to ri wi x (its arm from axis i) and a vector to
// ri wi x it, for a linear one a point to ri wi and a vector to 0. The motions outside
// turn the result and keep its length. So, with the speed |uj'| that joint j alone
// gives the point, |rj| times its distance from axis j or |rj|,
//
//	|u'| <= sum of the speeds + |q'|,
//	|u''| <= sum over rotary i of |ri| (|ui'| + 2 sum over j > i of |uj'| + 2 |q'|).
//
// The distance of the point from axis i changes by the joints inside only: it is
// at most that at s = 1/2 and half the sum of their speeds.
type stretch struct {
	m              *Machine
	from, to       motion.Params
	tipFrom, tipTo r3.Vector
	length         float64
}

// Pieces that a stretch is cut into. The bounds of the second derivative, crude
// as they are, count with the square of its inverse.
const pieces = 8

// rounding is added to every bound, mm.
const rounding = 1e-9

// at returns where the axes would be with all of them going evenly.
func (s *stretch) at(f float64) (p motion.Params) {
	for k := range p {
		p[k] = s.from[k] + (s.to[k]-s.from[k])*f
	}
	return p
}

func (s *stretch) tip(f float64) r3.Vector {
	return s.tipFrom.Add(s.tipTo.Sub(s.tipFrom).Mul(f))
}

// turns reports whether any joint turns.
func (s *stretch) turns() bool {
	return slices.ContainsFunc(s.m.rel.Joints, func(j motion.Joint) bool {
		return j.Kind == motion.Rotary && rate(&j, &s.from, &s.to) != 0
	})
}

// tipDeviation bounds how far the tip leaves the straight line if all axes go evenly.
func (s *stretch) tipDeviation() float64 {
	if !s.turns() {
		return 0
	}
	off, bend := 0.0, 0.0
	var room [usualJoints]move
	point := s.m.rel.Home.Point(r3.Vector{Z: -s.length})
	for i := range pieces {
		a, b := s.at(float64(i)/pieces), s.at(float64(i+1)/pieces)
		tip, _ := s.m.Forward(a, s.length)
		off = max(off, distance(tip, s.tipFrom, s.tipTo))
		mid := s.at((float64(i) + 0.5) / pieces)
		_, curve := derivatives(moves(room[:], s.m.rel.Joints, &mid, &a, &b), point, r3.Vector{})
		bend = max(bend, curve)
	}
	return off + bend/8 + rounding
}

// distance of a point from a line segment. It is convex along any straight
// line, so that of a piece's chord is largest at one of its ends.
func distance(p, a, b r3.Vector) float64 {
	ab := b.Sub(a)
	f := 0.0
	if n := ab.Norm2(); n > 0 {
		f = min(max(p.Sub(a).Dot(ab)/n, 0), 1)
	}
	return p.Sub(a.Add(ab.Mul(f))).Norm()
}

// move is a joint in the middle of a piece, and its rate over the piece.
type move struct {
	joint *motion.Joint
	value float64
	rate  float64
}

// usualJoints is how many joints are looked at without asking for memory.
const usualJoints = 16

func rate(j *motion.Joint, a, b *motion.Params) (r float64) {
	for k, g := range j.Gain {
		r += g * (b[k] - a[k])
	}
	return r
}

func moves(list []move, joints []motion.Joint, mid, a, b *motion.Params) []move {
	if len(joints) > cap(list) {
		list = make([]move, len(joints))
	}
	list = list[:len(joints)]
	for i := range joints {
		j := &joints[i]
		list[i] = move{j, j.Value(mid), rate(j, a, b)}
	}
	return list
}

// derivatives bounds the first and the second derivative of a point that is at q in the
// middle of the piece, with the rate drift, and is moved by the joints, outermost first.
func derivatives(joints []move, q, drift r3.Vector) (speed, curve float64) {
	speed = drift.Norm()
	for i := len(joints) - 1; i >= 0; i-- {
		j, r := joints[i].joint, math.Abs(joints[i].rate)
		if j.Kind == motion.Linear {
			speed += r
			q = q.Add(j.Axis.Mul(joints[i].value))
			continue
		}
		own := r * (j.Axis.Cross(q.Sub(j.Point)).Norm() + speed/2)
		curve += r * (own + 2*speed)
		speed += own
		if joints[i].value != 0 {
			turn := geom.Turn(j.Point, j.Axis, joints[i].value)
			q = turn.Point(q)
		}
	}
	return speed, curve
}

// deviation bounds how far each linear axis leaves the straight line between its
// two positions if the tip is led along one.
//
// Let U be the joints before the first that a linear axis moves, and V the rest with
// these axes at 0. Seen from behind U, the tip q of the part is at y + C x with
// x the linear axes, C their directions there and y = V (tip of the tool); hence
//
//	C x = U^-1 q - V (tip of the tool),
//
// whose right side, Y, is two points of the kind above (U^-1 is the joints of U backwards, with
// negated values). With all linear axes between the same two rotary ones C is
// constant; otherwise it turns: c1 and c2 bound its derivatives. Differentiated twice,
//
//	C x' = Y' - C' x,  C x'' = Y'' - 2 C' x' - C'' x.
//
// With sigma a lower bound of the least singular value of C over the piece (its value
// in the middle less c1/2) and |x| <= |x(1/2)| + |x'|/2,
//
//	|x'| <= (|Y'| + c1 |x(1/2)|) / (sigma - c1/2),
//	|x''| <= (|Y''| + 2 c1 |x'| + c2 |x|) / sigma.
//
// Where sigma - c1/2 is not positive nothing is proven: the bound is infinite.
func (s *stretch) deviation() (d motion.Params) {
	if !s.turns() {
		return d
	}
	bend := 0.0
	for i := range pieces {
		f := float64(i) / pieces
		at, err := s.m.Linear(s.at(f), s.tip(f), s.length)
		if err != nil {
			return s.unknown()
		}
		line := s.at(f)
		for _, k := range s.m.linear {
			d[k] = max(d[k], math.Abs(at[k]-line[k]))
		}
		bend = max(bend, s.bend(f, f+1.0/pieces))
	}
	for _, k := range s.m.linear {
		d[k] += bend/8 + rounding
	}
	return d
}

// A stretch is cut into legs until the axes leave their lines by no more than hardly, mm,
// or into mostLegs.
const (
	hardly   = 0.02
	mostLegs = 128
)

// parted cuts a stretch whose deviation is known into legs. What the axes leave their
// lines by falls with the square of how many there are.
func (s *stretch) parted(deviation motion.Params) (list []stretch) {
	most := slices.Max(deviation[:])
	n := mostLegs
	if !math.IsInf(most, 1) {
		n = min(mostLegs, max(1, int(math.Ceil(math.Sqrt(most/hardly)))))
	}
	from := s.from
	for i := range n {
		f := float64(i+1) / float64(n)
		to, err := s.to, error(nil)
		if i+1 < n {
			to, err = s.m.Linear(s.at(f), s.tip(f), s.length)
		}
		if err != nil {
			return []stretch{*s} // its deviation is infinite
		}
		list = append(list, stretch{
			m: s.m, from: from, to: to, length: s.length,
			tipFrom: s.tip(float64(i) / float64(n)), tipTo: s.tip(f),
		})
		from = to
	}
	return list
}

func (s *stretch) unknown() (d motion.Params) {
	for _, k := range s.m.linear {
		d[k] = math.Inf(1)
	}
	return d
}

// bend bounds the second derivative of the linear axes over a piece.
func (s *stretch) bend(f, g float64) float64 {
	a, b, mid := s.at(f), s.at(g), s.at((f+g)/2)
	for _, k := range s.m.linear {
		a[k], b[k], mid[k] = 0, 0, 0
	}
	tip, c := s.m.stand(&mid, s.length)
	at, ok := solve(c[:], s.tip((f+g)/2).Sub(tip))
	if !ok {
		return math.Inf(1)
	}
	var room, back [usualJoints]move
	joints := moves(room[:], s.m.rel.Joints, &mid, &a, &b)
	first := slices.IndexFunc(s.m.rel.Joints, s.m.slides)
	before := append(back[:0], joints[:first]...)
	slices.Reverse(before)
	for i := range before {
		before[i].value, before[i].rate = -before[i].value, -before[i].rate
	}
	y1, y2 := derivatives(before, s.tip((f+g)/2), s.tip(g).Sub(s.tip(f)))
	v1, v2 := derivatives(joints[first:], s.m.rel.Home.Point(r3.Vector{Z: -s.length}), r3.Vector{})
	y1, y2 = y1+v1, y2+v2

	c1, c2 := s.turning(joints, first)
	sigma := leastStretch(c[:]) - c1/2
	if sigma-c1/2 <= 0 {
		return math.Inf(1)
	}
	x := math.Hypot(math.Hypot(at[0], at[1]), at[2])
	x1 := (y1 + c1*x) / (sigma - c1/2)
	return (y2 + 2*c1*x1 + c2*(x+x1/2)) / sigma
}

// slides reports whether one of the linear axes that are used moves the joint.
func (m *Machine) slides(j motion.Joint) bool {
	return j.Kind == motion.Linear && slices.ContainsFunc(m.linear, func(k int) bool { return j.Gain[k] != 0 })
}

// turning bounds the first and second derivative of the directions of the linear axes
// as seen from behind the joints before the first (Frobenius norm, no less
// than the spectral one).
func (s *stretch) turning(joints []move, first int) (c1, c2 float64) {
	for _, k := range s.m.linear {
		rates, d1, d2 := 0.0, 0.0, 0.0
		for _, j := range joints[first:] {
			if j.joint.Kind == motion.Rotary {
				rates += math.Abs(j.rate)
				continue
			}
			g := math.Abs(j.joint.Gain[k])
			d1 += g * rates
			d2 += g * rates * rates
		}
		c1, c2 = math.Hypot(c1, d1), math.Hypot(c2, d2)
	}
	return c1, c2
}

// leastStretch is a lower bound of the least singular value of the matrix with the
// given columns: 1 / |C^-1|, and |.| is at most the root of the product of the largest
// sums of a row and of a column.
func leastStretch(c []r3.Vector) float64 {
	det := c[0].Dot(c[1].Cross(c[2]))
	if math.Abs(det) <= leastSpan {
		return 0
	}
	rows := [3]r3.Vector{c[1].Cross(c[2]), c[2].Cross(c[0]), c[0].Cross(c[1])}
	var row float64
	var column r3.Vector
	for _, r := range rows {
		r = r.Mul(1 / det).Abs()
		row = max(row, r.X+r.Y+r.Z)
		column = column.Add(r)
	}
	return 1 / math.Sqrt(row*max(column.X, column.Y, column.Z))
}
