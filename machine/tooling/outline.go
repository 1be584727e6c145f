package tooling

import (
	"math"

	"github.com/golang/geo/r2"
)

// stretch is a straight piece of an outline: X the radius, Y the height above the
// foremost point, mm. It is empty unless its end is higher than its beginning.
// Where the next stretch does not begin at its end there is a step.
type stretch struct{ from, to r2.Point }

// straight is a stretch of one diameter.
func straight(diameter, low, high float64) stretch {
	return stretch{r2.Point{X: diameter / 2, Y: low}, r2.Point{X: diameter / 2, Y: high}}
}

// outline returns the cutter from the foremost point to the holder's face, arcs
// by their tangents.
func (t *Tool) outline() []stretch {
	c := t.Cutter
	line := c.end()
	// A point or a corner longer than APMX goes on above it: DC comes first where
	// it is reached at all.
	body := c.cutting()
	if c.Kind != TouchProbe {
		body = max(body, c.TipLength())
		line = append(line, straight(c.Largest(), c.TipLength(), body))
	}
	shank := max(c.usable(), body)
	return append(line, straight(c.neck(), body, shank), straight(c.shank(), shank, t.StickOut))
}

// end returns the outline up to TipLength: the point or the rounded corner; a
// probe's ball up to its stem.
func (c *Cutter) end() []stretch {
	r, re := c.DC/2, c.corner()
	switch {
	case !(r > 0 && r < math.MaxFloat32): // no cutter: Check says so
		return nil
	case c.Kind == TouchProbe:
		return upTo(tangents(r2.Point{Y: r}, r, math.Pi), c.cutting())
	case c.pointed():
		return []stretch{{r2.Point{X: c.flat()}, r2.Point{X: r, Y: c.TipLength()}}}
	case re > 0:
		return tangents(r2.Point{X: r - re, Y: re}, re, math.Pi/2)
	default:
		return nil
	}
}

// How far outside of an arc its tangents may meet: a part of its radius, and a
// length in mm. With the sides of the solid that makes less than 0.15 % of the radius
// and 3 um.
const (
	arcPart   = 0.0005
	arcLength = 0.003
)

// tangents returns the outline around an arc that runs counter-clockwise from
// straight below its centre, a quarter or half turn. The first tangent and the
// last, level and upright of a quarter, are those at its ends. Tangents at an
// angle of 2h to each other meet at radius/cos(h).
func tangents(center r2.Point, radius, turn float64) []stretch {
	widest := math.Acos(radius / (radius*(1+arcPart) + arcLength))
	n := math.Ceil(turn / 2 / widest)
	h := turn / 2 / n
	meet := func(i int) r2.Point {
		sin, cos := math.Sincos(float64(2*i+1) * h)
		return center.Add(r2.Point{X: sin, Y: -cos}.Mul(radius / math.Cos(h)))
	}
	var line []stretch
	for i := range int(n) - 1 {
		line = append(line, stretch{meet(i), meet(i + 1)})
	}
	// the last one ends on the arc, and never below where the tangent is touched
	last := meet(int(n) - 1)
	sin, cos := math.Sincos(turn)
	return append(line, stretch{last, center.Add(r2.Point{X: sin, Y: -cos}.Mul(radius))})
}

// upTo cuts off what is above a height.
func upTo(line []stretch, high float64) []stretch {
	for i, s := range line {
		if s.to.Y > high {
			line[i].to = r2.Point{X: s.at(high), Y: high}
		}
	}
	return line
}

// between returns the points of the outline from one height to another, steps as
// two points of one height.
func between(line []stretch, low, high float64) []r2.Point {
	var points []r2.Point
	for _, s := range line {
		from, to := max(s.from.Y, low), min(s.to.Y, high)
		if !(from < to) {
			continue
		}
		for _, y := range [2]float64{from, to} {
			points = append(points, r2.Point{X: s.at(y), Y: y})
		}
	}
	return points
}

// at returns the radius at a height of the stretch; exactly that of its ends there.
func (s stretch) at(y float64) float64 {
	switch y {
	case s.from.Y:
		return s.from.X
	case s.to.Y:
		return s.to.X
	default:
		return s.from.X + (s.to.X-s.from.X)*(y-s.from.Y)/(s.to.Y-s.from.Y)
	}
}
