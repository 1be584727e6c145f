package tooling

import (
	"math"
	"testing"

	"gridswing/collide"
	"gridswing/geom"

	"github.com/golang/geo/r3"
	"pgregory.net/rapid"
)

// truth is a zone as a drawing gives it, from one height above the foremost point to
// another, and the radius between.
type truth struct {
	low, high float64
	radius    func(y float64) float64
}

// truthOf says what a zone is, by drawing. It shares nothing with the code that
// makes solids but the names.
func truthOf(t *Tool, z Zone) []truth {
	c, r := t.Cutter, max(t.Cutter.DC, t.Cutter.DCX)/2
	re := c.RE
	if c.DCX > c.DC {
		re = 0 // as wide as DCX from the tip on
	}
	if c.Kind == BallEndMill || c.Kind == TouchProbe {
		re = r
	}
	end := func(y float64) float64 { // up to where DC is reached
		switch {
		case c.SIG > 0 && c.SIG < math.Pi:
			return min(r, c.DCN/2+y*math.Tan(c.SIG/2))
		case y < re:
			return r - re + math.Sqrt(re*re-(re-y)*(re-y))
		}
		return r
	}
	cut, dn := c.APMX, c.DN
	if dn == 0 {
		dn = 2 * r
	}
	if c.Kind == TouchProbe {
		cut = r + math.Sqrt(r*r-dn*dn/4)
		end = func(y float64) float64 { return math.Sqrt(max(0, y*(c.DC-y))) }
	}
	above := func(d float64) func(float64) float64 {
		return func(y float64) float64 {
			if e := end(y); e < r && c.Kind != TouchProbe {
				return e // the end goes on above APMX
			}
			return d / 2
		}
	}
	lu := max(c.LU, cut)
	if c.Kind == FaceMill && c.DMM == 0 {
		lu = c.OAL
	}
	switch {
	case z == Cutting:
		return []truth{{0, cut, end}}
	case z == Neck && dn <= 2*r && lu > cut:
		return []truth{{cut, lu, above(dn)}}
	case z == Shank && dn <= 2*r:
		return []truth{{lu, t.StickOut, above(c.DMM)}}
	case z == Shank:
		return []truth{{cut, lu, above(dn)}, {lu, t.StickOut, above(c.DMM)}}
	case z == HolderZone:
		return t.holderTruth()
	}
	return nil
}

func (t *Tool) holderTruth() (list []truth) {
	for i, p := range t.Holder.Profile[1:] {
		q := t.Holder.Profile[i]
		high, low := t.LPR()-q[0], t.LPR()-p[0]
		list = append(list, truth{low, high, func(y float64) float64 {
			if high == low { // a step
				return max(p[1], q[1]) / 2
			}
			return (p[1] + (q[1]-p[1])*(y-low)/(high-low)) / 2
		}})
	}
	return list
}

// every returns heights all over a stretch, both ends among them, just within.
func (s truth) every(n int) []float64 {
	ys := make([]float64, n+1)
	for i := range ys {
		ys[i] = s.low + (s.high-s.low)*(1e-9+(1-2e-9)*float64(i)/float64(n))
	}
	return ys
}

// Every zone is a closed solid, and all of the true one is within: its surface is
// looked at where the flat sides touch it and elsewhere, and its ends.
func TestSolidsHoldTheTrueZones(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tool := tools(t)
		for _, z := range Zones() {
			m := tool.Solid(z)
			if a := geom.AuditOf(orEmpty(m)); m != nil && (!a.Closed || !a.Oriented || a.InsideOut || len(a.Shells) != 1) {
				t.Fatalf("%s: %v, %d shells", z, a.Faults(), len(a.Shells))
			}
			tree := collide.NewTree(orEmpty(m))
			for _, s := range truthOf(tool, z) {
				if s.high-s.low < 1e-6 {
					continue
				}
				if m == nil {
					t.Fatalf("%+v: no %s from %v to %v", *tool.Cutter, z, s.low, s.high)
				}
				phase := rapid.Float64Range(0, 1).Draw(t, "phase")
				for i, y := range s.every(40) {
					half := float64(i*7) + float64(i%2)*phase
					sin, cos := math.Sincos(half * math.Pi / sides)
					r := s.radius(y)
					p := r3.Vector{X: r * cos, Y: r * sin, Z: y - tool.LPR()}
					if !tree.Contains(p) {
						t.Fatalf("%+v, holder %v: %s: %v, radius %v at height %v, is outside", *tool.Cutter, tool.Holder.Profile, z, p, r, y)
					}
				}
			}
		}
	})
}

// A face mill with inserts at 45 degrees, by hand: 50 at the tip, 62 from 6 mm up, where the
// inserts end at 8. All of its cone is within the cutting zone, and the widest of the tool is
// DCX, not DC.
func TestInsertsAtAnAngle(t *testing.T) {
	tool := endMill()
	tool.StickOut, tool.Holder.Bore = 40, 0
	tool.Cutter = &Cutter{Kind: FaceMill, DC: 50, DCX: 62, RE: 0.8, APMX: 8, OAL: 40}
	if f := tool.Check(); len(f) > 0 {
		t.Fatal(f)
	}
	tree := collide.NewTree(tool.Solid(Cutting))
	for y := 0.01; y < 8; y += 0.1 {
		r := min(31, 25+y)
		for k := range sides {
			sin, cos := math.Sincos(float64(k) * math.Pi / sides)
			if p := (r3.Vector{X: r * cos, Y: r * sin, Z: y - tool.LPR()}); !tree.Contains(p) {
				t.Fatalf("%v is outside", p)
			}
		}
	}
	tool.Holder.Profile = [][2]float64{{0, 44.45}, {90, 40}}
	if w := tool.Widest(); w != 62 {
		t.Errorf("widest %v", w)
	}
}

func orEmpty(m *geom.Mesh) *geom.Mesh {
	if m == nil {
		return &geom.Mesh{}
	}
	return m
}

// And no zone is larger than the true one by more than 0.15 % of its radius and 5 um:
// no corner is, in radius or height.
func TestSolidsAreTight(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tool := tools(t)
		for _, z := range Zones() {
			m, list := orEmpty(tool.Solid(z)), truthOf(tool, z)
			slack := 0.0015*max(0, m.Bounds().Max.X) + 0.005
			for i := range m.Facets {
				for _, v := range m.Facets[i] {
					r, y := math.Hypot(float64(v[0]), float64(v[1])), float64(v[2])+tool.LPR()
					if !anyNear(list, r, y, slack) {
						t.Fatalf("%+v, holder %v: %s: corner %v, radius %v at height %v, is too far out", *tool.Cutter, tool.Holder.Profile, z, v, r, y)
					}
				}
			}
		}
	})
}

func anyNear(list []truth, r, y, slack float64) bool {
	for _, s := range list {
		low, high := max(s.low, y-slack), min(s.high, y+slack)
		if low > high {
			continue
		}
		for _, at := range (truth{low: low, high: high}).every(30) {
			if s.radius(at) >= r-slack {
				return true
			}
		}
	}
	return false
}

// The foremost point is at -LPR or a hair below, the holder begins at the gauge line or a
// hair above, and each zone begins no higher than the one below it ends.
func TestZonesFollowEachOther(t *testing.T) {
	const hair = 0.01
	rapid.Check(t, func(t *rapid.T) {
		tool := tools(t)
		at := -tool.LPR()
		for _, z := range Zones() {
			m := tool.Solid(z)
			if m == nil {
				continue
			}
			b := m.Bounds()
			if b.Min.Z > at || b.Min.Z < at-hair {
				t.Fatalf("%+v: %s begins at %v, want %v", *tool.Cutter, z, b.Min.Z, at)
			}
			at = b.Max.Z
		}
		if at < 0 || at > hair {
			t.Fatalf("the holder ends at %v, want the gauge line", at)
		}
	})
}

// Volumes in closed form (any handbook), less than 0.5 % exceeded.
func TestVolumesOfCuttingParts(t *testing.T) {
	for _, c := range []struct {
		cutter Cutter
		want   float64
	}{
		{Cutter{Kind: EndMill, DC: 10, APMX: 20}, math.Pi * 25 * 20},
		{Cutter{Kind: BallEndMill, DC: 10, RE: 5, APMX: 20}, math.Pi * (2.0/3*125 + 25*15)},
		{Cutter{Kind: BallEndMill, DC: 10, APMX: 20}, math.Pi * (2.0/3*125 + 25*15)},
		// a square corner less a ring of section (1 - pi/4) RE^2, whose centroid is
		// (10 - 3 pi)/(12 - 3 pi) RE from the flank and the face (Pappus)
		{Cutter{Kind: EndMill, DC: 20, RE: 4, APMX: 10},
			math.Pi*100*10 - 2*math.Pi*(10-4*(10-3*math.Pi)/(12-3*math.Pi))*(1-math.Pi/4)*16},
		{Cutter{Kind: ChamferMill, DC: 12, SIG: math.Pi / 2, APMX: 6}, math.Pi * 36 * 6 / 3},
		{Cutter{Kind: ChamferMill, DC: 12, DCN: 4, SIG: math.Pi / 2, APMX: 4}, math.Pi * (36 + 4 + 12) * 4 / 3},
		// a ball less the cap in the stem, pi h^2 (3r - h)/3 with h = 1
		{Cutter{Kind: TouchProbe, DC: 10, DN: 6, LU: 40, OAL: 50}, math.Pi * (4.0/3*125 - (3*5-1)/3.0)},
	} {
		tool := Tool{Cutter: &c.cutter, Holder: plainHolder(), StickOut: 45}
		got := geom.MassOf(tool.Solid(Cutting)).Volume
		if got < c.want || got > c.want*1.005 {
			t.Errorf("%+v: volume %v, want %v or up to 0.5 %% more", c.cutter, got, c.want)
		}
	}
}

func TestZonesOfAnEndMill(t *testing.T) {
	tool := endMill()
	for _, c := range []struct {
		zone           Zone
		low, high      float64 // above the foremost point
		width          float64
		facetsAtMost   int
		whatItStandsIn string
	}{
		{Cutting, 0, 22, 10, 1500, "cutting part"},
		{Neck, 22, 32, 9.6, 288, "neck"},
		{Shank, 32, 35, 10, 288, "shank"},
		{HolderZone, 35, 125, 63, 1008, "holder"},
	} {
		m := tool.Solid(c.zone)
		b := m.Bounds()
		for _, v := range []struct{ got, want float64 }{
			{b.Min.Z + 125, c.low}, {b.Max.Z + 125, c.high}, {b.Max.X - b.Min.X, c.width / math.Cos(math.Pi/sides)},
		} {
			if math.Abs(v.got-v.want) > 0.001 {
				t.Errorf("%s: %v, want %v", c.zone, v.got, v.want)
			}
		}
		if len(m.Facets) > c.facetsAtMost {
			t.Errorf("%s: %d facets", c.zone, len(m.Facets))
		}
		if c.zone.String() != c.whatItStandsIn {
			t.Errorf("%s is called %s", c.whatItStandsIn, c.zone)
		}
	}
	if m := tool.At(32).Solid(Shank); m != nil {
		t.Error("a shank that is all in the holder has a solid")
	}
	if tool.StickOut != 35 {
		t.Error("At changed the tool")
	}
}

// A neck that is wider than DC may meet nothing more than a shank may.
func TestWideNeckIsShank(t *testing.T) {
	tool := endMill()
	tool.Cutter.DN = 10.5
	if tool.Solid(Neck) != nil {
		t.Error("a neck wider than DC is a neck")
	}
	if b := tool.Solid(Shank).Bounds(); b.Min.Z > -125+22 || b.Max.X < 5.25 {
		t.Errorf("shank %v, want from APMX on, and as wide", b)
	}
}

// A profile that is none gets a solid that is too large, not none.
func TestBackwardProfileIsHeld(t *testing.T) {
	tool := endMill()
	tool.Holder.Profile = [][2]float64{{0, 44}, {50, 63}, {40, 30}, {90, 30}}
	b := tool.Solid(HolderZone).Bounds()
	if b.Max.X < 31.5 || b.Min.Z > -90 || b.Max.Z < 0 {
		t.Errorf("holder %v does not hold its profile", b)
	}
}
