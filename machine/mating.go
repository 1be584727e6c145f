package machine

import (
	"fmt"
	"slices"
	"strings"

	"gridswing/geom"

	"github.com/golang/geo/r3"
)

// mate lists the bodies of a place that may touch those it stands on, and the
// jaws that may touch what they grip. No pair is listed twice. It notes what
// the place stands on, too.
func (b *builder) mate(t *placeTable) {
	p := b.done[t.Name]
	under := b.support(t)
	var jaws []int
	if t.Gripped != nil {
		jaws = b.mateGrip(t, p, under)
	}
	carrier := under.part
	if t.Pins != nil || t.Keyed != nil {
		carrier = b.carrierOf(t, under)
	}
	b.addStanding(p, under, carrier, jaws)
	b.mateFurther(t, p)
	if t.Pins != nil || t.Keyed != nil {
		lift := p.base.home.Dir(p.seat.normal)
		for _, part := range p.seat.solids {
			body, on := p.bodies[part], under.on.bodies[carrier]
			if p.seat.stated || b.couldTouch(body, on) {
				b.addMating(body, on, lift, 0, "seated on "+t.On)
			}
		}
		return
	}
	b.mateDirectly(t.On, p, under, jaws)
}

// addStanding notes what a component stands on: one part of it, -1 for any, and the jaws
// there that grip it.
func (b *builder) addStanding(p *placed, under *support, part int, jaws []int) {
	s := Standing{Unit: p.unit, On: under.on.unit}
	if part >= 0 {
		s.Bodies = []int{under.on.bodies[part]}
	}
	for _, jaw := range jaws {
		s.Grips = append(s.Grips, under.on.bodies[jaw])
	}
	b.setup.Standing = append(b.setup.Standing, s)
}

// mateDirectly lets a component touch what it stands on without locators.
func (b *builder) mateDirectly(on string, p *placed, under *support, jaws []int) {
	lift := b.awayFrom(under)
	for _, part := range fixedParts(p.parts) {
		for _, carrier := range under.parts() {
			body, carries := p.bodies[part], under.on.bodies[carrier]
			if !slices.Contains(jaws, carrier) && b.couldTouch(body, carries) {
				b.addMating(body, carries, lift, 0, "stands on "+on)
			}
		}
	}
}

// carrierOf is the part that a component's locators stand in.
func (b *builder) carrierOf(t *placeTable, under *support) int {
	if t.Keyed != nil {
		return b.slotsOf(t, under).solid
	}
	return b.gridOf(t, under).solid
}

// mateFurther lets a component touch what else it stands on, and be gripped there
// if it is gripped at all: a part that spans two vises.
func (b *builder) mateFurther(t *placeTable, p *placed) {
	for i, name := range t.AlsoOn {
		key := fmt.Sprintf("%s.also_on[%d]", t.Path, i)
		under := b.supportNamed(key, name)
		if under == nil {
			continue
		}
		if under.bed || under.on == p || under.on.unit == t.On {
			b.src.fault(key, quoted(name), "another place than %q that it stands on as well", t.On)
			continue
		}
		var jaws []int
		switch {
		case t.Gripped == nil:
		case len(under.on.grips) > 1:
			b.src.fault(key, quoted(name)+", which has several grips", "a place with one grip")
		case len(under.on.grips) == 1:
			jaws = b.mateJaws(t, p, under, under.on.grips[0])
		}
		b.addStanding(p, under, under.part, jaws)
		b.mateDirectly(name, p, under, jaws)
	}
}

// awayFrom returns which way something placed directly comes free of what it
// stands on, bed frame: against gravity on the machine itself, along the Z of its
// drawing (or of the grid that was named) on a component.
func (b *builder) awayFrom(under *support) r3.Vector {
	if under.bed || under.grid == nil && under.on == b.base {
		return b.machine.up
	}
	f := under.frame()
	return f.home.Dir(r3.Vector{Z: 1})
}

// touching is how near the boxes of two bodies have to be, in mm, for one to
// stand on the other as drawn.
const touching = 0.5

// couldTouch reports whether two solids, neither of which the files name as one
// that mates, are near enough to. Those that are not are not excused from the
// demanded clearance.
func (b *builder) couldTouch(a, on int) bool {
	boxA, boxOn := b.bounds(a), b.bounds(on)
	gap := r3.Vector{X: touching, Y: touching, Z: touching}
	boxA.Min, boxA.Max = boxA.Min.Sub(gap), boxA.Max.Add(gap)
	return boxA.Min.X <= boxOn.Max.X && boxOn.Min.X <= boxA.Max.X &&
		boxA.Min.Y <= boxOn.Max.Y && boxOn.Min.Y <= boxA.Max.Y &&
		boxA.Min.Z <= boxOn.Max.Z && boxOn.Min.Z <= boxA.Max.Z
}

// bounds returns a box around a body in the bed frame, every axis at zero.
func (b *builder) bounds(body int) geom.Box {
	home := &b.setup.Bodies[body].Chain.Home
	box := geom.EmptyBox()
	if s := b.setup.Bodies[body].Solid; s != nil {
		for _, c := range s.Audit.Bounds.Corners() {
			box = box.Include(home.Point(c))
		}
	}
	return box
}

func (b *builder) addMating(a, on int, lift r3.Vector, bite float64, reason string) {
	b.setup.Matings = append(b.setup.Matings, Mating{A: a, B: on, Lift: lift, Bite: bite, Reason: reason})
}

// mateGrip lets every jaw of a grip touch what it grips: a jaw comes free of
// it as it opens. It returns the parts that are its jaws.
func (b *builder) mateGrip(t *placeTable, p *placed, under *support) (jaws []int) {
	g := b.gripOf(t, under)
	if g == nil {
		return nil
	}
	return b.mateJaws(t, p, under, g)
}

// mateJaws lets the jaws of one grip touch what they grip.
func (b *builder) mateJaws(t *placeTable, p *placed, under *support, g *grip) []int {
	bite := b.unit.mm(b.src.notNegative(t.Gripped.Path+".bite", t.Gripped.Bite))
	b.checkBite(t, bite, p, under.on, g)
	for i, jaw := range g.jaws {
		f := under.on.carrierFrame(jaw)
		for _, part := range fixedParts(p.parts) {
			b.addMating(under.on.bodies[jaw], p.bodies[part], f.home.Dir(g.opening[i]), bite, "gripped by "+under.on.unit)
		}
	}
	return g.jaws
}

// gripOf returns the grip that is named, or the only one there is.
func (b *builder) gripOf(t *placeTable, under *support) *grip {
	var names []string
	if !under.bed {
		for _, g := range under.on.grips {
			names = append(names, g.name)
			if g.name == t.Gripped.Grip && g.name != "" || t.Gripped.Grip == "" && len(under.on.grips) == 1 {
				return g
			}
		}
	}
	switch {
	case len(names) == 0:
		b.src.fault(t.Path+".gripped", fmt.Sprintf("gripped by %q, which has no jaws", t.On), "something with a [[grip]]")
	case t.Gripped.Grip == "":
		b.src.fault(t.Path+".gripped", "several grips to choose from", "grip = one of %s", strings.Join(names, ", "))
	default:
		b.src.fault(t.Gripped.Path+".grip", quoted(t.Gripped.Grip), "%s", oneOf(t.Gripped.Grip, names))
	}
	return nil
}
