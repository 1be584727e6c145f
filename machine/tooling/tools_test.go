package tooling

import (
	"math"

	"pgregory.net/rapid"
)

// plainHolder is 40 mm wide and 60 mm long, below a taper 7/24 size 40 with a flange.
func plainHolder() *Holder {
	return &Holder{
		Name: "long chuck", Taper: "7/24 40", Length: 90, Bore: 20,
		Profile: [][2]float64{{0, 44.45}, {2, 44.45}, {2, 63}, {27, 63}, {30, 40}, {90, 40}},
	}
}

// endMill has the lengths of a common one of 10 mm; its shank is 40 mm long (DIN
// 6535 HA, for 10 mm).
func endMill() *Tool {
	return &Tool{
		Number: 4, Name: "end mill 10", StickOut: 35, Holder: plainHolder(),
		Cutter: &Cutter{Name: "end mill 10", Kind: EndMill, DC: 10, RE: 0.5, APMX: 22, LU: 32, DN: 9.6, DMM: 10, OAL: 72},
	}
}

// tools draws tools without faults, of every kind.
func tools(t *rapid.T) *Tool {
	part := func(what string, low, high float64) float64 { return rapid.Float64Range(low, high).Draw(t, what) }
	maybe := func(what string) bool { return rapid.Bool().Draw(t, what) }
	c := &Cutter{Kind: rapid.SampledFrom(Kinds()).Draw(t, "kind")}
	c.DC = rapid.OneOf(rapid.Float64Range(0.2, 160), rapid.SampledFrom([]float64{1, 6, 10, 63})).Draw(t, "DC")
	c.DMM = c.DC * part("DMM", 0.4, 3)
	c.APMX = c.DC * part("APMX", 0.6, 8)
	if c.Kind == Drill || c.Kind == SpotDrill || c.Kind == ChamferMill {
		c.SIG = part("SIG", 20, 180) * math.Pi / 180
		if maybe("flat point") && c.SIG < math.Pi {
			c.DCN = c.DC * part("DCN", 0.01, 1)
		}
	}
	if hasCorner(c.Kind) && c.Kind != BallEndMill && maybe("rounded") {
		c.RE = c.DC / 2 * part("RE", 0.01, 1)
	}
	if hasDCX(c.Kind) && maybe("widens") {
		c.DCX = c.DC * part("DCX", 1, 1.6)
	}
	if maybe("neck") {
		c.LU = c.APMX + c.DC*part("LU", 0, 5)
		if maybe("DN stated") {
			c.DN = c.DC * part("DN", 0.3, 1.3)
		}
	}
	if c.Kind == TouchProbe {
		c.APMX, c.DN = 0, c.DC*part("stem", 0.1, 1)
		c.LU = c.DC * part("stem length", 1.01, 20)
	}
	c.OAL = c.usable() + c.DMM*part("shank", 2.2, 8)
	if (c.Kind == FaceMill || c.Kind == TouchProbe) && maybe("fastened") {
		c.DMM, c.OAL = 0, c.usable()
		c.LU = c.OAL
	}
	tool := &Tool{Number: 1, Cutter: c, Holder: &Holder{Profile: profiles(t)}}
	tool.Holder.Length = tool.Holder.Profile[len(tool.Holder.Profile)-1][0]
	shortest, longest := tool.StickOuts()
	return tool.At(shortest + (longest-shortest)*part("stick-out", 0, 1))
}

// profiles draws the outlines of holders: steps, cones and grooves.
func profiles(t *rapid.T) [][2]float64 {
	at, profile := 0.0, [][2]float64{}
	for i := range rapid.IntRange(2, 8).Draw(t, "points of the profile") {
		if i > 0 && (i == 1 || rapid.Bool().Draw(t, "no step")) {
			at += rapid.Float64Range(0.1, 60).Draw(t, "distance")
		}
		profile = append(profile, [2]float64{at, rapid.Float64Range(5, 120).Draw(t, "diameter")})
	}
	return profile
}
