package machine

import (
	"fmt"
	"math"
	"slices"

	"gridswing/geom"
	"gridswing/machine/fits"

	"github.com/golang/geo/r3"
)

// located is a component on its two locators, in the frame of the solid it stands on.
type located struct {
	pose     geom.Pose
	grid     string
	locators []Locator // At is in the component's frame as yet
	fit      fits.Seat
	// seating is what the locators allow; places and directions are not set yet.
	seating seating
	known   bool // the least clearances are
}

// onHoles checks that a component fits two holes of a grid and stands it there.
// A hole may be anywhere in the zone of its position, and so may the locator in the
// component; two round locators that are not as far apart as the holes start off centre.
func (b *builder) onHoles(t *placeTable, p *placed, g *grid, under *placed) (l *located, ok bool) {
	var holes [2]r3.Vector
	ok = true
	for i, name := range t.Pins {
		var found bool
		if holes[i], found = g.hole(name); !found {
			b.src.fault(fmt.Sprintf("%s.pins[%d]", t.Path, i), "hole "+quoted(name), "%s", g.expected(name))
			ok = false
		}
	}
	if !ok {
		return nil, false
	}
	if l = b.locatorsIn(t, p, g); l == nil {
		return nil, false
	}
	apart := holes[1].Sub(holes[0]).Norm()
	mismatch := math.Abs(apart - l.fit.Distance)
	if mismatch < 1e-9 {
		mismatch = 0 // rounding, not an error of the drawing
	}
	heat := b.heat(t, p, under, g.solid, l.fit.Distance)
	l.fit.Spread = mismatch + heat
	if takes := l.takes(); l.fit.Spread > takes+1e-6 {
		b.src.fault(t.Path+".pins",
			fmt.Sprintf("holes %s and %s, %g mm apart%s", t.Pins[0], t.Pins[1], toThousandth(apart), warmed(heat)),
			"holes as far apart as the component's pins, %g mm (within %g, of play %g and %g and hole position %g)",
			toThousandth(l.fit.Distance), toThousandth(takes), toThousandth(l.fit.Clearance[0].Most), toThousandth(l.fit.Clearance[1].Most),
			toThousandth(l.fit.Position[0]))
		return nil, false
	}
	l.pose = sit(p.seat, holes, g.normal())
	l.seating = l.allowed()
	return l, true
}

// warmed words what a difference in temperature does to a distance.
func warmed(heat float64) string {
	if heat == 0 {
		return ""
	}
	return fmt.Sprintf(" as drawn, and another %g mm with temperature", toThousandth(heat))
}

// takes is how far the distance of the locators may be off that of the holes for
// the component to go on at all, mm: with the largest clearances and the best position
// of everything. The first takes half its clearance, a round second one too, a relieved
// one the offset that its land leaves.
func (l *located) takes() float64 {
	f := &l.fit
	takes := f.Clearance[0].Most/2 + (f.Position[0]+f.Position[1])/2
	if f.Relief == nil {
		return takes + f.Clearance[1].Most/2
	}
	return takes + fits.Offset(f.Relief.Bore, f.Clearance[1].Most, f.Relief.Land)
}

// allowed returns how far the locators let the component be off. Two round ones that
// are not as far apart as the holes are put in the middle, so each may be off by
// the difference more; a relieved one leaves the line to the first.
func (l *located) allowed() (s seating) {
	f := &l.fit
	for i := range s.clearance {
		s.clearance[i] = f.Clearance[i].Most + f.Position[i]
		if f.Relief == nil {
			s.clearance[i] += f.Spread
		}
	}
	s.along = s.clearance[0] / 2
	if f.Relief == nil {
		s.along = min(s.along, s.clearance[1]/2)
	}
	return s
}

// locatorsIn returns both locators of a component in holes that are there, and how they
// fit but for the distance of the two; nil if one does not.
func (b *builder) locatorsIn(t *placeTable, p *placed, g *grid) *located {
	l := &located{grid: g.name, known: true}
	for i := range t.Pins {
		loc, fine := b.locatorIn(t, p, g, i)
		if !fine {
			return nil
		}
		l.locators = append(l.locators, loc)
		l.fit.Clearance[i], l.known = loc.Clearance, l.known && loc.LeastKnown
		l.fit.Position[i] = g.tolerance + p.seat.tolerance
	}
	l.fit.Distance = p.seat.distance()
	if p.seat.land != nil {
		l.fit.Relief = &fits.Relief{Bore: l.locators[1].Diameter, Land: *p.seat.land}
		l.locators[1].Relieved = true
	}
	return l
}

// locatorIn returns a locator of a component in a hole.
func (b *builder) locatorIn(t *placeTable, p *placed, g *grid, i int) (l Locator, ok bool) {
	st := p.seat
	hole := t.Pins[i]
	bore, pin, own := g.boreAt(hole), st.pin[i], st.bore[i]
	l = Locator{Kind: st.by, Hole: hole, At: st.pins[i], Diameter: bore.nominal, Length: st.pinLength, Depth: g.boreDepth}
	key := fmt.Sprintf("%s.pins[%d]", t.Path, i)
	if st.by == SetPins {
		if g.retractable == nil || !slices.Contains(g.retractable.at, hole) {
			b.src.fault(key, fmt.Sprintf("hole %s of grid %q, which has no pin to set", hole, g.name),
				"a hole with a retractable pin: %s is located by set pins", p.unit)
			return l, false
		}
		pin = g.retractable.pin
	}
	if st.playing {
		l.Clearance.Most = st.play
		return l, true
	}
	l.Diameter, l.Pin, l.LeastKnown = pin.nominal, pin.String(), true
	ok = true
	in := func(d diameter, what, cure string) {
		switch {
		case !ok:
		case d.limits == nil:
			b.src.fault(key, what+", which has no tolerance class", "%s", cure)
			ok = false
		case math.Abs(d.nominal-pin.nominal) > 1e-6:
			b.src.fault(key, fmt.Sprintf("%s, %s", what, d), "%g mm, as the locator of %s is", toThousandth(pin.nominal), p.unit)
			ok = false
		default:
			c := fits.Between(*d.limits, *pin.limits)
			l.goesInto(d.String(), c)
		}
	}
	if st.by != OwnPins {
		in(own, "the bore of "+p.unit, `bore = "16 H7" in `+p.src.name)
	}
	// A retractable pin has play in its own bore as well, where that is stated.
	if st.by != SetPins || bore.limits != nil {
		in(bore, fmt.Sprintf("hole %s of grid %q", hole, g.name), `bore = "16 H7" there, or play instead of sizes`)
	}
	return l, ok
}

// goesInto adds a bore or slot that a locator goes into. What it can be off adds up over
// its bores; interference in one is not made good by clearance in another.
func (l *Locator) goesInto(bore string, c fits.Clearance) {
	if len(l.Bores) == 0 {
		l.Tightest = c
	} else {
		l.Tightest = fits.Clearance{Least: min(l.Tightest.Least, c.Least), Most: min(l.Tightest.Most, c.Most)}
	}
	l.Bores = append(l.Bores, bore)
	l.Clearance.Least += max(0, c.Least)
	l.Clearance.Most += max(0, c.Most)
}

// inSlot stands a component with tenon keys in a T-slot.
func (b *builder) inSlot(t *placeTable, p *placed, g *slots) (l *located, ok bool) {
	k := t.Keyed
	if k.Slot < 1 || k.Slot > g.count {
		b.src.fault(k.Path+".slot", fmt.Sprint(k.Slot), "1 to %d, a slot of %q", g.count, g.name)
		return nil, false
	}
	l = &located{grid: g.name, known: !p.seat.playing}
	within := b.unit.mm(b.src.notNegative(k.Path+".within", k.Within))
	for i := range p.seat.pins {
		loc := Locator{Kind: Keys, Hole: fmt.Sprint(k.Slot), At: p.seat.pins[i], Diameter: g.width.nominal}
		key := p.seat.pin[i]
		switch {
		case p.seat.playing:
			loc.Clearance.Most = p.seat.play
		case g.width.limits == nil:
			b.src.fault(t.Path+".on", fmt.Sprintf("slots %q, whose width has no tolerance class", g.name), `width = "18 H8" there, or play instead of fit`)
			return nil, false
		case math.Abs(key.nominal-g.width.nominal) > 1e-6:
			b.src.fault(k.Path+".slot", fmt.Sprintf("slot %d of %q, %s", k.Slot, g.name, g.width), "%s, as the keys of %s are", key, p.unit)
			return nil, false
		default:
			c := fits.Between(*g.width.limits, *key.limits)
			loc.Pin, loc.LeastKnown = key.String(), true
			loc.goesInto(g.width.String(), c)
		}
		l.locators = append(l.locators, loc)
		l.fit.Clearance[i], l.fit.Position[i] = loc.Clearance, p.seat.tolerance
		l.seating.clearance[i] = loc.Clearance.Most + p.seat.tolerance
	}
	l.seating.along = within
	l.fit.Distance = p.seat.distance()
	way := g.u
	if k.Turned != 0 {
		turn := geom.Turn(r3.Vector{}, g.normal(), radians(k.Turned))
		way = turn.Dir(g.u)
		if math.Abs(way.Dot(g.u)) < 1-1e-12 {
			b.src.fault(k.Path+".turned", fmt.Sprint(k.Turned), "0 or 180: the keys lie along the slot")
			return nil, false
		}
	}
	middle, half := g.at(k.Slot, b.unit.mm(k.Along)), way.Mul(l.fit.Distance/2)
	l.pose = sit(p.seat, [2]r3.Vector{middle.Sub(half), middle.Add(half)}, g.normal())
	return l, true
}
