package shape

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"gridswing/geom"

	"github.com/golang/geo/r2"
)

// outward is how far Enclose moves an outline outward, as a part of the largest
// coordinate: 0.2 um on 200 mm. It must be above 2^-23 (see Enclose); eight times
// that keeps what is made in two roundings' width from looking like nothing.
const outward = 1.0 / (1 << 20)

// Enclose returns a closed mesh around the solid that an outline sweeps about
// the Z axis, nowhere inside it, the rounding of stored vertices included. The
// outline (X: radius, Y: height) runs from the lowest end to the highest, straight
// from point to point; heights must not decrease, equal ones make a step. Both
// ends are closed by a flat disc, or by a pole where the outline ends on the axis. An
// arc is given by its tangents: then the mesh is outside it, too.
//
// Why nothing of the true solid is outside. Let r(z) be the outline.
//
//   - It is first moved outward: edges on which the radius grows by (+e, -e),
//     those on which it shrinks by (+e, +e), level ones by (+e, 0). A line at radius
//     R + e, parallel to the axis, met the first kind where the solid begins and
//     the second where it ends; now it meets the beginnings of the line at R by e
//     lower and its ends by e higher. As the solid at R lies within that at any
//     smaller radius, the new one holds the square of e around each point of
//     the old one. A groove narrower than 2e is passed over twice, which counts
//     more than once and never less.
//   - Rings are polygons whose sides touch the circle from outside (the corner at
//     r/cos(pi/n)); bands between rings are flat quads with their edges on planes
//     through the axis. So the polygon of every height is outside the circle of that height.
//   - A stored coordinate is off by 2^-24 of itself at most (nearest float32), a corner by
//     2^-24 of the largest distance D of any corner from the origin. Each point
//     of a facet is a mean of its corners and is off by no more. With e = 2^-20 D
//     every facet stays on its own side of the edge it was moved away from. The corners
//     of a ring keep a common height, so each band is still a stack of polygons.
//
// It is an error if the outline is no such line, encloses nothing, or does not fit
// into float32. The corners are at most 1/cos(pi/sides) times as far
// from the axis as the true surface, and e.
func Enclose(outline Contour, sides int) (*geom.Mesh, error) {
	if sides < 3 {
		return nil, fmt.Errorf("%d sides, want 3 or more", sides)
	}
	if err := outline.climbs(); err != nil {
		return nil, err
	}
	line := outline.betweenPoles()
	largest := 0.0
	for _, p := range line {
		largest = max(largest, math.Hypot(p.X/math.Cos(math.Pi/float64(sides)), p.Y))
	}
	if largest > math.MaxFloat32/4 || largest < 1e-30 {
		return nil, fmt.Errorf("outline out to %g mm cannot be stored in float32", largest)
	}
	line = line.widened(largest * outward)
	round := Round{Side: Circumscribed}
	var s Surface
	for i, p := range line[1:] {
		s.band(round, line[i], p, sides)
	}
	return s.Mesh(), nil
}

// climbs returns what keeps the contour from being the outline of a solid of
// revolution, from its lowest end to its highest.
func (c Contour) climbs() error {
	wide := false
	for i, p := range c {
		switch {
		case !(math.Abs(p.X) <= math.MaxFloat64) || !(math.Abs(p.Y) <= math.MaxFloat64):
			return fmt.Errorf("point %d of the outline is %v: not a number", i+1, p)
		case p.X < 0:
			return fmt.Errorf("point %d of the outline is %v: beyond the axis", i+1, p)
		case i > 0 && p.Y < c[i-1].Y:
			return fmt.Errorf("point %d of the outline is %v, after height %g: goes backwards", i+1, p, c[i-1].Y)
		}
		wide = wide || p.X > 0
	}
	if !wide || c[len(c)-1].Y == c[0].Y {
		return errors.New("the outline encloses nothing")
	}
	return nil
}

// betweenPoles returns the outline from the axis to the axis, without points
// that say nothing.
func (c Contour) betweenPoles() Contour {
	first, last := 0, len(c)-1
	for c[first].X == 0 {
		first++
	}
	for c[last].X == 0 {
		last--
	}
	low, high := r2.Point{Y: c[first].Y}, r2.Point{Y: c[last].Y}
	if first > 0 {
		low.Y = c[first-1].Y
	}
	if last < len(c)-1 {
		high.Y = c[last+1].Y
	}
	line := Contour{low}
	for _, p := range append(c[first:last+1:last+1], high) {
		if p != line[len(line)-1] {
			line = append(line, p)
		}
	}
	return line
}

// widened returns an outline between two poles with every edge moved outward by e
// in radius, and by e away from the solid in height. Where a growing edge and a
// shrinking one meet, they part by 2e.
func (c Contour) widened(e float64) Contour {
	n := len(c) - 1
	line := pole(c[0], c[1], -e)
	for i := 1; i < n; i++ {
		before, after := growth(c[i-1], c[i]), growth(c[i], c[i+1])
		if before == 0 {
			before = after
		}
		if after == 0 {
			after = before
		}
		line = append(line, r2.Point{X: c[i].X + e, Y: c[i].Y - before*e})
		if after != before {
			line = append(line, r2.Point{X: c[i].X + e, Y: c[i].Y - after*e})
		}
	}
	upper := pole(c[n], c[n-1], e)
	slices.Reverse(upper)
	return append(line, upper...)
}

// pole returns an end of the outline, moved by e along the axis, from the axis
// on: the edge to the next point goes on to the axis, unless it is so steep, as a
// needle's, that a small disc is nearer.
func pole(end, next r2.Point, e float64) Contour {
	steep := math.Abs(next.Y-end.Y) / next.X
	if steep > 16 {
		return Contour{{Y: end.Y + e}, {X: math.Abs(e), Y: end.Y + e}}
	}
	return Contour{{Y: end.Y + e*(1+steep)}}
}

// growth returns 1 where the radius grows, -1 where it shrinks, else 0.
func growth(p, q r2.Point) float64 {
	switch {
	case q.X > p.X:
		return 1
	case q.X < p.X:
		return -1
	default:
		return 0
	}
}
