package loads

import (
	"math"
	"testing"

	"gridswing/geom"

	"github.com/golang/geo/r3"
	"pgregory.net/rapid"
)

func degrees(v float64) float64 { return v * math.Pi / 180 }

// 35 kg at y = 20, z = 120 from the tilt axis: A' by A leaves the arm y cos A + z sin A, so
// that the moment is m g (y cos A + z sin A), g = 9.80665 (3rd CGPM, 1901). Worked out by
// hand. Over -20 to 110 it is largest at A = atan2(z, y), and at neither end.
func TestLargestMomentInsideTheRange(t *testing.T) {
	st := &stand{
		tilt:  &pivot{axis: r3.Vector{X: 1}, sense: -1, over: reach{degrees(-20), degrees(110)}},
		tilts: geom.Rigid{Mass: 35, Centroid: r3.Vector{X: 77, Y: 20, Z: 120}},
		up:    r3.Vector{Z: 1},
	}
	f := st.tiltMoment()
	for _, c := range [][2]float64{{-20, -7.63644}, {0, 6.86465}, {30, 26.53893}, {45, 33.97831}, {60, 39.10212}, {90, 41.18793}, {110, 36.35614}} {
		if got := f.at(degrees(c[0]), 0); !close(got, c[1], 5e-6) {
			t.Errorf("at A %v: %v N m, want %v", c[0], got, c[1])
		}
	}
	top := largest(f, st.tilt.over, reach{})
	if !close(top.load, 41.756066, 5e-7) || !close(top.x/degrees(1), 80.537678, 5e-7) || top.sign != 1 {
		t.Errorf("largest %v N m at %v, want 41.756066 at 80.537678", top.load, top.x/degrees(1))
	}
}

// point is a mass in one point, somewhere on the unit.
type point struct {
	mass  float64
	at    r3.Vector
	turns bool
}

// invented is a unit of any geometry: its axes need not meet, nor be square to each other or
// to gravity.
type invented struct {
	stand
	points []point
}

func anyVector(t *rapid.T, size float64, name string) r3.Vector {
	d := func() float64 { return rapid.Float64Range(-size, size).Draw(t, name) }
	return r3.Vector{X: d(), Y: d(), Z: d()}
}

func anyDirection(t *rapid.T, name string) r3.Vector {
	v := anyVector(t, 1, name)
	if v.Norm() < 0.1 {
		return r3.Vector{Z: 1}
	}
	return v.Normalize()
}

func anyPivot(t *rapid.T, index int, name string) *pivot {
	sense := rapid.SampledFrom([]float64{-1, 1}).Draw(t, name)
	return &pivot{index, anyDirection(t, name), anyVector(t, 100, name), sense, anyReach(t, name)}
}

func anyStand(t *rapid.T) *invented {
	u := &invented{stand: stand{tilt: anyPivot(t, 0, "tilt"), rotary: anyPivot(t, 1, "rotary"), up: anyDirection(t, "up")}}
	var tilts, turns []geom.Rigid
	for range rapid.IntRange(1, 4).Draw(t, "points") {
		p := point{rapid.Float64Range(0, 50).Draw(t, "mass"), anyVector(t, 200, "at"), rapid.Bool().Draw(t, "turns")}
		u.points = append(u.points, p)
		r := geom.Rigid{Mass: p.mass, Centroid: p.at}
		if p.turns {
			turns = append(turns, r)
		} else {
			tilts = append(tilts, r)
		}
	}
	u.tilts, u.turns = geom.Combined(tilts...), geom.Combined(turns...)
	return u
}

// placed returns where a point is, by the poses of the two axes.
func (u *invented) placed(p *point, tilt, rotary float64) r3.Vector {
	pose := geom.Turn(u.tilt.point, u.tilt.axis, u.tilt.sense*tilt)
	if p.turns {
		pose = pose.Mul(geom.Turn(u.rotary.point, u.rotary.axis, u.rotary.sense*rotary))
	}
	return pose.Point(p.at)
}

// Moments and inertia about both axes, and the moment on the faceplate, are what adding up
// r x F and m r^2 of each point gives, wherever the axes stand.
func TestMomentsAreThoseOfThePoints(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := anyStand(t)
		tilt, rotary := rapid.Float64Range(-4, 4).Draw(t, "tilt"), rapid.Float64Range(-4, 4).Draw(t, "rotary")
		turn := geom.Turn(u.tilt.point, u.tilt.axis, u.tilt.sense*tilt)
		axis, centre := turn.Dir(u.rotary.axis), turn.Point(u.rotary.point)
		face := u.rotary.point.Add(u.rotary.axis.Mul(37)).Add(u.rotary.axis.Ortho().Mul(11)) // anywhere on the face
		foot := turn.Point(u.rotary.point.Add(u.rotary.axis.Mul(37)))
		var aboutTilt, aboutRotary, inertia, turning float64
		var onFace r3.Vector
		for i := range u.points {
			p := &u.points[i]
			at := u.placed(p, tilt, rotary)
			force := u.up.Mul(-gravity * p.mass)
			aboutTilt += u.tilt.sense * u.tilt.axis.Dot(at.Sub(u.tilt.point).Cross(force)) / 1e3
			arm := u.tilt.axis.Cross(at.Sub(u.tilt.point)).Norm()
			inertia += p.mass * arm * arm
			if p.turns {
				aboutRotary += u.rotary.sense * axis.Dot(at.Sub(centre).Cross(force)) / 1e3
				arm := axis.Cross(at.Sub(centre)).Norm()
				turning += p.mass * arm * arm
				onFace = onFace.Add(at.Sub(foot).Cross(force).Mul(1e-3))
			}
		}
		if got := u.tiltMoment().at(tilt, rotary); !close(got, aboutTilt, 1e-9) {
			t.Errorf("moment about tilt %v, want %v", got, aboutTilt)
		}
		if got := u.tiltInertia().at(rotary); !close(got, inertia, 1e-6) {
			t.Errorf("inertia about tilt %v, want %v", got, inertia)
		}
		if got := u.rotaryMoment().at(rotary, tilt); !close(got, aboutRotary, 1e-9) {
			t.Errorf("moment about rotary %v, want %v", got, aboutRotary)
		}
		if got := u.rotaryInertia(); !close(got, turning, 1e-6) {
			t.Errorf("inertia about rotary %v, want %v", got, turning)
		}
		square := onFace.Sub(axis.Mul(onFace.Dot(axis)))
		if got := u.faceplateMoment(face).at(rotary, tilt); !close(got, square.Norm2(), 1e-6*(1+square.Norm2())) {
			t.Errorf("moment on the faceplate squared %v, want %v", got, square.Norm2())
		}
	})
}

// Over any ranges no position of a dense grid has a larger moment than what is said to be
// the largest, at rest and accelerating.
func TestNoMomentIsLarger(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := anyStand(t)
		acceleration := rapid.SampledFrom([]float64{0, 10}).Draw(t, "acceleration")
		f := u.tiltMoment()
		f.k = u.tiltInertia().times(acceleration * perMetre2)
		g := u.rotaryMoment()
		g.k = constant(u.rotaryInertia() * acceleration * perMetre2)
		tilt, rotary := largest(f, u.tilt.over, u.rotary.over), largest(g, u.rotary.over, u.tilt.over)
		const n = 50
		for i := range n + 1 {
			for j := range n + 1 {
				a := u.tilt.over.lo + (u.tilt.over.hi-u.tilt.over.lo)*float64(i)/n
				c := u.rotary.over.lo + (u.rotary.over.hi-u.rotary.over.lo)*float64(j)/n
				still := &surface{f.p, f.q, constant(0)}
				if m := math.Abs(still.at(a, c)) + f.k.at(c); m > tilt.load+1e-9 {
					t.Fatalf("%v N m about tilt at %v, %v; said %+v", m, a, c, tilt)
				}
				still = &surface{g.p, g.q, constant(0)}
				if m := math.Abs(still.at(c, a)) + g.k.cos[0]; m > rotary.load+1e-9 {
					t.Fatalf("%v N m about rotary at %v, %v; said %+v", m, a, c, rotary)
				}
			}
		}
	})
}

// Inertia of a solid body, not of points: a cylinder r 20, h 50 at density 1 has
// Iz = V r^2/2 = 12566370.614 and Ix = V (3 r^2 + h^2)/12 = 19373154.697 about its middle (any
// handbook). About a tilt axis along X, 100 below it, and turned by the rotary axis Z, it is Ix +
// V 100^2; lying along Y on the faceplate, it goes from Iz (along the tilt axis, turned by a quarter)
// to Ix.
func TestInertiaOfSolids(t *testing.T) {
	const v, iz, ix = 62831.853072, 12566370.614, 19373154.697
	for _, c := range []struct {
		name          string
		inertia       [3][3]float64
		rotary, about float64
	}{
		{"upright", [3][3]float64{{ix, 0, 0}, {0, ix, 0}, {0, 0, iz}}, 1, ix},
		{"lying", [3][3]float64{{ix, 0, 0}, {0, iz, 0}, {0, 0, ix}}, 0, ix},
		{"lying, turned", [3][3]float64{{ix, 0, 0}, {0, iz, 0}, {0, 0, ix}}, math.Pi / 2, iz},
		{"lying, half turned", [3][3]float64{{ix, 0, 0}, {0, iz, 0}, {0, 0, ix}}, math.Pi / 4, (ix + iz) / 2},
	} {
		st := &stand{
			tilt:   &pivot{axis: r3.Vector{X: 1}, sense: -1},
			rotary: &pivot{axis: r3.Vector{Z: 1}, sense: -1},
			turns:  geom.Rigid{Mass: v, Centroid: r3.Vector{Z: 100}, Inertia: c.inertia},
		}
		if got, want := st.tiltInertia().at(c.rotary), c.about+v*1e4; !close(got, want, 1e-3) {
			t.Errorf("%s: %v, want %v", c.name, got, want)
		}
	}
}
