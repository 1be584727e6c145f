package machine

import (
	"fmt"
	"math"

	"github.com/golang/geo/r3"
)

// deepBite is more than jaws bite in any usual vise, in mm: common practice, no
// source. A jaw that is excused from more hides a wrong size or place.
const deepBite = 1

// checkBite looks at how far jaws may overlap what they grip: a bite through
// all of it along a jaw's opening is a fault, a deep one brings a warning.
func (b *builder) checkBite(t *placeTable, bite float64, p, on *placed, g *grip) {
	if bite > deepBite {
		b.setup.Warnings = append(b.setup.Warnings, fmt.Sprintf(
			"%s: place %q: a bite of %g mm excuses each jaw from an overlap that deep; usual is %d mm or less",
			b.src.name, t.Name, toThousandth(bite), deepBite))
	}
	if bite == 0 {
		return
	}
	for i, jaw := range g.jaws {
		f := on.carrierFrame(jaw)
		if extent := b.extent(p, f.home.Dir(g.opening[i])); bite >= extent {
			b.src.fault(t.Gripped.Path+".bite", fmt.Sprint(t.Gripped.Bite),
				"less than %q measures between the jaws, %g", t.Name, toThousandth(extent/float64(b.unit)))
			return
		}
	}
}

// extent returns how long the fixed solids of a component are together, along a
// unit vector of the bed frame with every axis at zero; infinite without solids.
func (b *builder) extent(p *placed, along r3.Vector) float64 {
	low, high := math.Inf(1), math.Inf(-1)
	for _, part := range fixedParts(p.parts) {
		body := &b.setup.Bodies[p.bodies[part]]
		if body.Solid == nil {
			continue
		}
		for _, f := range body.Solid.Mesh.Facets {
			for _, v := range f {
				at := body.Chain.Home.Point(v.Vector()).Dot(along)
				low, high = min(low, at), max(high, at)
			}
		}
	}
	if low > high {
		return math.Inf(1)
	}
	return high - low
}
