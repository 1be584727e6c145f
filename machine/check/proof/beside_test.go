package proof

import (
	"testing"

	"gridswing/geom"
	"gridswing/geom/motion"
	"gridswing/geom/shape"
	"gridswing/machine"

	"github.com/golang/geo/r3"
	"pgregory.net/rapid"
)

// Whatever is beside, or roomy, is measured to have that room, too.
func TestBesideIsMeasured(t *testing.T) {
	yes := 0
	rapid.Check(t, func(t *rapid.T) {
		num := func(lo, hi float64, label string) float64 { return rapid.Float64Range(lo, hi).Draw(t, label) }
		vec := func(by float64, label string) r3.Vector {
			return r3.Vector{X: num(-by, by, label), Y: num(-by, by, label), Z: num(-by, by, label)}
		}
		body := func(name string) *machine.Body {
			mesh := shape.Box(r3.Vector{}, r3.Vector{X: num(1, 40, "x"), Y: num(1, 40, "y"), Z: num(1, 40, "z")}).Mesh()
			return &machine.Body{Name: name, Solid: &machine.Solid{Mesh: mesh, Audit: geom.AuditOf(mesh), ChordError: num(0, 0.1, "chord")}}
		}
		q := Question{A: body("a"), B: body("b"), Demand: num(0.1, 5, "demand")}
		var chain motion.Chain
		chain.Home = geom.Shift(vec(60, "home"))
		for k := range rapid.IntRange(1, 3).Draw(t, "joints") {
			axis := vec(1, "axis")
			if axis.Norm() < 0.1 {
				axis = r3.Vector{Z: 1}
			}
			j := motion.Joint{Kind: motion.Kind(rapid.IntRange(0, 1).Draw(t, "kind")), Axis: axis.Normalize(), Point: vec(50, "point")}
			j.Slack = num(0, 0.01, "slack")
			j.Gain[k] = 1
			if j.Kind == motion.Linear {
				j.Gain[k] = 40
			}
			q.Over.Lo[k] = num(-0.5, 0.5, "low")
			q.Over.Hi[k] = q.Over.Lo[k] + num(0, 0.5, "range")
			chain.Joints = append(chain.Joints, j)
		}
		trees := NewTrees()
		q.Moving = trees.Pair(q.A, q.B, chain)
		enough := q.Surely() + num(0, 30, "more")
		beside := trees.Beside(&q, enough)
		roomy, err := trees.Roomy(t.Context(), &q, enough, 2000)
		if err != nil {
			t.Fatal(err)
		}
		if !beside && !roomy {
			return
		}
		yes++
		// Measured for a little less: what is seen may be nearer by the tolerance.
		a, err := trees.Measure(t.Context(), &q, enough*0.97-0.02, 1_000_000)
		if err != nil {
			t.Fatal(err)
		}
		if a.Left() < enough*0.97-0.02-1e-9 {
			t.Fatalf("beside %v, roomy %v for %g, measured %+v", beside, roomy, enough, a)
		}
	})
	if yes < 10 && !testing.Short() {
		t.Errorf("only %d questions had room", yes)
	}
}

// By hand: a block of 10 that passes another one at 5 mm is beside it, up to that; one
// within the other is not.
func TestBesideByHand(t *testing.T) {
	solid := func(size float64) *machine.Solid {
		mesh := shape.Box(r3.Vector{}, r3.Vector{X: size, Y: size, Z: size}).Mesh()
		return &machine.Solid{Mesh: mesh, Audit: geom.AuditOf(mesh)}
	}
	slide := motion.Joint{Kind: motion.Linear, Axis: r3.Vector{X: 1}}
	slide.Gain[0] = 100
	trees := NewTrees()
	ask := func(a, b *machine.Solid, at r3.Vector, enough float64) bool {
		q := Question{A: &machine.Body{Name: "a", Solid: a}, B: &machine.Body{Name: "b", Solid: b}, Demand: 1, Over: motion.Unit(1)}
		q.Moving = trees.Pair(q.A, q.B, motion.Chain{Joints: []motion.Joint{slide}, Home: geom.Shift(at)})
		return trees.Beside(&q, enough)
	}
	small, large := solid(10), solid(1000)
	if !ask(small, small, r3.Vector{X: -50, Y: 15}, 4.9) {
		t.Error("5 mm apart all the way: not seen")
	}
	if ask(small, small, r3.Vector{X: -50, Y: 15}, 5.1) {
		t.Error("5 mm apart all the way: taken for more")
	}
	if ask(small, large, r3.Vector{X: -500, Y: -500, Z: -500}, 2) || ask(large, small, r3.Vector{X: 400, Y: 500, Z: 500}, 2) {
		t.Error("one within the other is taken for beside it")
	}
}
