package kinematics

import (
	"math"
	"testing"

	"gridswing/geom"
	"gridswing/geom/motion"

	"github.com/golang/geo/r3"
	"pgregory.net/rapid"
)

func vec(x, y, z float64) r3.Vector { return r3.Vector{X: x, Y: y, Z: z} }

func radians(d float64) float64 { return d * math.Pi / 180 }
func degrees(r float64) float64 { return r * 180 / math.Pi }

// reporter is a test, of this package or of rapid.
type reporter interface {
	Helper()
	Errorf(format string, args ...any)
}

func near(t reporter, what string, got, want r3.Vector, within float64) {
	t.Helper()
	if d := got.Sub(want).Norm(); !(d <= within) {
		t.Errorf("%s at %v, want %v (off by %.3g)", what, got, want, d)
	}
}

func nearly(t reporter, what string, got, want, within float64) {
	t.Helper()
	if d := math.Abs(got - want); !(d <= within) {
		t.Errorf("%s is %.9g, want %.9g (off by %.3g)", what, got, want, d)
	}
}

// joint returns a joint that parameter k moves.
func joint(kind motion.Kind, k int, gain float64, axis, point r3.Vector) motion.Joint {
	j := motion.Joint{Name: string(rune('a' + k)), Kind: kind, Axis: axis, Point: point}
	j.Gain[k] = gain
	return j
}

// The parameters of the machines that tests build by hand.
const (
	x = iota
	y
	z
	tilt
	rotary
)

var unlimited = [2]float64{math.Inf(-1), math.Inf(1)}

// table is a machine with X, Y and Z in the head, and under the part, whose frame stands at d
// with everything at zero, a tilt about the given direction through the origin that carries
// a rotary about Z through d. Axes that carry the workpiece move it against
// their sign (ISO 841). Linear axes are those of the part point: the spindle's gauge
// point is at the origin with X, Y and Z at 0.
func table(t testing.TB, direction, d r3.Vector, travel, turns [2]float64) *Machine {
	t.Helper()
	part := motion.Chain{Home: geom.Shift(d), Joints: []motion.Joint{
		joint(motion.Rotary, tilt, -1, direction.Normalize(), vec(0, 0, 0)),
		joint(motion.Rotary, rotary, -1, vec(0, 0, 1), d),
	}}
	spindle := motion.Chain{Home: geom.Identity(), Joints: []motion.Joint{
		joint(motion.Linear, x, 1, vec(1, 0, 0), r3.Vector{}),
		joint(motion.Linear, y, 1, vec(0, 1, 0), r3.Vector{}),
		joint(motion.Linear, z, 1, vec(0, 0, 1), r3.Vector{}),
	}}
	return made(t, axesOf(travel, turns), part, spindle)
}

func axesOf(travel, turns [2]float64) []Axis {
	linear := Axis{Kind: motion.Linear, Lo: -1e4, Hi: 1e4}
	return []Axis{linear, linear, linear,
		{Kind: motion.Rotary, Lo: travel[0], Hi: travel[1]}, {Kind: motion.Rotary, Lo: turns[0], Hi: turns[1]}}
}

func made(t testing.TB, axes []Axis, part, spindle motion.Chain) *Machine {
	t.Helper()
	m, err := New(axes, part, spindle)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// unit draws a unit vector; now and then one along a coordinate axis.
func unit(t *rapid.T, label string) r3.Vector {
	if rapid.IntRange(0, 3).Draw(t, label+" square") == 0 {
		d := []r3.Vector{{X: 1}, {Y: 1}, {Z: 1}, {X: -1}, {Y: -1}, {Z: -1}}
		return rapid.SampledFrom(d).Draw(t, label)
	}
	c := rapid.Float64Range(-1, 1).Draw(t, label+" z")
	sin, cos := math.Sincos(rapid.Float64Range(0, 2*math.Pi).Draw(t, label+" round"))
	r := math.Sqrt(1 - c*c)
	return vec(r*cos, r*sin, c).Normalize()
}

func place(t *rapid.T, label string, size float64) r3.Vector {
	f := rapid.Float64Range(-size, size)
	return vec(f.Draw(t, label+" x"), f.Draw(t, label+" y"), f.Draw(t, label+" z"))
}

// random draws a machine: up to three rotary axes and three linear ones that are
// anything but parallel, in any order on either side, with offsets, reversed and geared axes,
// play, a joint that only has an offset, and a shared first joint.
func random(rotaries int) *rapid.Generator[*Machine] {
	return rapid.Custom(func(t *rapid.T) *Machine {
		return tryRandom(t, rotaries)
	}).Filter(func(m *Machine) bool { return m != nil })
}

// tryRandom returns nil if the slides drawn lie in a plane as they are ordered.
func tryRandom(t *rapid.T, rotaries int) *Machine {
	axes := make([]Axis, 3+rotaries)
	var joints []motion.Joint
	u := unit(t, "first slide")
	v := u.Ortho()
	slides := [3]r3.Vector{u, v.Add(u.Mul(0.2)).Normalize(), u.Cross(v).Add(v.Mul(0.1)).Normalize()}
	for k := range axes {
		gain := rapid.SampledFrom([]float64{1, -1, -1, 0.5}).Draw(t, "gain")
		if k < 3 {
			axes[k] = Axis{Kind: motion.Linear, Lo: -500, Hi: 500}
			joints = append(joints, joint(motion.Linear, k, gain, slides[k], r3.Vector{}))
			continue
		}
		axes[k] = Axis{Kind: motion.Rotary, Lo: math.Inf(-1), Hi: math.Inf(1)}
		j := joint(motion.Rotary, k, gain, unit(t, "axis"), place(t, "centre", 300))
		j.Offset = rapid.SampledFrom([]float64{0, 0, 0.3, -2}).Draw(t, "offset")
		j.Slack = 0.001
		joints = append(joints, j)
	}
	joints = append(joints,
		motion.Joint{Name: "play", Kind: motion.Rotary, Axis: unit(t, "play"), Point: place(t, "play", 100), Slack: 0.01},
		motion.Joint{Name: "setting", Kind: motion.Rotary, Axis: unit(t, "setting"), Point: place(t, "setting", 100), Offset: 0.4},
		motion.Joint{Name: "shift", Kind: motion.Linear, Axis: unit(t, "shift"), Offset: 12})
	joints = rapid.Permutation(joints).Draw(t, "order")
	split := rapid.IntRange(0, len(joints)).Draw(t, "split")
	shared := motion.Joint{Name: "shared", Kind: motion.Rotary, Axis: vec(0, 0, 1), Offset: 1}
	chain := func(list []motion.Joint, label string) motion.Chain {
		home := geom.Turn(place(t, label, 100), unit(t, label), rapid.Float64Range(-3, 3).Draw(t, label))
		return motion.Chain{Joints: append([]motion.Joint{shared}, list...), Home: home}
	}
	m, err := New(axes, chain(joints[:split], "part"), chain(joints[split:], "spindle"))
	if err != nil {
		return nil
	}
	return m
}

// stand draws positions of all axes.
func stand(t *rapid.T, m *Machine) (p motion.Params) {
	for k, a := range m.axes {
		if a.Kind == motion.Linear {
			p[k] = rapid.Float64Range(-300, 300).Draw(t, "slide")
		} else {
			p[k] = rapid.Float64Range(-math.Pi, math.Pi).Draw(t, "turn")
		}
	}
	return p
}
