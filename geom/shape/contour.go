package shape

import (
	"math"

	"github.com/golang/geo/r2"
)

// Contour is a closed polygon without self-crossings; the last corner joins the
// first. Either sense of rotation will do where a Contour is passed in.
type Contour []r2.Point

// Region is an area bounded by contours that do not cross: what is inside an
// odd number of them. So an outline and its holes, in any order.
type Region []Contour

// Rect returns the rectangle between two opposite corners.
func Rect(x0, y0, x1, y1 float64) Contour {
	x0, x1 = min(x0, x1), max(x0, x1)
	y0, y1 = min(y0, y1), max(y0, y1)
	return Contour{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: y1}, {X: x0, Y: y1}}
}

// RoundRect returns a rectangle with corners rounded to the radius, corners of
// the polygon on the arcs.
func RoundRect(x0, y0, x1, y1, radius float64, d Round) Contour {
	n := d.Segments(radius) / 4
	var c Contour
	for q, at := range Rect(x0, y0, x1, y1).inset(radius) {
		for i := 0; i <= n; i++ {
			dir := direction(q*n+2*n+i, 4*n)
			c = append(c, at.Add(dir.Mul(radius)))
		}
	}
	return c
}

// Line returns the contour continued by straight edges to the points.
func (c Contour) Line(to ...r2.Point) Contour { return append(c, to...) }

// Arc returns the contour continued by an arc about the center from its last
// point to the given one, counter-clockwise or clockwise; both must lie on the
// circle. Corners lie on the arc.
func (c Contour) Arc(center, to r2.Point, counterClockwise bool, d Round) Contour {
	from := c[len(c)-1]
	u, v := from.Sub(center), to.Sub(center)
	sweep := math.Atan2(u.Cross(v), u.Dot(v))
	if counterClockwise && sweep <= 0 {
		sweep += 2 * math.Pi
	}
	if !counterClockwise && sweep >= 0 {
		sweep -= 2 * math.Pi
	}
	full := Round{Chord: d.Chord}.Segments(u.Norm())
	n := max(1, int(math.Ceil(math.Abs(sweep)/(2*math.Pi)*float64(full)-1e-9)))
	for i := 1; i < n; i++ {
		sin, cos := math.Sincos(sweep * float64(i) / float64(n))
		c = append(c, center.Add(r2.Point{X: cos*u.X - sin*u.Y, Y: sin*u.X + cos*u.Y}))
	}
	return append(c, to)
}

// area is positive for a counter-clockwise contour.
func (c Contour) area() float64 {
	a := 0.0
	for i, p := range c {
		a += p.Cross(c[(i+1)%len(c)])
	}
	return a / 2
}

func (c Contour) bounds() r2.Rect { return r2.RectFromPoints(c...) }

// reversed runs the other way round from the same first corner.
func (c Contour) reversed() Contour {
	out := make(Contour, len(c))
	for i, p := range c {
		out[(len(c)-i)%len(c)] = p
	}
	return out
}

// inset moves every edge by d to its left, mitred: a counter-clockwise contour
// shrinks, a clockwise one grows. The caller sees to it that no edge vanishes.
func (c Contour) inset(d float64) Contour {
	if d == 0 {
		return c
	}
	out := make(Contour, len(c))
	n := len(c)
	for i, p := range c {
		in := p.Sub(c[(i+n-1)%n]).Normalize()
		ex := c[(i+1)%n].Sub(p).Normalize()
		// the corner of both shifted edges: p + d (n1 + n2) / (1 + n1.n2)
		sum := in.Ortho().Add(ex.Ortho())
		out[i] = p.Add(sum.Mul(d / (1 + in.Dot(ex))))
	}
	return out
}

// contains reports whether p is inside (crossing number; on the edge: either).
func (c Contour) contains(p r2.Point) bool {
	in := false
	for i, a := range c {
		b := c[(i+1)%len(c)]
		if (a.Y > p.Y) == (b.Y > p.Y) {
			continue
		}
		// the edge crosses the line y = p.Y; is that to the right of p?
		if s := orientation(a, b, p); (s > 0) == (b.Y > a.Y) && s != 0 {
			in = !in
		}
	}
	return in
}

// Inset returns the region with its boundary moved into the material by d:
// outlines shrink, holes grow. With a chamfer it is the face that is left.
func (r Region) Inset(d float64) Region {
	out := make(Region, len(r))
	for i, c := range r.oriented() {
		out[i] = c.inset(d)
	}
	return out
}

// oriented returns the contours with the material on their left.
func (r Region) oriented() Region {
	out := make(Region, len(r))
	boxes := make([]r2.Rect, len(r))
	for i, c := range r {
		boxes[i] = c.bounds()
	}
	for i, c := range r {
		depth := 0
		for k, other := range r {
			if k != i && boxes[k].Contains(boxes[i]) && other.holds(c) {
				depth++
			}
		}
		out[i] = c
		if (c.area() > 0) != (depth%2 == 0) {
			out[i] = c.reversed()
		}
	}
	return out
}

// holds reports whether inner, which does not cross c, lies inside it. Contours
// may touch, so the first corner that is not on c decides.
func (c Contour) holds(inner Contour) bool {
	for _, p := range inner {
		if !c.touches(p) {
			return c.contains(p)
		}
	}
	return c.contains(inner[0].Add(inner[1]).Mul(0.5))
}

func (c Contour) touches(p r2.Point) bool {
	for i, a := range c {
		b := c[(i+1)%len(c)]
		if min(a.X, b.X) <= p.X && p.X <= max(a.X, b.X) && min(a.Y, b.Y) <= p.Y && p.Y <= max(a.Y, b.Y) &&
			orientation(a, b, p) == 0 {
			return true
		}
	}
	return false
}
