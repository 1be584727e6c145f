package offsets

import (
	"slices"

	"gridswing/machine"
	"gridswing/machine/check"
)

// cautions says once what holds for the whole sheet.
func (b *builder) cautions() {
	o := b.out
	nominal := func(w check.WorkOffset) bool { return w.Basis == Nominal }
	drawn := func(c check.RotaryCentre) bool { return c.Basis == Nominal }
	if slices.ContainsFunc(o.Offsets, nominal) || slices.ContainsFunc(o.Centres, drawn) {
		b.note("NOMINAL is computed from drawings and from what the files say; nothing of it was measured at the machine. Measure before keying in.")
	}
	if len(b.setup.Parts) == 0 {
		b.note("no part has an offset: state [[part]] in the setup file")
	}
	switch b.rules.Lengths {
	case machine.AbsoluteLengths:
		b.note("Offsets are positions of the machine's axes with the gauge point at the part's zero.")
	case machine.TouchedOff:
		if len(b.parts) > 0 {
			b.note("Z counts from where lengths are touched off: the zero of part %s, at rotary zero.", b.parts[0].Name)
		}
	}
	switch {
	case b.upright() < 0:
		b.note("No axis is called Z: neither the common shift nor touched-off lengths are worked in.")
	case b.rules.Shift != 0 && b.rules.Method == machine.TurnedByControl:
		b.note("The common shift of %+.*f %s along Z is in Z of every offset. A control that turns offsets turns it too: at another tilt it is not along Z.", b.rules.Decimals, o.Shift, o.Unit)
	case b.rules.Shift != 0:
		b.note("The common shift of %+.*f %s along Z is in Z of every offset.", b.rules.Decimals, o.Shift, o.Unit)
	}
	if len(o.Probing) > 0 {
		b.note("Probing starts are positions of the machine's axes for the middle of the probe's tip as if the probe had no length: add its length along Z. The distance is to the surface as drawn; the tip's radius, and what stands around the part, are not looked at.")
	}
}
