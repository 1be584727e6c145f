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

// stand returns the frame of a component, by its pins or directly.
func (b *builder) stand(t *placeTable, p *placed, under *support) (frame, bool) {
	direct := t.At != nil || t.Turned != nil || t.Within != nil
	switch {
	case t.Pins != nil && direct:
		b.src.fault(t.Path+".pins", "pins, and at, turned or within", "either pins or at with within")
	case t.Pins != nil:
		return b.standOnPins(t, p, under)
	case t.At == nil:
		b.src.fault(t.Path, "neither pins nor at", "pins = [hole, hole], or at = [x, y, z] with within")
	case t.Within == nil:
		b.src.fault(t.Path, "at without within", "within = how far off it can stand, either way, along each direction")
	default:
		return b.standDirectly(t, under), true
	}
	return frame{}, false
}

// standOnPins seats a component on two holes of the grid under it.
func (b *builder) standOnPins(t *placeTable, p *placed, under *support) (frame, bool) {
	if len(t.Pins) != 2 {
		b.src.fault(t.Path+".pins", count(len(t.Pins), "pin", "pins"), "exactly two: two locators fix a component, one lets it turn")
		return frame{}, false
	}
	if p.seat == nil {
		b.src.fault(t.Path+".pins", "pins of a component without a seat", "a table [seat] in %s, or at with within", p.src.name)
		return frame{}, false
	}
	g := b.gridOf(t, under)
	if g == nil {
		return frame{}, false
	}
	pose, clearance, ok := b.seatOn(t, p.seat, g)
	if !ok {
		return frame{}, false
	}
	f := under.on.carrierFrame(g.solid).at(pose)
	tilt, middle := p.tilts()
	s := seating{
		pins:   [2]r3.Vector{f.home.Point(p.seat.pins[0]), f.home.Point(p.seat.pins[1])},
		normal: f.home.Dir(p.seat.normal), clearance: clearance, height: p.seat.height,
		tilt: tilt, footprint: f.home.Point(middle),
	}
	return f.then(s.joints(p.unit)...), true
}

// standDirectly places a component by coordinates in the frame of what it is
// on: its origin at a point, turned about that frame's Z.
func (b *builder) standDirectly(t *placeTable, under *support) frame {
	f := under.frame()
	play := within(t.Name, &f.home, b.unit.mm(b.src.notNegative(t.Path+".within", *t.Within)))
	pose := geom.Shift(b.unit.point(*t.At))
	if t.Turned != nil {
		pose = pose.Mul(geom.Turn(r3.Vector{}, r3.Vector{Z: 1}, radians(*t.Turned)))
	}
	return f.at(pose).then(play...)
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
