package machine

import (
	"fmt"
	"strings"

	"github.com/golang/geo/r3"
)

// mate lists the bodies of a place that may touch those it stands on, and the
// jaws that may touch what they grip.
func (b *builder) mate(t *placeTable) {
	p := b.done[t.Name]
	under := b.support(t)
	if t.Pins != nil {
		g := b.gridOf(t, under)
		lift := p.base.home.Dir(p.seat.normal)
		for _, part := range p.seat.solids {
			b.addMating(p.bodies[part], under.on.bodies[g.solid], lift, 0, "seated on "+t.On)
		}
	} else {
		f := under.frame()
		lift := f.home.Dir(r3.Vector{Z: 1})
		for _, part := range fixedParts(p.parts) {
			for _, carrier := range under.parts() {
				b.addMating(p.bodies[part], under.on.bodies[carrier], lift, 0, "stands on "+t.On)
			}
		}
	}
	if t.Gripped != nil {
		b.mateGrip(t, p, under)
	}
}

func (b *builder) addMating(a, on int, lift r3.Vector, bite float64, reason string) {
	b.setup.Matings = append(b.setup.Matings, Mating{A: a, B: on, Lift: lift, Bite: bite, Reason: reason})
}

// mateGrip lets every jaw of a grip touch what it grips: a jaw comes free of
// it as it opens.
func (b *builder) mateGrip(t *placeTable, p *placed, under *support) {
	bite := b.unit.mm(b.src.notNegative(t.Gripped.Path+".bite", t.Gripped.Bite))
	g := b.gripOf(t, under)
	if g == nil {
		return
	}
	for i, jaw := range g.jaws {
		f := under.on.carrierFrame(jaw)
		for _, part := range fixedParts(p.parts) {
			b.addMating(under.on.bodies[jaw], p.bodies[part], f.home.Dir(g.opening[i]), bite, "gripped by "+under.on.unit)
		}
	}
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
