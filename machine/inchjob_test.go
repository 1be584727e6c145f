package machine

import (
	"reflect"
	"strings"
	"testing"

	"gridswing/geom"
)

// Tools and operations in inches are those in mm: 1 inch is 25.4 mm exactly
// (ISO 80000-3). The numbers are such that nothing is rounded.
func TestInchJob(t *testing.T) {
	const tools = `kind = "tools"
name = "crib"
units = "UNIT"
[[holder]]
name = "chuck"
profile = [[0, TWO], [FOUR, TWO]]
bore = ONE
grip = HALF
[[holder]]
name = "solid"
file = "FILE"
chord_error = 0
length = TWO
[[cutter]]
name = "drill"
kind = "drill"
DC = HALF
SIG = 118
APMX = TWO
DMM = HALF
OAL = FOUR
[[tool]]
number = 1
cutter = "drill"
holder = "chuck"
stick_out = TWO
within = HALF
[[tool]]
number = 2
cutter = "drill"
holder = "solid"
stick_out = TWO
`
	const setup = `
[[part]]
name = "block"
place = "stock"
at = [ONE, 0, HALF]
turned = 90
[[operation]]
name = "op"
tool = 1
approach = HALF
retract = ONE
positions = { A = 45 }
[[operation.hole]]
at = [ONE, TWO, 0]
axis = [0, 0, 1]
depth = ONE
depth_to = "full diameter"
breakthrough = HALF
[[operation.hole]]
list = "points.csv"
axis = [0, 0, 1]
depth_to = "tip"
[[operation.face]]
from = [0, 0, 0]
to = [FOUR, FOUR, ONE]
axis = [0, 0, 1]
overrun = HALF
[[operation.contour]]
points = [[0, 0, 0], [ONE, 0, 0]]
axes = [[0, 0, 1], [0, 0, 1]]
tip_control = true
[[may_be_cut]]
body = "vise/body"
depth = HALF
reason = "soft"
[[measured]]
axis = "A"
position = { Y = HALF, Z = FOUR }
within = 0
[[probed]]
part = "block"
shift = [HALF, 0, 0]
skew = [0, 0, 1]
[offsets]
shift = ONE
`
	load := func(unit string, words ...string) *Setup {
		in := strings.NewReplacer(append(words, "UNIT", unit, "FILE", unit+".stl")...)
		w := example(t).uncut(t).with(t, "machine.toml", "decimals = 3 ", "#")
		// The stack is as it was: only what follows is in the other unit.
		head, _, _ := strings.Cut(w["setup.toml"], "[demand]")
		head = strings.Replace(head, `units = "mm"`, `units = "`+unit+`"`, 1)
		places := "[demand]\ndefault = TWO\n[[place]]\nname = \"plate\"\ncomponent = \"plate.toml\"\non = \"table\"\npins = [\"C5\", \"O5\"]\n" +
			"[[place]]\nname = \"trunnion\"\ncomponent = \"trunnion.toml\"\non = \"plate\"\npins = [\"B4\", \"L4\"]\n" +
			"[[place]]\nname = \"vise\"\ncomponent = \"vise.toml\"\non = \"trunnion/faceplate\"\npins = [\"B3\", \"D3\"]\nset = { jaw = TWO }\n" +
			"[[place]]\nname = \"stock\"\ncomponent = \"stock.toml\"\non = \"vise\"\nat = [0, 0, TWO]\nwithin = 0\n"
		w["setup.toml"] = in.Replace(head + places + setup)
		w["tools.toml"] = in.Replace(tools)
		w["points.csv"] = in.Replace("x,y,z,depth\nTWO,0,0,HALF\n")
		w["mm.stl"] = string(box(-25.4, -25.4, -50.8, 25.4, 25.4, 0))
		w["inch.stl"] = string(box(-1, -1, -2, 1, 1, 0))
		return w.load(t)
	}
	inch := load("inch", "HALF", "0.5", "ONE", "1", "TWO", "2", "FOUR", "4")
	mm := load("mm", "HALF", "12.7", "ONE", "25.4", "TWO", "50.8", "FOUR", "101.6")
	if len(mm.Faulty) > 0 || len(mm.Operations) != 1 || len(mm.Operations[0].Features) != 4 {
		t.Fatalf("%+v, faulty %+v", mm.Operations, mm.Faulty)
	}
	for name, pair := range map[string][2]any{
		"operations": {inch.Operations, mm.Operations}, "parts": {inch.Parts, mm.Parts},
		"tools": {inch.Tools, mm.Tools}, "may be cut": {inch.MayBeCut, mm.MayBeCut},
		"demand": {inch.Demand, mm.Demand}, "axes": {inch.Axes, mm.Axes}, "seats": {inch.Seats, mm.Seats},
		"shift": {inch.Offsets.Shift, mm.Offsets.Shift},
	} {
		if name == "tools" { // a vertex in inches is rounded once more
			inch.Tools[1].Holder.ChordError, mm.Tools[1].Holder.ChordError = 0, 0
			inch.Tools[1].Holder.Mesh, mm.Tools[1].Holder.Mesh = nil, nil
		}
		if !reflect.DeepEqual(pair[0], pair[1]) {
			t.Errorf("%s:\ninch %+v\nmm   %+v", name, pair[0], pair[1])
		}
	}
	// The control is that of the machine, which is metric: three decimals of a mm.
	for _, s := range []*Setup{inch, mm} {
		if s.Offsets.Decimals != 3 || s.Offsets.Unit != geom.Millimetre {
			t.Errorf("%+v", s.Offsets)
		}
	}
	// On a machine in inches it is the other way round.
	w := example(t).with(t, "machine.toml", `units = "mm"`, `units = "inch"`).with(t, "machine.toml", "decimals = 3 ", "#")
	w["setup.toml"] = "kind = \"setup\"\nname = \"empty\"\nunits = \"mm\"\nmachine = \"machine.toml\"\ndemand = { default = 2 }\noffsets = { shift = 25.4 }\n"
	if o := w.load(t).Offsets; o.Decimals != 4 || o.Unit != geom.Inch || o.Shift != 25.4 {
		t.Errorf("%+v", o)
	}
}
