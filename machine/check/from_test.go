package check

import (
	"math"
	"strings"
	"testing"

	"gridswing/geom"
	"gridswing/geom/motion"
	"gridswing/machine"

	"github.com/golang/geo/r3"
)

// mill is a machine whose table goes in X, whose head goes in Z and W, and that
// carries a unit of two solids with a rotary axis.
func mill() *machine.Setup {
	index := 40.0
	linear := func(letter string, onTool bool, index *float64) machine.Axis {
		return machine.Axis{Letter: letter, Kind: motion.Linear, OnTool: onTool, Index: index,
			Travel: [2]float64{-100, 300}, Commanded: [2]float64{-100, 300}, Home: 300}
	}
	solid := func(min, max r3.Vector) *machine.Solid {
		return &machine.Solid{Audit: geom.Audit{Bounds: geom.Box{Min: min, Max: max}}}
	}
	box := solid(r3.Vector{}, r3.Vector{X: 100, Y: 60, Z: 50})
	return &machine.Setup{
		Axes: []machine.Axis{
			linear("X", false, nil), linear("Z", true, nil), linear("W", true, &index),
			{Letter: "A", Kind: motion.Rotary, Unit: "trunnion", Travel: [2]float64{-math.Pi / 6, 2}, Commanded: [2]float64{-math.Pi / 6, 2}},
		},
		Bodies: []machine.Body{
			{Name: "machine/head", Unit: "machine", OnTool: true, Solid: box},
			{Name: "machine/table", Unit: "machine", Solid: box},
			{Name: "tool", Unit: "tool", OnTool: true, Solid: box},
			{Name: "trunnion/base", Unit: "trunnion", Solid: box},
			{Name: "vise", Unit: "vise", Solid: box},
			{Name: "trunnion/cradle", Unit: "trunnion", Solid: solid(r3.Vector{X: -20, Y: 10, Z: 10}, r3.Vector{X: 50, Y: 20, Z: 80.5})},
		},
	}
}

// TestWhereTheSpindleSideIsLookedAt: at the index position, Z without one at
// home, the rest over what is commanded.
func TestWhereTheSpindleSideIsLookedAt(t *testing.T) {
	r := NewReport(mill())
	if len(r.SpindleSide) != 2 || r.SpindleSide[0] != "machine/head" || r.SpindleSide[1] != "tool" {
		t.Errorf("spindle side %v", r.SpindleSide)
	}
	for i, want := range []struct {
		from, to      float64
		why           string
		carries, only bool
	}{
		{-100, 300, AtCommanded, false, false},
		{300, 300, AtHome, true, true},
		{40, 40, AtIndex, true, true},
		{-30, 114.591559026, AtCommanded, false, false}, // 2 rad
	} {
		a := &r.Axes[i]
		if a.SpindleAt == nil || a.SpindleAt.From != want.from || a.SpindleAt.To != want.to || a.SpindleWhy != want.why ||
			a.CarriesTool != want.carries || a.SpindleOnly() != want.only {
			t.Errorf("%s: %+v, spindle at %+v, want %+v", a.Letter, a, a.SpindleAt, want)
		}
	}
	s := mill()
	s.Bodies = s.Bodies[3:]
	r = NewReport(s)
	if len(r.SpindleSide) != 0 || r.Axes[1].SpindleAt != nil || r.Axes[1].SpindleOnly() {
		t.Error("without a spindle side it was looked at somewhere")
	}
}

// TestPlaced: what stands there, not the machine nor the tool; all solids of a
// component together.
func TestPlaced(t *testing.T) {
	got := NewReport(mill()).Placed
	want := []Placed{{"trunnion", [3]float64{120, 60, 80.5}}, {"vise", [3]float64{100, 60, 50}}}
	if len(got) != 2 || got[0] != want[0] || got[1] != want[1] {
		t.Errorf("placed %v, want %v", got, want)
	}
}

// TestPrintedAnglesAreRound: pi/6 is 30 degrees in float64 only to the last digit.
func TestPrintedAnglesAreRound(t *testing.T) {
	a := &mill().Axes[3]
	if r := RangeOf(a, -math.Pi/6, math.Pi/3); r.From != -30 || r.To != 60 {
		t.Errorf("%v to %v, want -30 to 60", r.From, r.To)
	}
	if p := PositionOf(a, -1e-15); p.Value != 0 || math.Signbit(p.Value) {
		t.Errorf("%v, want 0", p.Value)
	}
}

// TestUnusedToolsBuryNothing: what is wrong with tools that nothing uses is one warning, however
// many faults there are; each fault is kept.
func TestUnusedToolsBuryNothing(t *testing.T) {
	for _, c := range []struct {
		unused []machine.UnusedTool
		want   string
	}{
		{nil, ""},
		{[]machine.UnusedTool{{Number: 9, Fault: "a"}, {Number: 9, Fault: "b"}}, "a tool that no operation uses is wrong in its file: T9"},
		{[]machine.UnusedTool{{Number: 9, Fault: "a"}, {Number: 14, Fault: "b"}, {Number: 9, Fault: "c"}}, "2 tools that no operation uses are wrong in their files: T9, T14"},
	} {
		s := mill()
		s.Unused = c.unused
		r := NewReport(s)
		if got := strings.Join(r.Warnings, "; "); got != c.want {
			t.Errorf("%v: warnings %q, want %q", c.unused, got, c.want)
		}
		if len(r.UnusedTools) != len(c.unused) || len(c.unused) > 0 && r.UnusedTools[0] != "T9: a" {
			t.Errorf("%v: told %q", c.unused, r.UnusedTools)
		}
	}
}
