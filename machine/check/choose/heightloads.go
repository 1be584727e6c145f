package choose

import (
	"math"

	"gridswing/machine"
	"gridswing/machine/check"
)

// Loads between two heights. With h the height, W apart, and f a load at fixed positions of
// the axes,
//
//	f(h) <= max(f(low), f(high)) + W^2/8 max |f''|,
//
// since f differs from the straight line between its ends by at most that; so it is with the
// length of a vector, and with the greatest of many such f. The block has a mass of u h, u per
// mm, its middle at h/2; what it carries goes up with h. So
//
//	a mass is linear in h: f'' = 0;
//	a moment of weight about any line is linear for what is carried, and
//	    g u h (a + b h/2), |b| <= 1, for the block: |f''| <= g u;
//	an inertia about a line is the sum of m r^2 for what is carried, r that of a point going
//	    along a straight line: |f''| <= 2 m; and of the block the integral of u r(z)^2 + const over
//	    z from 0 to h, whose second derivative is 2 u r r' at the top: |f''| <= 2 u R,
//
// R being no less than the distance of the top's middle from the line, wherever the rotary
// axes stand. An inertia counts times the acceleration that the ratings state.

// gravity is the standard acceleration of free fall, m/s2 (3rd CGPM, 1901).
const gravity = 9.80665

// loadsBetween says which load is not known to be within its rating at all heights between two
// at which all are; "" if none.
func loadsBetween(low, high *heightLook) string {
	if low.loads == nil || high.loads == nil {
		return ""
	}
	a, b := low.loads.Rated, high.loads.Rated
	if len(a) != len(b) {
		return "loads that are not the same at both ends"
	}
	for i := range a {
		p, q := &a[i], &b[i]
		if p.Verdict == nil && q.Verdict == nil {
			continue
		}
		if p.Load == nil || q.Load == nil || p.Rating == nil || q.Rating == nil || p.Kind != q.Kind || p.Unit != q.Unit {
			return p.Words() + " of " + p.Unit + ": not known between two heights"
		}
		if math.Max(*p.Load, *q.Load)+bulge(low, high, q) > math.Min(*p.Rating, *q.Rating) {
			return p.Words() + " of " + p.Unit + ": may be over its rating between two heights"
		}
	}
	return ""
}

// bulge is how much more a load may be between two heights than at the greater of its ends.
func bulge(low, high *heightLook, q *check.Rated) float64 {
	if q.Measure == "kg" {
		return 0
	}
	s := high.setup
	perMM := (s.Bodies[s.Spacer.Below].Mass + s.Bodies[s.Spacer.Above].Mass) / s.Spacer.To
	second := gravity * perMM * 1e-3 // N m per mm2, from N mm
	if q.Inertia {
		reach := math.Max(topFrom(low.setup), topFrom(high.setup))
		second += 2 * (carried(s) + perMM*reach) * 1e-6 * acceleration(s, q.Unit) // kg mm2 to kg m2
	}
	width := high.at - low.at
	return width * width / 8 * second
}

// topFrom bounds how far the middle of the block's top gets from any rotary axis, in mm: from one
// point on each it is no farther than from a point on the last one, and on from axis to axis.
func topFrom(s *machine.Setup) (sum float64) {
	above := s.Spacer.Above
	bounds := s.Bodies[above].Solid.Audit.Bounds
	pose := s.Pose(above, [8]float64{})
	for k := range s.Axes {
		farthest := 0.0
		for _, c := range bounds.Corners() {
			farthest = math.Max(farthest, pose.Point(c).Sub(s.Axes[k].Centre).Norm())
		}
		sum += 2 * farthest
	}
	return sum
}

// carried is the mass of all that goes up with the height, in kg.
func carried(s *machine.Setup) (kg float64) {
	for i := range s.Bodies {
		if i != s.Spacer.Above && s.Bodies[i].Chain.Uses()[s.Spacer.Axis] {
			kg += s.Bodies[i].Mass
		}
	}
	return kg
}

// acceleration is the greatest that the ratings of a unit state, in rad/s2.
func acceleration(s *machine.Setup, unit string) (most float64) {
	for i := range s.Ratings {
		if r := &s.Ratings[i]; r.Unit == unit {
			most = math.Max(most, math.Max(r.TiltAcceleration, r.RotaryAcceleration))
		}
	}
	return most
}
