package envelope_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"gridswing/collide"
	"gridswing/geom"
	"gridswing/geom/envelope"
	"gridswing/geom/motion"
	"gridswing/geom/shape"

	"github.com/golang/geo/r3"
	"pgregory.net/rapid"
)

// rig is a table X, not quite level, under a trunnion: a tilt about an axis beside its own centre, a rotary axis
// that need not meet it or be square to it, and a few solids on it, anyhow.
type rig struct {
	loads []envelope.Load
	sweep envelope.Sweep
}

const (
	tableX = iota
	tilt
	rotary
)

func drawRig(t *rapid.T) rig {
	f := func(lo, hi float64, name string) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
	point := func(r float64, name string) r3.Vector {
		return r3.Vector{X: f(-r, r, name+" x"), Y: f(-r, r, name+" y"), Z: f(-r, r, name+" z")}
	}
	sense := rapid.SampledFrom([]float64{1, -1}).Draw(t, "sense")
	joints := []motion.Joint{
		{Name: "level", Kind: motion.Rotary, Axis: r3.Vector{Y: 1}, Point: point(300, "level"), Slack: f(0, 0.01, "level")},
		{Name: "X", Kind: motion.Linear, Axis: r3.Vector{X: 1}, Gain: motion.Params{tableX: -1}},
		{Name: "A", Kind: motion.Rotary, Axis: r3.Vector{X: 1}, Point: point(100, "A"), Gain: motion.Params{tilt: sense}, Offset: f(-1, 1, "offset"), Slack: f(0, 0.01, "accuracy")},
		{Name: "C", Kind: motion.Rotary, Axis: r3.Vector{X: f(-0.3, 0.3, "lean"), Y: f(-0.3, 0.3, "tip"), Z: 1}.Normalize(), Point: point(60, "C"), Gain: motion.Params{rotary: -1}},
		{Name: "seat", Kind: motion.Linear, Axis: r3.Vector{Y: 1}, Slack: f(0, 0.5, "play")},
	}
	var r rig
	for range rapid.IntRange(1, 3).Draw(t, "solids") {
		lo := point(80, "low")
		hi := lo.Add(r3.Vector{X: f(1, 80, "wide"), Y: f(1, 80, "deep"), Z: f(1, 80, "high")})
		home := geom.Turn(point(50, "about"), r3.Vector{X: 1, Y: 2, Z: 2}.Mul(1.0/3), f(0, 6, "turned"))
		r.loads = append(r.loads, envelope.Load{Mesh: shape.Box(lo, hi).Mesh(), Chain: motion.Chain{Joints: joints, Home: home}})
	}
	lo := f(-2, 2, "from")
	r.sweep = envelope.Sweep{Tilt: tilt, Rotary: rotary, Lo: lo, Hi: lo + f(0, 7, "width"), Cells: rapid.SampledFrom([]int{6, 10}).Draw(t, "cells"), At: motion.Params{tableX: f(-50, 50, "X")}}
	return r
}

// posed returns the place of a point at a position of the axes, every joint as far off as its
// slack allows times a number from -1 to 1.
func (r *rig) posed(load int, p motion.Params, q r3.Vector, off func() float64) r3.Vector {
	c := r.loads[load].Chain
	c.Joints = append([]motion.Joint(nil), c.Joints...)
	for i := range c.Joints {
		c.Joints[i].Offset += c.Joints[i].Slack * off()
	}
	pose := c.Pose(p)
	return pose.Point(q)
}

// Points of the solids, posed anywhere in the range, are in the hull, told by a ray's crossings
// (the tests of collide hold Contains to solid angles).
func TestHullHoldsWhatIsSwept(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := drawRig(t)
		if rapid.Bool().Draw(t, "only rotary") {
			r.sweep.Tilt = -1
			r.sweep.At[tilt] = r.sweep.Lo
			r.sweep.Hi = r.sweep.Lo
		}
		h, err := envelope.Of(r.loads, r.sweep)
		if err != nil {
			t.Fatal(err)
		}
		tree := collide.NewTree(h.Mesh)
		back := h.Pose.Inverse()
		rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		for range 300 {
			load := rng.IntN(len(r.loads))
			p := r.sweep.At
			p[rotary] = (2*rng.Float64() - 1) * math.Pi
			p[tilt] = r.sweep.Lo + (r.sweep.Hi-r.sweep.Lo)*rng.Float64()
			switch rng.IntN(4) {
			case 0:
				p[tilt] = r.sweep.Lo
			case 1:
				p[tilt] = r.sweep.Hi
			}
			m := r.loads[load].Mesh
			a, b, c := m.Triangle(rng.IntN(len(m.Facets)))
			u, v := rng.Float64(), rng.Float64()
			q := a
			if rng.IntN(2) == 0 {
				q = a.Mul(1 - u).Add(b.Mul(u * (1 - v))).Add(c.Mul(u * v))
			}
			q = r.posed(load, p, q, func() float64 { return math.Round(4*rng.Float64()-2) / 2 })
			if !tree.Contains(back.Point(q)) {
				t.Fatalf("%v at %v is outside of the hull", q, p)
			}
		}
	})
}

// A hull is closed, looks outward, and its corners are no farther than it says from what the
// outline of revolution sweeps: here that of a ring of points, told by trying tilts.
func TestHullIsNoLargerThanItSays(t *testing.T) {
	o := shape.Cylinder(60, 20, 50, shape.Round{Chord: 0.001, Side: shape.Circumscribed})
	chain := motion.Chain{Home: geom.Identity(), Joints: []motion.Joint{
		{Name: "A", Kind: motion.Rotary, Axis: r3.Vector{X: 1}, Point: r3.Vector{Z: 35}, Gain: motion.Params{tilt: 1}},
		{Name: "C", Kind: motion.Rotary, Axis: r3.Vector{Z: 1}, Gain: motion.Params{rotary: 1}},
	}}
	lo, hi := -30*math.Pi/180, 50*math.Pi/180
	h, err := envelope.Of([]envelope.Load{{Mesh: o.Mesh(), Chain: chain}}, envelope.Sweep{Tilt: tilt, Rotary: rotary, Lo: lo, Hi: hi, Cells: 60})
	if err != nil {
		t.Fatal(err)
	}
	audit := geom.AuditOf(h.Mesh)
	if !audit.Closed || !audit.Oriented || audit.InsideOut || len(audit.Shells) != 1 {
		t.Errorf("closed %v, oriented %v, inside out %v, %d shells", audit.Closed, audit.Oriented, audit.InsideOut, len(audit.Shells))
	}
	if h.Beyond > 2*math.Hypot(60, 15)*0.06 {
		t.Errorf("the hull may be %.2f mm too large", h.Beyond)
	}
	distance := func(q r3.Vector) float64 { // from the cylinder at the best of many tilts
		best := math.Inf(1)
		for k := range 801 {
			back := geom.Turn(r3.Vector{Z: 35}, r3.Vector{X: 1}, -(lo + (hi-lo)*float64(k)/800))
			p := back.Point(q)
			best = min(best, math.Hypot(max(0, math.Hypot(p.X, p.Y)-60), max(0, 20-p.Z, p.Z-50)))
		}
		return best
	}
	most := 0.0
	for i := 0; i < len(h.Mesh.Facets); i += 23 {
		most = max(most, distance(h.Pose.Point(h.Mesh.Facets[i][0].Vector())))
	}
	if most > h.Beyond || most < 0.3*h.Beyond {
		t.Errorf("corners are up to %.2f mm outside of what is swept, %.2f mm are stated", most, h.Beyond)
	}
}

// What has no size, or less than it can be off, has a hull of some size and no great number of facets.
func TestHullOfNearlyNothing(t *testing.T) {
	speck := &geom.Mesh{Facets: []geom.Facet{{}}}
	flat := &geom.Mesh{Facets: []geom.Facet{{{0, 0, 0}, {1, 0, 0}, {0, 1, 0}}}}
	for name, test := range map[string]struct {
		mesh  *geom.Mesh
		slack float64
		tilt  int
	}{"speck": {speck, 0, tilt}, "speck that is off": {speck, 40, tilt}, "flat": {flat, 0, tilt}, "flat and off": {flat, 40, tilt}, "speck that turns": {speck, 0, -1}, "flat that turns": {flat, 40, -1}} {
		chain := motion.Chain{Home: geom.Identity(), Joints: []motion.Joint{
			{Name: "A", Kind: motion.Rotary, Axis: r3.Vector{X: 1}, Gain: motion.Params{tilt: 1}},
			{Name: "C", Kind: motion.Rotary, Axis: r3.Vector{Z: 1}, Gain: motion.Params{rotary: 1}},
			{Name: "play", Kind: motion.Linear, Axis: r3.Vector{X: 1}, Slack: test.slack},
		}}
		h, err := envelope.Of([]envelope.Load{{Mesh: test.mesh, Chain: chain}}, envelope.Sweep{Tilt: test.tilt, Rotary: rotary, Hi: 1})
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		audit, back := geom.AuditOf(h.Mesh), h.Pose.Inverse()
		if !audit.Closed || audit.InsideOut || len(h.Mesh.Facets) > 400000 || math.IsNaN(h.Beyond) || !collide.NewTree(h.Mesh).Contains(back.Point(r3.Vector{X: test.slack * 0.99})) {
			t.Errorf("%s: closed %v, inside out %v, %d facets, %g mm larger", name, audit.Closed, audit.InsideOut, len(h.Mesh.Facets), h.Beyond)
		}
	}
}

func TestOfRefuses(t *testing.T) {
	box := shape.Box(r3.Vector{}, r3.Vector{X: 1, Y: 1, Z: 1}).Mesh()
	turn := func(name string, param int) motion.Joint {
		j := motion.Joint{Name: name, Kind: motion.Rotary, Axis: r3.Vector{Z: 1}}
		j.Gain[param] = 1
		return j
	}
	carried := func(joints ...motion.Joint) []envelope.Load {
		return []envelope.Load{{Mesh: box, Chain: motion.Chain{Joints: joints, Home: geom.Identity()}}}
	}
	both := envelope.Sweep{Tilt: tilt, Rotary: rotary, Hi: 1}
	for name, test := range map[string]struct {
		loads []envelope.Load
		sweep envelope.Sweep
		want  string
	}{
		"no load":      {nil, both, "nothing is carried"},
		"no facets":    {[]envelope.Load{{Mesh: &geom.Mesh{}, Chain: carried(turn("A", tilt), turn("C", rotary))[0].Chain}}, both, "what is carried has no facets"},
		"no tilt":      {carried(turn("C", rotary)), both, "the tilt axis does not carry all of it"},
		"wrong order":  {carried(turn("C", rotary), turn("A", tilt)), both, "the tilt axis does not carry the rotary axis"},
		"two tilts":    {carried(turn("A", tilt), turn("B", tilt), turn("C", rotary)), both, "the tilt axis is not one that turns by itself"},
		"no range":     {carried(turn("A", tilt), turn("C", rotary)), envelope.Sweep{Tilt: tilt, Rotary: rotary, Lo: 1}, "a tilt of 1 to 0 is no range"},
		"another axis": {append(carried(turn("A", tilt), turn("C", rotary)), carried(turn("D", tilt), turn("C", rotary))...), both, "the solids are not carried by the same axes"},
	} {
		if _, err := envelope.Of(test.loads, test.sweep); err == nil || err.Error() != test.want {
			t.Errorf("%s: %v, want %q", name, err, test.want)
		}
	}
}

func BenchmarkOf(b *testing.B) {
	mesh := shape.Cylinder(150, 20, 250, shape.Round{Chord: 0.01}).Mesh()
	chain := motion.Chain{Home: geom.Identity(), Joints: []motion.Joint{
		{Name: "A", Kind: motion.Rotary, Axis: r3.Vector{X: 1}, Point: r3.Vector{Z: 35}, Gain: motion.Params{tilt: 1}},
		{Name: "C", Kind: motion.Rotary, Axis: r3.Vector{Z: 1}, Gain: motion.Params{rotary: 1}},
	}}
	for b.Loop() {
		h, err := envelope.Of([]envelope.Load{{Mesh: mesh, Chain: chain}}, envelope.Sweep{Tilt: tilt, Rotary: rotary, Lo: -0.5, Hi: 2})
		if err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(float64(len(h.Mesh.Facets)), "facets")
		b.ReportMetric(h.Beyond, "mm-beyond")
	}
}
