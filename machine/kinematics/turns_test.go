package kinematics

import (
	"math"
	"strings"
	"testing"

	"gridswing/geom"
	"gridswing/geom/motion"

	"github.com/golang/geo/r3"
	"pgregory.net/rapid"
)

// Paden and Kahan's subproblem 2 (Murray, Li, Sastry, "A Mathematical Introduction to Robotic
// Manipulation", 1994, ch. 3): the circles of z about Z and of t about X meet
// twice, touch, or do not meet. Derived: c with angle a to X and b to Z exists if
// cos(a)^2 + cos(b)^2 <= 1, and misses by what a lacks of the nearest such angle.
func TestCircles(t *testing.T) {
	w1, w2 := vec(1, 0, 0), vec(0, 0, 1)
	at := func(a, b float64) []pose2 {
		sa, ca := math.Sincos(radians(a))
		sb, cb := math.Sincos(radians(b))
		return twoTurns(w1, w2, vec(sb, 0, cb), vec(ca, 0, sa), [2]float64{7, 8})
	}
	turned := func(p pose2, b float64) r3.Vector {
		sb, cb := math.Sincos(radians(b))
		one, two := geom.Turn(r3.Vector{}, w1, p.values[0]), geom.Turn(r3.Vector{}, w2, p.values[1])
		return one.Dir(two.Dir(vec(sb, 0, cb)))
	}
	for _, c := range []struct {
		name string
		a, b float64
		n    int
		miss float64
		free int
	}{
		{"twice", 60, 60, 2, 0, -1},
		{"square", 90, 90, 2, 0, -1},
		{"touching", 60, 30, 1, 0, -1},
		{"touching from behind", 120, 30, 1, 0, -1},
		{"too far apart", 30, 40, 1, 20, -1},
		{"nothing near", 20, 10, 1, 60, -1},
		{"one inside the other", 150, 20, 1, 40, -1},
		{"t along the first", 0, 90, 1, 0, 0},
		{"t along the first, out of reach", 0, 70, 1, 20, 0},
		{"t against the first", 180, 80, 1, 10, 0},
		{"z along the second", 90, 0, 1, 0, 1},
		{"z against the second", 50, 180, 1, 40, 1},
	} {
		list := at(c.a, c.b)
		if len(list) != c.n {
			t.Fatalf("%s: %d solutions", c.name, len(list))
		}
		for _, p := range list {
			nearly(t, c.name+": miss", degrees(p.miss), c.miss, 1e-9)
			if p.free != c.free || c.free >= 0 && p.values[c.free] != [2]float64{7, 8}[c.free] {
				t.Errorf("%s: %+v", c.name, p)
			}
			sa, ca := math.Sincos(radians(c.a))
			nearly(t, c.name+": angle", degrees(angle(turned(p, c.b), vec(ca, 0, sa))), c.miss, 1e-9)
		}
	}
}

// Three and four axes: by how much a direction is missed. A rotary about X presents
// what is square to X; nothing else is nearer than its own lean out of that plane.
func TestMiss(t *testing.T) {
	m := table(t, vec(1, 0, 0), vec(0, 0, 50), unlimited, unlimited)
	four := made(t, axesOf(unlimited, unlimited)[:4], motion.Chain{Home: m.part.Home, Joints: m.part.Joints[:1]}, m.spindle)
	three := made(t, axesOf(unlimited, unlimited)[:3], motion.Chain{Home: m.part.Home}, m.spindle)
	sin, cos := math.Sincos(radians(20))
	for _, c := range []struct {
		m          *Machine
		axis       r3.Vector
		miss, tilt float64
		free       int
	}{
		{four, vec(0, -0.6, 0.8), 0, 36.869897645844, -1},
		{four, vec(sin, -0.6*cos, 0.8*cos), 20, 36.869897645844, -1},
		{four, vec(1, 0, 0), 90, 0, tilt},
		{three, vec(0, 0, 1), 0, 0, -1},
		{three, vec(0, -0.6, 0.8), 36.869897645844, 0, -1},
		{three, vec(0, 0, -1), 180, 0, -1},
	} {
		list := c.m.Present(c.axis, motion.Params{})
		if len(list) != 1 || list[0].Free != c.free {
			t.Fatalf("%+v", list)
		}
		nearly(t, "miss", degrees(list[0].Miss), c.miss, 1e-9)
		nearly(t, "tilt", degrees(list[0].Position[tilt]), c.tilt, 1e-9)
	}
}

// Two parallel rotary axes: the one at the part is used, the other stays.
func TestParallelAxes(t *testing.T) {
	m := made(t, axesOf(unlimited, unlimited),
		motion.Chain{Home: geom.Identity(), Joints: []motion.Joint{joint(motion.Rotary, tilt, 1, vec(1, 0, 0), r3.Vector{})}},
		motion.Chain{Home: geom.Identity(), Joints: []motion.Joint{
			joint(motion.Linear, x, 1, vec(1, 0, 0), r3.Vector{}), joint(motion.Linear, y, 1, vec(0, 1, 0), r3.Vector{}),
			joint(motion.Linear, z, 1, vec(0, 0, 1), r3.Vector{}), joint(motion.Rotary, rotary, 1, vec(-1, 0, 0), r3.Vector{})}})
	list := m.Present(vec(0, 0.6, 0.8), motion.Params{rotary: 0.25})
	if len(list) != 1 || list[0].Position[rotary] != 0.25 || list[0].Miss != 0 || list[0].Free >= 0 {
		t.Fatalf("%+v", list)
	}
	_, axis := m.Forward(list[0].Position, 0)
	near(t, "axis", axis, vec(0, 0.6, 0.8), 1e-12)
}

// Whole turns within travel, nearest first; none where travel ends before.
func TestTurns(t *testing.T) {
	for _, c := range []struct {
		travel   [2]float64
		at, near float64
		want     []float64
	}{
		{[2]float64{-400, 400}, 30, 0, []float64{30, -330, 390}},
		{[2]float64{-400, 400}, 30, 300, []float64{390, 30, -330}},
		{[2]float64{-30, 110}, 120, 0, nil},
		{[2]float64{-30, 110}, -30, 0, []float64{-30}},
		{[2]float64{300, 700}, 10, 0, []float64{370}},
		{[2]float64{-900, -500}, 10, 0, []float64{-710}},
		{[2]float64{math.Inf(-1), math.Inf(1)}, 10, 1000, []float64{1090}},
		{[2]float64{math.Inf(-1), -100}, 10, 0, nil}, // checked below
	} {
		in := [2]float64{radians(c.travel[0]), radians(c.travel[1])}
		m := table(t, vec(1, 0, 0), vec(0, 0, 50), in, unlimited)
		s := Solution{Position: motion.Params{tilt: radians(c.at), rotary: 1}, Free: -1}
		list := m.Turns(s, motion.Params{tilt: radians(c.near), rotary: 1})
		if math.IsInf(c.travel[0], -1) && c.travel[1] < 0 {
			if len(list) != mostTurns || math.Abs(degrees(list[0][tilt])+350) > 1e-9 {
				t.Errorf("open to one side: %v", list)
			}
			continue
		}
		if len(list) != len(c.want) {
			t.Fatalf("%d positions in %v, want %v", len(list), c.travel, c.want)
		}
		for i, want := range c.want {
			nearly(t, "position", degrees(list[i][tilt]), want, 1e-9)
		}
	}
	m := table(t, vec(1, 0, 0), vec(0, 0, 50), [2]float64{0, 1}, [2]float64{-1, 1})
	// Rounding does not put an axis beyond its end, and a free one stays.
	list := m.Turns(Solution{Position: motion.Params{tilt: 1 + 1e-12}, Free: rotary}, motion.Params{rotary: 0.5})
	if len(list) != 1 || list[0] != (motion.Params{tilt: 1, rotary: 0.5}) {
		t.Errorf("%v", list)
	}
}

// What Turns returns presents the same, is within travel, and is in order.
func TestTurnsPresent(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := random(2).Draw(t, "machine")
		for k := range m.axes[3:] {
			lo := rapid.Float64Range(-20, 5).Draw(t, "from")
			m.axes[3+k].Lo, m.axes[3+k].Hi = lo, lo+rapid.Float64Range(0, 20).Draw(t, "travel")
		}
		p, nearTo := stand(t, m), stand(t, m)
		_, axis := m.Forward(p, 0)
		for _, s := range m.Present(axis, p) {
			_, want := m.Forward(s.Position, 0)
			last := 0.0
			for _, q := range m.Turns(s, nearTo) {
				if s.Free < 0 {
					_, got := m.Forward(q, 0)
					near(t, "axis", got, want, 1e-9)
				}
				sum := 0.0
				for _, r := range m.rotary {
					sum += math.Abs(q[r.axis] - nearTo[r.axis])
				}
				if !m.withinTravel(q) || sum < last-1e-9 {
					t.Errorf("%v", q)
				}
				last = sum
			}
		}
	})
}

// The linear axes that a shift of the workpiece asks for keep the tool where it
// is at the part: found by moving the part's chain itself. A longer tool is the
// same as a shift along its axis.
func TestSensitivity(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := random(rapid.IntRange(0, 2).Draw(t, "rotary axes")).Draw(t, "machine")
		p, d := stand(t, m), place(t, "shift", 10)
		tip, _ := m.Forward(p, 80)
		change := m.Sensitivity(p, d)
		if change == (motion.Params{}) {
			return // no span there
		}
		shifted := m.part
		shifted.Joints = append([]motion.Joint{{Name: "moved", Kind: motion.Linear, Axis: d.Normalize(), Offset: d.Norm()}}, shifted.Joints...)
		other, err := New(m.axes, shifted, m.spindle)
		if err != nil {
			return
		}
		q := p
		for k := range q {
			q[k] += change[k]
		}
		got, _ := other.Forward(q, 80)
		near(t, "tip", got, tip, 1e-8)

		pose := m.spindle.Pose(p)
		longer := m.Sensitivity(p, pose.Dir(r3.Vector{Z: 3}))
		for k := range q {
			q[k] = p[k] + longer[k]
		}
		got, _ = m.Forward(q, 83)
		near(t, "tip of a longer tool", got, tip, 1e-8)
	})
}

func TestNewErrors(t *testing.T) {
	good := table(t, vec(1, 0, 0), vec(0, 0, 50), unlimited, unlimited)
	axes := axesOf(unlimited, unlimited)
	change := func(f func(joints []motion.Joint) []motion.Joint) motion.Chain {
		c := good.part
		c.Joints = f(append([]motion.Joint(nil), c.Joints...))
		return c
	}
	same := func(j []motion.Joint) []motion.Joint { return j }
	for _, c := range []struct {
		want    string
		axes    []Axis
		part    motion.Chain
		spindle motion.Chain
	}{
		{"only 4 axes are given", axes[:4], change(same), good.spindle},
		{"9 axes", make([]Axis, 9), change(same), good.spindle},
		{"which is linear", append(append([]Axis{}, axes[:4]...), axes[0]), change(same), good.spindle},
		{"is turned by axes 3 and 4", axes, change(func(j []motion.Joint) []motion.Joint { j[0].Gain[rotary] = 1; return j }), good.spindle},
		{"axis 3 turns joints", axes, change(func(j []motion.Joint) []motion.Joint {
			j[1].Gain = motion.Params{tilt: 1}
			return j
		}), good.spindle},
		{"cannot move the tip", axes, change(same), motion.Chain{Home: geom.Identity(), Joints: good.spindle.Joints[:2]}},
	} {
		if _, err := New(c.axes, c.part, c.spindle); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%v, want %q", err, c.want)
		}
	}
}

// Of three rotary axes the two nearer to the part are used, but for those held;
// of four linear ones the first three that span.
func TestHeld(t *testing.T) {
	m := table(t, vec(1, 0, 0), vec(0, 0, 50), unlimited, unlimited)
	axes := append(axesOf(unlimited, unlimited), Axis{Kind: motion.Rotary}, Axis{Kind: motion.Linear})
	spindle := m.spindle
	spindle.Joints = append(spindle.Joints[:3:3], joint(motion.Rotary, 5, 1, vec(0, 1, 0), r3.Vector{}), joint(motion.Linear, 6, 1, vec(0, 0, 1), r3.Vector{}))
	all := made(t, axes, m.part, spindle)
	at := motion.Params{5: 0.2, 6: 10}
	if r, l := all.Rotary(), all.LinearAxes(); r[0] != rotary || r[1] != tilt || l[0] != x || l[1] != y || l[2] != z {
		t.Errorf("%v %v", r, l)
	}
	axes[rotary].Hold, axes[z].Hold = true, true
	held := made(t, axes, m.part, spindle)
	if r, l := held.Rotary(), held.LinearAxes(); r[0] != tilt || r[1] != 5 || l[2] != 6 {
		t.Errorf("%v %v", r, l)
	}
	for _, m := range []*Machine{all, held} {
		s := m.Present(vec(0.36, -0.48, 0.8), at)[0]
		p, err := m.Linear(s.Position, vec(1, 2, 3), 100)
		if err != nil {
			t.Fatal(err)
		}
		tip, axis := m.Forward(p, 100)
		near(t, "tip", tip, vec(1, 2, 3), 1e-9)
		near(t, "axis", axis, vec(0.36, -0.48, 0.8), 1e-9)
	}
}
