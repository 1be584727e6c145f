package proof

import (
	"math"

	"gridswing/geom"
	"gridswing/machine/check"
)

// Tell puts into a finding how near the bodies get: what is proven, what was seen, as drawn and less the location
// uncertainty, and where; body is the pose of the question's first body there, in the bed frame.
// Of a contact there is no clearance.
func (a *Answer) Tell(f *check.Finding, body *geom.Pose) {
	if a.Verdict != check.Contact {
		f.Proven, f.Smallest = Finite(a.Out.Lower), Finite(a.Out.Upper)
	}
	if f.Smallest != nil {
		f.Nominal, f.Uncertainty = Finite(a.Out.Nominal), a.Out.Nominal-a.Out.Upper
	}
	if near := a.Out.Near; near.FacetA >= 0 && !math.IsInf(near.Distance, 1) {
		x, y := body.Point(near.A), body.Point(near.B)
		f.Points = &[2][3]float64{{x.X, x.Y, x.Z}, {y.X, y.Y, y.Z}}
	}
}

// Finite returns nil for what is not a number that can be printed.
func Finite(x float64) *float64 {
	if math.IsInf(x, 0) || math.IsNaN(x) {
		return nil
	}
	return &x
}
