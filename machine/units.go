package machine

import (
	"math"

	"github.com/golang/geo/r3"
)

// perUnit gives the millimetres in a file's unit of length. The inch is exact
// (international inch, ISO 80000-3).
var perUnit = map[string]float64{"mm": 1, "inch": 25.4}

// scale is the factor from a file's lengths to mm.
type scale float64

func (s scale) mm(length float64) float64   { return float64(s) * length }
func (s scale) point(p r3.Vector) r3.Vector { return p.Mul(float64(s)) }

// radians turns degrees into radians; multiples of a quarter turn become the
// float64 multiples of pi/2, which poses turn by exactly.
func radians(degrees float64) float64 { return degrees / 90 * (math.Pi / 2) }

// degrees turns radians into degrees, for print.
func degrees(radians float64) float64 { return radians / (math.Pi / 2) * 90 }

// unit reads a file's units; an unknown one is a fault and counts as mm.
func (s *source) unit(name string) scale {
	f, ok := perUnit[name]
	if !ok {
		s.fault("units", quoted(name), "%q or %q", "mm", "inch")
		return 1
	}
	return scale(f)
}
