package offsets

import (
	"math"
	"testing"

	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/tooling"

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

// With a touch probe among the tools its ball of 6 mm is counted: its centre goes where a tip
// without a radius would, 3 mm farther out, so that its side is 10 mm from the surface, and its
// foremost point is 3 mm lower; from above nothing changes.
func TestProbingWithABall(t *testing.T) {
	s := vertical(machine.PerPosition, machine.AbsoluteLengths)
	s.Tools = []*tooling.Tool{{Number: 7, Cutter: &tooling.Cutter{Kind: tooling.Drill, DC: 9}}, {Number: 20, Cutter: &tooling.Cutter{Kind: tooling.TouchProbe, DC: 6}}}
	o := of(t, s)
	for way, want := range map[string]map[string]float64{
		"X+": at(30-40-3, -25, -275-3), "Y+": at(30, -25-30-3, -275-3), "Z-": at(30, -25, -260),
	} {
		got := ways(o)[way]
		same(t, way, got.Start, want, 0)
		if got.Find != 10 || got.Probe != 20 {
			t.Errorf("%s: find %g with T%d", way, got.Find, got.Probe)
		}
	}
	if !says(o.Notes, "foremost point of T20") || !says(o.Notes, "ball of 6.000 mm is counted") {
		t.Errorf("%q", o.Notes)
	}
	// The one that operations use goes before the first there is.
	s.Tools = append(s.Tools, &tooling.Tool{Number: 21, Cutter: &tooling.Cutter{Kind: tooling.TouchProbe, DC: 4}})
	s.Operations = []machine.Operation{{Tool: 0}, {Tool: 2}}
	if q := ways(of(t, s))["X+"]; q.Probe != 21 {
		t.Errorf("%+v", q)
	}
	if o := of(t, vertical(machine.PerPosition, machine.AbsoluteLengths)); ways(o)["X+"].Probe != 0 || !says(o.Notes, "No touch probe is among the tools") {
		t.Errorf("%q", o.Notes)
	}
	// On a slope of 60 degrees to the way a ball of 6 is met 3 / sin 60 before its centre's
	// line meets the plane: a wedge whose side is at X -30 at the height of the centre.
	s = vertical(machine.PerPosition, machine.AbsoluteLengths)
	wedge := block(vec(-30, -20, -40), vec(50, 40, 0))
	for i := range wedge.Facets {
		for k := range wedge.Facets[i] {
			if v := &wedge.Facets[i][k]; v[0] < 0 {
				v[0] -= (v[2] + 5) / float32(math.Tan(math.Pi/3))
			}
		}
	}
	s.Bodies[0].Solid.Mesh = wedge
	plain := ways(of(t, s))["X+"]
	s.Tools = []*tooling.Tool{{Number: 20, Cutter: &tooling.Cutter{Kind: tooling.TouchProbe, DC: 6}}}
	ball := ways(of(t, s))["X+"]
	// From 3 mm farther out, and found 3 / sin 60 earlier.
	if want := plain.Find + 3 - 3/math.Sin(math.Pi/3); math.Abs(ball.Find-want) > 0.0011 {
		t.Errorf("found after %g, want %g", ball.Find, want)
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
		radius := rapid.SampledFrom([]float64{0, 1, 3}).Draw(t, "radius")
		if radius > 0 {
			s.Tools = []*tooling.Tool{{Number: 20, Cutter: &tooling.Cutter{Kind: tooling.TouchProbe, DC: 2 * radius}}}
		}
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
			is, n, ok := stock.hit(tip.Point(vec(0, 0, radius)), d)
			if ok {
				is -= radius / math.Abs(n.Dot(d))
			}
			if !ok || math.Abs(is-q.Find) > q.Within {
				t.Errorf("%s: found after %g, said %g within %g", q.Along, is, q.Find, q.Within)
			}
		}
	})
}
