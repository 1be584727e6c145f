package posted

import (
	"math"
	"math/rand/v2"
	"testing"

	"gridswing/collide"
	"gridswing/geom"
	"gridswing/geom/motion"
	"gridswing/geom/shape"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/proof"
	"gridswing/machine/program"

	"github.com/golang/geo/r3"
)

// The axes of a scene: a table in X and Y, a tilt A about X on it, the head in Z.
const (
	axisX = iota
	axisY
	axisZ
	axisA
)

// block is a closed box with its centre at a place.
func block(at, half r3.Vector) *machine.Solid {
	mesh := shape.Box(at.Sub(half), at.Add(half)).Mesh()
	return &machine.Solid{Mesh: mesh, Audit: geom.AuditOf(mesh)}
}

// scene is a small machine: a head, a bed, a block that is tilted and one beside it on the table.
func scene(r *rand.Rand) *machine.Setup {
	slide := func(name string, axis r3.Vector, k int, gain float64) motion.Joint {
		j := motion.Joint{Name: name, Kind: motion.Linear, Axis: axis}
		j.Gain[k] = gain
		if r.IntN(3) == 0 {
			j.Slack = 0.02 * r.Float64()
		}
		return j
	}
	x, y := slide("X", r3.Vector{X: 1}, axisX, -1), slide("Y", r3.Vector{Y: 1}, axisY, -1)
	z := slide("Z", r3.Vector{Z: 1}, axisZ, 1)
	a := motion.Joint{Name: "A", Kind: motion.Rotary, Axis: r3.Vector{X: 1}, Point: r3.Vector{Z: 10 * r.Float64()}}
	a.Gain[axisA] = -1
	home := geom.Identity()
	size := func() r3.Vector {
		return r3.Vector{X: 3 + 10*r.Float64(), Y: 3 + 10*r.Float64(), Z: 3 + 10*r.Float64()}
	}
	table := motion.Chain{Joints: []motion.Joint{x, y}, Home: home}
	tilted := motion.Chain{Joints: []motion.Joint{x, y, a}, Home: home}
	spindle := motion.Chain{Joints: []motion.Joint{z}, Home: home}
	bed := size().Add(r3.Vector{X: 40, Y: 40})
	s := &machine.Setup{
		Name: "scene", Up: r3.Vector{Z: 1}, Spindle: &machine.Spindle{Chain: spindle, Axis: axisZ},
		Demand: machine.Demand{Default: 2, Swing: 1, Rest: 1, Rapid: 3, Approach: 2, Cutting: 1, Holder: 2, Change: 5, Loading: 1},
		Bodies: []machine.Body{
			{Name: "bed", Unit: "machine", Role: "bed", Fixed: true, Solid: block(r3.Vector{Z: -20 - bed.Z}, bed), Chain: motion.Chain{Home: home}},
			{Name: "head", Unit: "head", Role: "head", OnTool: true, Solid: block(r3.Vector{Z: 12}, size()), Chain: spindle},
			{Name: "tilted", Unit: "tilted", Role: "workholding", Solid: block(r3.Vector{}, size()), Chain: tilted},
			{Name: "beside", Unit: "beside", Role: "workholding", Solid: block(r3.Vector{X: 22, Y: 10}, size()), Chain: table},
		},
	}
	for k, letter := range []string{"X", "Y", "Z", "A"} {
		axis := machine.Axis{Letter: letter, Kind: motion.Linear, Travel: [2]float64{-500, 500}}
		if k == axisA {
			axis.Kind, axis.Travel = motion.Rotary, [2]float64{-2, 2}
		}
		axis.Commanded = axis.Travel
		s.Axes = append(s.Axes, axis)
	}
	return s
}

// wander is a program that goes to and fro over the blocks, in runs of short straight moves, and in rapids, and changes
// the tool now and then, wherever it is.
func wander(r *rand.Rand, moves int) (list []program.Step) {
	var at motion.Params
	at[axisZ] = 40
	line := 1
	low := 4 + 14*r.Float64() // as far down as it goes
	for len(list) < moves {
		to := at
		to[axisX], to[axisY] = 40*r.NormFloat64(), 30*r.NormFloat64()
		to[axisZ] = low + 20*r.Float64()
		if r.IntN(2) == 0 {
			to[axisA] = 1.2 * r.NormFloat64()
		}
		kind, parts := program.Feed, 1+r.IntN(40)
		if r.IntN(3) == 0 {
			kind, parts = program.Rapid, 1
		}
		from := at
		for i := range parts {
			next := from
			for k := range next {
				next[k] += (to[k] - from[k]) * float64(i+1) / float64(parts)
			}
			s := straight(kind, 0, line, at, next)
			if kind == program.Rapid && r.IntN(2) == 0 {
				s.Legs[0].Box = true
			}
			list = append(list, s)
			at = next
			line++
		}
		if r.IntN(4) == 0 {
			list = append(list, program.Step{
				Kind: program.Change, Place: program.Place{File: "test.nc", Line: line, Column: 1}, Seconds: 1,
				Legs: []program.Leg{{From: at, To: at}}, // nobody reads them of a change, but the test
			})
			line++
		}
	}
	return list
}

// several is how many random cases are looked at: a third of n in a short run, as under the race detector.
func several(n int) int {
	if testing.Short() {
		return (n + 2) / 3
	}
	return n
}

// nearestOn is the least clearance as drawn of two bodies that is seen on a step.
func nearestOn(r *rand.Rand, trees *proof.Trees, s *machine.Setup, a, b int, step *program.Step) float64 {
	least := math.Inf(1)
	ta, tb := trees.Of(s.Bodies[a].Solid), trees.Of(s.Bodies[b].Solid)
	rel := motion.Between(s.Bodies[a].Chain, s.Bodies[b].Chain)
	for _, l := range step.Legs {
		for i := range 13 {
			at := l.From
			for k := range at {
				share := float64(i) / 12
				if l.Box {
					share = []float64{0, 1, r.Float64(), r.Float64()}[r.IntN(4)]
				}
				at[k] += share * (l.To[k] - l.From[k])
			}
			pose := rel.Pose(at)
			d := collide.Distance(ta, tb, pose).Distance
			if inside, _, _ := trees.Inside(&s.Bodies[a], &s.Bodies[b], pose); inside != "" {
				d = 0
			}
			least = min(least, d)
		}
	}
	return least
}

// looseness is more than what the slack of the scene's axes can do.
const looseness = 0.07

// checked is the report about a program.
func checked(t testing.TB, s *machine.Setup, p program.Steps, o Options) *check.Report {
	t.Helper()
	r := check.NewReport(s)
	if _, err := Check(t.Context(), s, r, Program{File: "test.nc", Format: check.WordAddress, Steps: p}, o); err != nil {
		t.Fatal(err)
	}
	return r
}
