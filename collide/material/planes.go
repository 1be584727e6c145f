package material

import (
	"math"
	"slices"
)

// planes chooses the planes of the cell whose points were gathered: those that tell the solid as drawn, and those that tell
// it with its play where that is another. It reports whether anything is left.
func (b *builder) planes(p *part) bool {
	half := b.m.cell / 2
	h := &b.hull
	list := b.candidates()
	left := b.choose(p, list, 0)
	if b.m.play > 0 {
		b.choose(p, list, 1)
		left = p.hullOf(h, half)
	}
	if left {
		p.size = up(min(1, h.volume()/(8*half*half*half)))
	}
	return left
}

// choose adds planes, of which the play counts by a share of it, to those that there are: the one that takes
// most from the cell, then those that take the thickest cap off what is left, and reports whether that is anything.
func (b *builder) choose(p *part, list []plane, share float64) bool {
	half := b.m.cell / 2
	at := func(q *plane) float64 { return float64(q.d) - float64(q.back)*(1-share) }
	h := &b.hull
	h.cube(half)
	for i := range p.n {
		if !h.clip(p.plane[i].normal(), at(&p.plane[i])+1e-9*half) {
			return false
		}
	}
	for p.n < mostPlanes {
		best, most := -1, 1e-8*half // more than planes are set back by when they clip
		for i := range list {
			u, d := list[i].normal(), at(&list[i])
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
		if !h.clip(list[best].normal(), at(&list[best])+1e-9*half) {
			return false
		}
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
		p.d, p.back = up(d+b.wide*u.Norm()+b.m.slack), float32(b.m.play)
		list = append(list, p)
	}
	return list
}
