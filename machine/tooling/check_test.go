package tooling

import (
	"math"
	"slices"
	"strings"
	"testing"

	"gridswing/geom"
	"gridswing/geom/shape"

	"pgregory.net/rapid"
)

// serious leaves the warnings out.
func serious(list []Fault) (out []Fault) {
	for _, f := range list {
		if !f.Warning {
			out = append(out, f)
		}
	}
	return out
}

func TestGoodToolsHaveNoFaults(t *testing.T) {
	if f := endMill().Check(); len(f) > 0 {
		t.Errorf("end mill: %v", f)
	}
	rapid.Check(t, func(t *rapid.T) {
		tool := tools(t)
		if f := serious(tool.Check()); len(f) > 0 {
			t.Fatalf("%+v, stick-out %v: %v", *tool.Cutter, tool.StickOut, f)
		}
	})
}

// Each fault names the symbol, what was found and what was expected.
func TestFaults(t *testing.T) {
	block := func(low, high float64) *geom.Mesh {
		return shape.Cylinder(20, low, high, shape.Round{Chord: 0.1}).Mesh()
	}
	for _, c := range []struct {
		name    string
		spoil   func(*Tool)
		want    string
		warning bool
	}{
		{"unknown kind", func(t *Tool) { t.Cutter.Kind = "endmill" }, `cutter: kind: "endmill", expected one of ["end mill"`, false},
		{"negative", func(t *Tool) { t.Cutter.DN = -1 }, "cutter: DN: -1, expected a number that is not below 0", false},
		{"no size of a tool", func(t *Tool) { t.Cutter.DC = 1e-9 }, "cutter: DC: 1e-09, expected a number that is not below 0, of a size", false},
		{"no number", func(t *Tool) { t.StickOut = math.NaN() }, "tool: stick_out: NaN, expected a number", false},
		{"infinite", func(t *Tool) { t.Holder.Grip = math.Inf(1) }, "holder: grip: +Inf, expected a number", false},
		{"RE", func(t *Tool) { t.Cutter.RE = 6 }, "cutter: RE: 6 mm, expected no more than half of DC, 5 mm", false},
		{"ball", func(t *Tool) { t.Cutter.Kind, t.Cutter.RE = BallEndMill, 4 }, "cutter: RE: 4 mm, expected half of DC, 5 mm", false},
		{"RE of a drill", func(t *Tool) { t.Cutter.Kind, t.Cutter.SIG = Drill, 2 }, "cutter: RE: 0.5 mm, expected none", true},
		{"SIG", func(t *Tool) { t.Cutter.Kind, t.Cutter.SIG, t.Cutter.RE = Drill, 4, 0 }, "cutter: SIG: 229.1831 degrees, expected more than 0 and no more than 180", false},
		{"SIG of an end mill", func(t *Tool) { t.Cutter.SIG = 1 }, "cutter: SIG: 57.2958 degrees, expected none", true},
		{"DCN", func(t *Tool) { t.Cutter.DCN = 3 }, "cutter: DCN: 3 mm, expected no more than DC, 10 mm, and of a point", false},
		{"DCX", func(t *Tool) { t.Cutter.DCX = 9 }, "cutter: DCX: 9 mm, expected no less than DC, 10 mm", false},
		{"DCX of a drill", func(t *Tool) { t.Cutter.Kind, t.Cutter.SIG, t.Cutter.RE, t.Cutter.DCX = Drill, 2, 0, 12 }, "cutter: DCX: 12 mm, expected none of a drill", false},
		{"DN beyond DCX", func(t *Tool) { t.Cutter.DCX, t.Cutter.DN = 12, 12.5 }, "cutter: DN: 12.5 mm, expected no more than DCX, 12 mm: it counts as shank", true},
		{"DN", func(t *Tool) { t.Cutter.DN = 10.5 }, "cutter: DN: 10.5 mm, expected no more than DC, 10 mm: it counts as shank", true},
		{"DN without LU", func(t *Tool) { t.Cutter.LU = 0 }, "cutter: LU: none, expected how far the neck", false},
		{"APMX and LU", func(t *Tool) { t.Cutter.APMX = 33 }, "cutter: APMX: 33 mm, expected no more than LU, 32 mm", false},
		{"APMX and OAL", func(t *Tool) { t.Cutter.APMX, t.Cutter.LU, t.Cutter.DN = 80, 0, 0 }, "cutter: APMX: 80 mm, expected no more than OAL, 72 mm", false},
		{"LU and OAL", func(t *Tool) { t.Cutter.LU = 73 }, "cutter: LU: 73 mm, expected no more than OAL, 72 mm", false},
		{"point beyond APMX", func(t *Tool) { t.Cutter.Kind, t.Cutter.RE, t.Cutter.SIG, t.Cutter.APMX = ChamferMill, 0, math.Pi/2, 4 },
			"cutter: APMX: 4 mm, expected 5 mm or more, the length of the point", true},
		{"ball behind its stem", func(t *Tool) { *t.Cutter = Cutter{Kind: TouchProbe, DC: 6, DN: 7, LU: 40, OAL: 50} },
			"cutter: DN: 7 mm, expected less than the ball's DC, 6 mm", false},
		{"stem within the ball", func(t *Tool) { *t.Cutter = Cutter{Kind: TouchProbe, DC: 10, DN: 6, LU: 8, OAL: 50} },
			"cutter: LU: 8 mm, expected more than 9 mm", false},
		{"fastened with a gap", func(t *Tool) { *t.Cutter = Cutter{Kind: TouchProbe, DC: 6, DN: 4, LU: 40, OAL: 50}; t.StickOut = 50 },
			"tool: LU: 40 mm, and no DMM, expected 50 mm, all of OAL", false},
		{"face mill off its arbor", func(t *Tool) { *t.Cutter = Cutter{Kind: FaceMill, DC: 50, APMX: 10, OAL: 40} },
			"tool: stick_out: 35 mm, expected OAL, 40 mm", false},
		{"longer than it is", func(t *Tool) { t.StickOut = 72.5 }, "tool: stick_out: 72.5 mm, expected no more than OAL, 72 mm", false},
		{"less than common grip", func(t *Tool) { t.StickOut = 53 }, "tool: stick_out: 53 mm, expected no more than 52 mm: 20 mm of OAL", true},
		{"less than the holder's grip", func(t *Tool) { t.StickOut, t.Holder.Grip = 43, 30 }, "tool: stick_out: 43 mm, expected no more than 42 mm: grip is 30 mm", false},
		{"edges in the holder", func(t *Tool) { t.StickOut = 20 }, "tool: stick_out: 20 mm, expected no less than APMX, 22 mm", false},
		{"neck in the holder", func(t *Tool) { t.StickOut = 30 }, "tool: stick_out: 30 mm, expected no less than LU, 32 mm", true},
		{"bore", func(t *Tool) { t.Holder.Bore = 8 }, "tool: DMM: 10 mm, expected no more than the holder's bore, 8 mm", false},
		{"no cutter", func(t *Tool) { t.Cutter = nil }, "tool: cutter: none", false},
		{"no holder", func(t *Tool) { t.Holder = nil }, "tool: holder: none", false},
		{"nothing to see", func(t *Tool) { t.Holder.Profile = nil }, "holder: profile: neither profile nor solid", false},
		{"both", func(t *Tool) { t.Holder.Mesh = block(-90, 0) }, "holder: profile: a profile and a solid", false},
		{"backwards", func(t *Tool) { t.Holder.Profile[4][0] = 26 }, "holder: profile: point 5 at 26 mm, after 27 mm: goes backwards", false},
		{"pointed holder", func(t *Tool) { t.Holder.Profile[5][1] = 0 }, "holder: profile: diameter 0 at point 6", false},
		{"negative diameter", func(t *Tool) { t.Holder.Profile[5][1] = -3 }, "holder: diameter of point 6 of the profile: -3", false},
		{"below the gauge line", func(t *Tool) { t.Holder.Profile[0][0] = 1 }, "holder: profile: begins 1 mm from the gauge line, expected 0", false},
		{"another length", func(t *Tool) { t.Holder.Length = 95 }, "holder: length: 95 mm, expected 90 mm, where the profile ends", false},
		{"no stretch", func(t *Tool) { t.Holder.Profile, t.Holder.Length = t.Holder.Profile[:1], 0 }, "holder: profile: no length", false},
		{"taper", func(t *Tool) { t.Holder.Taper = "BT40" }, `holder: taper: "BT40", expected one of ["7/24 30"`, true},
		{"gauge diameter", func(t *Tool) { t.Holder.Taper = "7/24 50" }, "holder: profile: 44.45 mm at the gauge line, expected 69.85 mm", true},
		{"no flange", func(t *Tool) { t.Holder.Profile[2][1], t.Holder.Profile[3][1] = 50, 50 }, "holder: profile: 50 mm at its widest, expected a flange of 63 mm", true},
		{"solid elsewhere", func(t *Tool) { t.Holder.Profile, t.Holder.Mesh = nil, block(-90, -50) }, "holder: file: the solid ends 50 mm below the gauge line", false},
		{"solid too short", func(t *Tool) { t.Holder.Profile, t.Holder.Mesh = nil, block(-80, 0) }, "holder: length: 90 mm, expected 80 mm: the solid goes no further", false},
		{"solid too long", func(t *Tool) { t.Holder.Profile, t.Holder.Mesh = nil, block(-95, 0) }, "holder: length: 90 mm, expected 95 mm: the solid goes that far", true},
		{"no facets", func(t *Tool) { t.Holder.Profile, t.Holder.Mesh = nil, &geom.Mesh{} }, "holder: file: a solid without facets", false},
	} {
		tool := endMill()
		c.spoil(tool)
		found := false
		for _, f := range tool.Check() {
			if strings.HasPrefix(f.Error(), c.want) {
				found = true
				if f.Warning != c.warning {
					t.Errorf("%s: warning is %v", c.name, f.Warning)
				}
			}
		}
		if !found {
			t.Errorf("%s: %v, want %q", c.name, tool.Check(), c.want)
		}
	}
}

// A solid with its face and its gauge line in place is as good as a profile.
func TestGivenSolid(t *testing.T) {
	tool := endMill()
	m := shape.Cylinder(25, -90, 20, shape.Round{Chord: 0.1}).Mesh()
	tool.Holder.Profile, tool.Holder.Mesh, tool.Holder.ChordError = nil, m, 0.1
	if f := tool.Check(); len(f) > 0 {
		t.Error(f)
	}
	if tool.Solid(HolderZone) != m {
		t.Error("the holder's solid is another")
	}
	if w := tool.Widest(); math.Abs(w-50.2) > 1e-4 {
		t.Errorf("widest %v, want 50 and twice the chord error", w)
	}
}

// Whatever a kind requires is asked for by its symbol, and nothing else.
func TestNeeds(t *testing.T) {
	for _, kind := range Kinds() {
		needs := Needs(kind)
		if len(needs) == 0 {
			t.Errorf("%s needs nothing", kind)
		}
		var want, got []string
		for _, n := range needs {
			want = append(want, n.Symbol)
			if n.Why == "" {
				t.Errorf("%s needs %s for no reason", kind, n.Symbol)
			}
		}
		for _, f := range (&Cutter{Kind: kind}).Check() {
			got = append(got, f.Symbol)
		}
		if !slices.Equal(want, got) {
			t.Errorf("%s: needs %v, misses %v", kind, want, got)
		}
	}
	if Needs("hammer") != nil {
		t.Error("a hammer is no cutter")
	}
	if len(needs) != len(Kinds()) {
		t.Errorf("%d kinds have needs, of %d", len(needs), len(Kinds()))
	}
}

// FuzzTool gives the checks and the solids any numbers: no panic, and what has no
// fault has a solid that is closed, from the tip to the gauge line.
func FuzzTool(f *testing.F) {
	f.Add(uint8(0), 10.0, 0.0, 0.5, 0.0, 22.0, 32.0, 9.6, 10.0, 72.0, 35.0, 0.0, 44.45, 27.0, 63.0, 90.0, 40.0)
	f.Add(uint8(3), 8.5, 0.0, 0.0, 2.06, 50.0, 61.0, 0.0, 10.0, 103.0, 65.0, 0.0, 44.45, 27.0, 63.0, 20.0, 40.0)
	f.Add(uint8(9), 6.0, 0.0, 0.0, 0.0, 0.0, 50.0, 4.0, 0.0, 50.0, 50.0, 0.0, 63.0, 26.0, 63.0, 120.0, 63.0)
	f.Add(uint8(5), 12.0, 4.0, 0.0, 1.57, 3.0, 3.0, 13.0, 12.0, 1e-300, math.Inf(1), 0.0, -1.0, 1e38, math.NaN(), 1e308, 5e-324)
	f.Add(uint8(9), -7.8, 0.0, 0.0, 0.0, 0.0, 50.0, 4.0, 0.0, 50.0, 50.0, 0.0, 63.0, 26.0, 63.0, 120.0, 63.0)
	f.Add(uint8(1), 1e38, 0.0, 0.0, 0.0, 1e38, 0.0, 0.0, 1e37, 2e38, 1.5e38, 0.0, 1e38, 1e37, 1e38, 1e38, 1e38)
	f.Add(uint8(3), 1e-6, 0.0, 0.0, 1e-6, 1e-6, 1e-6, 1e-6, 1e-6, 1e6, 9e5, 0.0, 1e6, 1e-6, 1e-6, 1e6, 1e-6)
	f.Add(uint8(2), 1e6, 0.0, 1e-6, 0.0, 1e-6, 0.0, 1e-6, 0.0, 1e-6, 1e-6, 0.0, 1e6, 0.0, 1e6, 1e-6, 1e-6)
	f.Fuzz(func(t *testing.T, kind uint8, dc, dcn, re, sig, apmx, lu, dn, dmm, oal, out, d0, w0, d1, w1, d2, w2 float64) {
		tool := &Tool{
			Cutter: &Cutter{Kind: Kinds()[int(kind)%len(Kinds())], DC: dc, DCN: dcn, RE: re, SIG: sig, APMX: apmx, LU: lu, DN: dn, DMM: dmm, OAL: oal},
			Holder: &Holder{Length: d2, Profile: [][2]float64{{d0, w0}, {d1, w1}, {d2, w2}}}, StickOut: out,
		}
		sound := len(serious(tool.Check())) == 0
		tool.Widest()
		for _, z := range Zones() {
			m := tool.Solid(z)
			if !sound {
				continue
			}
			if a := geom.AuditOf(orEmpty(m)); m != nil && (!a.Closed || !a.Oriented || a.InsideOut) {
				t.Errorf("%+v, holder %v: %s: %v", *tool.Cutter, tool.Holder.Profile, z, a.Faults())
			}
			if m == nil && (z == Cutting || z == HolderZone) {
				t.Errorf("%+v: no %s", *tool.Cutter, z)
			}
		}
		if shortest, longest := tool.StickOuts(); sound && shortest > longest {
			t.Errorf("%+v: stick-outs %v to %v", *tool.Cutter, shortest, longest)
		}
	})
}
