package machine

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"gridswing/geom"
	"gridswing/geom/motion"

	"github.com/golang/geo/r3"
)

// place puts the named component where it stands, after what it stands on.
// It returns nil if it, or what it stands on, cannot be placed.
func (b *builder) place(name string) *placed {
	if p, known := b.done[name]; known {
		return p
	}
	t := b.tables[name]
	if i := slices.Index(b.waiting, name); i >= 0 {
		circle := strings.Join(append(slices.Clone(b.waiting[i:]), name), " on ")
		b.src.fault(t.Path+".on", circle, "a stack that ends on the machine")
		return nil
	}
	b.waiting = append(b.waiting, name)
	under := b.support(t)
	b.waiting = b.waiting[:len(b.waiting)-1]
	b.done[name] = nil
	if under == nil {
		return nil
	}
	p := &placed{assembly: b.sets[name], unit: name}
	base, ok := b.stand(t, p, under)
	if !ok {
		return nil
	}
	p.base = base
	p.set = b.settings(p, t.Set, t.Path+".set", t.Path)
	b.addAxes(p, t.Path+".component")
	b.done[name] = p
	return p
}

// stand returns the frame of a component: on its locators, or by coordinates.
func (b *builder) stand(t *placeTable, p *placed, under *support) (frame, bool) {
	direct := t.At != nil || t.Turned != nil || t.Within != nil || t.Stops != nil
	switch {
	case t.Pins != nil && direct:
		b.src.fault(t.Path+".pins", "pins, and at, turned or within", "either pins or at with within")
	case t.Keyed != nil && (direct || t.Pins != nil):
		b.src.fault(t.Path+".keyed", "keyed, and pins or at", "one of them")
	case t.Pins != nil:
		return b.standOnPins(t, p, under)
	case t.Keyed != nil:
		return b.standOnKeys(t, p, under)
	case t.At == nil:
		b.src.fault(t.Path, "neither pins nor at", "pins = [hole, hole], or at = [x, y, z] with within")
	case t.Within == nil:
		b.src.fault(t.Path, "at without within", "within = how far off it can stand, either way, along each direction")
	default:
		return b.standDirectly(t, p, under)
	}
	return frame{}, false
}

// standOnPins seats a component on two holes of the grid under it.
func (b *builder) standOnPins(t *placeTable, p *placed, under *support) (frame, bool) {
	if len(t.Pins) != 2 {
		b.src.fault(t.Path+".pins", count(len(t.Pins), "pin", "pins"), "exactly two: two locators fix a component, one lets it turn")
		return frame{}, false
	}
	switch {
	case p.seat == nil:
		b.src.fault(t.Path+".pins", "pins of a component without a seat", "a table [seat] in %s, or at with within", p.src.name)
		return frame{}, false
	case p.seat.by == Keys:
		b.src.fault(t.Path+".pins", "pins of a component with tenon keys", "keyed = { slot = 2, along = 120, within = 0.5 }")
		return frame{}, false
	}
	g := b.gridOf(t, under)
	if g == nil {
		return frame{}, false
	}
	l, ok := b.onHoles(t, p, g, under.on)
	if !ok {
		return frame{}, false
	}
	return b.seatOn(t, p, l, under.on.carrierFrame(g.solid)), true
}

// standOnKeys seats a component in a T-slot.
func (b *builder) standOnKeys(t *placeTable, p *placed, under *support) (frame, bool) {
	if p.seat == nil || p.seat.by != Keys {
		b.src.fault(t.Path+".keyed", "keyed, of a component without tenon keys", "a table [seat] in %s with located_by = %q", p.src.name, Keys)
		return frame{}, false
	}
	g := b.slotsOf(t, under)
	if g == nil {
		return frame{}, false
	}
	l, ok := b.inSlot(t, p, g)
	if !ok {
		return frame{}, false
	}
	return b.seatOn(t, p, l, under.on.carrierFrame(g.solid)), true
}

// seatOn puts a component where its locators stand it, with the play that they leave.
func (b *builder) seatOn(t *placeTable, p *placed, l *located, carrier frame) frame {
	f := carrier.at(l.pose)
	s := l.seating
	var middle r3.Vector
	s.tilt, middle = p.tilts()
	s.pins = [2]r3.Vector{f.home.Point(p.seat.pins[0]), f.home.Point(p.seat.pins[1])}
	s.normal, s.height, s.footprint = f.home.Dir(p.seat.normal), p.seat.height, f.home.Point(middle)
	p.located = l
	anchor := p.seat.pins[0].Add(p.seat.pins[1]).Mul(0.5)
	return f.then(append(s.joints(p.unit), growth(p.unit, &f.home, b.grows(t, p, anchor))...)...)
}

// standDirectly places a component by coordinates in the frame of what it is
// on: its origin at a point, turned about that frame's Z. With stops it is as
// true as they are, otherwise within says how far it can be off.
func (b *builder) standDirectly(t *placeTable, p *placed, under *support) (frame, bool) {
	f := under.frame()
	off := b.unit.mm(b.src.notNegative(t.Path+".within", *t.Within))
	play := within(t.Name, &f.home, off)
	if t.Stops != nil {
		s, ok := b.stopped(t, p, f, off)
		if !ok {
			return frame{}, false
		}
		play = s.joints(t.Name)
	}
	pose := geom.Shift(b.unit.point(*t.At))
	if t.Turned != nil {
		pose = pose.Mul(geom.Turn(r3.Vector{}, r3.Vector{Z: 1}, radians(*t.Turned)))
	}
	f = f.at(pose)
	return f.then(append(play, growth(t.Name, &f.home, b.grows(t, p, r3.Vector{}))...)...), true
}

// stopped reads the stops that edges of a component stand against: two on one edge,
// the third on another, along the line of the first two. Each may be off by within
// in the way that it stops, which is what two locators do.
func (b *builder) stopped(t *placeTable, p *placed, f frame, off float64) (s seating, ok bool) {
	if len(t.Stops) != 3 {
		b.src.fault(t.Path+".stops", count(len(t.Stops), "stop", "stops"), "three: two against one edge, the third against another")
		return s, false
	}
	at := [2]r3.Vector{b.unit.point(t.Stops[0]), b.unit.point(t.Stops[1])}
	across := at[1].Sub(at[0])
	across.Z = 0 // the height of a stop does not matter
	if across.Norm() <= 2*off {
		b.src.fault(t.Path+".stops", fmt.Sprintf("the first two %g mm apart", toThousandth(across.Norm())), "two stops along one edge")
		return s, false
	}
	s = seating{
		pins:   [2]r3.Vector{f.home.Point(at[0]), f.home.Point(at[0].Add(across))},
		normal: f.home.Dir(r3.Vector{Z: 1}), clearance: [2]float64{2 * off, 2 * off}, along: off, height: off,
	}
	l := &located{known: true, seating: s}
	l.fit.Distance = across.Norm()
	for i := range t.Stops {
		l.locators = append(l.locators, Locator{Kind: Stops, At: f.home.Point(b.unit.point(t.Stops[i]))})
	}
	p.located = l
	return s, true
}

// settings reads the positions of an assembly's setting axes. The key names
// the table they are in, the other one the table that ought to have it.
func (b *builder) settings(p *placed, values map[string]float64, key, table string) map[string]float64 {
	set := make(map[string]float64)
	var names []string
	for _, a := range p.axes {
		if !a.setting {
			continue
		}
		names = append(names, a.id)
		v, stated := values[a.id]
		if !stated {
			b.src.fault(table, "no position of "+quoted(a.id), "set = { %s = ... }, %s, for %s", a.id, a.between(a.travel, b.unit), p.unit)
			continue
		}
		mm := b.unit.mm(v)
		if a.kind == motion.Rotary {
			mm = radians(v)
		}
		if !a.travel.holds(mm) {
			b.src.fault(join(key, a.id), fmt.Sprint(v), "%s, the travel of %q", a.between(a.travel, b.unit), a.id)
		}
		set[a.id] = mm
	}
	for _, name := range slices.Sorted(maps.Keys(values)) {
		if _, known := set[name]; !known && !slices.Contains(names, name) {
			b.src.fault(join(key, name), quoted(name), "a setting axis of %s: %s", p.unit, oneOf(name, names))
		}
	}
	return set
}
