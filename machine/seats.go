package machine

import (
	"fmt"
	"slices"

	"gridswing/geom"
	"gridswing/geom/motion"

	"github.com/golang/geo/r3"
)

// addSeats lists where each component stands: the frame on what is under it, so
// that one can say what moving it by a hole, or raising it, would do; what locates
// it and what holds it.
func (b *builder) addSeats() {
	for i := range b.file.Places {
		t := &b.file.Places[i]
		p := b.done[t.Name]
		under := b.support(t)
		seat := Seat{Unit: t.Name, On: under.on.unit, Under: -1}
		if under.part >= 0 {
			seat.Under = under.on.bodies[under.part]
		}
		f := under.frame()
		g := under.grid
		origin := p.base.home.T
		normal := b.awayFrom(under)
		switch {
		case t.Pins != nil:
			g = b.gridOf(t, under)
			f = under.on.carrierFrame(g.solid).at(g.pose())
			normal = f.home.Dir(r3.Vector{Z: 1})
			origin = b.between(g, t.Pins, under.on)
			seat.Under = under.on.bodies[g.solid]
		case t.Keyed != nil:
			s := b.slotsOf(t, under)
			f = under.on.carrierFrame(s.solid).at(s.pose())
			normal = f.home.Dir(r3.Vector{Z: 1})
			origin = p.base.home.Point(p.seat.pins[0].Add(p.seat.pins[1]).Mul(0.5))
			seat.Under = under.on.bodies[s.solid]
		}
		if g != nil {
			seat.Pitch, seat.Holes = g.pitch, [2]int{g.columns, g.rows}
		}
		along := f.home.Dir(r3.Vector{X: 1})
		if along.Cross(normal).Norm() < parallelTo {
			along = f.home.Dir(r3.Vector{Y: 1})
		}
		seat.Chain = motion.Chain{Joints: f.joints, Home: geom.Pose{R: triad(along, normal), T: origin}}
		b.addLocators(&seat, p)
		b.addGripped(&seat, t, p, under)
		seat.Stated = b.stated(t, under)
		seat.Fasteners, seat.Threads = b.fasteners(p, under, normal), !under.bed && under.on.takesScrews()
		b.setup.Seats = append(b.setup.Seats, seat)
	}
}

// stated says where a component without pins is said to stand.
func (b *builder) stated(t *placeTable, under *support) *Stated {
	s := &Stated{Frame: under.on.unit}
	switch {
	case t.Keyed != nil:
		slots := b.slotsOf(t, under)
		s.Frame += "/" + slots.name
		s.Keyed, s.At.X, s.Turned, s.Within = true, b.unit.mm(t.Keyed.Along), radians(t.Keyed.Turned), b.unit.mm(t.Keyed.Within)
		return s
	case t.At == nil:
		return nil
	case under.grid != nil:
		s.Grid = true
		s.Frame += "/" + under.grid.name
	}
	s.At, s.Within = b.unit.point(*t.At), b.unit.mm(*t.Within)
	if t.Turned != nil {
		s.Turned = radians(*t.Turned)
	}
	return s
}

// addLocators says what locates a component, and how far that lets it be off.
func (b *builder) addLocators(seat *Seat, p *placed) {
	if p.seat != nil {
		seat.LeastFasteners, seat.Height, seat.Parallelism = p.seat.least, p.seat.height, p.seat.parallelism
	}
	l := p.located
	if l == nil {
		return
	}
	seat.Grid, seat.Fit, seat.Locators = l.grid, l.fit, slices.Clone(l.locators)
	seat.Off = Off{Along: l.seating.along, Across: [2]float64{l.seating.clearance[0] / 2, l.seating.clearance[1] / 2}}
	seat.Off.Angle = (seat.Off.Across[0] + seat.Off.Across[1]) / l.fit.Distance
	for i := range seat.Locators {
		if loc := &seat.Locators[i]; loc.Kind != Stops {
			loc.At = p.base.home.Point(loc.At)
		}
	}
}

// addGripped says how a component is gripped.
func (b *builder) addGripped(seat *Seat, t *placeTable, p *placed, under *support) {
	if t.Gripped == nil {
		return
	}
	grip := &Gripped{Bite: b.unit.mm(t.Gripped.Bite), Parallels: -1}
	if d := t.Gripped.Depth; d != nil {
		grip.Depth = b.unit.mm(b.src.positive(t.Gripped.Path+".depth", *d))
	}
	if name := t.Gripped.Parallels; name != "" {
		key := t.Gripped.Path + ".parallels"
		switch u := b.supportNamed(key, name); {
		case u == nil:
		case u.part < 0 || u.on == b.base:
			b.src.fault(key, quoted(name), `a solid of a place, such as "vise/parallels"`)
		default:
			grip.Parallels = u.on.bodies[u.part]
		}
	}
	seat.Gripped = grip
}

// between returns the middle of two holes in the bed frame.
func (b *builder) between(g *grid, pins []string, on *placed) r3.Vector {
	f := on.carrierFrame(g.solid)
	first, _ := g.hole(pins[0]) // both are there: the component stands on them
	second, _ := g.hole(pins[1])
	return f.home.Point(first.Add(second).Mul(0.5))
}

// withdrawnUnused stands, among the labels of pins that are withdrawn, for all that
// locate nothing.
const withdrawnUnused = "unused"

// addPins lists the retractable pins of all that is placed; those that are set and
// locate nothing stand up as bodies, one for each grid.
func (b *builder) addPins() {
	for _, p := range b.inOrder() {
		key, labels := "withdrawn", b.file.Withdrawn
		if p.unit != machineUnit {
			t := b.tables[p.unit]
			key, labels = t.Path+".withdrawn", t.Withdrawn
		}
		withdrawn := b.withdrawn(p, key, labels)
		for _, g := range p.grids {
			if g.retractable != nil {
				b.addPinsOf(p, g, withdrawn)
			}
		}
	}
}

// withdrawn reads which pins are withdrawn, as "grid/label"; of a component with one
// grid that has pins, labels alone will do.
func (b *builder) withdrawn(p *placed, key string, labels []string) map[string]string {
	var with []*grid
	for _, g := range p.grids {
		if g.retractable != nil {
			with = append(with, g)
		}
	}
	list := make(map[string]string) // label by grid and hole -> key
	for i, label := range labels {
		at := fmt.Sprintf("%s[%d]", key, i)
		if label == withdrawnUnused {
			list[label] = at
			continue
		}
		found := false
		for _, g := range with {
			name, ok := label, len(with) == 1
			if len(label) > len(g.name) && label[:len(g.name)+1] == g.name+"/" {
				name, ok = label[len(g.name)+1:], true
			}
			if ok && slices.Contains(g.retractable.at, name) {
				list[g.name+"/"+name], found = at, true
			}
		}
		switch {
		case found:
		case len(with) == 0:
			b.src.fault(at, quoted(label)+" of "+p.unit+", which has no retractable pins", "a grid with retractable = { fit = ..., height = ... }")
		default:
			b.src.fault(at, quoted(label), "the hole of a retractable pin of %s (%q or \"grid/hole\"), or %q", p.unit, with[0].retractable.at[0], withdrawnUnused)
		}
	}
	return list
}

// addPinsOf lists the pins of one grid.
func (b *builder) addPinsOf(p *placed, g *grid, withdrawn map[string]string) {
	f := p.carrierFrame(g.solid)
	used := b.locatedBy(p, g)
	var up []string
	body := len(b.setup.Bodies)
	for _, name := range g.retractable.at {
		hole, _ := g.hole(name)
		pin := Pin{
			Unit: p.unit, Grid: g.name, Hole: name, At: f.home.Point(hole), Normal: f.home.Dir(g.normal()),
			Diameter: g.retractable.pin.nominal, Height: g.retractable.height, Locates: used[name], Body: -1,
		}
		at, named := withdrawn[g.name+"/"+name]
		_, unused := withdrawn[withdrawnUnused]
		pin.Withdrawn = named || unused && pin.Locates == ""
		switch {
		case named && pin.Locates != "":
			b.src.fault(at, fmt.Sprintf("the pin at %s withdrawn, which locates %s", name, pin.Locates), "a pin that locates nothing")
		case !pin.Withdrawn && pin.Locates == "":
			up = append(up, name)
			pin.Body = body
		}
		b.setup.Pins = append(b.setup.Pins, pin)
	}
	if len(up) > 0 {
		one := Body{
			Name: p.unit + "/" + pinsOf(g), Unit: p.unit, Role: p.parts[g.solid].role, OnTool: f.onTool,
			Solid: b.setup.made.pins(g, up), Chain: motion.Chain{Joints: f.joints, Home: f.home}, Density: densities["steel"],
		}
		one.Mass = one.Density * one.Solid.Audit.Volume * 1e-9 // kg/m3 and mm3
		one.Fixed = one.Chain.Rigid()
		b.setup.Bodies = append(b.setup.Bodies, one)
	}
}

// locatedBy returns the component that each pin of a grid locates, by hole.
func (b *builder) locatedBy(p *placed, g *grid) map[string]string {
	used := make(map[string]string)
	for i := range b.file.Places {
		t := &b.file.Places[i]
		if t.Pins == nil || b.done[t.Name].seat.by != SetPins {
			continue
		}
		if under := b.support(t); under.on == p && b.gridOf(t, under) == g {
			for _, hole := range t.Pins {
				used[hole] = t.Name
			}
		}
	}
	return used
}
