package tooling

import (
	"math"
)

// Cutter is what is clamped in a holder. Lengths in mm from the foremost point
// unless said otherwise, named by their ISO 13399 symbols; 0 where not stated.
type Cutter struct {
	Name string
	Kind string  // one of Kinds
	DC   float64 // cutting diameter
	DCX  float64 // largest cutting diameter, where the corners at the tip are farther in; 0: DC
	DCN  float64 // smallest cutting diameter: the flat at the end of a point; 0: it is sharp
	RE   float64 // corner radius; DC/2 of a ball
	SIG  float64 // point angle, rad; 0 or pi: flat
	APMX float64 // largest depth of cut: the cutting zone
	LU   float64 // usable length: where the neck ends
	DN   float64 // neck diameter
	DMM  float64 // shank diameter
	OAL  float64 // overall length
	Mass float64 // kg; 0 if it is not known
}

// TipLength returns how far above the foremost point the cutter has its full
// diameter, mm: the length of the point by SIG, (DC - DCN)/2 / tan(SIG/2), or the
// radius of a rounded corner or a ball; 0 of a flat end.
func (c *Cutter) TipLength() float64 {
	switch {
	case c.Kind == TouchProbe:
		return c.DC / 2
	case c.pointed():
		return (c.DC/2 - c.flat()) / math.Tan(c.SIG/2)
	default:
		return c.corner()
	}
}

// Largest returns the largest diameter that cuts, mm: DCX, or DC.
func (c *Cutter) Largest() float64 { return max(c.DC, c.DCX) }

// widens reports whether it cuts wider above its tip. Nothing states how far above: it counts
// as that wide from the tip on, with sharp corners, which holds any slope between.
func (c *Cutter) widens() bool { return hasDCX(c.Kind) && c.DCX > c.DC }

// pointed reports whether the end is a cone.
func (c *Cutter) pointed() bool { return hasPoint(c.Kind) && c.SIG > 0 && c.SIG < math.Pi }

// flat returns the radius of the flat end of a point.
func (c *Cutter) flat() float64 { return min(max(c.DCN, 0), c.DC) / 2 }

// corner returns the radius of the rounded corner, mm. One that is larger than the
// cutter is wide is no corner: it counts as sharp, which holds it.
func (c *Cutter) corner() float64 {
	re := c.RE
	if c.Kind == BallEndMill && re == 0 {
		re = c.DC / 2
	}
	if !hasCorner(c.Kind) || c.widens() || !(re > 0 && re <= c.DC/2) {
		return 0
	}
	return re
}

// fastened reports whether the cutter has no shank to be clamped by, but is screwed to
// the holder: an arbor, the body of a probe. Its stick-out is its length.
func (c *Cutter) fastened() bool {
	return c.DMM == 0 && (c.Kind == FaceMill || c.Kind == TouchProbe)
}

// cutting returns where the cutting zone ends: at APMX, that of a touch probe where
// the stem's edge comes out of the ball.
func (c *Cutter) cutting() float64 {
	if c.Kind != TouchProbe {
		return c.APMX
	}
	r, stem := c.DC/2, min(c.neck(), c.DC)/2
	return r + math.Sqrt((r-stem)*(r+stem))
}

// usable returns where the shank begins. Without LU that is where the cutting zone ends; what is
// fastened has no shank at all.
func (c *Cutter) usable() float64 {
	lu := c.LU
	if lu == 0 && c.fastened() {
		lu = c.OAL
	}
	return max(lu, c.cutting())
}

// neck returns the diameter between the cutting zone and LU. It is DC, or DCX, where DN is
// not stated, at every kind: LU is how deep the cutter can go into what it has
// cut, so nothing up to there is wider.
func (c *Cutter) neck() float64 {
	if c.DN == 0 {
		return c.Largest()
	}
	return c.DN
}

// shank returns the diameter from LU to the holder's face. What is fastened goes
// on as wide as it is below.
func (c *Cutter) shank() float64 {
	if c.DMM == 0 {
		return max(c.Largest(), c.DN)
	}
	return c.DMM
}
