package bores

import (
	"math"

	"github.com/golang/geo/r3"
)

// closure says what lies beyond an end of a cylinder.
type closure int

const (
	unknown  closure = iota // the mesh ends there
	wider                   // the surface goes on away from the axis: a face, a chamfer
	narrower                // it goes on towards the axis: a floor, the point of a drill, a smaller opening
)

// end is an end of a cylinder and what is beyond it. Heights are along the axis,
// from its centre.
type end struct {
	closure closure
	height  float64 // with what is beyond: the chamfer's rim, the tip
	// cone is, of a chamfer, the radius at its rim; 0 without one.
	cone float64
	// through is set if the surface narrows but does not close: something smaller
	// goes on.
	through bool
	tip     bool // narrowing to a point on the axis
}

// margin is how far something may be off and still count as on the cylinder.
func (p *patch) margin(t *faceted) float64 { return 0.01*p.radius + 2*t.noise + p.worst }

// endOf looks beyond the upper end of the patch, or the lower one. in says which
// facets belong to the patch.
func (p *patch) endOf(t *faceted, upper bool, in map[int32]bool) end {
	sign, height := 1.0, p.high
	if !upper {
		sign, height = -1, p.low
	}
	e := end{height: height}
	rim := p.rim(t, upper, in)
	lengths := [3]float64{}
	var beyond [3][]int32
	for _, h := range rim {
		a, b := t.ends(h)
		kind := unknown
		if g := t.Across[h]; g >= 0 {
			// A floor's third corner may be on the rim again, but it is within the
			// chord.
			middle := a.Add(b).Mul(0.5)
			_, outward := p.from(middle)
			kind = narrower
			if t.apex(g).Sub(middle).Dot(outward) > 0 {
				kind = wider
			}
			beyond[kind] = append(beyond[kind], g/3)
		}
		lengths[kind] += b.Sub(a).Norm()
	}
	for k, l := range lengths {
		if l > lengths[e.closure] {
			e.closure = closure(k)
		}
	}
	switch e.closure {
	case wider:
		p.followChamfer(t, &e, sign, beyond[wider], in)
	case narrower:
		if p.boss {
			p.followChamfer(t, &e, sign, beyond[narrower], in)
		} else {
			p.followPoint(t, &e, sign, beyond[narrower], in)
		}
	}
	return e
}

// rim returns the half-edges of the patch that lead out of it over its upper or
// lower half, but for those along the axis.
func (p *patch) rim(t *faceted, upper bool, in map[int32]bool) []int32 {
	middle := (p.low + p.high) / 2
	var rim []int32
	for _, f := range p.faces {
		for _, g := range t.faces[f].facets {
			for h := 3 * g; h < 3*g+3; h++ {
				if o := t.Across[h]; o >= 0 && in[o/3] {
					continue
				}
				a, b := t.ends(h)
				at, _ := p.from(a.Add(b).Mul(0.5))
				way := b.Sub(a)
				if (at > middle) == upper && math.Abs(way.Dot(p.axis)) < 0.9*way.Norm() {
					rim = append(rim, h)
				}
			}
		}
	}
	return rim
}

// followChamfer goes over the facets of a cone about the axis that begins at an end: a
// chamfer, rounding or countersink of a bore, which widens, or of a boss, which narrows.
func (p *patch) followChamfer(t *faceted, e *end, sign float64, from []int32, in map[int32]bool) {
	const (
		widest = 3    // radii: what is wider is a funnel, not a chamfer
		least  = 0.03 // of the normal along and across the axis: a rounding begins and ends gently
	)
	outward, start := p.axis.Mul(sign), e.height
	sense := -1.0
	if p.boss {
		sense = 1
	}
	holds := func(f int32) bool {
		n := t.faces[t.faceOf[f]].normal
		a, b, c := t.mesh.Triangle(int(f))
		_, radial := p.from(a.Add(b).Add(c).Mul(1. / 3))
		if n == (r3.Vector{}) || radial.Norm() == 0 {
			return false
		}
		u := radial.Normalize()
		axial, out, around := n.Dot(outward), sense*n.Dot(u), math.Abs(n.Dot(u.Cross(outward)))
		if axial < least || out < least || around > 0.45 {
			return false
		}
		for _, q := range [3]r3.Vector{a, b, c} {
			along, radial := p.from(q)
			if d := radial.Norm(); d > widest*p.radius || sign*(along-start) < -p.margin(t) {
				return false
			}
		}
		return true
	}
	conical := 0
	for _, f := range from {
		if holds(f) {
			conical++
		}
	}
	if 10*conical < 9*len(from) { // a face at a slope looks like a cone on one side only
		return
	}
	t.flood(from, in, holds, func(q r3.Vector) {
		along, radial := p.from(q)
		if sign*along >= sign*e.height {
			e.height, e.cone = along, radial.Norm()
		}
	})
}

// followPoint goes over what closes a bore at its end, within the bore's radius.
func (p *patch) followPoint(t *faceted, e *end, sign float64, from []int32, in map[int32]bool) {
	outer, start := p.radius+p.margin(t), e.height
	e.through = false
	var heights, radii []float64
	t.flood(from, in, func(f int32) bool {
		a, b, c := t.mesh.Triangle(int(f))
		for _, q := range [3]r3.Vector{a, b, c} {
			if _, radial := p.from(q); radial.Norm() > outer {
				e.through = true
				return false
			}
		}
		return true
	}, func(q r3.Vector) {
		along, radial := p.from(q)
		heights, radii = append(heights, sign*(along-start)), append(radii, radial.Norm())
		if sign*(along-e.height) > 0 {
			e.height = along
		}
	})
	if e.through {
		e.height = start
		return
	}
	depth := sign * (e.height - start)
	if depth <= p.margin(t) {
		e.height = start
		return
	}
	e.tip = true
	for i, h := range heights { // on the lines from the rim to the axis
		const off = 0.05
		e.tip = e.tip && math.Abs(radii[i]-p.radius*(1-h/depth)) <= off*p.radius
	}
}

// flood visits the corners of all facets that are reached from some over edges and
// hold. Those in are not entered.
func (t *faceted) flood(from []int32, in map[int32]bool, holds func(int32) bool, visit func(r3.Vector)) {
	seen := map[int32]bool{}
	stack := append([]int32(nil), from...)
	for len(stack) > 0 {
		f := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		if seen[f] || in[f] {
			continue
		}
		seen[f] = true
		if !holds(f) {
			continue
		}
		for c := 3 * f; c < 3*f+3; c++ {
			visit(t.at(c))
			if g := t.Across[c]; g >= 0 {
				stack = append(stack, g/3)
			}
		}
	}
}
