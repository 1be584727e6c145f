package material

import (
	"math"
	"slices"

	"github.com/golang/geo/r3"
)

// planes chooses the planes of the cell whose points were gathered, those that take most first. It reports
// whether anything is left.
func (b *builder) planes(p *part) bool {
	half := b.m.cell / 2
	var h hull
	h.cube(half)
	list := b.candidates()
	for range mostPlanes {
		best, least := -1, 0.0
		for i := range list {
			u := list[i].normal()
			if h.far(u) <= float64(list[i].d)+1e-9*half {
				continue
			}
			c := h
			if !c.clip(u, float64(list[i].d)+1e-9*half) {
				return false
			}
			if v := c.volume(); best < 0 || v < least {
				best, least = i, v
			}
		}
		if best < 0 {
			break
		}
		p.plane[p.n] = list[best]
		p.n++
		h.clip(list[best].normal(), float64(list[best].d)+1e-9*half)
	}
	p.size = float32(min(1, h.volume()/(8*half*half*half)))
	p.coarse = b.by > 0 && b.coarse(&h)
	if p.coarse {
		b.either(p)
	}
	return true
}

// mostCandidates is how many directions are tried in a cell.
const mostCandidates = 24

// candidates returns planes in front of all that was gathered, one for each direction of a facet.
func (b *builder) candidates() (list []plane) {
	for _, n := range b.facets {
		if len(list) == mostCandidates {
			break
		}
		p := planeOf(n)
		if slices.ContainsFunc(list, func(q plane) bool { return q.normal().Dot(p.normal()) > 1-1e-9 }) {
			continue
		}
		u, d := p.normal(), math.Inf(-1)
		for _, v := range b.points {
			d = max(d, u.Dot(v))
		}
		p.d = up(d + b.chord*u.Norm() - b.by*u.Norm() + b.m.slack)
		list = append(list, p)
	}
	return list
}

// coarse reports whether what is left in the cell reaches farther than by/4 beyond where a facet in it puts
// what is deeper than by.
func (b *builder) coarse(h *hull) bool {
	for i, n := range b.facets {
		if h.far(n) > b.reaches[i]-b.by+b.chord+b.by/4 {
			return true
		}
	}
	return false
}

// middleOf returns the centre of cell k in layer z of brick i.
func (m *Model) middleOf(i, z, k int) r3.Vector {
	return m.corner(i).Add(r3.Vector{X: float64(k%side) + 0.5, Y: float64(k/side) + 0.5, Z: float64(z) + 0.5}.Mul(m.cell))
}
