package material

import (
	"math"
	"slices"

	"github.com/golang/geo/r3"
)

// either tells what is deeper than by along an inner edge, where no plane does. If in the cell made larger by `by` the
// solid is behind one of two planes everywhere,
//
//	n1.y <= e1 or n2.y <= e2,
//
// a point x of the cell with n1.x > e1 - t and n2.x > e2 - t has y = x + s (n1+n2) beyond both, with
// s (1 + n1.n2) = t. Then y is not in the solid, and if it is no farther from x than by, x is not deeper than
// that. It is |x-y| = s sqrt(2 (1 + n1.n2)) = t sqrt(2 / (1 + n1.n2)) far. So what is deeper is behind one of the
// planes n.x <= e - t with t = by sqrt((1 + n1.n2) / 2).
//
// e1 is how far a facet reaches; e2 is how far along n2 the solid reaches in front of that plane, which is told as in
// New: at the surface, or at a corner of what is in front of the plane that is inside.
func (b *builder) either(p *part) {
	half := b.m.cell / 2
	size, always := float64(p.size), *p
	list := apartBy(b.candidates(), 0.99)
	for i := range list {
		n1 := list[i].normal()
		e1 := b.reaches[b.facetAlong(n1)] + lifted
		for j := range list {
			n2 := list[j].normal()
			if i == j || n1.Dot(n2) < -0.5 {
				continue
			}
			t := b.by * math.Sqrt((1+n1.Dot(n2))/2)
			e2 := b.beyond(n1, e1, n2)
			q := part{n: 2, either: true}
			q.plane[0], q.plane[1] = list[i], list[j]
			q.plane[0].d = up(e1 + b.chord - t + b.m.slack)
			q.plane[1].d = up(e2 + b.chord - t + b.m.slack)
			for _, o := range always.plane[:min(always.n, mostPlanes-2)] {
				q.plane[q.n] = o
				q.n++
			}
			v, loose := b.pieces(&q, half)
			if !loose && v < size || p.coarse && !loose {
				size, *p = v, q
				p.size = up(min(1, v))
			}
		}
	}
}

// apartBy returns the first few planes whose normals are so far apart.
func apartBy(list []plane, cos float64) (few []plane) {
	for _, p := range list {
		if len(few) < 8 && !slices.ContainsFunc(few, func(q plane) bool { return q.normal().Dot(p.normal()) > cos }) {
			few = append(few, p)
		}
	}
	return few
}

// lifted keeps what is in front of a facet's plane off the facet itself, mm.
const lifted = 1e-6

// facetAlong returns the facet along n that reaches least.
func (b *builder) facetAlong(n r3.Vector) (at int) {
	least := math.Inf(1)
	for i, f := range b.facets {
		if f.Dot(n) > 1-1e-6 && b.reaches[i] < least {
			at, least = i, b.reaches[i]
		}
	}
	return at
}

// beyond returns how far along n2 the solid reaches in front of the plane n1.y = e1, in the cell made larger.
func (b *builder) beyond(n1 r3.Vector, e1 float64, n2 r3.Vector) float64 {
	far := math.Inf(-1)
	from := 0
	for _, to := range b.ends {
		list := b.surface[from:to]
		from = to
		for i, v := range list {
			w := list[(i+1)%len(list)]
			dv, dw := n1.Dot(v)-e1, n1.Dot(w)-e1
			if dv >= 0 {
				far = max(far, n2.Dot(v))
			}
			if (dv > 0) != (dw > 0) {
				far = max(far, n2.Dot(v.Add(w.Sub(v).Mul(dv/(dv-dw)))))
			}
		}
	}
	var h hull
	h.cube(b.wide + b.m.cell/2)
	if !h.clip(n1.Mul(-1), -e1) {
		return far
	}
	for i := range h.corners {
		if v := n2.Dot(h.corner[i]); v > far && b.tree.Contains(b.center.Add(h.corner[i])) {
			far = v
		}
	}
	return far
}

// pieces returns the volume that a part of two pieces leaves, cells, counting twice what is in both, and whether
// there is a facet that both are too far beyond.
func (b *builder) pieces(p *part, half float64) (size float64, loose bool) {
	var h [2]hull
	left := [2]bool{}
	for i := range h {
		left[i] = p.piece(i, &h[i], half)
		if left[i] {
			size += h[i].volume() / (8 * half * half * half)
		}
	}
	for i, n := range b.facets {
		least := math.Inf(1)
		for k := range h {
			if !left[k] {
				least = math.Inf(-1)
			} else {
				least = min(least, h[k].far(n))
			}
		}
		if least > b.reaches[i]+b.chord-b.by/2 {
			return size, true
		}
	}
	return size, false
}

// piece sets h to one of the two pieces of what is left of a cell, or the only one.
func (p *part) piece(i int, h *hull, r float64) bool {
	if !p.either {
		return p.hullOf(h, r)
	}
	h.cube(r)
	for k := range p.n {
		if k == uint8(1-i) {
			continue
		}
		o := &p.plane[k]
		if !h.clip(o.normal(), float64(o.d)+1e-9*r) {
			return false
		}
	}
	return true
}
