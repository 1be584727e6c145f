package proof

import (
	"math/rand/v2"
	"testing"

	"gridswing/geom"
	"gridswing/geom/motion"
	"gridswing/geom/shape"
	"gridswing/machine"
	"gridswing/machine/check"

	"github.com/golang/geo/r3"
)

// BenchmarkLedger asks whether a body swung over tilt and rotary keeps 2 mm off vise blocks, and how
// much more there is, in a hundred setups with four such questions each, in which it stands some mm
// elsewhere or nowhere else but for rounding: two are near, two far.
func BenchmarkLedger(b *testing.B) {
	for _, c := range []struct {
		name   string
		shift  float64 // mm
		ledger bool
	}{
		{"same/without", 1e-11, false}, {"same/ledger", 1e-11, true},
		{"shifted/without", 3, false}, {"shifted/ledger", 3, true},
	} {
		b.Run(c.name, func(b *testing.B) {
			trees := NewTrees()
			questions := swings(trees, c.shift)
			for b.Loop() {
				trees.Ledger = nil
				if c.ledger {
					trees.Ledger = NewLedger()
				}
				for _, q := range questions {
					if a, err := trees.Ask(b.Context(), q, sceneTests); err != nil || a.Verdict != check.Clear {
						b.Fatalf("%v, %+v", err, a)
					}
					if _, err := trees.Measure(b.Context(), q, 5*q.Demand, sceneTests); err != nil {
						b.Fatal(err)
					}
				}
			}
			b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N*len(questions)/4), "us/setup")
		})
	}
}

// swings are questions about four bodies at some distance each, by turns.
func swings(trees *Trees, shift float64) (list []*Question) {
	solid := func(m *geom.Mesh) *machine.Solid { return &machine.Solid{Mesh: m, Audit: geom.AuditOf(m)} }
	a := &machine.Body{Name: "vise", Solid: solid(shape.ViseBlocks(20_000))}
	ball := &machine.Body{Name: "part", Solid: solid(shape.BumpyBall(20_000))}
	top, high := a.Solid.Audit.Bounds.Max.Z, ball.Solid.Audit.Bounds.Size().Norm()/2
	r := rand.New(rand.NewPCG(1, 53))
	for i := range 400 {
		by := r3.Vector{X: r.NormFloat64(), Y: r.NormFloat64(), Z: r.Float64()}.Mul(shift)
		at := r3.Vector{X: 20, Z: top + high + []float64{4, 12, 40, 90}[i%4]}.Add(by)
		m := motion.Chain{Home: geom.Shift(at), Joints: []motion.Joint{
			{Kind: motion.Rotary, Axis: r3.Vector{X: 1}, Point: at, Gain: motion.Params{1}},
			{Kind: motion.Rotary, Axis: r3.Vector{Z: 1}, Point: at.Add(r3.Vector{X: 1}), Gain: motion.Params{0, 1}, Slack: 1e-4},
		}}
		q := &Question{A: a, B: ball, Moving: trees.Pair(a, ball, m), Demand: 2, Which: uint64(i % 4)}
		q.Over.Hi = motion.Params{1.5, 6.28}
		list = append(list, q)
	}
	return list
}
