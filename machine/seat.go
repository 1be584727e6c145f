package machine

import (
	"fmt"
	"math"

	"github.com/golang/geo/r3"
)

// seat is how a component stands on a grid: on two locating pins, in the
// component's frame, mm.
type seat struct {
	path   string
	pins   [2]r3.Vector // where the pins' axes meet the seating plane
	normal r3.Vector    // away from what it stands on
	// play is the diametral clearance of each pin in its bushing at worst.
	play float64
	// height is how far the seating plane can be off along the normal, either way.
	height float64
	// parallelism is the zone in which the component's upper face lies
	// against its seat (ISO 1101), over its whole extent.
	parallelism float64
	// solids are the parts that may touch what it stands on: stated, or all
	// that are fixed.
	solids []int
	stated bool
}

func (s *source) seat(t *seatTable, unit scale, parts []*part) *seat {
	st := &seat{
		path: t.Path, normal: r3.Vector{Z: 1},
		play:        unit.mm(s.notNegative(t.Path+".play", t.Play)),
		height:      unit.mm(s.notNegative(t.Path+".height_tolerance", t.HeightTolerance)),
		parallelism: unit.mm(s.notNegative(t.Path+".parallelism", t.Parallelism)),
		solids:      fixedParts(parts),
	}
	if t.Normal != nil {
		st.normal = s.unitVector(t.Path+".normal", *t.Normal)
	}
	if t.Solids != nil {
		st.stated = true
		st.solids = s.partList(t.Path+".solids", t.Solids, parts)
	}
	if len(t.Pins) != 2 {
		if _, stated := s.places[t.Path+".pins"]; stated {
			s.fault(t.Path+".pins", count(len(t.Pins), "pin", "pins"), "exactly two locating pins")
		}
		return st
	}
	st.pins = [2]r3.Vector{unit.point(t.Pins[0]), unit.point(t.Pins[1])}
	across := st.pins[1].Sub(st.pins[0])
	switch along := across.Dot(st.normal); {
	case across.Norm() == 0:
		s.fault(t.Path+".pins", "both pins at one point", "two points")
	case st.play >= across.Norm():
		s.fault(t.Path+".play", fmt.Sprint(t.Play), "less than the distance of the pins")
	case math.Abs(along) > 1e-6*across.Norm():
		s.fault(t.Path+".pins", fmt.Sprintf("pins %.3g mm apart along the seat's normal", along),
			"both in one plane square to the normal")
	}
	return st
}

// toThousandth rounds a length for print, to a thousandth of its unit.
func toThousandth(length float64) float64 { return math.Round(length*1e3) / 1e3 }

// distance of the two pins, mm.
func (st *seat) distance() float64 { return st.pins[1].Sub(st.pins[0]).Norm() }
