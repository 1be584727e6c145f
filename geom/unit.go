package geom

import (
	"fmt"
	"math"
)

// Unit is a unit of length: how many mm it is. STL states none; the file that
// names the solid does.
type Unit float64

// The units of length that a file may state. An inch is 25.4 mm exactly (ISO 80000-3).
const (
	Millimetre Unit = 1
	Inch       Unit = 25.4
)

// ParseUnit returns the unit of the given name, "mm" or "inch".
func ParseUnit(name string) (Unit, error) {
	switch name {
	case "mm":
		return Millimetre, nil
	case "inch":
		return Inch, nil
	}
	return 0, fmt.Errorf("found unit %q, expected \"mm\" or \"inch\"", name)
}

// String returns the name that ParseUnit takes.
func (u Unit) String() string {
	switch u {
	case Millimetre:
		return "mm"
	case Inch:
		return "inch"
	}
	return fmt.Sprintf("%g mm", float64(u))
}

// ToMillimetres returns m, given in unit u, in mm, and how far at most, in mm, a
// vertex lies from its true place since its coordinates had to be rounded to
// float32 again; that is to be added to the chord error. Facets move no further
// than their corners. In Millimetre m itself is returned, and 0.
//
// A mesh that float32 cannot hold in mm (beyond 3.4e38) is an error.
func (u Unit) ToMillimetres(m *Mesh) (inMM *Mesh, rounding float64, err error) {
	if u == Millimetre {
		return m, 0, nil
	}
	inMM = &Mesh{Facets: make([]Facet, len(m.Facets))}
	worst := [3]float64{}
	for i := range m.Facets {
		for k := range 9 {
			product := float64(m.Facets[i][k/3][k%3]) * float64(u)
			stored := float32(product)
			if math.IsInf(float64(stored), 0) {
				return nil, 0, fmt.Errorf("facet %d: found coordinate %g %s, expected one within the range of float32 in mm", i+1, m.Facets[i][k/3][k%3], u)
			}
			inMM.Facets[i][k/3][k%3] = stored
			// The product is itself rounded, and so is the 25.4 in it: by 2^-53 each.
			off := math.Abs(product-float64(stored)) + 3*unitRoundoff*math.Abs(product)
			worst[k%3] = max(worst[k%3], off)
		}
	}
	// The factor covers the roundings of this line and of off.
	rounding = math.Sqrt(worst[0]*worst[0]+worst[1]*worst[1]+worst[2]*worst[2]) * (1 + 8*unitRoundoff)
	return inMM, rounding, nil
}
