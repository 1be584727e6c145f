package specimen

import "gridswing/machine/check"

// Offsets returns one offset for each rotary position, of two parts, NOMINAL, with a
// start for probing.
func Offsets() *check.Offsets {
	return &check.Offsets{
		Method: "per-position", Lengths: "absolute", Basis: "NOMINAL", Unit: "mm", Decimals: 3, Shift: 12.5,
		Offsets: []check.WorkOffset{
			{Part: "bracket", Number: "G54", Rotary: deg(0, 0), Linear: at(-12.5, 33.25, -301), Basis: "NOMINAL"},
			{Part: "bracket", Number: "G55", Rotary: deg(90, 180), Linear: at(12.5, -104.0005, -288.75), Basis: "NOMINAL",
				Turn:  []check.Position{{Axis: "C", Value: 0.125, Unit: "deg"}},
				Notes: []string{"a skew of 0.050 deg about X is not correctable here"}},
			{Part: "second bracket", Number: "G56", Rotary: deg(0, 0), Linear: at(87.5, 33.25, -301), Basis: "NOMINAL"},
		},
		Probing: []check.Probing{
			{Part: "bracket", Rotary: deg(0, 0), Along: "X-", Start: at(30, 33.25, -310), Find: 10, Within: 0.35},
			{Part: "bracket", Rotary: deg(0, 0), Along: "Z-", Start: at(-12.5, 33.25, -286), Find: 15, Within: 0.35},
		},
		Notes: []string{"the rotary centre is as drawn: measure it, and enter it in the setup file"},
	}
}

// TurnedOffsets returns one offset at rotary zero and the rotary centres, MEASURED, in inches.
func TurnedOffsets() *check.Offsets {
	return &check.Offsets{
		Method: "turned-by-control", Lengths: "touched-off", Basis: "MEASURED", Unit: "inch", Decimals: 4,
		Offsets: []check.WorkOffset{{Part: "bracket", Number: "G54", Rotary: deg(0, 0), Linear: at(-0.49213, 1.30906, -11.85039), Basis: "MEASURED"}},
		Centres: []check.RotaryCentre{
			{Axis: "A", Linear: at(0, 1.5, -8.25)[1:], Basis: "MEASURED"},
			{Axis: "C", Linear: at(0.0004, 1.4996, 0)[:2], Basis: "NOMINAL"},
		},
		Probing: []check.Probing{}, Notes: []string{},
	}
}
