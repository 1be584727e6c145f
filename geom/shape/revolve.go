package shape

import (
	"fmt"

	"gridswing/geom"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
)

// Revolve turns a profile of points (X: radius, Y: height) about the Z axis.
// The profile is a polygon: it is closed from its last point to the first, and
// an edge along the axis vanishes. Points on the axis become exact poles. The
// profile may run either way round; it must not cross itself or the axis.
func Revolve(profile Contour, d Round) (Surface, error) {
	if len(profile) < 3 {
		return nil, fmt.Errorf("profile of %d points, want 3 or more", len(profile))
	}
	widest := 0.0
	for _, p := range profile {
		if p.X < 0 {
			return nil, fmt.Errorf("profile crosses the axis at %v", p)
		}
		widest = max(widest, p.X)
	}
	if profile.area() < 0 {
		profile = profile.reversed()
	}
	n := d.Segments(widest)
	var s Surface
	for i, p := range profile {
		q := profile[(i+1)%len(profile)]
		s.band(d, p, q, n)
	}
	return s, nil
}

// band adds the ring of the profile's edge from p to q, material on its left.
func (s *Surface) band(d Round, p, q r2.Point, n int) {
	if p.X == 0 && q.X == 0 {
		return
	}
	low, high := d.ring(p, n), d.ring(q, n)
	for i := range n {
		k := (i + 1) % n
		switch {
		case p.X == 0:
			*s = append(*s, geom.Triangle{low[0], high[k], high[i]})
		case q.X == 0:
			*s = append(*s, geom.Triangle{low[i], low[k], high[0]})
		default:
			s.quad(low[i], low[k], high[k], high[i])
		}
	}
}

// ring returns the corners of the circle of a profile's point.
func (d Round) ring(p r2.Point, n int) []r3.Vector {
	if p.X == 0 {
		return []r3.Vector{{Z: p.Y}}
	}
	ring := make([]r3.Vector, n)
	for i, c := range d.CircleOf(r2.Point{}, p.X, n) {
		ring[i] = lift(c, p.Y)
	}
	return ring
}

// Cylinder returns the cylinder about the Z axis between two heights.
func Cylinder(radius, z0, z1 float64, d Round) Surface {
	return Cone(radius, radius, z0, z1, d)
}

// Cone returns the frustum about the Z axis with one radius at each height;
// one of them may be zero.
func Cone(r0, r1, z0, z1 float64, d Round) Surface {
	s, err := Revolve(Contour{{X: 0, Y: z0}, {X: r0, Y: z0}, {X: r1, Y: z1}, {X: 0, Y: z1}}, d)
	if err != nil {
		panic(err) // only a negative radius
	}
	return s
}

// Tube returns the ring about the Z axis between two radii and two heights.
func Tube(inner, outer, z0, z1 float64, d Round) Surface {
	s, err := Revolve(Contour{{X: inner, Y: z0}, {X: outer, Y: z0}, {X: outer, Y: z1}, {X: inner, Y: z1}}, d)
	if err != nil {
		panic(err) // only a negative radius
	}
	return s
}
