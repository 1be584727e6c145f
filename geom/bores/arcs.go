package bores

import (
	"cmp"
	"math"
	"slices"
)

// coaxial reports whether q lies on the axis of p, both as measured.
func (p *patch) coaxial(q *patch) bool {
	reach := 0.02*min(p.radius, q.radius) + 3*(p.worst+q.worst)
	_, off := p.from(q.center.Add(q.axis.Mul((q.low + q.high) / 2)))
	return parallel(p.axis, q.axis) && off.Norm() <= reach
}

// span returns where q begins and ends along the axis of p.
func (p *patch) span(q *patch) (low, high float64) {
	a, _ := p.from(q.center.Add(q.axis.Mul(q.low)))
	b, _ := p.from(q.center.Add(q.axis.Mul(q.high)))
	return min(a, b), max(a, b)
}

// joinArcs joins arcs that are pieces of one cylinder, beside each other: a bore that
// is slit, or whose wall a cross hole parts. It sorts the patches by their first face.
func joinArcs(t *faceted, patches []*patch) []*patch {
	var whole, arcs []*patch
	for _, p := range patches {
		if p.coverage >= fullCircle {
			whole = append(whole, p)
		} else {
			arcs = append(arcs, p)
		}
	}
	slices.SortStableFunc(arcs, func(a, b *patch) int { return cmp.Compare(a.radius, b.radius) })
	for i, p := range arcs {
		if p == nil {
			continue
		}
		for k := i + 1; k < len(arcs); k++ {
			q := arcs[k]
			if q == nil {
				continue
			}
			if q.radius > p.radius*(1+2*mostRMS)+2*t.noise {
				break
			}
			if joined := p.join(t, q); joined != nil {
				p, arcs[k] = joined, nil
			}
		}
		whole = append(whole, p)
	}
	for _, p := range whole {
		slices.Sort(p.faces)
	}
	slices.SortFunc(whole, func(a, b *patch) int { return cmp.Compare(a.faces[0], b.faces[0]) })
	return whole
}

// join returns both as one patch, nil if they are not of one cylinder.
func (p *patch) join(t *faceted, q *patch) *patch {
	if p.boss != q.boss || !p.coaxial(q) {
		return nil
	}
	low, high := p.span(q)
	if math.Min(high, p.high)-math.Max(low, p.low) <= 0 {
		return nil
	}
	both := &patch{boss: p.boss, tilt: p.tilt, faces: slices.Concat(p.faces, q.faces)}
	if !both.fit(t) || both.rms > mostRMS*both.radius+t.noise {
		return nil
	}
	both.measure(t)
	if both.coverage < p.coverage+q.coverage/2 { // they lie over each other
		return nil
	}
	return both
}
