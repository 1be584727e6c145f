package program_test

import (
	"slices"
	"strings"
	"testing"

	"gridswing/machine"
	"gridswing/machine/program"

	"github.com/golang/geo/r3"
)

// A tool change that turns rotary axes leaves no tool axis presented, whatever was presented before.
func TestLocationsAfterTurningChange(t *testing.T) {
	d := shopOf(t)
	other, change := *d.setup, *d.setup.ToolChange
	change.At = append(slices.Clone(change.At), machine.AxisPosition{Axis: d.at["A"]}, machine.AxisPosition{Axis: d.at["C"]})
	other.ToolChange = &change
	text := head + "RAPID\nGOTO/0,0,200,0,0.6,0.8\nLOADTL/7\nRAPID\nGOTO/10,0,200\nRAPID\nGOTO/10,0,200,0,0.6,0.8\nFINI\n"
	s, err := program.OpenLocations("a", strings.NewReader(text), &other, 0)
	if err != nil {
		t.Fatal(err)
	}
	list, fault := d.all(t, s)
	if fault != nil {
		t.Fatal(fault)
	}
	var turned bool
	for _, x := range list {
		turned = turned || x.Place.Line == 9 && x.Kind == program.Change && x.end[d.at["A"]] == 0
		if l := x.Place.Line; (l == 8 || l == 11 || l == 13) && x.axis.Distance(r3.Vector{Y: 0.6, Z: 0.8}) > 1e-9 {
			t.Errorf("line %d: axis %v", l, x.axis)
		}
	}
	if !turned {
		t.Error("the change turns nothing: nothing is tested")
	}
}

// FROM is no place that axes jump to: they stand where the tool was changed.
func TestLocationsFrom(t *testing.T) {
	list, fault := shopOf(t).locations(t, head+"FROM/0,0,200,0,0,1\nFEDRAT/100\nGOTO/10,0,200\nFINI\n")
	if fault != nil {
		t.Fatal(fault)
	}
	from := list[len(list)-3]
	if from.Kind != program.Rapid || from.Place.Line != 7 || from.tip.Distance(r3.Vector{Z: 200}) > 1e-9 {
		t.Errorf("%+v", from)
	}
}

// A spindle at no speed does not turn.
func TestLocationsNoSpeed(t *testing.T) {
	list, fault := shopOf(t).locations(t, head+"SPINDL/0,RPM,CLW\nRAPID\nGOTO/0,0,200\nSPINDL/100\nRAPID\nGOTO/1,0,200\nFINI\n")
	if fault != nil {
		t.Fatal(fault)
	}
	if a, b := list[len(list)-3].Turning, list[len(list)-2].Turning; a != 0 || b != 1 {
		t.Errorf("turns by %d and %d, want 0 and 1", a, b)
	}
}

// SPINDL/ON goes on as before OFF.
func TestLocationsSpindleOn(t *testing.T) {
	list, fault := shopOf(t).locations(t, head+"SPINDL/100,CCLW\nSPINDL/OFF\nSPINDL/ON\nRAPID\nGOTO/0,0,200\nFINI\n")
	if fault != nil {
		t.Fatal(fault)
	}
	if got := list[len(list)-2].Turning; got != -1 {
		t.Errorf("turns by %d, want -1", got)
	}
}

// Whether text goes on in the next line is not guessed: that may be a location.
func TestLocationsTextGoesOn(t *testing.T) {
	_, fault := shopOf(t).locations(t, "PPRINT/THE FIRST $\nGOTO/0,0,0\n")
	if fault == nil || fault.Line != 1 || fault.Column != 18 {
		t.Errorf("%v", fault)
	}
}

// By so much from where? A cycle has left the tool above its hole, a change elsewhere altogether.
func TestLocationsBySoMuch(t *testing.T) {
	const hole = head + "FEDRAT/100\nCYCLE/DRILL,RAPTO,3,FEDTO,-5,RTRCTO,20\nGOTO/0,0,200\n"
	for _, text := range []string{
		hole + "GODLTA/10,0,0\n",
		hole + "CYCLE/OFF\nGODLTA/10,0,0\n",
		head + "RAPID\nGOTO/0,0,200\nLOADTL/7\nRAPID\nGODLTA/10,0,0\n",
	} {
		_, fault := shopOf(t).locations(t, text)
		if fault == nil || !strings.Contains(fault.Found, "GODLTA") {
			t.Errorf("%q: %v", text, fault)
		}
	}
	if _, fault := shopOf(t).locations(t, hole+"CYCLE/OFF\nRAPID\nGOTO/0,0,200\nGODLTA/10,0,0\nFINI\n"); fault != nil {
		t.Error(fault)
	}
}
