package bores

import (
	"cmp"
	"math"
	"slices"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
)

// Circle is a polar pattern: holes of one diameter in one face at equal angles on a
// circle, some of which may be missing.
type Circle struct {
	Diameter float64   // of the holes at the face, mm
	Centre   r3.Vector // in the face
	Axis     r3.Vector // unit, out of the holes
	Radius   float64   // of the circle of their centres, mm
	Places   int       // at equal angles all round
	Openings []Opening // in the sense of a right-handed turn about Axis, from First on
	First    r3.Vector // unit, from the centre to the first of them
	Missing  int
	Worst    float64 // the farthest hole from its place, mm
}

// polar is a circle of points at equal angles.
type polar struct {
	center  r2.Point
	radius  float64
	places  int
	members []int // counter-clockwise
	worst   float64
	marked  bool // something round stands in its middle
}

// bestPolar finds the circle that most of the points lie on at equal angles, nil
// without one of 3 or more. Centres are looked for in the middle of all points, at
// those given (of other round things) and, among few points, through each three.
func bestPolar(points, centers []r2.Point) *polar {
	const few = 24
	var best *polar
	consider := func(c r2.Point, marked bool) {
		if p := newPolar(points, c, marked); p != nil && (best == nil || len(p.members) > len(best.members)) {
			best = p
		}
	}
	for _, c := range centers {
		consider(c, true)
	}
	var mean r2.Point
	for _, p := range points {
		mean = mean.Add(p)
	}
	consider(mean.Mul(1/float64(len(points))), false)
	if len(points) > few {
		return best
	}
	for i := range points {
		for j := i + 1; j < len(points); j++ {
			for k := j + 1; k < len(points); k++ {
				if c, ok := circumcentre(points[i], points[j], points[k]); ok {
					consider(c, false)
				}
			}
		}
	}
	return best
}

// circumcentre returns the centre of the circle through three points.
func circumcentre(a, b, c r2.Point) (r2.Point, bool) {
	p, q := b.Sub(a), c.Sub(a)
	d := 2 * p.Cross(q)
	if math.Abs(d) < 0.1*p.Norm()*q.Norm() { // too flat to tell
		return r2.Point{}, false
	}
	pp, qq := p.Dot(p), q.Dot(q)
	return a.Add(r2.Point{X: (q.Y*pp - p.Y*qq) / d, Y: (p.X*qq - q.X*pp) / d}), true
}

// spoke is where a point lies as seen from a centre.
type spoke struct {
	i             int
	radius, angle float64
}

// fullestRing returns the points at the radius about a centre at which most lie, by
// their angle.
func fullestRing(points []r2.Point, center r2.Point) []spoke {
	spokes := make([]spoke, len(points))
	for i, p := range points {
		d := p.Sub(center)
		spokes[i] = spoke{i, d.Norm(), math.Atan2(d.Y, d.X)}
	}
	slices.SortStableFunc(spokes, func(a, b spoke) int { return cmp.Compare(a.radius, b.radius) })
	var ring []spoke
	for i, k := 0, 0; i < len(spokes); i++ {
		for k < len(spokes) && spokes[k].radius <= spokes[i].radius+samePlace {
			k++
		}
		if k-i > len(ring) {
			ring = spokes[i:k]
		}
	}
	ring = slices.Clone(ring)
	slices.SortFunc(ring, func(a, b spoke) int { return cmp.Or(cmp.Compare(a.angle, b.angle), cmp.Compare(a.i, b.i)) })
	return ring
}

// newPolar looks for points at equal angles about a centre; nil if there are too few.
func newPolar(points []r2.Point, center r2.Point, marked bool) *polar {
	ring := fullestRing(points, center)
	n := len(ring)
	if n < 3 || ring[0].radius < 10*samePlace {
		return nil
	}
	p := &polar{center: center, marked: marked}
	step, widest, first := 2*math.Pi, 0.0, 0
	for i, s := range ring {
		before := ring[(i+n-1)%n].angle
		if i == 0 {
			before -= 2 * math.Pi
		}
		gap := s.angle - before
		step = min(step, gap)
		if gap > widest+1e-6 {
			widest, first = gap, i
		}
		p.radius += s.radius / float64(n)
	}
	p.places = int(math.Round(2 * math.Pi / max(step, 1e-3)))
	missing := p.places - n
	if missing < 0 || missing > 0 && (n < 4 || 3*missing > n) {
		return nil
	}
	if missing == 0 { // at +u, or the next one on; else the first one after the widest gap
		first = max(0, slices.IndexFunc(ring, func(s spoke) bool { return s.angle > -1e-3 }))
	}
	p.take(ring, first)
	if p.worst > 2*samePlace {
		return nil
	}
	return p
}

// take numbers the points of a ring from first on, and finds the farthest from its place.
func (p *polar) take(ring []spoke, first int) {
	for i := range ring {
		s := ring[(first+i)%len(ring)]
		turns := (s.angle - ring[first].angle) / (2 * math.Pi) * float64(p.places)
		off := math.Abs(turns-math.Round(turns)) / float64(p.places) * 2 * math.Pi * p.radius
		p.worst = max(p.worst, off, math.Abs(s.radius-p.radius))
		p.members = append(p.members, s.i)
	}
}

func newCircle(p *polar, f frame, group []Opening, points []r2.Point) Circle {
	c := Circle{
		Centre: f.origin.Add(f.lift(p.center)), Axis: f.normal, Radius: p.radius, Places: p.places,
		First: f.lift(points[p.members[0]].Sub(p.center)).Normalize(), Missing: p.places - len(p.members), Worst: p.worst,
	}
	for _, i := range p.members {
		c.Openings = append(c.Openings, group[i])
		c.Diameter += group[i].Diameter / float64(len(p.members))
	}
	return c
}
