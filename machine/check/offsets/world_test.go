package offsets

import (
	"math"
	"slices"
	"strings"
	"testing"

	"gridswing/geom"
	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"

	"github.com/golang/geo/r3"
)

func vec(x, y, z float64) r3.Vector { return r3.Vector{X: x, Y: y, Z: z} }

// The axes of the machines of these tests.
const (
	x = iota
	y
	z
	a
	c
)

var (
	eX, eY, eZ = r3.Vector{X: 1}, r3.Vector{Y: 1}, r3.Vector{Z: 1}
	tiltCentre = vec(0, 0, 200)
	turnCentre = vec(0, -5, 250)
	partZero   = vec(30, -25, 330)
	gaugeZero  = vec(0, 0, 600)
)

// joint returns the joint of an axis: one that carries the workpiece moves it against
// its program (ISO 841).
func joint(k int, ax *machine.Axis) motion.Joint {
	j := motion.Joint{Name: ax.Letter, Kind: ax.Kind, Axis: ax.Direction, Point: ax.Centre, Slack: ax.Accuracy}
	j.Gain[k] = 1
	if !ax.OnTool {
		j.Gain[k] = -j.Gain[k]
	}
	if ax.Reversed {
		j.Gain[k] = -j.Gain[k]
	}
	return j
}

// vertical is a machine with X and Y in the table, Z in the head and a trunnion on the table: A
// about a line along X carries C about one along Z. One part, a block from -30 to 50, -20 to
// 40 and -40 to 0 about its zero.
func vertical(method, lengths string) *machine.Setup {
	inf := math.Inf(1)
	s := &machine.Setup{
		Axes: []machine.Axis{
			{Letter: "X", Kind: motion.Linear, Direction: eX, Travel: [2]float64{-400, 400}},
			{Letter: "Y", Kind: motion.Linear, Direction: eY, Travel: [2]float64{-400, 400}},
			{Letter: "Z", Kind: motion.Linear, Direction: eZ, Travel: [2]float64{-600, 0}, OnTool: true},
			{Letter: "A", Kind: motion.Rotary, Direction: eX, Centre: tiltCentre, Travel: [2]float64{-2, 2}, Unit: "trunnion"},
			{Letter: "C", Kind: motion.Rotary, Direction: eZ, Centre: turnCentre, Travel: [2]float64{-inf, inf}, Unlimited: true, Unit: "trunnion"},
		},
		Offsets: &machine.OffsetRules{Method: method, Lengths: lengths, Numbers: []string{"G54", "G55", "G56", "G57", "G58", "G59"}, Decimals: 3},
	}
	build(s)
	return s
}

// build makes the chains from the axes: X and Y, then the rotary axes, under the part.
func build(s *machine.Setup) {
	var part, spindle []motion.Joint
	for k := range s.Axes {
		if s.Axes[k].OnTool {
			spindle = append(spindle, joint(k, &s.Axes[k]))
		} else {
			part = append(part, joint(k, &s.Axes[k]))
		}
	}
	s.Spindle = &machine.Spindle{Chain: motion.Chain{Joints: spindle, Home: geom.Shift(gaugeZero)}, Axis: z}
	chain := motion.Chain{Joints: part, Home: geom.Shift(partZero)}
	s.Parts = []machine.Part{{Name: "bracket", Unit: "stock", Chain: chain}}
	s.Bodies = []machine.Body{{Name: "stock", Unit: "stock", Chain: chain, Solid: &machine.Solid{Mesh: block(vec(-30, -20, -40), vec(50, 40, 0)), ChordError: 0.05}}}
}

// block is a box of twelve facets.
func block(lo, hi r3.Vector) *geom.Mesh {
	at := func(i int) geom.Vertex {
		v := lo
		if i&1 != 0 {
			v.X = hi.X
		}
		if i&2 != 0 {
			v.Y = hi.Y
		}
		if i&4 != 0 {
			v.Z = hi.Z
		}
		return geom.VertexOf(v)
	}
	m := &geom.Mesh{}
	for _, q := range [][4]int{{0, 2, 3, 1}, {4, 5, 7, 6}, {0, 1, 5, 4}, {2, 6, 7, 3}, {0, 4, 6, 2}, {1, 3, 7, 5}} {
		m.Facets = append(m.Facets, geom.Facet{at(q[0]), at(q[1]), at(q[2])}, geom.Facet{at(q[0]), at(q[2]), at(q[3])})
	}
	return m
}

func of(t testing.TB, s *machine.Setup, used ...motion.Params) *check.Offsets {
	t.Helper()
	o, err := Of(s, [][]motion.Params{used})
	if err != nil {
		t.Fatal(err)
	}
	return o
}

// tilted is a rotary position, in degrees.
func tilted(tilt, turn float64) motion.Params {
	return motion.Params{a: radians(tilt), c: radians(turn)}
}

// values returns positions by letter.
func values(list []check.Position) map[string]float64 {
	m := make(map[string]float64)
	for _, p := range list {
		m[p.Axis] = p.Value
	}
	return m
}

func at(x, y, z float64) map[string]float64 { return map[string]float64{"X": x, "Y": y, "Z": z} }

// same compares positions by letter.
func same(t testing.TB, what string, got []check.Position, want map[string]float64, within float64) {
	t.Helper()
	v := values(got)
	ok := len(v) == len(want)
	for k, w := range want {
		g, found := v[k]
		ok = ok && found && math.Abs(g-w) <= within
	}
	if !ok {
		t.Errorf("%s: %v, want %v", what, v, want)
	}
}

func says(list []string, what string) bool {
	return slices.ContainsFunc(list, func(s string) bool { return strings.Contains(s, what) })
}
