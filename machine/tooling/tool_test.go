package tooling

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// The length of a point as a part of the diameter: 0.3 at 118 degrees, as every
// drilling table has it, 0.5 at 90 and 0.29 at 120 (from memory, to two decimals);
// of a ball and a rounded corner it is the radius.
func TestTipLength(t *testing.T) {
	for _, c := range []struct {
		cutter Cutter
		want   float64
		within float64
	}{
		{Cutter{Kind: Drill, DC: 10, SIG: 118 * math.Pi / 180}, 3.0, 0.05},
		{Cutter{Kind: Drill, DC: 10, SIG: 118 * math.Pi / 180}, 3.0043, 0.0001}, // 5/tan 59
		{Cutter{Kind: SpotDrill, DC: 10, SIG: math.Pi / 2}, 5, 1e-12},
		{Cutter{Kind: Drill, DC: 10, SIG: 120 * math.Pi / 180}, 2.9, 0.05},
		{Cutter{Kind: Drill, DC: 10, SIG: math.Pi}, 0, 0},
		{Cutter{Kind: ChamferMill, DC: 12, DCN: 4, SIG: math.Pi / 2}, 4, 1e-12},
		{Cutter{Kind: EndMill, DC: 10}, 0, 0},
		{Cutter{Kind: EndMill, DC: 10, RE: 2}, 2, 0},
		{Cutter{Kind: BallEndMill, DC: 10}, 5, 0},
		{Cutter{Kind: TouchProbe, DC: 6, DN: 4}, 3, 0},
	} {
		if got := c.cutter.TipLength(); math.Abs(got-c.want) > c.within {
			t.Errorf("%+v: %v, want %v", c.cutter, got, c.want)
		}
	}
}

// Gauge diameters in inch as in ASME B5.50: 1 1/4, 1 3/4, 2 1/4, 2 3/4. The flange
// of size 40 is 63 in MAS 403-1982 and 2.5 inch in ASME B5.50: neither is
// warned of.
func TestTapers(t *testing.T) {
	for name, inch := range map[string]float64{"7/24 30": 1.25, "7/24 40": 1.75, "7/24 45": 2.25, "7/24 50": 2.75} {
		if got, ok := TaperOf(name); !ok || math.Abs(got.Gauge-inch*25.4) > 1e-9 {
			t.Errorf("%s: gauge diameter %v, want %v inch", name, got.Gauge, inch)
		}
	}
	for _, c := range []struct {
		taper  string
		flange float64
	}{{"7/24 40", 63}, {"7/24 40", 63.5}, {"HSK-A 63", 63}} {
		tp, _ := TaperOf(c.taper)
		h := Holder{Taper: c.taper, Length: 50, Profile: [][2]float64{{0, tp.Gauge}, {3, tp.Gauge}, {3, c.flange}, {50, c.flange}}}
		if f := h.Check(); len(f) > 0 {
			t.Errorf("%v: %v", c, f)
		}
	}
	for _, name := range Tapers() {
		if tp, ok := TaperOf(name); !ok || tp.Flange < tp.Gauge {
			t.Errorf("%s: %v, %v: the flange is what the taper ends at", name, tp, ok)
		}
	}
	if _, ok := TaperOf("7/24"); ok {
		t.Error("a taper without a size")
	}
}

// Shanks have the lengths of DIN 6535 HA: 6 has 36 mm, 10 has 40, 20 has 50, of which two
// diameters stay in the holder.
func TestStickOuts(t *testing.T) {
	for _, c := range []struct {
		name              string
		cutter            Cutter
		bore, grip        float64
		shortest, longest float64
	}{
		{"6 mm", Cutter{Kind: EndMill, DC: 6, APMX: 13, LU: 21, DMM: 6, OAL: 57}, 0, 0, 21, 45},
		{"10 mm", Cutter{Kind: EndMill, DC: 10, APMX: 22, LU: 32, DMM: 10, OAL: 72}, 0, 0, 32, 52},
		{"20 mm", Cutter{Kind: EndMill, DC: 20, APMX: 38, LU: 54, DMM: 20, OAL: 104}, 20, 0, 54, 64},
		{"no LU", Cutter{Kind: EndMill, DC: 10, APMX: 22, DMM: 10, OAL: 72}, 0, 0, 22, 52},
		{"thin in a wide collet", Cutter{Kind: Drill, DC: 3, SIG: 2, APMX: 20, DMM: 3, OAL: 60}, 20, 0, 20, 60 - 40.0/3},
		{"stated grip", Cutter{Kind: EndMill, DC: 10, APMX: 22, LU: 32, DMM: 10, OAL: 72}, 20, 36, 32, 36},
		{"too short to be held", Cutter{Kind: EndMill, DC: 10, APMX: 22, LU: 32, DMM: 10, OAL: 72}, 20, 45, 27, 27},
		{"face mill", Cutter{Kind: FaceMill, DC: 50, APMX: 10, OAL: 40}, 0, 30, 40, 40},
		{"face mill with a shank", Cutter{Kind: FaceMill, DC: 25, APMX: 10, DMM: 20, OAL: 90}, 0, 0, 10, 50},
		{"probe", Cutter{Kind: TouchProbe, DC: 6, DN: 4, LU: 50, OAL: 50}, 0, 0, 50, 50},
	} {
		tool := Tool{Cutter: &c.cutter, Holder: &Holder{Bore: c.bore, Grip: c.grip}}
		if s, l := tool.StickOuts(); math.Abs(s-c.shortest) > 1e-9 || math.Abs(l-c.longest) > 1e-9 {
			t.Errorf("%s: %v to %v, want %v to %v", c.name, s, l, c.shortest, c.longest)
		}
	}
}

// Within the window there is nothing to say about the stick-out; beyond it there is.
func TestCheckAgreesWithStickOuts(t *testing.T) {
	told := func(tool *Tool) bool {
		for _, f := range tool.Check() {
			if f.Symbol == "stick_out" {
				return true
			}
		}
		return false
	}
	rapid.Check(t, func(t *rapid.T) {
		tool := tools(t)
		shortest, longest := tool.StickOuts()
		if told(tool) || told(tool.At(shortest)) || told(tool.At(longest)) {
			t.Fatalf("%+v: told of %v, %v or %v", *tool.Cutter, tool.StickOut, shortest, longest)
		}
		off := fastenedSlack * 1.01
		if shortest > off && !told(tool.At(shortest-off)) || !told(tool.At(longest+off)) {
			t.Fatalf("%+v: not told beyond %v to %v", *tool.Cutter, shortest, longest)
		}
	})
}

func TestLengthsWidthAndMass(t *testing.T) {
	tool := endMill()
	if got := tool.LPR(); got != 125 {
		t.Errorf("LPR %v, want 90 + 35", got)
	}
	if got := tool.Widest(); got != 63 {
		t.Errorf("widest %v, want the flange, 63", got)
	}
	tool.Cutter = &Cutter{Kind: FaceMill, DC: 80, APMX: 8, OAL: 50}
	if got := tool.At(50).Widest(); got != 80 {
		t.Errorf("widest %v, want the cutter, 80", got)
	}
	for _, c := range []struct{ tool, cutter, holder, want float64 }{
		{0, 0, 0, 0}, {0, 0.3, 0, 0}, {0, 0, 1.2, 0}, {0, 0.3, 1.2, 1.5}, {1.6, 0.3, 1.2, 1.6}, {1.6, 0, 0, 1.6},
	} {
		tool := Tool{Mass: c.tool, Cutter: &Cutter{Mass: c.cutter}, Holder: &Holder{Mass: c.holder}}
		if got := tool.TotalMass(); got != c.want {
			t.Errorf("%+v: %v kg", c, got)
		}
	}
}
