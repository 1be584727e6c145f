package material

import (
	"math"

	"github.com/golang/geo/r3"
)

// wedge looks for two planes between which more is taken from a cell than by the part p as it is: what is left is behind
// one of the two, as it is where an edge of the cutter has gone along. hull is what was left before, of the part
// was without its own two pieces.
//
// n1.x <= d1 holds nothing of the envelope. In front of it, d2 is found as in Cut, so that all that is in front of
// both planes is in the envelope. That is right for any d1; the lowest plane that the envelope has
// on it is the floor that a flat end leaves.
func (c *cutting) wedge(p, was *part, mid r3.Vector, half float64) bool {
	if !c.edged || c.ahead(mid) {
		return false
	}
	out, ok := c.pair(mid, half)
	if !ok {
		return false
	}
	least, found := p.size-notWorth, false
	for k := range out {
		q := part{n: 2, either: true}
		q.plane[0], q.plane[1] = planeOf(out[k].Mul(-1)), planeOf(out[1-k].Mul(-1))
		n1, n2 := q.plane[0].normal(), q.plane[1].normal()
		q.plane[0].d = up(c.low(n1) - n1.Dot(mid) + 1e-7*half)
		r := &c.rest
		r.copy(&c.hull)
		if !r.clip(n1.Mul(-1), -float64(q.plane[0].d)) || c.values(r, mid) {
			continue
		}
		q.plane[1].d = up(c.reach(r, n2, mid) + 1e-9*half)
		for i := was.pieces(); i < was.n && q.n < mostPlanes; i++ {
			q.plane[q.n] = was.plane[i]
			q.n++
		}
		if q.size = q.union(r, half); q.size < least {
			least, *p, found = q.size, q, true
		}
	}
	return found
}

// reach is hull.reach with the places where edges leave the envelope looked for: where a corner is just within the
// envelope, as all on the floor are, the straight line between the values says too little.
func (c *cutting) reach(h *hull, u r3.Vector, mid r3.Vector) float64 {
	far := math.Inf(-1)
	for i := range h.edges {
		e := &h.edge[i]
		out, in := e.a, e.b
		if c.value[out] <= 0 {
			out, in = in, out
		}
		if c.value[out] <= 0 {
			continue
		}
		p := h.corner[out]
		far = max(far, u.Dot(p))
		switch q := h.corner[in]; {
		case c.value[in] > 0:
			far = max(far, u.Dot(q))
		case u.Dot(q) > far:
			far = max(far, u.Dot(c.exit(p, q, mid)))
		}
	}
	return far
}

// exit returns a place in the envelope on the edge from out to in, near where the edge leaves it: all from there to in is
// in it.
func (c *cutting) exit(out, in, mid r3.Vector) r3.Vector {
	for range exitSteps {
		p := out.Add(in).Mul(0.5)
		if c.depth(mid.Add(p)) <= 0 {
			in = p
		} else {
			out = p
		}
	}
	return in
}

// exitSteps halve an edge down to what is not worth a cut.
const exitSteps = 9

// pieces returns how many of a part's planes tell pieces, of which one is enough.
func (p *part) pieces() uint8 {
	if p.either {
		return 2
	}
	return 0
}

// union returns the volume of a part of two pieces, cells; r is memory.
func (p *part) union(r *hull, half float64) float32 {
	if !p.hullOf(r, half) {
		return 0
	}
	size := r.volume()
	if r.clip(p.plane[0].normal().Mul(-1), -float64(p.plane[0].d)) && r.clip(p.plane[1].normal().Mul(-1), -float64(p.plane[1].d)) {
		size -= r.volume()
	}
	return up(max(0, min(1, size/(8*half*half*half))))
}

// pair returns two normals of the envelope in the cell that are turned a good deal from each other.
func (c *cutting) pair(mid r3.Vector, half float64) (out [2]r3.Vector, ok bool) {
	h := &c.hull
	out[0] = c.out(mid.Add(h.exits(&c.value)))
	least := 0.9
	for i := range h.corners {
		if v := c.value[i]; v > 2*half || v < -2*half {
			continue
		}
		if n := c.out(mid.Add(h.corner[i])); n.Dot(out[0]) < least {
			least, out[1], ok = n.Dot(out[0]), n, true
		}
	}
	return out, ok
}

// cutPieces cuts a part of two pieces, and reports whether anything was taken, and whether all was.
func (c *cutting) cutPieces(p *part, mid r3.Vector, half float64) (changed, all bool) {
	if !p.hullOf(&c.hull, half) || c.values(&c.hull, mid) {
		return true, true
	}
	in := 0
	for _, v := range c.value[:c.hull.corners] {
		if v <= 0 {
			in++
		}
	}
	if in == 0 {
		return false, false
	}
	was, value := *p, c.value
	if q, ok := c.cap(mid, half); ok && p.n < mostPlanes {
		t := *p
		t.plane[t.n] = q
		t.n++
		if t.size = t.union(&c.rest, half); t.size < p.size-notWorth {
			*p, changed = t, true
			p.simplify(&c.rest, half)
		}
	}
	if !changed {
		if changed, all = c.cutPiece(p, mid, half); changed {
			return changed, all
		}
	}
	c.value = value
	return c.wedge(p, &was, mid, half) || changed, false
}

// cutPiece takes away a piece of which all that is not in the other one too is in the envelope, or both.
func (c *cutting) cutPiece(p *part, mid r3.Vector, half float64) (changed, all bool) {
	var in [2]bool
	for i := range in {
		other := &p.plane[1-i]
		in[i] = !p.piece(i, &c.rest, half) || !c.rest.clip(other.normal().Mul(-1), -float64(other.d)) || c.values(&c.rest, mid)
	}
	switch {
	case in[0] && in[1]: // what is left is in both
	case in[0]:
		copy(p.plane[:], p.plane[1:p.n])
		p.n--
	case in[1]:
		copy(p.plane[1:], p.plane[2:p.n])
		p.n--
	default:
		return false, false
	}
	p.either = false
	if !p.hullOf(&c.rest, half) || c.values(&c.rest, mid) {
		return true, true
	}
	p.size = up(min(1, c.rest.volume()/(8*half*half*half)))
	return true, false
}

// simplify makes a part whose other planes leave nothing for its pieces to be without one of one piece.
func (p *part) simplify(r *hull, half float64) {
	if !p.hullOf(r, half) {
		return
	}
	if size := r.volume() / (8 * half * half * half); size <= float64(p.size)+notWorth {
		copy(p.plane[:], p.plane[2:p.n])
		p.n -= 2
		p.either = false
		p.size = up(min(1, size))
	}
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
