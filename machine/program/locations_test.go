package program_test

import (
	"errors"
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"strings"
	"sync"
	"testing"

	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/kinematics"
	"gridswing/machine/program"
	"gridswing/models"

	"github.com/golang/geo/r3"
)

// shop is the demo's setup with its kinematics.
type shop struct {
	setup   *machine.Setup
	kin     *kinematics.Machine
	at      map[string]int // parameter by letter
	lengths map[int]float64
}

var demoShop = sync.OnceValues(func() (*shop, error) {
	s, err := machine.LoadFS(models.Demo, models.GoodSetup)
	if err != nil {
		return nil, err
	}
	d := &shop{setup: s, at: map[string]int{}, lengths: map[int]float64{}}
	axes := make([]kinematics.Axis, len(s.Axes))
	for k, a := range s.Axes {
		axes[k] = kinematics.Axis{Kind: a.Kind, Lo: a.Travel[0], Hi: a.Travel[1], Home: a.Home}
		d.at[a.Letter] = k
	}
	for _, t := range s.Tools {
		d.lengths[t.Number] = t.LPR()
	}
	d.kin, err = kinematics.New(axes, s.Parts[0].Chain, s.Spindle.Chain)
	return d, err
})

func shopOf(t testing.TB) *shop {
	t.Helper()
	d, err := demoShop()
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// done is a step with its legs kept.
type done struct {
	program.Step
	end  motion.Params
	tip  r3.Vector // at its end
	axis r3.Vector
}

// all reads steps to their end; the error is nil at the end of the program.
func (d *shop) all(t testing.TB, s program.Steps) (list []done, fault *program.Fault) {
	t.Helper()
	var at motion.Params
	for k, a := range d.setup.Axes {
		at[k] = a.Home
	}
	for {
		st, err := s.Next()
		if err == io.EOF {
			return list, nil
		}
		if errors.As(err, &fault) {
			return list, fault
		}
		if err != nil {
			t.Fatalf("%T is no Fault: %v", err, err)
		}
		x := done{Step: *st}
		x.Legs = append([]program.Leg(nil), st.Legs...)
		for i, l := range x.Legs {
			for k := range at {
				if math.Abs(l.From[k]-at[k]) > 1e-9 {
					t.Fatalf("line %d: leg %d begins at %v, the one before ended at %v", st.Place.Line, i, l.From, at)
				}
			}
			at = l.To
		}
		x.end = at
		x.tip, x.axis = d.kin.Forward(at, d.lengths[st.Tool])
		list = append(list, x)
	}
}

func (d *shop) locations(t testing.TB, text string) ([]done, *program.Fault) {
	t.Helper()
	s, err := program.OpenLocations("a.cl", strings.NewReader(text), d.setup, 0)
	if err != nil {
		t.Fatal(err)
	}
	return d.all(t, s)
}

const head = "PARTNO BRACKET, OP 10 $$ any text\nMULTAX/ON\nUNITS/MM\nLOADTL/7,LENGTH,125,ADJUST,7\nSPINDL/12000,RPM,CLW\nCOOLNT/ON\n"

// Each kind of record, worked by hand.
func TestLocations(t *testing.T) {
	d := shopOf(t)
	list, fault := d.locations(t, head+`
RAPID
GOTO/  0, 0, 200.5, 0.0, 0.0, 1.0   $$ from home over the part
RAPID
GOTO/0,0,70
fedrat/600,mmpm
GOTO/ 30.,0,70
GODLTA/0,-40,0
GODLTA/-2.5
UNITS/INCHES
GOTO/1,$
  -1, $
  2.5,0.,0.6,0.8
FEDRAT/0.01,IPR
GODLTA/1
DELAY/1.5
DELAY/24,REV
STOP
END
FINI
GOTO/0,0,0
`)
	if fault != nil {
		t.Fatal(fault)
	}
	want := []struct {
		kind    program.Kind
		line    int
		tip     r3.Vector
		axis    r3.Vector
		length  float64
		seconds float64 // NaN: whatever it is
	}{
		{program.Rapid, 4, r3.Vector{}, r3.Vector{}, math.NaN(), math.NaN()},
		{program.Change, 4, r3.Vector{}, r3.Vector{}, 0, 6},
		{program.Rapid, 9, r3.Vector{Z: 200.5}, r3.Vector{Z: 1}, math.NaN(), math.NaN()},
		{program.Rapid, 11, r3.Vector{Z: 70}, r3.Vector{Z: 1}, 130.5, math.NaN()},
		{program.Feed, 13, r3.Vector{X: 30, Z: 70}, r3.Vector{Z: 1}, 30, 3},
		{program.Feed, 14, r3.Vector{X: 30, Y: -40, Z: 70}, r3.Vector{Z: 1}, 40, 4},
		{program.Feed, 15, r3.Vector{X: 30, Y: -40, Z: 67.5}, r3.Vector{Z: 1}, 2.5, 0.25},
		{program.Feed, 17, r3.Vector{X: 25.4, Y: -25.4, Z: 63.5}, r3.Vector{Y: 0.6, Z: 0.8}, r3.Vector{X: 4.6, Y: -14.6, Z: 4}.Norm(), math.NaN()},
		// 25.4 mm at 0.254 mm a turn are 100 turns, of which 12000 a minute make 0.5 s.
		{program.Feed, 21, r3.Vector{X: 25.4, Y: -25.4 + 0.6*25.4, Z: 63.5 + 0.8*25.4}, r3.Vector{Y: 0.6, Z: 0.8}, 25.4, 0.5},
		{program.Dwell, 22, r3.Vector{}, r3.Vector{}, 0, 1.5},
		{program.Dwell, 23, r3.Vector{}, r3.Vector{}, 0, 0.12}, // 24 / 12000 min
		{program.Stop, 24, r3.Vector{}, r3.Vector{}, 0, math.NaN()},
		{program.End, 25, r3.Vector{}, r3.Vector{}, 0, 0},
	}
	if len(list) != len(want) {
		t.Fatalf("%d steps, want %d: %+v", len(list), len(want), list)
	}
	for i, w := range want {
		x := &list[i]
		if x.Kind != w.kind || x.Place.Line != w.line || x.Place.Column != 1 {
			t.Errorf("step %d: kind %d at %v, want %d in line %d", i, x.Kind, x.Place, w.kind, w.line)
		}
		if w.axis != (r3.Vector{}) && (x.tip.Distance(w.tip) > 1e-9 || x.axis.Distance(w.axis) > 1e-9) {
			t.Errorf("line %d: tip %v, axis %v, want %v, %v", w.line, x.tip, x.axis, w.tip, w.axis)
		}
		if math.Abs(x.Length-w.length) > 1e-9 || math.Abs(x.Seconds-w.seconds) > 1e-9 {
			t.Errorf("line %d: %g mm in %g s, want %g in %g", w.line, x.Length, x.Seconds, w.length, w.seconds)
		}
		if x.Kind != program.Change && i > 1 && (x.Turning != 1 || x.Tool != 7) {
			t.Errorf("line %d: turning %d, T%d", w.line, x.Turning, x.Tool)
		}
	}
}

// Every location is where the tool gets to, along a straight line in the part in feed: the ends
// and middles of the legs are within what they may be off.
func TestLocationsStraight(t *testing.T) {
	d := shopOf(t)
	rng := rand.New(rand.NewPCG(7, 7))
	var b strings.Builder
	b.WriteString(head + "FEDRAT/1000\n")
	var tips, axes []r3.Vector
	for range 60 {
		tip := r3.Vector{X: rng.Float64()*60 - 30, Y: rng.Float64()*100 - 50, Z: rng.Float64()*60 + 20}
		axis := r3.Vector{X: rng.Float64() - 0.5, Y: rng.Float64() - 0.5, Z: 0.3 + rng.Float64()}.Normalize()
		tips, axes = append(tips, tip), append(axes, axis)
		fmt.Fprintf(&b, "GOTO/%.9f,%.9f,%.9f,%.9f,%.9f,%.9f\n", tip.X, tip.Y, tip.Z, axis.X, axis.Y, axis.Z)
	}
	b.WriteString("FINI\n")
	list, fault := d.locations(t, b.String())
	if fault != nil {
		t.Fatal(fault)
	}
	list = list[2 : len(list)-1] // after the change, before the end
	if len(list) != len(tips) {
		t.Fatalf("%d feeds of %d", len(list), len(tips))
	}
	for i := range list {
		x := &list[i]
		if x.tip.Distance(tips[i]) > 1e-7 || x.axis.Distance(axes[i]) > 1e-7 {
			t.Errorf("location %d: tip %v, axis %v, want %v, %v", i, x.tip, x.axis, tips[i], axes[i])
		}
		if i == 0 {
			continue
		}
		along := tips[i].Sub(tips[i-1])
		for _, l := range x.Legs {
			for _, f := range []float64{0.25, 0.5, 0.75} {
				var p motion.Params
				most := 0.0
				for k := range p {
					p[k] = l.From[k] + f*(l.To[k]-l.From[k])
					most += l.Within[k]
				}
				tip, _ := d.kin.Forward(p, d.lengths[7])
				v := tip.Sub(tips[i-1])
				off := v.Sub(along.Mul(v.Dot(along) / along.Norm2())).Norm()
				if off > most+1e-6 {
					t.Fatalf("location %d: the tip is %g off its line, legs say at most %g", i, off, most)
				}
			}
		}
	}
}

// Locations lead the axes as a program of blocks with tip control does, but for how its numbers
// are written.
func TestLocationsAgainstBlocks(t *testing.T) {
	d := shopOf(t)
	var zero motion.Params
	offset, err := d.kin.Linear(zero, r3.Vector{}, 0)
	if err != nil {
		t.Fatal(err)
	}
	turned := d.setup.Parts[0].Chain.Pose(zero)
	cl, nc := head+"RAPID\nGOTO/0,0,150,0,0.6,0.8\nFEDRAT/1000\n", "G21 G17 G90 G94 G40 G49\nT7 M6\nG54\nS12000 M3\n"
	toward := func(axis r3.Vector, at motion.Params) motion.Params {
		s := d.kin.Present(axis, at)
		best, least := at, math.Inf(1)
		for _, one := range s {
			for _, q := range d.kin.Turns(one, at) {
				if x := math.Abs(q[d.at["A"]]-at[d.at["A"]]) + math.Abs(q[d.at["C"]]-at[d.at["C"]]); x < least {
					best, least = q, x
				}
			}
		}
		return best
	}
	block := func(code string, tip, axis r3.Vector, at motion.Params) (string, motion.Params) {
		q := toward(axis, at)
		tip = turned.Dir(tip) // as X, Y and Z lead with the rotary axes at zero
		return fmt.Sprintf("%s X%.9f Y%.9f Z%.9f A%.9f C%.9f\n", code, tip.X, tip.Y, tip.Z, q[d.at["A"]]*180/math.Pi, q[d.at["C"]]*180/math.Pi), q
	}
	text, at := block("G0", r3.Vector{Z: 150}, r3.Vector{Y: 0.6, Z: 0.8}, zero)
	nc += "G271 H7\n" + text + "G1 F1000.\n"
	for i := range 40 {
		turn := float64(i) * 0.1
		axis := r3.Vector{X: 0.5 * math.Sin(turn), Y: 0.6 * math.Cos(turn), Z: 0.8}.Normalize()
		tip := r3.Vector{X: 20 * math.Cos(turn), Y: 30 * math.Sin(turn), Z: 70 + float64(i)/10}
		cl += fmt.Sprintf("GOTO/%.9f,%.9f,%.9f,%.12f,%.12f,%.12f\n", tip.X, tip.Y, tip.Z, axis.X, axis.Y, axis.Z)
		text, at = block("G1", tip, axis, at)
		nc += text
	}
	a, fault := d.locations(t, cl+"FINI\n")
	if fault != nil {
		t.Fatal(fault)
	}
	v := program.Values{Offsets: map[string]motion.Params{"G54": offset}, Lengths: d.lengths}
	s, err := program.Open("a.nc", strings.NewReader(nc+"G270\nM30\n"), d.setup, v, program.Options{})
	if err != nil {
		t.Fatal(err)
	}
	b, fault := d.all(t, s)
	if fault != nil {
		t.Fatal(fault)
	}
	feeds := func(list []done) (only []done) {
		for _, x := range list {
			if x.Kind == program.Feed {
				only = append(only, x)
			}
		}
		return only
	}
	fa, fb := feeds(a), feeds(b)
	if len(fa) != 40 || len(fb) != 40 {
		t.Fatalf("%d and %d feeds", len(fa), len(fb))
	}
	for i := range fa {
		for k := range fa[i].end {
			if math.Abs(fa[i].end[k]-fb[i].end[k]) > 1e-6 {
				t.Errorf("feed %d: axis %d at %.9f by locations, %.9f by blocks", i, k, fa[i].end[k], fb[i].end[k])
			}
		}
		if math.Abs(fa[i].Seconds-fb[i].Seconds) > 1e-6 || len(fa[i].Legs) != len(fb[i].Legs) {
			t.Errorf("feed %d: %g s on %d legs, %g on %d", i, fa[i].Seconds, len(fa[i].Legs), fb[i].Seconds, len(fb[i].Legs))
		}
	}
}

// Heights of the cycles, from the location along the tool, worked by hand.
func TestLocationCycles(t *testing.T) {
	d := shopOf(t)
	type at struct {
		kind   program.Kind
		height float64
	}
	const r, f, w = program.Rapid, program.Feed, program.Dwell
	for cycle, want := range map[string][]at{
		"CYCLE/DRILL,RAPTO,3,FEDTO,-10,RTRCTO,20,MMPM,200":           {{r, 20}, {r, 3}, {f, -10}, {r, 20}},
		"CYCLE/DRILL,RAPTO,3,FEDTO,-10,MMPM,200":                     {{r, 3}, {f, -10}, {r, 3}},
		"CYCLE/FACE,RAPTO,3,FEDTO,-10,DWELL,0.5,MMPM,200":            {{r, 3}, {f, -10}, {w, -10}, {r, 3}},
		"CYCLE/DEEP,RAPTO,3,FEDTO,-10,STEP,4,MMPM,200":               {{r, 3}, {f, -4}, {r, 3}, {r, -3.5}, {f, -8}, {r, 3}, {r, -7.5}, {f, -10}, {r, 3}},
		"CYCLE/BRKCHP,RAPTO,3,FEDTO,-10,STEP,6,MMPM,200":             {{r, 3}, {f, -6}, {r, -5.5}, {f, -10}, {r, 3}},
		"CYCLE/TAP,RAPTO,3,FEDTO,-10,RTRCTO,20,MMPR,1":               {{r, 20}, {r, 3}, {f, -10}, {f, 3}, {r, 20}},
		"CYCLE/BORE,RAPTO,3,FEDTO,-10,RTRCTO,20,DWELL,3,REV,MMPM,50": {{r, 20}, {r, 3}, {f, -10}, {w, -10}, {f, 3}, {r, 20}},
	} {
		axis, first, second := r3.Vector{Y: 0.6, Z: 0.8}, r3.Vector{X: 5, Y: 6, Z: 50}, r3.Vector{X: -5, Y: 6, Z: 50}
		list, fault := d.locations(t, head+"TLAXIS/0,0.6,0.8\n"+cycle+"\nGOTO/5,6,50\nGOTO/-5,6,50\nCYCLE/OFF\nFEDRAT/100,MMPM\nGOTO/-5,6,90\nFINI\n")
		if fault != nil {
			t.Errorf("%s: %v", cycle, fault)
			continue
		}
		list = list[2:]
		var hole r3.Vector
		var own int
		for i, x := range list {
			if i == 0 || x.Place.Line != list[i-1].Place.Line {
				own = 0
			}
			switch x.Place.Line {
			case 9:
				hole = first
			case 10:
				hole = second
			default:
				continue
			}
			if own >= len(want) {
				t.Errorf("%s: %d steps at a hole, want %d", cycle, own+1, len(want))
				break
			}
			if x.Kind != want[own].kind || x.tip.Distance(hole.Add(axis.Mul(want[own].height))) > 1e-9 {
				t.Errorf("%s: step %d: kind %d, tip %v, want %+v over %v", cycle, own, x.Kind, x.tip, want[own], hole)
			}
			if thread := strings.Contains(cycle, "TAP") && x.Kind == f; x.Thread != thread {
				t.Errorf("%s: step %d: in step %v", cycle, own, x.Thread)
			}
			own++
		}
		if last := list[len(list)-2]; last.Kind != f || last.tip.Distance(r3.Vector{X: -5, Y: 6, Z: 90}) > 1e-9 {
			t.Errorf("%s: after it %+v", cycle, last.tip)
		}
	}
}

// What is not known, or not right, ends the reading at its place.
func TestLocationFaults(t *testing.T) {
	d := shopOf(t)
	for _, c := range []struct{ text, at, found, expected string }{
		{"", "1:1", "end of the file", "FINI"},
		{"GOTO/0,0,0", "1:1", "unit", "UNITS/MM"},
		{"UNITS/MM\nGOTO/0,0,0", "2:1", "before any tool", "LOADTL"},
		{"UNITS/CM", "1:1", "no unit", "UNITS/INCHES"},
		{"UNITS/MM\nLOADTL/77", "2:8", "77", "tool files"},
		{"UNITS/MM\nLOADTL/7,LENGTH,120", "2:17", "120", "125.000 mm"},
		{"UNITS/MM\nLOADTL/7,OSETNO,1", "2:10", "OSETNO", "ADJUST"},
		{head + "  GOTO/0,0,0", "7:3", "how fast", "FEDRAT"},
		{head + "RAPID\nGOTO/0,0", "8:1", "2 numbers", "3 or 6"},
		{head + "RAPID\nGOTO/0,0,0,0,0,2", "8:1", "length 2", "length 1"},
		{head + "RAPID\nGOTO/0,0,0,0,-0.6,-0.8", "8:1", "no position", "travel"},
		{head + "RAPID\nGOTO/0,zero,0", "8:8", "ZERO", "a number"},
		{head + "RAPID\nGOTO/0,,0", "8:8", "nothing", "a number"},
		{head + "RAPID\nGOTO/0,1e99,0", "8:8", "1e99", "at most"},
		{head + "RAPID\nGOTO/0,0x10,0", "8:8", "0x10", "number"},
		{head + "RAPID\nGOTO 0,0,0", "8:6", "0,0,0", "slash"},
		{head + "RAPID/5", "7:7", "5", "nothing after"},
		{head + "RAPID\nGOTO/0,0,0", "9:1", "end of the file", "FINI"},
		{head + "GOTO/0,$", "7:4", "after $", "rest"},
		{head + "TRANS/1,2,3", "7:1", "TRANS", "GOTO"},
		{head + "MOVARC/0,0,0,0,0,1,5,ANGLE,90", "7:1", "MOVARC", "GOTO"},
		{head + "GOHOME", "7:1", "GOHOME", "GOTO"},
		{head + "CUTCOM/LEFT", "7:1", "radius compensation", "CUTCOM/OFF"},
		{head + "FEDRAT/0", "7:1", "more than 0", "FEDRAT/600"},
		{head + "FEDRAT/100,FPM", "7:12", "FPM", "PERMIN"},
		{head + "SPINDL/100,FAST", "7:12", "FAST", "CLW"},
		{head + "CYCLE/MILL", "7:7", "MILL", "DRILL"},
		{head + "CYCLE/DRILL,FEDTO,-10", "7:1", "without RAPTO", "both"},
		{head + "CYCLE/DRILL,RAPTO,3,FEDTO,10", "7:1", "FEDTO 10", "negative"},
		{head + "CYCLE/DEEP,RAPTO,3,FEDTO,-10", "7:1", "without STEP", "STEP"},
		{head + "CYCLE/DRILL,RAPTO", "7:13", "RAPTO", "number"},
		{head + "DELAY/REV", "7:1", "without a time", "seconds"},
		{head + "GODLTA/1", "7:1", "before any location", "GOTO"},
		{"UNITS/MM\nFROM/0,0,0", "2:1", "before any tool", "LOADTL"},
		{"%\nN10 G0 X0", "1:1", "%", "a word"},
		{"UNITS/\x00", "1:7", "byte 0", "text"},
	} {
		_, fault := d.locations(t, c.text)
		if fault == nil {
			t.Errorf("%q: read", c.text)
			continue
		}
		if at := fmt.Sprintf("%d:%d", fault.Line, fault.Column); at != c.at || !strings.Contains(fault.Found, c.found) || !strings.Contains(fault.Expected, c.expected) {
			t.Errorf("%q:\n%v\nwant at %s %q, %q", c.text, fault, c.at, c.found, c.expected)
		}
	}
	other := *d.setup
	other.Parts = nil
	if _, err := program.OpenLocations("a", strings.NewReader(""), &other, 0); err == nil {
		t.Error("a setup without a part")
	}
}

// A Fault comes with the text of its record.
func TestLocationsFaultBlock(t *testing.T) {
	d := shopOf(t)
	for _, c := range [][2]string{
		{"UNITS/MM\n  WHATEVER/1,2 $$ no", "  WHATEVER/1,2 $$ no"}, {"UNITS/MM\nGOTO/1,2", "GOTO/1,2"}, {"UNITS/MM\n12", "12"}, {"UNITS/MM", ""},
	} {
		if _, fault := d.locations(t, c[0]); fault == nil || fault.Block != c[1] {
			t.Errorf("%q: %+v, want the text %q", c[0], fault, c[1])
		}
	}
}

// Tools are led by their lengths to locations, and by none to where tools are changed.
func TestLocationsLed(t *testing.T) {
	d := shopOf(t)
	list, fault := d.locations(t, "UNITS/MM\nLOADTL/1\nRAPID\nGOTO/0,0,150\nRAPID\nGOTO/0,0,140\nLOADTL/4\nFINI")
	if fault != nil {
		t.Fatal(fault)
	}
	led, home := 0, 0
	for _, x := range list {
		switch {
		case x.Led && x.Block[:4] == "GOTO":
			led++
		case !x.Led && x.Kind == program.Rapid && x.Block == "LOADTL/4":
			home++
		case x.Led || x.Kind == program.Rapid && x.Block[:4] == "GOTO":
			t.Errorf("%s: led %v", x.Block, x.Led)
		}
	}
	if led != 2 || home == 0 {
		t.Errorf("%d steps are led, %d go home", led, home)
	}
}

// Without change_moves nothing says what happens at a tool change.
func TestLocationsUnknownChange(t *testing.T) {
	d := shopOf(t)
	other, control := *d.setup, *d.setup.Control
	control.ChangeMoves = nil
	other.Control = &control
	s, err := program.OpenLocations("a", strings.NewReader(head), &other, 0)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.Next(); err == nil || !strings.Contains(err.Error(), "change_moves") {
		t.Errorf("got %v", err)
	}
	control.ChangeMoves = new(bool)
	s, _ = program.OpenLocations("a", strings.NewReader(head), &other, 0)
	if st, err := s.Next(); err != nil || st.Kind != program.Change {
		t.Errorf("got %+v, %v: the program goes there itself", st, err)
	}
}

func FuzzLocations(f *testing.F) {
	d := shopOf(f)
	f.Add(head + "RAPID\nGOTO/0,0,100\nCYCLE/DEEP,RAPTO,3,FEDTO,-10,STEP,4,MMPM,200\nGOTO/1,2,3,0,0.6,0.8\nFINI\n")
	f.Add("$$\nGOTO/1,$\n2\nUNITS/INCHES\nFEDRAT/1e5,IPM\nDELAY/5,REV\nTLAXIS/0,0,1\nGODLTA/-1")
	f.Fuzz(func(t *testing.T, text string) {
		s, err := program.OpenLocations("a", strings.NewReader(text), d.setup, 0)
		if err != nil {
			t.Fatal(err)
		}
		for range 10000 {
			st, err := s.Next()
			if err == io.EOF {
				return
			}
			var fault *program.Fault
			if err != nil {
				if !errors.As(err, &fault) || fault.Line < 1 || fault.Column < 1 || fault.Found == "" || fault.Expected == "" {
					t.Fatalf("%T %v", err, err)
				}
				if _, again := s.Next(); again != err {
					t.Fatal("not the same twice")
				}
				return
			}
			for _, l := range st.Legs {
				for k := range l.To {
					if math.IsNaN(l.To[k]) || math.IsInf(l.To[k], 0) || !(l.Within[k] >= 0) {
						t.Fatalf("%v: leg %+v", st.Place, l)
					}
				}
			}
		}
	})
}

func BenchmarkLocations(b *testing.B) {
	d := shopOf(b)
	pr, pw := io.Pipe()
	go func() {
		fmt.Fprint(pw, head+"FEDRAT/1000\n")
		for i := range b.N {
			turn := float64(i%1000) * 0.006
			fmt.Fprintf(pw, "GOTO/%.4f,%.4f,70.0000,%.6f,%.6f,0.800000\n", 20*math.Cos(turn), 30*math.Sin(turn), 0.6*math.Sin(turn), 0.6*math.Cos(turn))
		}
		fmt.Fprint(pw, "FINI\n")
		pw.Close()
	}()
	s, err := program.OpenLocations("a", pr, d.setup, 0)
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	b.ResetTimer()
	for range b.N {
		if _, err := s.Next(); err != nil {
			b.Fatal(err)
		}
	}
}
