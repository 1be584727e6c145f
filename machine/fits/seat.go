package fits

import (
	"fmt"
	"math"
)

// Seat is a component on two locating pins. Pin 1 is round.
type Seat struct {
	Distance  float64      // of the pins, nominal, mm
	Clearance [2]Clearance // diametral, of each pin in its hole
	// Position is the diameter of the zone in which the centre of each hole lies
	// (position, ISO 1101), mm.
	Position [2]float64
	// Spread is how far the distance of the component's own pins can be off, either
	// way, mm: with thermal expansion added, if plate and component differ.
	Spread float64
	// Relieved: pin 2 is relieved (diamond) along the line of the pins, and only
	// locates across it.
	Relieved bool
	// Land is the width of the relieved pin's land, mm; 0: not stated.
	Land float64
}

// Play is how far a seated component can be off, either way.
type Play struct {
	Angle    float64    // rad
	Along    float64    // the line of the pins, mm
	Across   [2]float64 // of the line of the pins, at each pin, mm
	Distance float64    // of the pins, mm
}

// At is how far the component can be off across the line of the pins, at x mm from pin 1
// towards pin 2 (outside of them too): |1 - x/L| of pin 1 and |x/L| of pin 2.
func (p Play) At(x float64) float64 {
	t := x / p.Distance
	return math.Abs(1-t)*p.Across[0] + math.Abs(t)*p.Across[1]
}

// Play returns what the pins allow with the most clearance: each pin can be off by
// half its clearance, its hole by half its zone.
func (s Seat) Play() (Play, error) {
	off := [2]float64{}
	for i := range off {
		if s.Clearance[i].Most < 0 || s.Position[i] < 0 {
			return Play{}, fmt.Errorf("pin %d: clearance %v mm at most, expected 0 or more", i+1, s.Clearance[i].Most)
		}
		off[i] = (s.Clearance[i].Most + s.Position[i]) / 2
	}
	if !(off[0]+off[1] < s.Distance) {
		return Play{}, fmt.Errorf("pins %v mm apart: expected more than they can be off, %v mm", s.Distance, off[0]+off[1])
	}
	p := Play{Angle: math.Asin((off[0] + off[1]) / s.Distance), Along: off[0], Across: off, Distance: s.Distance}
	if !s.Relieved {
		p.Along = min(off[0], off[1]+s.Spread)
	}
	return p, nil
}
