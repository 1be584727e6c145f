package material

import (
	"math"
	"slices"
)

// planes chooses the planes of the cell whose points were gathered: the one that takes most, then those that take the
// thickest cap off what is left. It reports whether anything is left.
func (b *builder) planes(p *part) bool {
	half := b.m.cell / 2
	h := &b.hull
	h.cube(half)
	list := b.candidates()
	for range mostPlanes {
		best, most := -1, 1e-9*half
		for i := range list {
			u, d := list[i].normal(), float64(list[i].d)
			take := h.far(u) - d
			if p.n == 0 && take > 1e-9*half {
				take = 1 - below(u, d, half)
			}
			if take > most {
				best, most = i, take
			}
		}
		if best < 0 {
			break
		}
		p.plane[p.n] = list[best]
		p.n++
		if !h.clip(list[best].normal(), float64(list[best].d)+1e-9*half) {
			return false
		}
	}
	p.size = up(min(1, h.volume()/(8*half*half*half)))
	p.coarse = b.by > 0 && b.coarse(h)
	if p.coarse {
		b.either(p)
	}
	return true
}

// mostCandidates is how many directions are tried in a cell.
const mostCandidates = 16

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
