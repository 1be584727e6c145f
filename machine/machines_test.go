package machine

import (
	"testing"

	"github.com/golang/geo/r3"
)

// horizontal is a machine with its spindle along Z, Y up, and a rotary table B
// on the bed's Z slide.
func horizontal() world {
	return world{
		"cube.stl": string(box(-10, -10, -10, 10, 10, 10)),
		"machine.toml": `kind = "machine"
name = "horizontal"
units = "mm"
up = [0, 1, 0]
[[axis]]
letter = "Z"
moves = "workpiece"
carried_by = "bed"
direction = [0, 0, 1]
travel = [0, 600]
home = 600
[[axis]]
letter = "B"
moves = "workpiece"
carried_by = "Z"
direction = [0, 1, 0]
centre = [0, 0, -200]
unlimited = true
[[axis]]
letter = "X"
moves = "tool"
carried_by = "bed"
direction = [1, 0, 0]
travel = [-300, 300]
home = 0
[[axis]]
letter = "Y"
moves = "tool"
carried_by = "X"
direction = [0, 1, 0]
travel = [0, 500]
home = 500
[spindle]
carried_by = "Y"
gauge_point = [0, 50, 150]
axis = [0, 0, 1]
[tool]
diameter = 50
length = 150
[[solid]]
name = "pallet"
role = "table"
file = "cube.stl"
at = [0, 0, -200]
carried_by = "B"
chord_error = 0
[[solid]]
name = "spindle head"
role = "head"
file = "cube.stl"
carried_by = "Y"
chord_error = 0
`,
		"block.toml": `kind = "component"
name = "block"
units = "mm"
role = "stock"
material = "cast iron"
[[solid]]
name = "block"
file = "cube.stl"
chord_error = 0
`,
		"setup.toml": `kind = "setup"
name = "horizontal"
units = "mm"
machine = "machine.toml"
[demand]
default = 2
[[place]]
name = "block"
component = "block.toml"
on = "pallet"
at = [30, 0, -200]
within = 0.1
`,
	}
}

// A horizontal machine with a rotary table, signs by ISO 841: Z' and B' carry
// the workpiece and move it the other way, X and Y carry the tool.
func TestHorizontalMachine(t *testing.T) {
	s := horizontal().load(t)
	block, tool := s.body(t, "block"), s.body(t, "tool")
	at := func(body int, values map[string]float64) r3.Vector {
		pose := s.Pose(body, s.params(t, values))
		return pose.T
	}
	near(t, "drawn", at(block, nil), vec(30, 0, -200), 0)
	near(t, "Z'+100", at(block, map[string]float64{"Z": 100}), vec(30, 0, -300), 0)
	// B'+90: part rotation Ry(-90), which takes (30, 0, 0) to (0, 0, 30).
	near(t, "B'+90", at(block, map[string]float64{"B": 90}), vec(0, 0, -170), 0)
	near(t, "both", at(block, map[string]float64{"B": 90, "Z": 100}), vec(0, 0, -270), 0)
	near(t, "X and Y", at(tool, map[string]float64{"X": 10, "Y": 20}), vec(10, 70, 150), 0)
	if !s.Bodies[tool].OnTool || !s.Bodies[s.body(t, "machine/spindle head")].OnTool || s.Bodies[block].OnTool {
		t.Error("the branches are mixed up")
	}
	b := s.axis(t, "B")
	if b.Travel[1] < 1e300 || b.Commanded != (span{0, radians(360)}) || !b.Unlimited {
		t.Errorf("unlimited B: %+v", b)
	}
	// ISO 841 by hand: the face on the spindle's side, +Z, turns to -X, as
	// Ry(-90) takes (0, 0, 1) to (-1, 0, 0): left of an operator with +X to the right.
	if want := "B +90: the face towards the operator turns to the left (a point of the part at +X goes to +Z)"; b.Words != want {
		t.Errorf("words %q, want %q", b.Words, want)
	}
}

// What stands on a horizontal machine's table comes free of it upwards, along Y.
func TestLiftOffHorizontalTable(t *testing.T) {
	s := horizontal().with(t, "setup.toml", "at = [30, 0, -200]", "at = [0, 20, -200]").load(t)
	block, pallet := s.body(t, "block"), s.body(t, "machine/pallet")
	for _, m := range s.Matings {
		if m.A == block && m.B == pallet {
			near(t, "lift", m.Lift, vec(0, 1, 0), 0)
			return
		}
	}
	t.Errorf("block and pallet do not belong together: %+v", s.Matings)
}

// A swivel head: B carries the tool, so it moves with its ISO 841 sign.
func TestSwivelHead(t *testing.T) {
	w := horizontal()
	w["machine.toml"] = `kind = "machine"
name = "swivel"
units = "mm"
up = [0, 0, 1]
[[axis]]
letter = "Z"
moves = "tool"
carried_by = "bed"
direction = [0, 0, 1]
travel = [0, 600]
home = 600
[[axis]]
letter = "B"
moves = "tool"
carried_by = "Z"
direction = [0, 1, 0]
centre = [0, 0, 200]
travel = [-100, 100]
[spindle]
carried_by = "B"
gauge_point = [0, 0, 0]
axis = [0, 0, 1]
[tool]
diameter = 50
length = 150
[[solid]]
name = "pallet"
role = "table"
file = "cube.stl"
carried_by = "bed"
chord_error = 0
[[solid]]
name = "swivel"
role = "head"
file = "cube.stl"
carried_by = "B"
chord_error = 0
[[solid]]
name = "ram"
role = "head"
file = "cube.stl"
carried_by = "Z"
chord_error = 0
`
	s := w.load(t)
	pose := s.Pose(s.body(t, "tool"), s.params(t, map[string]float64{"B": 90, "Z": 10}))
	// Ry(+90) about (0, 0, 200) takes the gauge point to (-200, 0, 200) and the
	// tool, pointing to -Z, to -X.
	near(t, "gauge point", pose.T, vec(-200, 0, 210), 0)
	near(t, "tool", pose.Dir(vec(0, 0, -1)), vec(-1, 0, 0), 0)
	if a := s.axis(t, "B"); a.Words != "B +90: the tip of the tool turns to the left (a point of the head at +X goes to -Z)" || !a.OnTool {
		t.Errorf("%+v", a)
	}
	if block := s.Bodies[s.body(t, "block")]; !block.Fixed || len(block.Chain.Joints) != 3 {
		t.Errorf("a block on a fixed table: %+v", block.Chain)
	}
	// The tool touches what swivels with it, not what carries the swivel.
	tool := s.body(t, "tool")
	var mates []string
	for _, m := range s.Matings {
		if m.A == tool {
			mates = append(mates, s.Bodies[m.B].Name)
			near(t, "lift", m.Lift, vec(0, 0, -1), 0)
		}
	}
	if len(mates) != 1 || mates[0] != "machine/swivel" {
		t.Errorf("tool mates with %q", mates)
	}
}

// What +90 does, in words, against the signs of ISO 841 worked by hand: part
// rotations Rx(-A), Ry(-B), Rz(-C) for axes under the part.
func TestWords(t *testing.T) {
	up := vec(0, 0, 1)
	for _, c := range []struct {
		axis Axis
		up   r3.Vector
		want string
	}{
		{Axis{Letter: "A", Direction: vec(1, 0, 0)}, up, "A +90: the face towards the operator turns up (a point of the part at +Y goes to -Z)"},
		{Axis{Letter: "A", Direction: vec(1, 0, 0), Reversed: true}, up, "A +90: the face towards the operator turns down (a point of the part at +Y goes to +Z)"},
		{Axis{Letter: "B", Direction: vec(0, 1, 0)}, up, "B +90: the face on top turns to the left (a point of the part at +X goes to +Z)"},
		{Axis{Letter: "C", Direction: vec(0, 0, 1)}, up, "C +90: the face towards the operator turns to the left (a point of the part at +X goes to -Y)"},
		{Axis{Letter: "C", Direction: vec(0, 0, 1), Reversed: true}, up, "C +90: the face towards the operator turns to the right (a point of the part at +X goes to +Y)"},
		{Axis{Letter: "A", Direction: vec(1, 0, 0), OnTool: true}, up, "A +90: the tip of the tool turns away from the operator (a point of the head at +Y goes to +Z)"},
		{Axis{Letter: "C", Direction: vec(0, 0, 1), OnTool: true}, up, "C +90: the side of the head towards the operator turns to the right (a point of the head at +X goes to +Y)"},
		// On a horizontal machine the operator's side is +Z, and A'+90 takes
		// (0, 0, 1) by Rx(-90) to (0, 1, 0).
		{Axis{Letter: "A", Direction: vec(1, 0, 0)}, vec(0, 1, 0), "A +90: the face towards the operator turns up (a point of the part at +Y goes to -Z)"},
		// X up: right is then +Y, the operator at -Z, and Rz(-90)
		// takes (1, 0, 0), on top, to (0, -1, 0).
		{Axis{Letter: "C", Direction: vec(0, 0, 1)}, vec(1, 0, 0), "C +90: the face on top turns to the left (a point of the part at +X goes to -Y)"},
		// Inclined 45 degrees between Y and Z: (0, -1, 0) turned by -90 about
		// (0, 1, 1)/sqrt 2 is (-sqrt 1/2, -1/2, -1/2), and (1, 0, 0) turned so
		// is (0, -sqrt 1/2, sqrt 1/2).
		{Axis{Letter: "B", Direction: vec(0, 1, 1).Normalize()}, up, "B +90: the face towards the operator turns to face along (-0.71, -0.50, -0.50) (a point of the part at +X goes to (0.00, -0.71, 0.71))"},
	} {
		if got := words(&c.axis, c.up); got != c.want {
			t.Errorf("got %q, want %q", got, c.want)
		}
	}
}
