package tooling

import (
	"fmt"
	"math"
)

// Check returns what is wrong with the cutter on its own.
func (c *Cutter) Check() []Fault {
	f := faults{of: "cutter"}
	if _, known := needs[c.Kind]; !known {
		f.fault("kind", fmt.Sprintf("%q", c.Kind), "one of %q", Kinds())
		return f.list
	}
	if !f.numbers(c.named()...) {
		return f.list
	}
	f.missing(c)
	if len(f.list) > 0 {
		return f.list
	}
	f.shape(c)
	f.lengths(c)
	return f.list
}

// named returns all numbers of the cutter under their symbols.
func (c *Cutter) named() []named {
	return []named{
		{"DC", c.DC}, {"DCX", c.DCX}, {"DCN", c.DCN}, {"RE", c.RE}, {"SIG", c.SIG}, {"APMX", c.APMX},
		{"LU", c.LU}, {"DN", c.DN}, {"DMM", c.DMM}, {"OAL", c.OAL}, {"mass", c.Mass},
	}
}

func (f *faults) missing(c *Cutter) {
	stated := make(map[string]bool)
	for _, n := range c.named() {
		stated[n.symbol] = n.value > 0
	}
	for _, need := range needs[c.Kind] {
		if !stated[need.Symbol] {
			f.fault(need.Symbol, "none", "%s: a %s needs it", need.Why, c.Kind)
		}
	}
	if c.DN > 0 && c.LU == 0 && !c.fastened() {
		f.fault("LU", "none", "how far the neck, DN %s, goes", mm(c.DN))
	}
}

// exact is what two lengths may differ by and still be the same, mm.
const exact = 1e-6

// shape checks the end, and diameters against each other.
func (f *faults) shape(c *Cutter) {
	half := c.DC / 2
	switch {
	case c.RE > half+exact:
		f.fault("RE", mm(c.RE), "no more than half of DC, %s", mm(half))
	case c.Kind == BallEndMill && c.RE > 0 && c.RE < half-exact:
		f.fault("RE", mm(c.RE), "half of DC, %s, of a %s", mm(half), c.Kind)
	case c.RE > 0 && !hasCorner(c.Kind) && c.Kind != TouchProbe:
		f.warn("RE", mm(c.RE), "none: the corner of a %s is taken as sharp", c.Kind)
	}
	switch {
	case c.SIG > math.Pi:
		f.fault("SIG", plain(c.SIG*180/math.Pi)+" degrees", "more than 0 and no more than 180 degrees, which is flat")
	case c.SIG > 0 && c.SIG < math.Pi && !hasPoint(c.Kind):
		f.warn("SIG", plain(c.SIG*180/math.Pi)+" degrees", "none: the end of a %s is taken without it", c.Kind)
	}
	if c.DCN > 0 && (c.DCN > c.DC || !c.pointed()) {
		f.fault("DCN", mm(c.DCN), "no more than DC, %s, and of a point with SIG", mm(c.DC))
	}
	switch {
	case c.DCX > 0 && !hasDCX(c.Kind):
		f.fault("DCX", mm(c.DCX), "none of a %s: only an %s or a %s may cut wider above its tip", c.Kind, EndMill, FaceMill)
	case c.DCX > 0 && c.DCX < c.DC-exact:
		f.fault("DCX", mm(c.DCX), "no less than DC, %s, which is the diameter at the tip", mm(c.DC))
	}
	switch {
	case c.DN > c.DC+exact && c.Kind == TouchProbe:
		f.fault("DN", mm(c.DN), "less than the ball's DC, %s", mm(c.DC))
	case c.DN > c.Largest()+exact:
		f.warn("DN", mm(c.DN), "no more than %s, %s: it counts as shank", c.largest(), mm(c.Largest()))
	}
}

// largest names what Largest returns.
func (c *Cutter) largest() string {
	if c.DCX > c.DC {
		return "DCX"
	}
	return "DC"
}

// lengths checks the lengths against each other.
func (f *faults) lengths(c *Cutter) {
	switch cut := c.cutting(); {
	case c.LU > 0 && cut > c.LU+exact && c.Kind == TouchProbe:
		f.fault("LU", mm(c.LU), "more than %s, where the stem comes out of the ball", mm(cut))
	case c.LU > 0 && cut > c.LU+exact:
		f.fault("APMX", mm(cut), "no more than LU, %s", mm(c.LU))
	case cut > c.OAL+exact:
		f.fault("APMX", mm(cut), "no more than OAL, %s", mm(c.OAL))
	case c.pointed() && cut < c.TipLength()-exact:
		f.warn("APMX", mm(cut), "%s or more, the length of the point by SIG: it never cuts DC", mm(c.TipLength()))
	}
	if c.LU > c.OAL+exact {
		f.fault("LU", mm(c.LU), "no more than OAL, %s", mm(c.OAL))
	}
}
