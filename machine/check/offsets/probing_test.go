package offsets

import (
	"math"
	"testing"

	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"

	"pgregory.net/rapid"
)

func ways(o *check.Offsets) map[string]check.Probing {
	m := make(map[string]check.Probing)
	for _, q := range o.Probing {
		m[q.Along] = q
	}
	return m
}

// Where to begin, by hand. The zero is on top of a block from -30 to 50, -20 to 40 and -40 to 0
// about it; the nearer sides are those at -30 and -20, so the probe goes along X+ and Y+, from 10 mm
// outside, 5 mm below the top; and from above. The zero itself is at machine position (30, -25, -270).
// It stands loosely by 0.01 mm along X, 0.02 along Y, 0.03 along Z, and the block's true
// surface is 0.05 from the drawn one; one digit is for rounding.
func TestProbing(t *testing.T) {
	s := vertical(machine.PerPosition, machine.AbsoluteLengths)
	s.Axes[x].Accuracy, s.Axes[y].Accuracy, s.Axes[z].Accuracy = 0.01, 0.02, 0.03
	build(s)
	q := ways(of(t, s, tilted(90, 0)))
	for way, want := range map[string]struct {
		start  map[string]float64
		within float64
	}{
		"X+": {at(30-40, -25, -275), 0.061},
		"Y+": {at(30, -25-30, -275), 0.071},
		"Z-": {at(30, -25, -260), 0.081},
	} {
		got := q[way]
		same(t, way, got.Start, want.start, 0)
		same(t, way, got.Rotary, map[string]float64{"A": 0, "C": 0}, 0)
		if got.Find != 10 || math.Abs(got.Within-want.within) > 1e-9 {
			t.Errorf("%s: find %g, within %g, want 10 and %g", way, got.Find, got.Within, want.within)
		}
	}
	if len(q) != 3 {
		t.Errorf("%d ways", len(q))
	}
}

// A zero in the middle or nearer to the + side is probed from there; one at a corner
// beside its edges; a loose part from farther away; where there is no solid, that is said.
func TestProbingElsewhere(t *testing.T) {
	s := vertical(machine.PerPosition, machine.AbsoluteLengths)
	s.Bodies[0].Solid.Mesh = block(vec(-40, -80, -40), vec(40, 0, 0))
	o := of(t, s)
	q := ways(o)
	same(t, "X-", q["X-"].Start, at(30+50, -25-10, -275), 0)
	same(t, "Y-", q["Y-"].Start, at(30, -25+10, -275), 0)
	same(t, "Z-", q["Z-"].Start, at(30, -25-10, -260), 0)

	s.Axes[x].Accuracy = 8
	build(s)
	if q := ways(of(t, s))["X+"]; math.Abs(q.Find-16.1) > 1e-9 || q.Within < 8.05 {
		t.Errorf("%+v", q)
	}
	s.Bodies = nil
	if o := of(t, s); len(o.Probing) != 0 || !says(o.Notes, "no solid of stock") {
		t.Errorf("%+v", o)
	}
	// A block with a corner missing where the probe would go: nothing is offered.
	s = vertical(machine.PerPosition, machine.AbsoluteLengths)
	low, tall := block(vec(-30, -20, -40), vec(50, 40, -20)), block(vec(40, 35, -20), vec(50, 40, 0))
	low.Facets = append(low.Facets, tall.Facets...)
	s.Bodies[0].Solid.Mesh = low
	o = of(t, s)
	if !says(o.Notes, "part bracket, X+: no surface") || math.Abs(ways(o)["Z-"].Find-30) > 1e-9 {
		t.Errorf("%+v", o)
	}
}

// The surface is found where it is said, wherever location uncertainty puts the part: all
// slack of the chains drawn at random, every time at one of its ends or between.
func TestProbeFinds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := vertical(machine.PerPosition, machine.AbsoluteLengths)
		for k := range s.Axes {
			s.Axes[k].Accuracy = rapid.Float64Range(0, 0.05).Draw(t, "mm")
			if s.Axes[k].Kind == motion.Rotary {
				s.Axes[k].Accuracy /= 100
			}
		}
		build(s)
		s.Bodies[0].Solid.ChordError = 0
		o, err := Of(s, nil)
		if err != nil {
			t.Fatal(err)
		}
		off := func(c motion.Chain, label string) motion.Chain {
			c.Joints = append([]motion.Joint(nil), c.Joints...)
			for i := range c.Joints {
				c.Joints[i].Offset += c.Joints[i].Slack * rapid.Float64Range(-1, 1).Draw(t, label)
			}
			return c
		}
		part, spindle := off(s.Parts[0].Chain, "part"), off(s.Spindle.Chain, "spindle")
		for _, q := range o.Probing {
			v := values(q.Start)
			p := motion.Params{x: v["X"], y: v["Y"], z: v["Z"]}
			stock := &solid{}
			stock.add(s.Bodies[0].Solid, part.Pose(p), vec(0, 0, 0))
			tip := spindle.Pose(p)
			way := map[string]int{"X+": x, "Y+": y, "Z-": z}[q.Along]
			d := s.Axes[way].Direction
			if q.Along == "Z-" {
				d = d.Mul(-1)
			}
			is, _, ok := stock.hit(tip.T, d)
			if !ok || math.Abs(is-q.Find) > q.Within {
				t.Errorf("%s: found after %g, said %g within %g", q.Along, is, q.Find, q.Within)
			}
		}
	})
}
