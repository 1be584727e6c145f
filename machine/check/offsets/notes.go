package offsets

import (
	"fmt"
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
		b.note("Probing starts are positions of the machine's axes for the %s", b.probed())
	}
}

// probed says what the table of probing is of.
func (b *builder) probed() string {
	const rest = "The distance is to the surface as drawn; what stands around the part is not looked at."
	radius, number := b.ball()
	if number == 0 {
		return "middle of the probe's tip as if the probe had no length: add its length along Z. " + rest +
			" No touch probe is among the tools: the radius of its tip is not counted, and sideways the surface is found so much earlier."
	}
	return fmt.Sprintf("foremost point of T%d as if it had no length: add its length along Z. Its ball of %.*f %s is counted: sideways its side finds the surface. ",
		number, b.rules.Decimals, 2*b.length(radius), b.out.Unit) + rest
}
