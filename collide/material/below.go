package material

import (
	"math"

	"github.com/golang/geo/r3"
)

// below returns which part of a cube of half side r about the origin has n.x <= d: the powers of what a plane cuts
// off the three edges at a corner, less those of what lies beyond the edges' ends (Barrow, Smith, "Spline notation
// applied to a volume problem", American Mathematical Monthly 86(1), 1979). Components of n that are nearly 0 are left
// out, which costs less than 1e-5.
func below(n r3.Vector, d, r float64) float64 {
	a, b, c := math.Abs(n.X), math.Abs(n.Y), math.Abs(n.Z)
	if a < b {
		a, b = b, a
	}
	if a < c {
		a, c = c, a
	}
	if b < c {
		b, c = c, b
	}
	t := d/(2*r) + (a+b+c)/2 // from the corner farthest behind, sides of length 1
	if t <= 0 {
		return 0
	}
	if t >= a+b+c {
		return 1
	}
	const none = 1e-5
	switch {
	case b < none*a:
		return max(0, min(1, (t-(b+c)/2)/a))
	case c < none*a:
		t -= c / 2
		return max(0, min(1, (square(t)-square(t-a)-square(t-b)+square(t-a-b))/(2*a*b)))
	}
	v := cubed(t) - cubed(t-a) - cubed(t-b) - cubed(t-c) + cubed(t-a-b) + cubed(t-b-c) + cubed(t-a-c)
	return max(0, min(1, v/(6*a*b*c)))
}

func square(x float64) float64 {
	x = max(0, x)
	return x * x
}

func cubed(x float64) float64 {
	x = max(0, x)
	return x * x * x
}
