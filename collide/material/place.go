package material

import (
	"math"

	"github.com/golang/geo/r3"
)

// Envelope of an outline over at most one way, for what it takes away.
//
// The outline in place at s is the set of points with g(rho, z) <= 0, rho and z the distance from its axis and the
// height: g is the largest of c rho + m z + k over the outline's edges, c >= 0 and (c, m) of length 1. So g is
// convex, no steeper than 1, and so is
//
//	phi(p) = min over s in [0, 1] of g(p - s w)
//
// as the least of a jointly convex function over some of its variables (Boyd, Vandenberghe, "Convex Optimization",
// 2004, section 3.2.5). phi <= 0 is what is swept, phi <= -Off what is swept wherever within Off it goes: a
// ball of radius Off about such a point is in it, phi being no steeper than 1. Any s gives an upper bound
// of phi, so the value found is never less than phi, however well s was found.
type envelope struct {
	origin, axis r3.Vector
	way          r3.Vector
	rise         float64   // of the way along the axis
	aside        r3.Vector // the way's part square to the axis
	aside2       float64   // its square, and 1 over it
	perAside2    float64
	sides        []flank
	off          float64 // added to phi
	widest       float64 // radius
}

// flank is an edge of an outline: c rho + m z + k <= 0 within.
type flank struct{ c, m, k float64 }

// place places an outline; it reports whether there is anything in it.
func (e *envelope) place(o Outline, s *Sweep, off float64) bool {
	e.origin, e.axis, e.off, e.way = s.Origin, s.Axis, off, r3.Vector{}
	if len(s.Ways) > 0 {
		e.way = s.Ways[0]
	}
	e.rise = e.way.Dot(e.axis)
	e.aside = e.way.Sub(e.axis.Mul(e.rise))
	e.aside2 = e.aside.Norm2()
	if e.aside2 < 1e-24 { // no way to speak of
		e.aside2, e.aside = 0, r3.Vector{}
	} else {
		e.perAside2 = 1 / e.aside2
	}
	return e.setFlanks(o)
}

// setFlanks finds the edges of an outline. Where it is not quite convex, the part that is within all edges is
// taken, which is less.
func (e *envelope) setFlanks(o Outline) bool {
	if len(o) < 2 {
		return false
	}
	low, high := o[0][1], o[len(o)-1][1]
	e.sides = append(e.sides[:0], flank{}, flank{})
	e.widest = o[0][0]
	for i := range o[1:] {
		e.widest = max(e.widest, o[i+1][0])
		dr, dz := o[i+1][0]-o[i][0], o[i+1][1]-o[i][1]
		if dz <= 1e-9*(1+math.Abs(dr)) { // flat: the bottom, or the top
			if dr > 0 {
				low = max(low, o[i+1][1])
			} else if dr < 0 {
				high = min(high, o[i][1])
			}
			continue
		}
		l := math.Hypot(dr, dz)
		e.sides = append(e.sides, flank{c: dz / l, m: -dr / l, k: (dr*o[i][1] - dz*o[i][0]) / l})
	}
	e.sides[0] = flank{m: -1, k: low}
	e.sides[1] = flank{m: 1, k: -high}
	return high > low && len(e.sides) > 2
}

// at returns g at a place seen from the frame's origin, and its slopes along the radius and the axis.
func (e *envelope) at(rho, z float64) (g float64, by *flank) {
	g = math.Inf(-1)
	for i := range e.sides {
		b := &e.sides[i]
		if v := b.c*rho + b.m*z + b.k; v > g {
			g, by = v, b
		}
	}
	return g, by
}

// depth returns an upper bound of phi at p, plus off: not above 0 where p is surely taken.
func (e *envelope) depth(p r3.Vector) float64 {
	g, _, _ := e.touch(p)
	return g
}

// beyond reports whether p is surely so far outside, or so far inside, that nothing or everything within r of it is
// taken; a quicker look than depth. Where g is least along the radius, at s, it is nowhere less by more than the rise.
func (e *envelope) beyond(p r3.Vector, r float64) (out, in bool) {
	d := p.Sub(e.origin)
	s, rho, z := e.across(d)
	if far := r + math.Abs(e.rise); rho > e.widest+r || -z+s*e.rise+e.sides[0].k > far || z-s*e.rise+e.sides[1].k > far {
		return true, false
	}
	g, _ := e.at(rho, z-s*e.rise)
	g += e.off
	if math.Abs(e.rise) > level && g >= -r && g-math.Abs(e.rise) <= r {
		g, _, _ = e.least(d, s)
	}
	return g > r, g < -r
}

// level is a rise along the axis that is none, mm.
const level = 1e-9

// across returns the s at which a place, seen from the origin, is nearest to the axis, how near, and its height at s = 0.
func (e *envelope) across(d r3.Vector) (s, rho, z float64) {
	z = d.X*e.axis.X + d.Y*e.axis.Y + d.Z*e.axis.Z
	x, y, w := d.X-z*e.axis.X, d.Y-z*e.axis.Y, d.Z-z*e.axis.Z
	if e.aside2 > 0 {
		s = max(0, min(1, (x*e.aside.X+y*e.aside.Y+w*e.aside.Z)*e.perAside2))
		x, y, w = x-s*e.aside.X, y-s*e.aside.Y, w-s*e.aside.Z
	}
	return s, math.Sqrt(x*x + y*y + w*w), z
}

// touch returns depth, and the side and the s that tell it.
func (e *envelope) touch(p r3.Vector) (g float64, by *flank, s float64) {
	d := p.Sub(e.origin)
	s, rho, z := e.across(d)
	if math.Abs(e.rise) <= level {
		g, by = e.at(rho, z-s*e.rise)
		return g + e.off, by, s
	}
	return e.least(d, s)
}

// look returns g at s, and its slope along s; d is seen from the origin.
func (e *envelope) look(d r3.Vector, s float64) (g, slope float64, by *flank) {
	z := d.Dot(e.axis)
	q := d.Sub(e.axis.Mul(z)).Sub(e.aside.Mul(s))
	rho := math.Sqrt(q.Dot(q))
	g, by = e.at(rho, z-s*e.rise)
	if rho > 0 {
		slope = -by.c * q.Dot(e.aside) / rho
	}
	return g, slope - by.m*e.rise, by
}

// least finds the s of the least g by tangents: g along s is convex, so it is nowhere below its tangents at two
// places on either side of the least, and where those meet is the next place to look at.
func (e *envelope) least(d r3.Vector, first float64) (g float64, by *flank, s float64) {
	s = first
	g, slope, by := e.look(d, s)
	lo, hi := tangent{s, g, slope}, tangent{s, g, slope}
	if slope == 0 || slope > 0 && s == 0 || slope < 0 && s == 1 {
		return g + e.off, by, s
	}
	end := 1.0
	if slope > 0 {
		end = 0
	}
	for t, n := end, 0; ; n++ {
		v, slope, b := e.look(d, t)
		if v < g {
			g, by, s = v, b, t
		}
		if slope < 0 {
			lo = tangent{t, v, slope}
		} else {
			hi = tangent{t, v, slope}
		}
		if n == 24 || lo.slope >= 0 || hi.slope <= 0 {
			return g + e.off, by, s // the end is the least, or it is near enough
		}
		t = (hi.g - lo.g + lo.slope*lo.s - hi.slope*hi.s) / (lo.slope - hi.slope)
		if g-(lo.g+lo.slope*(t-lo.s)) < 1e-6 || !(t > lo.s && t < hi.s) {
			return g + e.off, by, s
		}
	}
}

// tangent is what g is along s at a place, and how it changes there.
type tangent struct{ s, g, slope float64 }

// out returns the outward normal of the envelope near p.
func (e *envelope) out(p r3.Vector) r3.Vector {
	_, by, s := e.touch(p)
	d := p.Sub(e.origin).Sub(e.way.Mul(s))
	z := d.Dot(e.axis)
	q := d.Sub(e.axis.Mul(z))
	n := e.axis.Mul(by.m)
	if l := q.Norm(); l > 0 {
		n = n.Add(q.Mul(by.c / l))
	}
	return n
}

// figure is a convex body on its ways, told by its support function.
type figure struct {
	origin, axis r3.Vector
	outline      Outline
	points       []r3.Vector
	ways         []r3.Vector
}

func figureOf(b *Body, s *Sweep) figure {
	f := figure{origin: s.Origin, axis: s.Axis, outline: b.Outline, ways: s.Ways}
	if b.Outline == nil {
		f.points = b.Points
	}
	return f
}

// far returns how far the figure reaches along u, the largest u.x over it: the support function of a sum is the
// sum of the support functions.
func (f *figure) far(u r3.Vector) float64 {
	far := math.Inf(-1)
	if f.outline != nil {
		z := u.Dot(f.axis)
		r := math.Sqrt(max(0, u.Dot(u)-z*z))
		for i := range f.outline {
			far = max(far, f.outline[i][0]*r+f.outline[i][1]*z)
		}
	}
	for i := range f.points {
		far = max(far, u.Dot(f.points[i]))
	}
	for i := range f.ways {
		far += max(0, u.Dot(f.ways[i]))
	}
	return far + u.Dot(f.origin)
}

// farthest returns a point of the figure that reaches farthest along u, and how far.
func (f *figure) farthest(u r3.Vector) (p r3.Vector, far float64) {
	far = math.Inf(-1)
	if f.outline != nil {
		z := u.Dot(f.axis)
		aside := u.Sub(f.axis.Mul(z))
		r := aside.Norm()
		if r > 0 {
			aside = aside.Mul(1 / r)
		}
		for i := range f.outline {
			if v := f.outline[i][0]*r + f.outline[i][1]*z; v > far {
				far, p = v, aside.Mul(f.outline[i][0]).Add(f.axis.Mul(f.outline[i][1]))
			}
		}
	}
	for i := range f.points {
		if v := u.Dot(f.points[i]); v > far {
			far, p = v, f.points[i]
		}
	}
	for i := range f.ways {
		if u.Dot(f.ways[i]) > 0 {
			p = p.Add(f.ways[i])
			far += u.Dot(f.ways[i])
		}
	}
	return p.Add(f.origin), far + u.Dot(f.origin)
}

// empty reports whether there is nothing in the figure.
func (f *figure) empty() bool { return len(f.outline) == 0 && len(f.points) == 0 }

// bounds returns the figure's lowest and highest coordinates.
func (f *figure) bounds() (lo, hi r3.Vector) {
	hi = r3.Vector{X: f.far(r3.Vector{X: 1}), Y: f.far(r3.Vector{Y: 1}), Z: f.far(r3.Vector{Z: 1})}
	lo = r3.Vector{X: -f.far(r3.Vector{X: -1}), Y: -f.far(r3.Vector{Y: -1}), Z: -f.far(r3.Vector{Z: -1})}
	return lo, hi
}
