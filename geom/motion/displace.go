package motion

import (
	"math"

	"github.com/golang/geo/r3"
)

// alike is how far apart the unit axes of two joints that only have slack may end and still
// be the same joint. It is no tolerance: whatever they differ by is charged.
const alike = 0.01

// Displacement bounds how much two courses differ: wherever c carries the body, location
// uncertainty included, there is a position of known, within its box and its location
// uncertainty, at which no point of the ball (center, radius; the body's frame) stands more
// than so many mm elsewhere. It is +Inf where the two cannot be compared: other joints, or in
// another order. What is proven of known thus holds for c, less the displacement.
//
// Derivation. To a position of c belongs the one of known at which each parameter is as far
// along its own range, a joint's slack is the same as far as known has so much, and
// a joint of slack that c does not have is not off. Let z and y be where a point x of the ball
// is, carried by c and by known from the inside out: z = H x, y = K x at first, H and
// K being the poses at the middle. e = z - y is within |H - K| r of H q - K q, q being the centre,
// with |H - K| the norm of the difference of the two rotations, at most the root of the sum
// of the squares of its entries.
//
// A linear joint along w by a, which in known is one along v by b, adds a w - b v =
// (a - b) w + b (w - v). A rotary joint about (o, w) by a, which in known is one about (m, v) by b,
// R and S being the rotations, makes of e
//
//	R (z - o) + o - S (y - m) - m = S (e - d) + d + (R - S) (z - o),     d = o - m.
//
// The first two terms are a turn of e about d: see placed.turn. For the last, |R - S| <= |a - b| +
// 2 |w - v|: turns about one axis differ by a chord, and if Q is the least rotation that takes v to
// w, a turn by b about w is Q S Q^T, with |Q S Q^T - S| <= 2 |Q - I| = 2 |w - v|. A joint of slack that
// known does not have is one with b = 0 there: it adds all that it moves z.
func (c *Course) Displacement(known *Course, center r3.Vector, radius float64) float64 {
	z := placed{center: c.home.Point(center), radius: radius}
	e := placed{center: z.center.Sub(known.home.Point(center)), radius: unlike(c, known) * radius}
	i := len(known.joints) - 1
	for k := len(c.joints) - 1; k >= 0; k-- {
		j := &c.joints[k]
		at := partner(known.joints[:i+1], j)
		switch {
		case at >= 0:
			e.differ(j, &known.joints[at], &z)
			i = at - 1
		case j.moves:
			return math.Inf(1)
		case j.kind == Linear:
			e.radius += j.slack
		default:
			e.radius += chord(j.slack) * j.arm(&z)
		}
		z.carry(j)
	}
	for ; i >= 0; i-- {
		if known.joints[i].moves {
			return math.Inf(1)
		}
	}
	return e.center.Norm() + e.radius + c.rounding(center, radius) + known.rounding(center, radius)
}

// partner returns which of the joints, of which the last is the innermost, is the same one
// as j; -1 if none is. Joints that a parameter moves are partners in their order, joints that
// only have slack where their axes are much alike; those in between are passed over.
func partner(joints []courseJoint, j *courseJoint) int {
	for i := len(joints) - 1; i >= 0; i-- {
		x := &joints[i]
		switch {
		case !x.moves && j.moves:
			continue
		case x.moves != j.moves:
			return -1
		case x.kind == j.kind && (j.moves || x.axis.Sub(j.axis).Norm() <= alike):
			return i
		case j.moves:
			return -1
		}
	}
	return -1
}

// differ makes the ball of differences hold those that there are outside a joint that is
// j in the one course and k in the other; z holds the points inside j.
func (e *placed) differ(j, k *courseJoint, z *placed) {
	apart := max(0, j.slack-k.slack)
	for n := range j.span {
		apart += math.Abs(j.span[n]-k.span[n]) / 2
	}
	slant := j.axis.Sub(k.axis).Norm()
	if j.kind == Linear {
		e.radius += apart + k.most*slant
		return
	}
	e.turn(k, j.point.Sub(k.point))
	e.radius += (apart + 2*slant) * (z.center.Sub(j.point).Norm() + z.radius)
}

// unlike bounds the norm of the difference of the rotations at the middle.
func unlike(c, d *Course) float64 {
	sum := 0.0
	for i := range c.home.R {
		for k := range c.home.R[i] {
			diff := c.home.R[i][k] - d.home.R[i][k]
			sum += diff * diff
		}
	}
	return math.Sqrt(sum)
}
