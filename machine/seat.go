package machine

import (
	"fmt"
	"math"
	"slices"

	"github.com/golang/geo/r3"
)

// seat is how a component is located: on two locators, in the component's frame, mm.
type seat struct {
	path   string
	by     string       // OwnPins, SetPins, Dowels or Keys
	pins   [2]r3.Vector // where the locators' axes meet the seating plane
	normal r3.Vector    // away from what it stands on
	// pin and bore are those of the component (of dowels: the dowels').
	pin, bore [2]diameter
	// play is the diametral clearance of each locator at worst, where the file states
	// it instead of sizes.
	play    float64
	playing bool
	// land is the width of the land of the second locator, if it is relieved.
	land      *float64
	pinLength float64 // 0: not stated
	tolerance float64 // the zone of each locator's position in the component
	// height is how far the seating plane can be off along the normal, either way.
	height float64
	// parallelism is the zone in which the component's upper face lies
	// against its seat (ISO 1101), over its whole extent.
	parallelism float64
	// solids are the parts that may touch what it stands on: stated, or all
	// that are fixed.
	solids []int
	stated bool
	least  int // fasteners that it wants; 0: not stated
}

func (s *source) seat(t *seatTable, unit scale, parts []*part) *seat {
	st := &seat{
		path: t.Path, by: t.LocatedBy, normal: r3.Vector{Z: 1},
		tolerance:   unit.mm(s.notNegative(t.Path+".position_tolerance", t.PositionTolerance)),
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
	if t.LeastFasteners != nil {
		if st.least = *t.LeastFasteners; st.least < 1 {
			s.fault(t.Path+".least_fasteners", fmt.Sprint(st.least), "1 or more")
		}
	}
	s.locatorSizes(st, t, unit)
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
	case st.playing && st.play >= across.Norm():
		s.fault(t.Path+".play", fmt.Sprint(*t.Play), "less than the distance of the pins")
	case math.Abs(along) > 1e-6*across.Norm():
		s.fault(t.Path+".pins", fmt.Sprintf("pins %.3g mm apart along the seat's normal", along),
			"both in one plane square to the normal")
	}
	return st
}

// locatorSizes reads what locates the component, and how closely.
func (s *source) locatorSizes(st *seat, t *seatTable, unit scale) {
	ways := []string{OwnPins, SetPins, Dowels, Keys}
	if !s.states(t.Path + ".located_by") {
		st.by = OwnPins
	} else if !slices.Contains(ways, st.by) {
		s.fault(t.Path+".located_by", quoted(st.by), "%s", oneOf(st.by, ways))
		st.by = OwnPins
	}
	hasFit, hasBore := len(t.Fit) > 0, len(t.Bore) > 0
	needsFit, needsBore := st.by != SetPins, st.by == SetPins || st.by == Dowels
	switch {
	case t.Play != nil && (hasFit || hasBore):
		s.fault(t.Path+".play", "play beside fit or bore", "one of the two: the clearance follows from sizes with tolerance classes")
	case t.Play != nil:
		st.play, st.playing = unit.mm(s.notNegative(t.Path+".play", *t.Play)), true
	case needsFit && !hasFit && !hasBore:
		s.fault(t.Path, "no play", "%s", examples["seat.play"])
	case needsFit && !hasFit:
		s.fault(t.Path, "bore without fit", `fit = "16 h6", of what goes in`)
	case needsBore && !hasBore:
		s.fault(t.Path, "no bore", `bore = "16 H7", of the component itself, since it is located by %s`, st.by)
	case !needsFit && hasFit:
		s.fault(t.Path+".fit", "fit of a component located by set pins", "bore alone: the grid states the pins")
	case !needsBore && hasBore:
		s.fault(t.Path+".bore", "bore of a component located by "+st.by, "fit alone: the grid states the bores")
	default:
		st.pin = s.diameters(t.Path+".fit", t.Fit, unit, false)
		st.bore = s.diameters(t.Path+".bore", t.Bore, unit, true)
		s.needClasses(t.Path+".fit", needsFit, st.pin)
		s.needClasses(t.Path+".bore", needsBore, st.bore)
	}
	s.relief(st, t, unit)
}

// needClasses holds sizes to a tolerance class, which alone says what play there is.
func (s *source) needClasses(path string, needed bool, d [2]diameter) {
	for _, one := range d {
		if needed && one.limits == nil && one.nominal > 0 {
			s.fault(path, one.String(), `a tolerance class with it, such as "16 H7" or "16 g6"; or play instead`)
			return
		}
	}
}

// relief reads what is said of pins only.
func (s *source) relief(st *seat, t *seatTable, unit scale) {
	if t.Relieved != nil {
		land := unit.mm(s.positive(t.Path+".relieved", *t.Relieved))
		st.land = &land
		switch {
		case st.by == Keys:
			s.fault(t.Path+".relieved", "a relieved key", "relieved of pins only")
		case st.playing:
			s.fault(t.Path+".relieved", "relieved beside play", "fit (or bore) instead of play: how much a land gives follows from the sizes")
		}
	}
	if t.PinLength != nil {
		st.pinLength = unit.mm(s.positive(t.Path+".pin_length", *t.PinLength))
		if st.by != OwnPins {
			s.fault(t.Path+".pin_length", "pins of a component located by "+st.by, "the length of its own pins only")
		}
	}
}

// toThousandth rounds a length for print, to a thousandth of its unit.
func toThousandth(length float64) float64 { return math.Round(length*1e3) / 1e3 }

// distance of the two pins, mm.
func (st *seat) distance() float64 { return st.pins[1].Sub(st.pins[0]).Norm() }
