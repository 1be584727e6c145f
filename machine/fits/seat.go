package fits

import (
	"fmt"
	"math"
)

// Seat is a component on two locating pins, the first of them round.
type Seat struct {
	Distance float64 // of the pins, nominal, mm
	// Clearance is that of each pin in its hole, diametral.
	Clearance [2]Clearance
	// Position is the diameter of the zone in which the centre of each hole lies
	// (position, ISO 1101), mm.
	Position [2]float64
	// Spread is how far the distance of the pins in the component can be off that of
	// the holes, either way, beyond Position, mm: its own tolerance and what a
	// difference in temperature makes (Mismatch).
	Spread float64
	// Relief is the second pin's, if it is relieved along the line of the pins; nil: it is
	// round as well.
	Relief *Relief
}

// Relief is how a pin is relieved (diamond pin): it is round on two lands only, which
// locate across the line of the pins.
type Relief struct {
	Bore float64 // diameter of the hole at least, mm
	Land float64 // width of one land, square to the line that it locates on, mm
}

// Play is how far a component on two pins can be off, either way.
type Play struct {
	Distance float64    // of the pins, mm
	Angle    float64    // rad
	Along    float64    // the line of the pins, mm
	Across   [2]float64 // the line of the pins, at each of them, mm
}

// Play returns what the largest clearances allow. Each pin can be off by half its
// clearance and half its hole's zone, so the largest angle is that of both off to
// opposite sides. Along their line the first pin holds within the same amount, a second
// round one within its own and the spread, and the closer of the two counts. The quantities are those of
// Werst, "Pinned Interfaces", in Drake (ed.), Dimensioning and Tolerancing Handbook,
// McGraw-Hill 1999; the equations follow from the definitions.
//
// The error says which number no seat can have.
func (s Seat) Play() (Play, error) {
	p := Play{Distance: s.Distance}
	for i, c := range s.Clearance {
		if !(c.Most >= 0) || !(s.Position[i] >= 0) {
			return Play{}, fmt.Errorf("pin %d: clearance %v mm at most and a zone of %v mm, expected 0 or more", i+1, c.Most, s.Position[i])
		}
		p.Across[i] = (c.Most + s.Position[i]) / 2
	}
	off := p.Across[0] + p.Across[1]
	if !(s.Distance > off) {
		return Play{}, fmt.Errorf("pins %v mm apart, expected more than the %v mm that they can be off", s.Distance, off)
	}
	p.Angle = math.Asin(off / s.Distance)
	p.Along = p.Across[0]
	if s.Relief == nil {
		p.Along = min(p.Along, p.Across[1]+s.Spread)
	}
	return p, nil
}

// Sideways is how far the component can be off across the line of the pins, mm, at x mm
// from the first pin towards the second; x may lie outside of the two.
func (p Play) Sideways(x float64) float64 {
	t := x / p.Distance
	return math.Abs(1-t)*p.Across[0] + math.Abs(t)*p.Across[1]
}

// Spare is how much more the distance of the pins could be off before the component no
// longer goes on, mm, with the least clearances; negative: it may not go on, and
// by how much. The first pin takes half its clearance, a round second one too; a relieved
// one takes the offset that its lands leave.
func (s Seat) Spare() float64 {
	takes := s.Clearance[0].Least / 2
	if s.Relief == nil {
		takes += s.Clearance[1].Least / 2
	} else {
		takes += Offset(s.Relief.Bore, s.Clearance[1].Least, s.Relief.Land)
	}
	return takes - s.Spread - (s.Position[0]+s.Position[1])/2
}

// Land returns the width of the land of a relieved pin, mm, that can be off by offset mm
// either way along the line of the pins, in a bore with the given diametral
// clearance: the corner of the land, at half the width W from the middle of the pin and on
// its circle of diameter d = D - c, moved by T, stays on the bore's circle D where
//
//	(W/2 + T)^2 - (W/2)^2 = (D^2 - d^2) / 4,   W = ((D^2 - d^2) / 4 - T^2) / T.
//
// It is about D c / (2 T). Zero or less: no land is narrow enough. An offset of 0 any
// land takes: infinite.
func Land(bore, clearance, offset float64) float64 {
	return corner(bore, clearance)/offset - offset
}

// Offset is the inverse of Land: how far a relieved pin with lands of a given width can be
// off along the line of the pins, either way, mm. With no clearance it is 0.
func Offset(bore, clearance, land float64) float64 {
	q := max(0, corner(bore, clearance))
	if q == 0 {
		return 0
	}
	return 2 * q / (land + math.Sqrt(land*land+4*q))
}

// corner is (D^2 - d^2) / 4, mm2, with d = D - c.
func corner(bore, clearance float64) float64 { return clearance * (2*bore - clearance) / 4 }
