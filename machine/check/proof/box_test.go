package proof

import (
	"math"
	"testing"

	"gridswing/geom"
	"gridswing/geom/motion"
	"gridswing/geom/shape"
	"gridswing/machine"

	"github.com/golang/geo/r3"
	"pgregory.net/rapid"
)

// Nothing leaves the box: solids on random chains with slack, sampled at random positions and
// with every joint off by as much as it may be.
func TestSweptHolds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		num := func(lo, hi float64, label string) float64 { return rapid.Float64Range(lo, hi).Draw(t, label) }
		vec := func(by float64, label string) r3.Vector {
			return r3.Vector{X: num(-by, by, label), Y: num(-by, by, label), Z: num(-by, by, label)}
		}
		mesh := shape.Box(vec(50, "low"), r3.Vector{X: 60, Y: 60, Z: 60}).Mesh()
		solid := &machine.Solid{Mesh: mesh, Audit: geom.AuditOf(mesh), ChordError: num(0, 0.1, "chord")}
		var chain motion.Chain
		var over motion.Box
		chain.Home = geom.Shift(vec(100, "home"))
		for k := range rapid.IntRange(1, 4).Draw(t, "joints") {
			axis := vec(1, "axis")
			if axis.Norm() < 0.1 {
				axis = r3.Vector{Z: 1}
			}
			j := motion.Joint{Kind: motion.Kind(rapid.IntRange(0, 1).Draw(t, "kind")), Axis: axis.Normalize(), Point: vec(200, "point")}
			j.Gain[k], j.Slack = 1, num(0, 0.02, "slack")
			at, half := num(-2, 2, "at"), num(0, 1.5, "half")
			over.Lo[k], over.Hi[k] = at-half, at+half
			chain.Joints = append(chain.Joints, j)
		}
		if rapid.Bool().Draw(t, "round") { // the last but one all the way round, the last only loose
			k := len(chain.Joints)
			round := motion.Joint{Kind: motion.Rotary, Axis: r3.Vector{X: 0.6, Z: 0.8}, Point: vec(50, "point"), Slack: 0.01}
			round.Gain[k] = 1
			over.Lo[k], over.Hi[k] = 1, 1+2*math.Pi
			loose := motion.Joint{Kind: motion.Rotary, Axis: r3.Vector{Y: 1}, Point: vec(50, "point"), Offset: 0.3, Slack: 0.02}
			chain.Joints = append(chain.Joints, round, loose)
		}
		trees := NewTrees()
		box, far := trees.Swept(solid, &chain, &over), trees.SweptFar(solid, &chain, &over, num(0.05, 0.5, "step"))
		for range 30 {
			p := over.Lo
			off := motion.Chain{Joints: append([]motion.Joint{}, chain.Joints...), Home: chain.Home}
			for k := range off.Joints {
				p[k] += (over.Hi[k] - over.Lo[k]) * num(0, 1, "where")
				off.Joints[k].Offset += off.Joints[k].Slack * num(-1, 1, "off")
			}
			pose := off.Pose(p)
			for _, v := range mesh.Facets[rapid.IntRange(0, len(mesh.Facets)-1).Draw(t, "facet")] {
				if x := pose.Point(v.Vector()); !box.Contains(x) || !far.Contains(x) {
					t.Fatalf("%v is outside of %v or %v", x, box, far)
				}
			}
		}
	})
}

// By hand: a block of 20 x 40 x 60 turned by a quarter about Z and shifted by 0 to 5 along X.
func TestSweptByHand(t *testing.T) {
	mesh := shape.Box(r3.Vector{}, r3.Vector{X: 20, Y: 40, Z: 60}).Mesh()
	solid := &machine.Solid{Mesh: mesh, Audit: geom.AuditOf(mesh)}
	shift := motion.Joint{Kind: motion.Linear, Axis: r3.Vector{X: 1}}
	shift.Gain[0] = 1
	chain := motion.Chain{Joints: []motion.Joint{shift}, Home: geom.Turn(r3.Vector{}, r3.Vector{Z: 1}, math.Pi/2)}
	box := NewTrees().Swept(solid, &chain, &motion.Box{Hi: motion.Params{5}})
	want := geom.Box{Min: r3.Vector{X: -40}, Max: r3.Vector{X: 5, Y: 20, Z: 60}}
	if box.Min.Sub(want.Min).Norm() > 1e-6 || box.Max.Sub(want.Max).Norm() > 1e-6 {
		t.Errorf("got %v, want %v", box, want)
	}
	if d := Between(box, geom.Box{Min: r3.Vector{X: 8, Y: 24, Z: 10}, Max: r3.Vector{X: 9, Y: 30, Z: 20}}); math.Abs(d-5) > 1e-6 {
		t.Errorf("3 and 4 apart: got %g, want 5", d)
	}
	if d := Between(box, want); d != 0 {
		t.Errorf("the same box: %g", d)
	}
}
