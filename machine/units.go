package machine

import (
	"math"

	"gridswing/geom"

	"github.com/golang/geo/r3"
)

// scale is a file's unit of length, in mm.
type scale geom.Unit

func (s scale) mm(length float64) float64   { return float64(s) * length }
func (s scale) point(p r3.Vector) r3.Vector { return p.Mul(float64(s)) }

// radians turns degrees into radians; multiples of a quarter turn become the
// float64 multiples of pi/2, which poses turn by exactly.
func radians(degrees float64) float64 { return degrees / 90 * (math.Pi / 2) }

// degrees turns radians into degrees, for print.
func degrees(radians float64) float64 { return radians / (math.Pi / 2) * 90 }

// unit reads a file's units; an unknown one is a fault and counts as mm.
func (s *source) unit(name string) scale {
	u, err := geom.ParseUnit(name)
	if err != nil {
		s.fault("units", quoted(name), "%q or %q", geom.Millimetre.String(), geom.Inch.String())
		return scale(geom.Millimetre)
	}
	return scale(u)
}
