package posted

import (
	"math"
	"slices"
	"strings"
	"testing"

	"gridswing/geom"
	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/offsets"
	"gridswing/machine/program"
	"gridswing/models"
)

// demo loads the good setup of the demo for a control with an offset for each position, of which nothing is
// keyed in, and returns it with the place of its axes.
func demo(t *testing.T) (*machine.Setup, map[string]int) {
	t.Helper()
	s, err := machine.LoadFS(models.Demo, models.GoodSetup)
	if err != nil {
		t.Fatal(err)
	}
	s.Keyed = nil
	s.Offsets.Method = machine.PerPosition
	axes := map[string]int{}
	for k := range s.Axes {
		axes[s.Axes[k].Letter] = k
	}
	return s, axes
}

// compared runs a comparison on the setup.
func compared(s *machine.Setup, used *program.Used) *check.Report {
	r := &check.Report{Program: &check.Program{File: "op10.nc"}, Findings: []check.Finding{}, Pairs: []check.Pair{{Verdict: check.Clear}},
		Stack: &check.Stack{Locations: []check.Location{{Part: s.Parts[0].Name, Point: check.PartZero, To: check.FromTool, Off: 0.12, Angle: 0.01}}}}
	Compare(s, r, used)
	return r
}

// at is a rotary position of the demo, degrees.
func at(axes map[string]int, a, c float64) (p motion.Params) {
	p[axes["A"]], p[axes["C"]] = a*math.Pi/180, c*math.Pi/180
	return p
}

// right returns the offset that is computed for a rotary position.
func right(t *testing.T, s *machine.Setup, rotary motion.Params) motion.Params {
	t.Helper()
	o, err := offsets.Of(s, [][]motion.Params{{rotary}})
	if err != nil || len(o.Offsets) != 1 {
		t.Fatalf("%+v, %v", o, err)
	}
	return valuesOf(s, &o.Offsets[0])
}

// What nobody has keyed in is what is computed, offsets by their numbers, lengths by those of the
// tools; what is keyed in goes before, a rotary axis that is left out being 0, a linear one as computed.
func TestValues(t *testing.T) {
	s, axes := demo(t)
	table, err := offsets.Of(s, nil)
	if err != nil {
		t.Fatal(err)
	}
	v := Values(s, table)
	want := right(t, s, motion.Params{})
	if got := v.Offsets["G54"]; got != want {
		t.Errorf("G54 is %v, want %v", got, want)
	}
	for _, tool := range s.Tools {
		if got := v.Lengths[tool.Number]; got != tool.LPR() {
			t.Errorf("H%d is %g, want %g", tool.Number, got, tool.LPR())
		}
	}
	if len(v.Radii) > 0 {
		t.Errorf("radii %v: of none it is known which number it has", v.Radii)
	}
	var part machine.KeyedOffset
	part.Values[axes["X"]], part.Stated[axes["X"]] = 7, true
	s.Keyed = &machine.Keyed{Offsets: map[string]machine.KeyedOffset{"G54": part, "G58": part}, Lengths: map[int]float64{3: 99}, Radii: map[int]float64{3: 5}}
	v = Values(s, table)
	want[axes["X"]] = 7
	if got := v.Offsets["G54"]; got != want || v.Lengths[3] != 99 || v.Radii[3] != 5 {
		t.Errorf("G54 is %v, want %v; %v, %v", got, want, v.Lengths, v.Radii)
	}
	if _, is := v.Offsets["G58"]; is {
		t.Error("G58 is taken although of Y and Z nobody knows")
	}
	if v := Values(s, nil); len(v.Offsets) != 0 || len(v.Lengths) != 1 {
		t.Errorf("with nothing computed: %+v", v)
	}
}

// What differs is found, at each rotary position, and said in words: half a pitch, the pitch and one and a half of the
// grid plate's holes, which are 50 apart (its component file); signs, units and axes that are exchanged.
func TestOffsetsThatAreOff(t *testing.T) {
	s, axes := demo(t)
	x, y, z := axes["X"], axes["Y"], axes["Z"]
	for _, rotary := range []motion.Params{at(axes, 0, 0), at(axes, 90, 180), at(axes, 40, 30)} {
		good := right(t, s, rotary)
		for want, change := range map[string]func(v *motion.Params){
			"": func(*motion.Params) {},
			"X differs by +25.000 mm: as much as half the pitch of the holes of": func(v *motion.Params) { v[x] += 25 },
			"Y differs by -50.000 mm: as much as the pitch of the holes of":      func(v *motion.Params) { v[y] -= 50 },
			"X differs by -75.000 mm: as much as 1.5 times the pitch":            func(v *motion.Params) { v[x] -= 75 },
			"Z differs by +3.210 mm":        func(v *motion.Params) { v[z] += 3.21 },
			"Z differs by -0.124 mm":        func(v *motion.Params) { v[z] -= 0.124 },
			"the sign is the other one":     func(v *motion.Params) { v[z] = -v[z] },
			"the other unit of length":      func(v *motion.Params) { v[z] /= 25.4 },
			"A differs by +90.0000 deg":     func(v *motion.Params) { v[axes["A"]] += math.Pi / 2 },
			"differs in X by +0.110 mm, no": func(v *motion.Params) { v[x] += 0.11 },
		} {
			v := good
			change(&v)
			r := compared(s, &program.Used{Offsets: []program.UsedOffset{{Name: "G54", Values: v, Rotary: rotary, First: program.Place{File: "op10.nc", Line: 9}}}})
			o := r.Program.Offsets[0]
			clear := want == "" || strings.HasPrefix(want, "differs in")
			if !strings.Contains(o.Words, want) || (o.Verdict == check.Clear) != clear || len(r.Findings) == 0 != clear || (r.Verdict == check.Clear) != clear {
				t.Errorf("%v: %+v, %d findings, want %q", rotary, o, len(r.Findings), want)
			}
			if want == "" && o.Words != "" || o.Line != 9 || o.Source != "computed" || len(o.Computed) < 3 || len(o.Used) != len(o.Computed) {
				t.Errorf("%v: %+v", rotary, o)
			}
		}
	}
}

// Led in the part, an offset is the one for rotary zero wherever the axes stand; and turns that are whole do not count.
func TestCarriedOffsets(t *testing.T) {
	s, axes := demo(t)
	zero := right(t, s, motion.Params{})
	for carried, want := range map[bool]check.Verdict{true: check.Clear, false: check.Unproven} {
		zero[axes["C"]] = 2 * math.Pi
		r := compared(s, &program.Used{Offsets: []program.UsedOffset{{Name: "G54", Values: zero, Rotary: at(axes, 90, 0), Carried: carried}}})
		if got := r.Program.Offsets[0]; got.Verdict != want {
			t.Errorf("carried %v: %+v, want %s", carried, got, want)
		}
	}
}

// Lengths are compared with those of the tool files: one that is another tool's is named.
func TestLengthsThatAreOff(t *testing.T) {
	s, _ := demo(t)
	first, second := s.Tools[0], s.Tools[1]
	first.Within = 0.05
	for want, length := range map[string]float64{
		"": first.LPR(),
		"differs by +0.040 mm, no more than the tool can be off": first.LPR() + 0.04,
		"differs by +0.070 mm":  first.LPR() + 0.07,
		"it is the length of T": second.LPR(),
	} {
		r := compared(s, &program.Used{Lengths: []program.UsedLength{{Tool: first.Number, H: 1, Length: length, Set: true}}})
		l := r.Program.Lengths[0]
		if clear := want == "" || strings.Contains(want, "no more"); !strings.Contains(l.Words, want) || (l.Verdict == check.Clear) != clear || len(r.Findings) == 0 != clear {
			t.Errorf("%g: %+v, %+v, want %q", length, l, r.Findings, want)
		}
	}
	r := compared(s, &program.Used{Lengths: []program.UsedLength{{Tool: first.Number}, {Tool: 9999, H: 3, Length: 5}}})
	if l := r.Program.Lengths; l[0].Words != "feeds without a length offset" || !strings.Contains(l[1].Words, "no T9999") || l[1].Computed != nil {
		t.Errorf("%+v", l)
	}
	if len(r.Findings) != 2 || r.Verdict != check.Unproven || len(r.Program.Assumed) != 1 {
		t.Errorf("%+v, %q", r.Findings, r.Program.Assumed)
	}
}

// A length that counts while no tool is known is one of no tool, and not of a T0.
func TestLengthOfNoTool(t *testing.T) {
	s, _ := demo(t)
	r := compared(s, &program.Used{Lengths: []program.UsedLength{{}, {H: 3, Length: 5}}})
	for i, want := range []string{"tool length", "H3"} {
		l, f := &r.Program.Lengths[i], &r.Findings[i]
		if l.Subject() != want || l.Verdict != check.Unproven || f.Tool != nil || strings.Contains(f.Reason, "T0") {
			t.Errorf("%q, %+v, %+v", l.Subject(), l, f)
		}
	}
}

// All lengths that nobody has keyed in are told in one line, in the order of their numbers; so are offsets.
func TestLengthsNotKeyedIn(t *testing.T) {
	s, _ := demo(t)
	r := compared(s, &program.Used{Lengths: []program.UsedLength{
		{Tool: 3, H: 3, Length: 1}, {Tool: 1, H: 1, Length: 1}, {Tool: 2, H: 2, Length: 1}, {Tool: 4, H: 3, Length: 1}, {Tool: 5, H: 5, Length: 1, Set: true}}})
	if list := r.Program.Assumed; len(list) != 1 || !strings.HasPrefix(list[0], "H1, H2 and H3 are not keyed in") {
		t.Errorf("%q", list)
	}
	for want, names := range map[string][]string{"G54 is not keyed in": {"G54", "G54"}, "G54, G55 and G57 are not keyed in": {"G55", "G54", "G57", "G55"}} {
		if words := assumedOffsets(names); !strings.HasPrefix(words, want) {
			t.Errorf("%q", words)
		}
	}
}

// Where nothing can be computed, nothing is called clear; what was not keyed in is said.
func TestNothingToCompareWith(t *testing.T) {
	s, axes := demo(t)
	var part machine.KeyedOffset
	part.Stated[axes["X"]] = true
	s.Keyed = &machine.Keyed{Offsets: map[string]machine.KeyedOffset{"G55": part}}
	u := &program.Used{Offsets: []program.UsedOffset{{Name: "G54"}, {Name: "G55"}, {Name: "G56", Set: true}}}
	r := compared(s, u)
	if a := r.Program.Assumed; len(a) != 2 || !strings.HasPrefix(a[0], "G54 is not keyed in") || !strings.HasPrefix(a[1], "Y, Z of G55 not keyed in") && !strings.HasPrefix(a[1], "Z, Y of G55 not keyed in") {
		t.Errorf("assumed %q", a)
	}
	s.Offsets = nil
	r = compared(s, u)
	for _, o := range r.Program.Offsets {
		if o.Verdict != check.Unproven || !strings.Contains(o.Words, "does not state how its control treats offsets") || len(o.Computed) != 0 {
			t.Errorf("%+v", o)
		}
	}
	s, _ = demo(t)
	s.Parts = nil
	r = &check.Report{Program: &check.Program{}}
	if Compare(s, r, u); r.Program.Offsets[0].Verdict != check.Unproven || !strings.Contains(r.Program.Offsets[0].Words, "no [[part]]") {
		t.Errorf("without a part: %+v", r.Program.Offsets[0])
	}
}

// An inch control's values are told in inches (ISO 80000-3: 25.4 mm exactly).
func TestInchControl(t *testing.T) {
	s, axes := demo(t)
	s.Offsets.Unit, s.Offsets.Decimals = geom.Inch, 4
	v := right(t, s, motion.Params{})
	v[axes["X"]] += 25
	r := compared(s, &program.Used{Offsets: []program.UsedOffset{{Name: "G54", Values: v}}})
	o := r.Program.Offsets[0]
	i := slices.IndexFunc(o.Used, func(p check.Position) bool { return p.Axis == "X" })
	if d := o.Used[i].Value - o.Computed[i].Value; math.Abs(d-25/25.4) > 1e-5 || o.Used[i].Unit != "inch" || !strings.HasPrefix(o.Words, "X differs by +0.9843 inch") {
		t.Errorf("%+v", o)
	}
}
