package kinematics

import (
	"math"
	"testing"

	"gridswing/geom"
	"gridswing/geom/motion"

	"github.com/golang/geo/r3"
)

// cone returns tips and axes along a cone of the given half-angle, tipped by
// lean towards +X: the tool lies along the cone's straight lines, with its tip on the
// base circle. The position round the cone, in degrees, is counted from the line
// that is nearest to upright.
func cone(theta, lean, radius float64, middle r3.Vector, round []float64) (tips, axes []r3.Vector) {
	tipped := geom.Turn(r3.Vector{}, vec(0, 1, 0), radians(lean))
	sin, cos := math.Sincos(radians(theta))
	for _, u := range round {
		su, cu := math.Sincos(radians(u))
		tips = append(tips, middle.Add(tipped.Dir(vec(radius*cu, radius*su, 0))))
		axes = append(axes, tipped.Dir(vec(-sin*cu, -sin*su, cos)))
	}
	return tips, axes
}

func around360(n int) []float64 {
	list := make([]float64, n+1)
	for i := range list {
		list[i] = 360 * float64(i) / float64(n)
	}
	return list
}

// The cone-frustum test piece of NAS 979 and ISO 10791-7: ranges of tilt and rotary.
// Derived: the tool's axis runs round a small circle of radius theta, lean from the
// rotary axis, so tilt is between |theta - lean| and theta + lean, and the
// rotary turns once round (theta > lean), swings 2 asin(sin theta / sin lean) (theta < lean), or
// turns by half (equal). That there are three kinds is published: Proc. LEM21 2015.8,
// paper 0218-1. Values also by brute force outside this project.
func TestConeRanges(t *testing.T) {
	for _, c := range []struct{ theta, lean, least, most, turn float64 }{
		{15, 10, 5, 25, 360},
		{15, 0, 15, 15, 360},
		{15, 15, 0, 30, 180},
		{15, 30, 15, 45, 62.347904},
		{15, 45, 30, 60, 42.941403},
		{15, 75, 60, 90, 31.084536},
		{15, 90, 75, 105, 30},
		{30, 10, 20, 40, 360},
		{30, 45, 15, 75, 90},
		{30, 60, 30, 90, 70.528779},
		{45, 10, 35, 55, 360},
		{45, 30, 15, 75, 360},
		{45, 60, 15, 105, 109.471221},
		{10, 15, 5, 25, 84.277000},
		{10, 75, 65, 85, 20.713172},
	} {
		// A tilt that only goes one way, so that the singular one has to turn round.
		m := table(t, vec(1, 0, 0), vec(0, 0, 50), [2]float64{0, radians(120)}, unlimited)
		tips, axes := cone(c.theta, c.lean, 40, vec(0, 60, 50), around360(3600))
		path, err := m.Contour(tips, axes, false, 100, motion.Params{})
		if err != nil {
			t.Fatal(err)
		}
		lo, hi := path.Positions[0], path.Positions[0]
		for _, p := range path.Positions {
			for k := range p {
				lo[k], hi[k] = min(lo[k], p[k]), max(hi[k], p[k])
			}
		}
		nearly(t, "least tilt", degrees(lo[tilt]), c.least, 1e-9)
		nearly(t, "most tilt", degrees(hi[tilt]), c.most, 1e-9)
		within := 1e-4
		if c.theta == c.lean {
			within = 0.1 // the half turn is between the points beside the singular one, 0.1 degrees away
		}
		nearly(t, "rotary", degrees(hi[rotary]-lo[rotary]), c.turn, within)
		if singular := c.theta == c.lean; !path.Within || singular != (len(path.Singular) > 0) {
			t.Errorf("theta %g, lean %g: within %v, singular %v", c.theta, c.lean, path.Within, path.Singular)
		}
		net := degrees(path.Positions[3600][rotary] - path.Positions[0][rotary])
		if c.turn == 360 {
			nearly(t, "net turn", math.Abs(net), 360, 1e-6)
		} else if c.theta != c.lean {
			nearly(t, "net turn", net, 0, 1e-6)
		}
	}
}

// The whole path of a cone of 15 degrees, tipped by 10, on a table that tilts about X:
// derived, outside this project. C goes on through 360; once round it is 360 more.
func TestConePath(t *testing.T) {
	m := table(t, vec(1, 0, 0), vec(0, 0, 50), unlimited, unlimited)
	tips, axes := cone(15, 10, 40, vec(0, 60, 50), around360(6))
	path, err := m.Contour(tips, axes, true, 0, motion.Params{rotary: radians(270)})
	if err != nil {
		t.Fatal(err)
	}
	for i, c := range []struct {
		a, c float64
		at   r3.Vector
	}{
		{5, 270, vec(-60, 47.3526, 89.2667)},
		{13.1638, 370.1896, vec(36.1280, 109.2905, 73.5709)},
		{21.7546, 412.7884, vec(63.4614, 106.0783, 69.0766)},
		{25, 450, vec(60, 80.8989, 80.2780)},
		{21.7546, 487.2116, vec(32.1075, 38.6756, 95.9738)},
		{13.1638, 529.8104, vec(-14.8994, -5.7133, 100.4682)},
		{5, 630, vec(-60, 47.3526, 89.2667)},
	} {
		p := path.Positions[i]
		nearly(t, "A", degrees(p[tilt]), c.a, 5e-5)
		nearly(t, "C", degrees(p[rotary]), c.c, 5e-5)
		near(t, "tip", vec(p[x], p[y], p[z]), c.at, 1e-4)
	}
}

// How fast the rotary turns on the way round, derived: sin theta / sin(theta - lean)
// where it is fastest; and points of the cone of 15 degrees tipped by 10.
func TestConePoints(t *testing.T) {
	m := table(t, vec(1, 0, 0), vec(0, 0, 50), unlimited, unlimited)
	from := 0.0
	for i, c := range [][3]float64{
		{180, 25, 0}, {225, 23.151071, 27.742288}, {270, 17.963860, 57.054187},
		{315, 10.570146, 93.907639}, {360, 5, 180},
	} {
		_, axes := cone(15, 10, 40, r3.Vector{}, []float64{c[0]})
		p := m.Present(axes[0], motion.Params{})[0].Position
		if i == 0 {
			from = p[rotary]
		}
		turned := math.Mod(degrees(p[rotary]-from)+360, 360)
		nearly(t, "tilt", degrees(p[tilt]), c[1], 1e-6)
		nearly(t, "rotary", turned, c[2], 1e-6)
	}
	for _, c := range [][4]float64{{15, 10, 2.969616, 0.612418}, {45, 30, 2.732051, 0.732051}} {
		for i, u := range []float64{0, 180} {
			_, axes := cone(c[0], c[1], 40, r3.Vector{}, []float64{u - 1e-3, u + 1e-3})
			a, b := m.Present(axes[0], motion.Params{})[0], m.Present(axes[1], motion.Params{})[0]
			nearly(t, "speed", degrees(b.Position[rotary]-a.Position[rotary])/2e-3, c[2+i], 1e-5)
		}
	}
}
