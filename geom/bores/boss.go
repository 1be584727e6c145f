package bores

import (
	"math"

	"github.com/golang/geo/r3"
)

// Boss is a round column, or a length of one: a pin, a journal, a round plate.
type Boss struct {
	Base r3.Vector // on the axis, where it stands on something, or its lower end
	Axis r3.Vector // unit, from the base to the free end
	// Diameter of the circle on which the corners of the facets lie, and of the
	// largest circle within them, mm: see Step.
	Diameter, Flats float64
	Sides           int
	Height          float64 // mm, chamfers included
	RMS, Worst      float64 // how far the corners are from the cylinder, mm
}

func bossesOf(t *faceted, patches []*patch) []Boss {
	var all []Boss
	for _, p := range patches {
		if p.boss && p.coverage >= fullCircle {
			all = append(all, newBoss(t, p))
		}
	}
	return all
}

func newBoss(t *faceted, p *patch) Boss {
	in := map[int32]bool{}
	for _, f := range p.faces {
		for _, g := range t.faces[f].facets {
			in[g] = true
		}
	}
	low, high := p.endOf(t, false, in), p.endOf(t, true, in)
	free := high.closure != wider
	if other := low.closure != wider; free == other {
		free = looksUp(p.axis)
	}
	b := Boss{
		Base: p.center.Add(p.axis.Mul(low.height)), Axis: p.axis, Height: math.Abs(high.height - low.height),
		Diameter: 2 * p.radius, Flats: 2 * p.flats, Sides: p.sides, RMS: p.rms, Worst: p.worst,
	}
	if !free {
		b.Base, b.Axis = p.center.Add(p.axis.Mul(high.height)), p.axis.Mul(-1)
	}
	return b
}
