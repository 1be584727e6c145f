package shape

import (
	"math"
	"math/big"

	"github.com/golang/geo/r2"
)

// orientation is positive if a, b, c turn to the left, negative to the right,
// zero if they are on one line: always the exact sign. The float64 result is
// taken when it exceeds its error bound (3 + 16 eps) eps (|left| + |right|),
// eps = 2^-53 (Shewchuk, "Adaptive precision floating-point arithmetic and fast
// robust geometric predicates", Discrete Comput. Geom. 18, 1997), and rational
// arithmetic decides the rest.
func orientation(a, b, c r2.Point) float64 {
	left := (a.X - c.X) * (b.Y - c.Y)
	right := (a.Y - c.Y) * (b.X - c.X)
	det := left - right
	if bound := 3.3306690738754716e-16 * (math.Abs(left) + math.Abs(right)); math.Abs(det) > bound {
		return det
	}
	if left == 0 && right == 0 {
		return 0 // square to an axis, or two points coincide: differences of mm do not underflow
	}
	return exactOrientation(a, b, c)
}

func exactOrientation(a, b, c r2.Point) float64 {
	diff := func(x, y float64) *big.Rat {
		d := new(big.Rat).SetFloat64(x)
		return d.Sub(d, new(big.Rat).SetFloat64(y))
	}
	left := diff(a.X, c.X)
	left.Mul(left, diff(b.Y, c.Y))
	right := diff(a.Y, c.Y)
	right.Mul(right, diff(b.X, c.X))
	return float64(left.Cmp(right))
}

// inCircle reports whether d is inside the circle through a, b, c (a left
// turn) beyond doubt. Cases within the rounding error count as outside: they
// matter for the looks of a triangulation only, and never flipping them back
// and forth is what ends the flipping. Bound after Shewchuk 1997, with room.
func inCircle(a, b, c, d r2.Point) bool {
	a, b, c = a.Sub(d), b.Sub(d), c.Sub(d)
	aa, bb, cc := a.Dot(a), b.Dot(b), c.Dot(c)
	det := aa*b.Cross(c) + bb*c.Cross(a) + cc*a.Cross(b)
	size := aa*(math.Abs(b.X*c.Y)+math.Abs(b.Y*c.X)) +
		bb*(math.Abs(c.X*a.Y)+math.Abs(c.Y*a.X)) +
		cc*(math.Abs(a.X*b.Y)+math.Abs(a.Y*b.X))
	return det > 4e-15*size
}
