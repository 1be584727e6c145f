package shape

import (
	"fmt"
	"math"

	"github.com/golang/geo/r2"
)

// Side says where the polygon that stands for a circle lies.
type Side uint8

const (
	// Inscribed polygons have their corners on the circle: up to the chord error
	// inside it. A hole made so is too small, which errs to the safe side; a boss
	// is too small as well, which does not.
	Inscribed Side = iota
	// Circumscribed polygons touch the circle from outside with their edges: a
	// boss made so errs to the safe side, a hole does not.
	Circumscribed
	// Astride polygons cross the circle: as far outside at the corners as inside
	// at the middle of the edges, so half as many edges do for the same error.
	Astride
)

// Round says how circles become polygons: Chord is the largest distance of the
// polygon from the true circle, in mm, Side where it lies.
type Round struct {
	Chord float64
	Side  Side
}

// minSegments keeps even the smallest hole recognisable as round.
const minSegments = 12

// Segments returns the number of edges a circle of the radius needs: the least
// multiple of four, and at least twelve, that keeps the chord error. With c =
// cos(pi/n) the error is r(1-c) inscribed, r(1/c-1) circumscribed and
// r(1-c)/(1+c) astride. It panics if radius or chord error is not above zero.
func (d Round) Segments(radius float64) int {
	if !(d.Chord > 0) || !(radius > 0) {
		panic(fmt.Sprintf("shape: chord error %v mm and radius %v mm must be above zero", d.Chord, radius))
	}
	var c float64
	switch d.Side {
	case Inscribed:
		c = 1 - d.Chord/radius
	case Circumscribed:
		c = radius / (radius + d.Chord)
	default:
		c = (radius - d.Chord) / (radius + d.Chord)
	}
	if c <= 0 {
		return minSegments
	}
	n := math.Ceil(math.Pi / math.Acos(c) / 4 * (1 - 1e-12))
	return max(minSegments, 4*int(n))
}

// corner returns the radius on which the corners of the n-gon lie.
func (d Round) corner(radius float64, n int) float64 {
	c := math.Cos(math.Pi / float64(n))
	switch d.Side {
	case Inscribed:
		return radius
	case Circumscribed:
		return radius / c
	default:
		return 2 * radius / (1 + c)
	}
}

// Circle returns the polygon of a circle, counter-clockwise, its first corner
// in the direction +x.
func (d Round) Circle(center r2.Point, radius float64) Contour {
	return d.CircleOf(center, radius, d.Segments(radius))
}

// CircleOf is Circle with a given number of edges: the rings of a stepped hole
// have the same, so that a chamfer can join them.
func (d Round) CircleOf(center r2.Point, radius float64, segments int) Contour {
	r := d.corner(radius, segments)
	c := make(Contour, segments)
	for i := range c {
		c[i] = center.Add(direction(i, segments).Mul(r))
	}
	return c
}

// direction returns the unit vector at i/n of a turn. It is computed within one
// octant and mirrored, so that a ring is exactly symmetric and its extreme
// points are exact.
func direction(i, n int) r2.Point {
	e := 8 * (i % n) // in eighths of n
	octant, rest := e/n, e%n
	part := rest
	if octant%2 == 1 {
		part = n - rest
	}
	sin, cos := math.Sincos(float64(part) / float64(n) * math.Pi / 4)
	switch octant {
	case 0:
		return r2.Point{X: cos, Y: sin}
	case 1:
		return r2.Point{X: sin, Y: cos}
	case 2:
		return r2.Point{X: -sin, Y: cos}
	case 3:
		return r2.Point{X: -cos, Y: sin}
	case 4:
		return r2.Point{X: -cos, Y: -sin}
	case 5:
		return r2.Point{X: -sin, Y: -cos}
	case 6:
		return r2.Point{X: sin, Y: -cos}
	default:
		return r2.Point{X: cos, Y: -sin}
	}
}
