package collide

import (
	"math"
	"testing"

	"gridswing/geom"
	"gridswing/geom/motion"

	"github.com/golang/geo/r3"
)

// Closed forms here are by hand, from the coordinates; vertices are float32, off
// by at most 4e-6 below 64 mm.
const stored32 = 4e-6

// wall returns the side of a prism with n corners, the first at angle 0.
func wall(n int, radius, z0, z1 float64) *geom.Mesh {
	return band(n, radius, radius, z0, z1)
}

// band returns the surface between two such corners' rings.
func band(n int, r0, r1, z0, z1 float64) *geom.Mesh {
	m := &geom.Mesh{}
	at := func(i int, r, z float64) geom.Vertex {
		sin, cos := math.Sincos(2 * math.Pi * float64(i%n) / float64(n))
		return geom.VertexOf(r3.Vector{X: r * cos, Y: r * sin, Z: z})
	}
	for i := range n {
		a, b, c, d := at(i, r0, z0), at(i+1, r0, z0), at(i+1, r1, z1), at(i, r1, z1)
		m.Facets = append(m.Facets, geom.Facet{a, b, c}, geom.Facet{a, c, d})
	}
	return m
}

func wants(t *testing.T, what string, out Outcome, want, tolerance float64) {
	t.Helper()
	if out.Stopped != "" || out.Contact || out.Lower > want+stored32 || out.Upper < want-stored32 || out.Upper-out.Lower > tolerance*1.1 {
		t.Errorf("%s: %.7f..%.7f, want %.7f: %+v", what, out.Lower, out.Upper, want, out)
	}
}

// Two parallel cylinders of 48 sides, 30 mm between their axes: the second turns
// about its own. Nearest are corner and corner, 30 - 10 - 8, as soon as a corner
// faces the first one; while none comes nearer than 1/4 pitch, the nearest is a corner
// turned by that much, abreast of the first one's.
func TestParallelCylinders(t *testing.T) {
	const n, pitch = 48, 2 * math.Pi / 48
	p := Pair{A: NewTree(wall(n, 10, 0, 50)), B: NewTree(wall(n, 8, 10, 90))}
	p.Motion = chainOf(rotary(r3.Vector{Z: 1}, r3.Vector{X: 30}, 0))
	p.Motion.Home.T.X = 30
	to := Limits{Enough: math.Inf(1), Absolute: 1e-5}
	wants(t, "one pitch", sweep(t, p, over(0.1*pitch, 1.1*pitch), to), 12, 1e-5)
	wants(t, "between corners", sweep(t, p, over(0.25*pitch, 0.75*pitch), to),
		math.Hypot(20-8*math.Cos(pitch/4), 8*math.Sin(pitch/4)), 1e-5)
	wants(t, "side to corner", sweep(t, p, over(0.5*pitch, 0.5*pitch), to), 20-8*math.Cos(pitch/2), 1e-5)
}

// Two edges that cross at a height of 3 are 3 apart at any angle, until they are
// parallel and beyond; tilted about the lower one's direction at their crossing, the
// upper stays 3 away as well.
func TestSkewEdges(t *testing.T) {
	up := func(x, y, z float64) geom.Vertex { return geom.VertexOf(r3.Vector{X: x, Y: y, Z: z}) }
	roof := &geom.Mesh{Facets: []geom.Facet{{up(-40, 0, 0), up(40, 0, 0), up(0, 9, -20)}, {up(-40, 0, 0), up(40, 0, 0), up(0, -9, -20)}}}
	keel := &geom.Mesh{Facets: []geom.Facet{{up(-40, 0, 3), up(40, 0, 3), up(0, 9, 20)}, {up(-40, 0, 3), up(40, 0, 3), up(0, -9, 20)}}}
	p := Pair{A: NewTree(roof), B: NewTree(keel), Motion: chainOf(rotary(r3.Vector{Z: 1}, r3.Vector{}, 0))}
	to := Limits{Enough: math.Inf(1), Absolute: 1e-3}
	wants(t, "turned", sweep(t, p, over(0.05, 3.1), to), 3, 1e-3)
	wants(t, "turned over parallel", sweep(t, p, over(-1, 1), to), 3, 1e-3)
	p.Motion.Joints = append(p.Motion.Joints, linear(r3.Vector{Z: 1}, 1))
	if out := sweep(t, p, over(0.5, 2.5, -3, 0), to); !out.Contact {
		t.Errorf("lowered by 3: contact missed: %+v", out)
	}
	wants(t, "lowered by 2", sweep(t, p, over(0.5, 2.5, -2, 0), to), 1, 1e-3)
}

// Two flat coaxial rings of 64 corners, 4 mm apart along the axis; the outer's
// inner edge has corners at 30, the inner's outer edge at 27. A corner of the inner
// is nearest to a side of the outer, whose middle is at 30 cos(pi/64), when it
// stands square to it; aligned, sides are parallel.
func TestCoaxialRings(t *testing.T) {
	const n, half = 64, math.Pi / 64
	p := Pair{A: NewTree(band(n, 30, 40, 0, 0)), B: NewTree(band(n, 20, 27, 4, 4))}
	p.Motion = chainOf(rotary(r3.Vector{Z: 1}, r3.Vector{}, 0))
	to := Limits{Enough: math.Inf(1), Absolute: 1e-4}
	wants(t, "a full turn", sweep(t, p, over(0, 2*math.Pi), to), math.Hypot(4, 30*math.Cos(half)-27), 1e-4)
	wants(t, "aligned", sweep(t, p, over(0, 0), to), math.Hypot(4, 3*math.Cos(half)), 1e-4)
}

// Two equal linked circles, each through the other's centre and square to it,
// are R apart everywhere: a point (R + R cos s, 0, R sin s) of the one is
// hypot(R(1 + cos s) - R, R sin s) = R from the other. As tubes of radius r they are
// R - 2r apart; chords, 48 round the ring and 8 round the tube, are off by up to
// R(1 - cos(pi/48)) and r(1 - cos(pi/8)) on each. Turned on its own axis a ring stays where it is.
func TestLinkedRings(t *testing.T) {
	const R, r = 50, 4
	ring := lattice(48, 8, true, func(u, v float64) r3.Vector {
		su, cu := math.Sincos(2 * math.Pi * u)
		sv, cv := math.Sincos(2 * math.Pi * v)
		return r3.Vector{X: (R + r*cv) * cu, Y: (R + r*cv) * su, Z: r * sv}
	})
	p := Pair{A: NewTree(ring), B: NewTree(ring)}
	home := geom.Turn(r3.Vector{}, r3.Vector{X: 1}, math.Pi/2)
	home.T.X = R
	p.Motion = motion.Chain{Home: home, Joints: []motion.Joint{rotary(r3.Vector{Y: 1}, r3.Vector{X: R}, 0)}}
	thin := 2*R*(1-math.Cos(math.Pi/48)) + 2*r*(1-math.Cos(math.Pi/8))
	out := sweep(t, p, over(0, 2*math.Pi), Limits{Enough: math.Inf(1), Absolute: 0.5})
	if out.Contact || math.Abs(out.Upper-(R-2*r)) > thin || out.Upper-out.Lower > 0.51 {
		t.Errorf("%.4f..%.4f, want %d give or take %.4f", out.Lower, out.Upper, R-2*r, thin)
	}
	// Laid flat, about the line through both centres, they cross.
	p.Motion.Joints[0] = rotary(r3.Vector{X: 1}, r3.Vector{}, 0)
	if out := sweep(t, p, over(0, math.Pi/2), smallest); !out.Contact {
		t.Errorf("laid flat: contact missed: %+v", out)
	}
}

// A bar that turns inside a box never meets its surface, and is inside all the way.
func TestBodyInsideAnother(t *testing.T) {
	box, bar := NewTree(centered(60, 60, 60)), NewTree(centered(40, 2, 2))
	p := Pair{A: box, B: bar, Motion: chainOf(rotary(r3.Vector{Z: 1}, r3.Vector{}, 0))}
	out := sweep(t, p, over(0, 2*math.Pi), Limits{Enough: math.Inf(1), Absolute: 1e-4})
	wants(t, "inside", out, 30-math.Hypot(20, 1), 1e-4)
	pose := p.Motion.Pose(out.At)
	if !box.Contains(pose.Point(r3.Vector{X: 20, Y: 1, Z: 1})) {
		t.Error("the bar's corner is not inside the box")
	}
}
