package posted

import (
	"math"
	"math/rand/v2"
	"testing"

	"gridswing/collide"
	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/proof"
	"gridswing/machine/program"

	"github.com/golang/geo/r3"
)

// Two more axes of a scene: B turns the head, C what is tilted.
const (
	axisB = 4
	axisC = 5
)

// TestEveryMoveAgainstSamples runs programs of up to six axes, of which some are off by what a leg says and one may go the
// other way round, and beside them samples of where they may be: on each move that is seen to be too near something is
// told, and no contact where nothing is near.
func TestEveryMoveAgainstSamples(t *testing.T) {
	near := 0
	n := several(24)
	for seed := range uint64(n) {
		r := rand.New(rand.NewPCG(seed, 91))
		s := manyAxes(r)
		list := wander(r, 200)
		stray(r, list)
		found := pathHits(t, s, list)
		trees := proof.NewTrees()
		for _, pair := range [][2]int{{1, 2}, {1, 3}, {1, 0}, {2, 3}, {0, 2}} {
			a, b := &s.Bodies[pair[0]], &s.Bodies[pair[1]]
			for i := range list {
				step := &list[i]
				demand := s.Demand.Swing
				if a.OnTool {
					demand = []float64{program.Rapid: s.Demand.Rapid, program.Feed: s.Demand.Holder, program.Change: s.Demand.Change}[step.Kind]
				}
				least := mayBeNear(r, trees, a, b, step)
				told, is := found[[3]int{pair[0], pair[1], step.Place.Line}]
				switch {
				case least < demand-1e-6 && !is:
					t.Errorf("seed %d, line %d: %g between %s and %s, nothing told", seed, step.Place.Line, least, a.Name, b.Name)
				case least == 0 && told == check.Tight || least > demand+1 && told == check.Contact && !step.Legs[0].Box:
					t.Errorf("seed %d, line %d: %g between %s and %s, told %v", seed, step.Place.Line, least, a.Name, b.Name, told)
				}
				if is {
					near++
				}
			}
		}
	}
	if near < 20*n {
		t.Errorf("only %d moves are near anything", near)
	}
}

// manyAxes is a scene with axes B and C, one or both of which matter.
func manyAxes(r *rand.Rand) *machine.Setup {
	s := scene(r)
	turn := func(name string, axis r3.Vector, k int, gain float64) motion.Joint {
		j := motion.Joint{Name: name, Kind: motion.Rotary, Axis: axis, Point: r3.Vector{X: 5 * r.Float64(), Z: 50 * r.Float64()}}
		j.Gain[k] = gain
		return j
	}
	if r.IntN(2) == 0 {
		head := &s.Bodies[1]
		head.Chain.Joints = append(append([]motion.Joint(nil), head.Chain.Joints...), turn("B", r3.Vector{Y: 1}, axisB, 1))
		s.Spindle.Chain = head.Chain
	}
	if r.IntN(3) > 0 {
		tilted := &s.Bodies[2]
		tilted.Chain.Joints = append(append([]motion.Joint(nil), tilted.Chain.Joints...), turn("C", r3.Vector{Z: 1}, axisC, -1))
	}
	s.Axes = append(s.Axes,
		machine.Axis{Letter: "B", Kind: motion.Rotary, OnTool: true, Travel: [2]float64{-3, 3}, Commanded: [2]float64{-3, 3}},
		machine.Axis{Letter: "C", Kind: motion.Rotary, Unlimited: true, Travel: [2]float64{math.Inf(-1), math.Inf(1)}, Commanded: [2]float64{0, 2 * math.Pi}})
	return s
}

// stray moves B and C in a program, too, and makes some axes uncertain, and where C goes.
func stray(r *rand.Rand, list []program.Step) {
	var at motion.Params
	for i := range list {
		step := &list[i]
		l := &step.Legs[0]
		to := at
		switch moves := step.Kind == program.Rapid || step.Kind == program.Feed; {
		case moves && r.IntN(4) == 0:
			to[axisB], to[axisC] = max(-3, min(3, 0.7*r.NormFloat64())), 2*r.NormFloat64()
		case moves && r.IntN(3) == 0:
			to[axisC] += 0.02 * r.NormFloat64()
			l.Within[axisX], l.Within[axisZ], l.Within[axisB] = 0.1*r.Float64(), 0.3*r.Float64(), 0.002*r.Float64()
		case moves && r.IntN(20) == 0:
			other := *l
			other.From[axisB], other.From[axisC], other.To[axisB], other.To[axisC] = at[axisB], at[axisC], at[axisB], at[axisC]+2*math.Pi
			step.OtherWay = []program.Leg{other}
		}
		l.From[axisB], l.From[axisC], l.To[axisB], l.To[axisC] = at[axisB], at[axisC], to[axisB], to[axisC]
		at = to
	}
}

// mayBeNear is the least clearance that samples of a step see, each axis off by all that it may be.
func mayBeNear(r *rand.Rand, trees *proof.Trees, a, b *machine.Body, step *program.Step) float64 {
	least := math.Inf(1)
	ta, tb, rel := trees.Of(a.Solid), trees.Of(b.Solid), motion.Between(a.Chain, b.Chain)
	for _, l := range append(append([]program.Leg(nil), step.Legs...), step.OtherWay...) {
		for i := range 13 {
			at := l.From
			for k := range at {
				share := float64(i) / 12
				if l.Box {
					share = []float64{0, 1, r.Float64(), r.Float64()}[r.IntN(4)]
				}
				at[k] += share*(l.To[k]-l.From[k]) + l.Within[k]*float64(r.IntN(3)-1)
			}
			pose := rel.Pose(at)
			least = min(least, collide.Distance(ta, tb, pose).Distance)
			if inside, _, _ := trees.Inside(a, b, pose); inside != "" {
				least = 0
			}
		}
	}
	return least
}

// pathHits are the worst verdicts by bodies and line, before they are put together in findings.
func pathHits(t testing.TB, s *machine.Setup, list []program.Step) map[[3]int]check.Verdict {
	c := newChecker(s, check.NewReport(s), Options{NoStock: true, NoWindow: true})
	rd := &reader{c: c, steps: steps(list), unled: true}
	strip := &strip{c: c, cap: c.cap, grain: 1}
	all := map[[3]int]check.Verdict{}
	for ch := rd.next(); ch != nil; ch = rd.next() {
		hits, _, err := c.pairs(t.Context(), ch, strip)
		if err != nil {
			t.Fatal(err)
		}
		for _, h := range hits {
			at := [3]int{h.a, h.b, ch.steps[h.step].Place.Line}
			if v, known := all[at]; !known || h.verdict.Worse(v) {
				all[at] = h.verdict
			}
		}
	}
	return all
}
