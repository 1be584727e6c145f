package kinematics

import (
	"math"

	"github.com/golang/geo/r3"
)

// pose2 is the values of one or two turns, rad, that bring one direction near
// another: free is the turn that does not matter, -1 if both do.
type pose2 struct {
	values [2]float64
	miss   float64
	free   int
	side   int // of the plane through both axes on which the direction between lies; 0: in it
}

// alike is the angle, in rad, below which two directions count as the same: above
// rounding, and far below what Presented allows.
const alike = 1e-12

// angle returns the angle between two vectors, 0 to pi, exact to rounding even
// for directions that are nearly the same.
func angle(a, b r3.Vector) float64 { return math.Atan2(a.Cross(b).Norm(), a.Dot(b)) }

// along reports whether an angle is that of two parallel or opposite directions.
func along(a float64) bool { return a <= alike || a >= math.Pi-alike }

// around returns the angle of v about w, counted from e, which is square to w.
func around(w, e, v r3.Vector) float64 { return math.Atan2(v.Dot(w.Cross(e)), v.Dot(e)) }

// oneTurn returns the turn about w that brings z as near to t as it gets: both keep
// their angles to w, and the miss is what these differ (subproblem 1 of Paden
// and Kahan, where it has a solution). If z or t lies along w the turn does not matter
// and stays at now. All are unit vectors.
func oneTurn(w, z, t r3.Vector, now float64) pose2 {
	toZ, toT := angle(w, z), angle(w, t)
	p := pose2{miss: math.Abs(toZ - toT), free: -1}
	if along(toZ) || along(toT) {
		p.values[0], p.free = now, 0
		return p
	}
	e := w.Ortho()
	p.values[0] = around(w, e, t) - around(w, e, z)
	return p
}

// twoTurns returns the turns about w1 and w2 with e^(w1 a) e^(w2 b) z = t, all of
// them unit vectors, w1 and w2 not parallel: subproblem 2 of Paden and Kahan (Murray, Li,
// Sastry, "A Mathematical Introduction to Robotic Manipulation", 1994, ch. 3, sec. 3.1).
//
// The direction c = e^(w2 b) z lies on the circle about w2 through z and on the
// one about w1 through t. They meet twice, touch, or do not meet. Instead of the
// book's sum of squares, which loses half of the digits near the singular
// position, c is found from the spherical triangle w1, w2, c with the sides
// phi (w1 to w2), toT (w1 to c) and toZ (w2 to c): its angle psi at w1 is
//
//	tan^2(psi/2) = sin(s-toT) sin(s-phi) / (sin(s) sin(s-toZ)), s half the sum.
//
// Over all b, c is between |phi-toZ| and phi+toZ away from w1 (2 pi less that, if it is
// more than pi), at either end in the plane of w1 and w2. If toT is beyond an
// end, that end is the nearest there is.
func twoTurns(w1, w2, z, t r3.Vector, now [2]float64) []pose2 {
	phi, toZ, toT := angle(w1, w2), angle(w2, z), angle(w1, t)
	e1 := w2.Sub(w1.Mul(w1.Dot(w2))).Normalize() // from w1 towards w2
	free := -1
	switch {
	case along(toT):
		free = 0
	case along(toZ):
		free = 1
	}
	at := func(r, psi, miss float64) pose2 {
		sin, cos := math.Sincos(psi)
		side := e1.Mul(cos).Add(w1.Cross(e1).Mul(sin))
		c := w1.Mul(math.Cos(r)).Add(side.Mul(math.Sin(r)))
		e2 := w2.Ortho()
		p := pose2{
			values: [2]float64{around(w1, e1, t) - psi, around(w2, e2, c) - around(w2, e2, z)},
			miss:   miss, free: free,
		}
		if free >= 0 {
			p.values[free] = now[free]
		}
		return p
	}
	least, most := math.Abs(phi-toZ), math.Pi-math.Abs(math.Pi-phi-toZ)
	switch {
	case toT <= least+alike:
		return []pose2{at(least, halfTurnIf(toZ > phi), math.Abs(least-toT))}
	case toT >= most-alike:
		return []pose2{at(most, halfTurnIf(phi+toZ > math.Pi), math.Abs(toT-most))}
	}
	s := (phi + toZ + toT) / 2
	psi := 2 * math.Atan2(
		math.Sqrt(max(0, math.Sin(s-toT)*math.Sin(s-phi))),
		math.Sqrt(max(0, math.Sin(s)*math.Sin(s-toZ))))
	a, b := at(toT, psi, 0), at(toT, -psi, 0)
	a.side, b.side = 1, -1
	return []pose2{a, b}
}

func halfTurnIf(yes bool) float64 {
	if yes {
		return math.Pi
	}
	return 0
}
