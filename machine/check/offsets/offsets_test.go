package offsets

import (
	"errors"
	"testing"

	"gridswing/geom"
	"gridswing/geom/motion"
	"gridswing/machine"

	"github.com/golang/geo/r3"
)

// One offset for each rotary position, computed by hand. The gauge point is at (0, 0, 600 + Z).
// The part's zero, (30, -25, 330) with everything at 0:
//
//	A 0   C 0:   X 30, Y -25, Z 330 - 600.
//	A 90  C 0:   from the line of A (y, z) = (-25, 130); A'+90 takes y to -z and z to y
//	             (ISO 841): (130, 25). Z 200 + 25 - 600.
//	A 0   C 90:  from the line of C (30, -20); C'+90 takes (x, y) to (y, -x): (-20, -30).
//	             X -20, Y -5 - 30.
//	A 90  C 90:  first C: (-20, -35, 330), from the line of A (-35, 130), to (130, 35).
func TestPerPosition(t *testing.T) {
	s := vertical(machine.PerPosition, machine.AbsoluteLengths)
	o := of(t, s, tilted(0, 0), tilted(90, 0), tilted(0, 90), tilted(90, 90), tilted(0, 450))
	if len(o.Offsets) != 4 || o.Centres != nil || o.Method != "per-position" || o.Unit != "mm" || o.Basis != Nominal {
		t.Fatalf("%+v", o)
	}
	for i, want := range []struct {
		number string
		rotary map[string]float64
		linear map[string]float64
	}{
		{"G54", map[string]float64{"A": 0, "C": 0}, at(30, -25, -270)},
		{"G55", map[string]float64{"A": 90, "C": 0}, at(30, 130, -375)},
		{"G56", map[string]float64{"A": 0, "C": 90}, at(-20, -35, -270)},
		{"G57", map[string]float64{"A": 90, "C": 90}, at(-20, 130, -365)},
	} {
		w := o.Offsets[i]
		same(t, want.number, w.Linear, want.linear, 0)
		same(t, want.number, w.Rotary, want.rotary, 0)
		if w.Number != want.number || w.Basis != Nominal || w.Turn != nil || w.Notes != nil || w.Part != "bracket" {
			t.Errorf("%+v", w)
		}
	}
	if !says(o.Notes, "NOMINAL") {
		t.Errorf("notes %q", o.Notes)
	}
	alone, err := Of(s, nil)
	if err != nil || len(alone.Offsets) != 1 {
		t.Fatalf("%+v, %v", alone, err)
	}
	same(t, "rotary zero", alone.Offsets[0].Linear, at(30, -25, -270), 0)
}

// One offset at rotary zero and the rotary centres: A's line at Y 0, Z 200 - 600, C's at X
// 0, Y -5; what lies along a line is left out.
func TestTurnedByControl(t *testing.T) {
	s := vertical(machine.TurnedByControl, machine.AbsoluteLengths)
	s.Axes[a].Measured = true
	o := of(t, s, tilted(90, 0), tilted(0, 90))
	if len(o.Offsets) != 1 || len(o.Centres) != 2 || o.Basis != Nominal {
		t.Fatalf("%+v", o)
	}
	same(t, "G54", o.Offsets[0].Linear, at(30, -25, -270), 0)
	same(t, "A", o.Centres[0].Linear, map[string]float64{"Y": 0, "Z": -400}, 0)
	same(t, "C", o.Centres[1].Linear, map[string]float64{"X": 0, "Y": -5}, 0)
	if o.Centres[0].Basis != Measured || o.Centres[1].Basis != Nominal || o.Offsets[0].Basis != Nominal {
		t.Errorf("%+v", o)
	}
	s.Axes[c].Measured = true
	if o := of(t, s); o.Basis != Measured || o.Centres[1].Basis != Measured || o.Offsets[0].Basis != Nominal || !says(o.Notes, "NOMINAL") {
		t.Errorf("both lines measured, the part not: %+v", o)
	}
	s.Parts[0].Probed = &machine.Probed{}
	if o := of(t, s); o.Offsets[0].Basis != Measured || says(o.Notes, "NOMINAL") {
		t.Errorf("all measured: %+v", o)
	}
}

// Measured is what was: a probed part at rotary zero, elsewhere only with the lines of the
// axes that are not at zero.
func TestBasis(t *testing.T) {
	s := vertical(machine.PerPosition, machine.AbsoluteLengths)
	s.Parts[0].Probed = &machine.Probed{}
	s.Axes[c].Measured = true
	o := of(t, s, tilted(0, 0), tilted(0, 90), tilted(90, 0))
	for i, want := range []string{Measured, Measured, Nominal} {
		if o.Offsets[i].Basis != want {
			t.Errorf("%v is %s", o.Offsets[i].Rotary, o.Offsets[i].Basis)
		}
	}
	if !says(o.Offsets[2].Notes, "as drawn") || o.Basis != Nominal {
		t.Errorf("%+v", o)
	}
}

// The common shift is in Z of every offset, and in nothing else; lengths touched off
// make Z count from the part's zero at rotary zero, which is at -270. An inch is 25.4 mm
// exactly (ISO 80000-3): 30 mm are 1.1811 of them.
func TestLengths(t *testing.T) {
	s := vertical(machine.PerPosition, machine.AbsoluteLengths)
	s.Offsets.Shift = 12.5
	o := of(t, s, tilted(0, 0), tilted(90, 0))
	same(t, "shifted", o.Offsets[1].Linear, at(30, 130, -362.5), 0)
	if o.Shift != 12.5 || !says(o.Notes, "+12.500 mm") {
		t.Errorf("%+v", o)
	}
	s.Offsets.Lengths = machine.TouchedOff
	o = of(t, s, tilted(0, 0), tilted(90, 0))
	same(t, "touched off", o.Offsets[0].Linear, at(30, -25, 12.5), 0)
	same(t, "touched off", o.Offsets[1].Linear, at(30, 130, -92.5), 0)
	if !says(o.Notes, "the zero of part bracket") {
		t.Errorf("notes %q", o.Notes)
	}
	s.Offsets.Method = machine.TurnedByControl
	o = of(t, s)
	same(t, "centre of A", o.Centres[0].Linear, map[string]float64{"Y": 0, "Z": -130}, 0)
	if !says(o.Notes, "turns it too") {
		t.Errorf("notes %q", o.Notes)
	}
	s = vertical(machine.PerPosition, machine.AbsoluteLengths)
	s.Offsets.Unit, s.Offsets.Decimals = geom.Inch, 4
	o = of(t, s)
	same(t, "inch", o.Offsets[0].Linear, at(1.1811, -0.9843, -10.6299), 0)
	if o.Unit != "inch" || o.Decimals != 4 || o.Offsets[0].Linear[0].Unit != "inch" {
		t.Errorf("%+v", o)
	}
}

// Several parts: their own offsets where the setup states them, the others in order; and
// what happens when they run out.
func TestNumbers(t *testing.T) {
	s := vertical(machine.PerPosition, machine.AbsoluteLengths)
	s.Offsets.Numbers = []string{"G54", "G55", "G56", "G57"}
	second, third := s.Parts[0], s.Parts[0]
	second.Name, second.Offset = "second", "G55"
	third.Name = "third"
	s.Parts = append(s.Parts, second, third)
	o, err := Of(s, [][]motion.Params{
		{tilted(0, 0)}, {tilted(0, 0), tilted(90, 0)}, {tilted(0, 0), tilted(90, 0)},
	})
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, w := range o.Offsets {
		got = append(got, w.Part+" "+w.Number)
	}
	want := []string{"bracket G54", "second G55", "second G56", "third G57", "third "}
	for i := range want {
		if i >= len(got) || got[i] != want[i] {
			t.Fatalf("%q, want %q", got, want)
		}
	}
	if !says(o.Offsets[4].Notes, "no offset is left") || !says(o.Offsets[4].Notes, "lists 4 (G54, G55, G56, G57)") {
		t.Errorf("%q", o.Offsets[4].Notes)
	}
}

// What is missing is an error, or a note where it concerns one part.
func TestMissing(t *testing.T) {
	s := vertical(machine.PerPosition, machine.AbsoluteLengths)
	s.Offsets = nil
	if _, err := Of(s, nil); !errors.Is(err, ErrNoMethod) {
		t.Error(err)
	}
	s = vertical(machine.PerPosition, machine.AbsoluteLengths)
	s.Spindle = nil
	if _, err := Of(s, nil); !errors.Is(err, ErrNoSpindle) {
		t.Error(err)
	}
	s = vertical(machine.PerPosition, machine.AbsoluteLengths)
	fixed := s.Parts[0]
	fixed.Name, fixed.Chain.Joints = "on the bed", nil
	s.Parts = append([]machine.Part{fixed}, s.Parts...)
	if o := of(t, s); len(o.Offsets) != 1 || o.Offsets[0].Part != "bracket" || !says(o.Notes, "part on the bed: no offset") {
		t.Errorf("%+v", o)
	}
	s.Parts = nil
	if o := of(t, s); len(o.Offsets) != 0 || !says(o.Notes, "no part") || o.Probing == nil {
		t.Errorf("%+v", o)
	}
}

// A head that turns: the offset is where the gauge point is at the part's zero, and the sheet says that
// the length does not count along Z there, and how far the gauge point is from the head's line.
func TestTurningHead(t *testing.T) {
	s := vertical(machine.PerPosition, machine.AbsoluteLengths)
	s.Axes[a] = machine.Axis{Letter: "B", Kind: motion.Rotary, Direction: eY, Centre: vec(0, 0, 750), OnTool: true, Travel: [2]float64{-2, 2}}
	build(s)
	// B+90 takes the gauge point from 150 below the line to 150 on the -X side of it.
	o := of(t, s, tilted(90, 0))
	same(t, "B 90", o.Offsets[0].Linear, at(30+150, -25, 330-750), 0)
	if !says(o.Offsets[0].Notes, "stands along (1.0000, 0.0000, 0.0000)") {
		t.Errorf("%q", o.Offsets[0].Notes)
	}
	s.Offsets.Method = machine.TurnedByControl
	o = of(t, s)
	if len(o.Centres) != 1 || o.Centres[0].Axis != "C" || !says(o.Notes, "NOMINAL: B turns the tool") || !says(o.Notes, "Z -150.000 mm") {
		t.Errorf("%+v", o)
	}
}

// What is probed moves the offset: the shift as it is, at rotary zero; turned with the
// part elsewhere (A'+90 takes y to -z and z to y).
func TestShifted(t *testing.T) {
	s := vertical(machine.PerPosition, machine.AbsoluteLengths)
	s.Parts[0].Probed = &machine.Probed{Shift: r3.Vector{X: 0.1, Y: 0.2, Z: 0.3}}
	o := of(t, s, tilted(0, 0), tilted(90, 0))
	same(t, "rotary zero", o.Offsets[0].Linear, at(30.1, -24.8, -269.7), 0)
	same(t, "tilted", o.Offsets[1].Linear, at(30.1, 130.3, -375.2), 0)
}

// A second axis along Z, called W, stays at home: the offset is of X, Y and Z.
func TestSecondaryAxis(t *testing.T) {
	s := vertical(machine.PerPosition, machine.AbsoluteLengths)
	w := machine.Axis{Letter: "W", Kind: motion.Linear, Direction: eZ, Travel: [2]float64{0, 100}, Home: 20, OnTool: true}
	s.Axes = append([]machine.Axis{w}, s.Axes...)
	build(s)
	same(t, "with W at 20", of(t, s).Offsets[0].Linear, at(30, -25, -290), 0)
}
