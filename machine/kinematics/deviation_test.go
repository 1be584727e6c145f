package kinematics

import (
	"math"
	"testing"

	"gridswing/geom"
	"gridswing/geom/motion"

	"github.com/golang/geo/r3"
	"pgregory.net/rapid"
)

// Nothing leaves the bounds: over random machines, linear axes between, before and behind the
// rotary ones, every interval sampled densely. With tip control the linear axes stay
// within Deviation of the straight line of their positions while the tip is on its line; without,
// the tip stays within Tip of its line.
func TestNothingLeavesItsBound(t *testing.T) {
	tightest, proven, all := 0.0, 0, 0
	rapid.Check(t, func(t *rapid.T) {
		m := random(rapid.IntRange(1, 3).Draw(t, "rotary axes")).Draw(t, "machine")
		length := rapid.Float64Range(0, 200).Draw(t, "length")
		from := stand(t, m)
		to := from
		for k, a := range m.axes {
			if a.Kind == motion.Linear {
				to[k] += rapid.Float64Range(-100, 100).Draw(t, "slide")
			} else {
				to[k] += rapid.Float64Range(-1, 1).Draw(t, "turn")
			}
		}
		a, _ := m.Forward(from, length)
		b, _ := m.Forward(to, length)
		s := stretch{m: m, from: from, to: to, tipFrom: a, tipTo: b, length: length}
		if _, err := m.Linear(from, a, length); err != nil {
			return // slides that a rotary axis lays in a plane
		}
		bound, free := s.deviation(), s.tipDeviation()
		var worst motion.Params
		worstTip := 0.0
		const samples = 300
		for i := range samples + 1 {
			f := float64(i) / samples
			line := s.at(f)
			tip, _ := m.Forward(line, length)
			worstTip = max(worstTip, distance(tip, a, b))
			p, err := m.Linear(line, s.tip(f), length)
			for _, k := range m.linear {
				if err != nil && s.turns() && !math.IsInf(bound[k], 1) {
					t.Fatalf("a bound of %g where the slides do not span", bound[k])
				}
				worst[k] = max(worst[k], math.Abs(p[k]-line[k]))
			}
		}
		if worstTip > free+rounding {
			t.Errorf("the tip is %g off its line, bound %g", worstTip, free)
		}
		if worstTip > 1 {
			tightest = max(tightest, worstTip/free)
		}
		all++
		for _, k := range m.linear {
			if worst[k] > bound[k]+rounding {
				t.Errorf("axis %d is %g off its line, bound %g", k, worst[k], bound[k])
			}
		}
		if !math.IsInf(bound[m.linear[0]], 1) {
			proven++
		}
	})
	// A bound that is never near to what was reached proves nothing.
	if tightest < 0.95 || proven < all*2/3 {
		t.Errorf("tightest bound at %g of itself; %d of %d bounded at all", tightest, proven, all)
	}
}

// On a table the bound is what is reached, and a few percent: with a step of 10 degrees of
// the rotary alone at radius r the tip's place goes along an arc, whose sagitta is
// r (1 - cos 5) = 0.3805 for r = 100 (derived); X takes it all, and nothing else does but
// what is left of Y.
func TestDeviationOfAnArc(t *testing.T) {
	m := table(t, vec(1, 0, 0), vec(0, 0, 0), unlimited, unlimited)
	from, to := motion.Params{rotary: radians(-5)}, motion.Params{rotary: radians(5)}
	tip := vec(100, 0, 0)
	p, err := m.Linear(from, tip, 50)
	if err != nil {
		t.Fatal(err)
	}
	q, err := m.Linear(to, tip, 50)
	if err != nil {
		t.Fatal(err)
	}
	s := stretch{m: m, from: p, to: q, tipFrom: tip, tipTo: tip, length: 50}
	d := s.deviation()
	sagitta := 100 * (1 - math.Cos(radians(5)))
	if d[x] < sagitta || d[x] > 1.03*sagitta || d[y] > 0.1*sagitta || d[z] > 0.03*sagitta {
		t.Errorf("%v, sagitta %g", d, sagitta)
	}
	if free := s.tipDeviation(); free < sagitta || free > 1.06*sagitta {
		t.Errorf("the tip at most %g off, sagitta %g", free, sagitta)
	}
	still := stretch{m: m, from: p, to: p, tipFrom: tip, tipTo: tip, length: 50}
	if d := still.deviation(); d != (motion.Params{}) || still.tipDeviation() != 0 {
		t.Errorf("nothing moves, and %v", d)
	}
}

// The bounds of the derivatives themselves, against differences of positions: over random joints,
// and where nothing may be left out, since all terms point the same way. Derived: two parallel axes that turn by a and b
// at distance r give (a+b)^2 r; a point that passes the axis at a speed v while it turns by a
// has a^2 v/2 and 2 a v, square to each other, at either end.
func TestDerivatives(t *testing.T) {
	turn := func(axis, point r3.Vector, value, rate float64) move {
		return move{&motion.Joint{Kind: motion.Rotary, Axis: axis, Point: point}, value, rate}
	}
	slide := func(axis r3.Vector, value, rate float64) move {
		return move{&motion.Joint{Kind: motion.Linear, Axis: axis}, value, rate}
	}
	up := vec(0, 0, 1)
	for _, c := range []struct {
		joints   []move
		q, drift r3.Vector
	}{
		{[]move{turn(up, vec(0, 0, 7), 0.2, 0.3), turn(up, vec(0, 0, 9), 0.4, 0.6)}, vec(100, 0, 0), vec(0, 0, 0)},
		{[]move{turn(up, vec(0, 0, 0), 0, 0.5)}, vec(0, 0, 0), vec(100, 0, 0)},
		{[]move{turn(up, vec(0, 0, 0), 0, 0.5), slide(vec(1, 0, 0), 0, 100)}, vec(0, 0, 0), vec(0, 0, 0)},
		{[]move{slide(vec(1, 0, 0), 5, 100), turn(up, vec(0, 0, 0), 1, -0.5)}, vec(0, 50, 0), vec(0, 0, 0)},
	} {
		speed, curve := derivatives(c.joints, c.q, c.drift)
		first, second := differences(c.joints, c.q, c.drift)
		if first > speed*(1+1e-6) || second > curve*(1+1e-6) || second < 0.88*curve {
			t.Errorf("%d joints: reached %g and %g, bounds %g and %g", len(c.joints), first, second, speed, curve)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		var joints []move
		for range rapid.IntRange(1, 4).Draw(t, "joints") {
			value, by := rapid.Float64Range(-3, 3).Draw(t, "value"), rapid.Float64Range(-1, 1).Draw(t, "rate")
			if rapid.Bool().Draw(t, "linear") {
				joints = append(joints, slide(unit(t, "axis"), 50*value, 50*by))
			} else {
				joints = append(joints, turn(unit(t, "axis"), place(t, "centre", 100), value, by))
			}
		}
		q, drift := place(t, "point", 100), place(t, "drift", 50)
		speed, curve := derivatives(joints, q, drift)
		first, second := differences(joints, q, drift)
		if first > speed+1e-3 || second > curve+1e-3 {
			t.Errorf("reached %g and %g, bounds %g and %g", first, second, speed, curve)
		}
	})
}

// differences returns the largest first and second derivative by central differences.
func differences(joints []move, q, drift r3.Vector) (first, second float64) {
	at := func(s float64) r3.Vector {
		p := q.Add(drift.Mul(s))
		for i := len(joints) - 1; i >= 0; i-- {
			j, v := joints[i].joint, joints[i].value+joints[i].rate*s
			pose := geom.Shift(j.Axis.Mul(v))
			if j.Kind == motion.Rotary {
				pose = geom.Turn(j.Point, j.Axis, v)
			}
			p = pose.Point(p)
		}
		return p
	}
	const h = 1e-3
	for i := range 101 {
		s := float64(i)/100 - 0.5
		a, b, c := at(s-h), at(s), at(s+h)
		first = max(first, c.Sub(a).Norm()/(2*h))
		second = max(second, a.Add(c).Sub(b.Mul(2)).Norm()/(h*h))
	}
	return first, second
}
