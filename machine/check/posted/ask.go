package posted

import (
	"gridswing/collide/material"
	"gridswing/machine"
	"gridswing/machine/check/spindle"
	"gridswing/machine/program"
	"gridswing/machine/tooling"
)

// need is what is asked of a rider and a blank on a leg.
type need struct {
	demand float64 // mm
	reason string  // of a demand of its own
	note   string  // what the tool was doing
	// slim is set of what goes where a cutter has been: it is asked to meet nothing, less what the model
	// cannot tell.
	slim bool
}

// needOf says what is asked of a rider on a leg; ok is false if nothing is. A cutting part may meet the stock in
// feed, if it turns, and a neck, being no wider, follows it; behind a tap, it follows where the thread is.
func (w *cutWalk) needOf(r *rider, b *blank, l *leg, following bool) (n need, ok bool) {
	s := &w.chunk.steps[l.step]
	probe := r.tool != nil && r.tool.Cutter.Kind == tooling.TouchProbe
	kind := machine.DemandHolder
	switch {
	case l.kind == program.Change:
		kind = machine.DemandChange
	case l.kind == program.Feed && r.Sharp():
		n.demand = spindle.Barely
		switch {
		case probe:
			n.note = "a probe in feed"
		case s.turning == 0 && !s.thread:
			n.note = "fed while the spindle does not turn"
		default:
			return n, false
		}
		return n, true
	case l.kind == program.Feed && r.Slim() && s.thread:
		return n, false
	case l.kind == program.Feed && r.Slim() && !probe, following && (r.Sharp() || r.Slim()):
		n.slim = true
		return n, true
	case l.kind == program.Feed && r.Slim():
		n.demand = spindle.Barely
		return n, true
	case l.kind == program.Feed:
	case r.Sharp():
		kind, n.note = machine.DemandApproach, "in rapid"
	default:
		kind, n.note = machine.DemandRapid, "in rapid"
	}
	n.demand, n.reason = w.stock.c.setup.Demand.For(kind, r.Body.Name, w.stock.c.setup.Bodies[b.body].Name)
	if following {
		holder, why := w.stock.c.setup.Demand.For(machine.DemandHolder, r.Body.Name, w.stock.c.setup.Bodies[b.body].Name)
		if holder < n.demand {
			n.demand, n.reason = holder, why
		}
	}
	return n, true
}

// mostBent is how much a sweep may leave out of where it goes before it is worth asking about, mm: beyond
// it the answer is mostly no.
const mostBent = 2.0

// keeps reports whether a rider is proven to do what is asked on a stretch.
func (k *stock) keeps(r *rider, i int, st *pass, n *need) (swept, bool) {
	s := r.rides[i].over(st, r.center, r.radius)
	return s, s.bent <= mostBent && k.apart(r, i, &s, n, n.demand, k.blanks[i].play)
}

// apart reports whether a rider is proven to keep a gap on a sweep.
func (k *stock) apart(r *rider, i int, s *swept, n *need, gap, play float64) bool {
	m, on := k.blanks[i].model, s.Sweep
	list := r.pieces
	if n.slim {
		on.Off, gap, play = s.bent, 0, 0
		list = r.slim[i]
	} else {
		hull := r.body(r.hull, &s.turn)
		if ok := m.Apart(&hull, &on, gap, play); ok || len(list) == 0 {
			return ok
		}
	}
	for _, o := range list {
		if !m.Apart(&material.Body{Outline: o}, &on, gap, play) {
			return false
		}
	}
	return true
}

// nearest says where a rider is deepest in what is left, where it is not proven to do what is asked.
func (k *stock) nearest(r *rider, i int, s *swept, n *need) (worst material.Near) {
	m, on, gap, play := k.blanks[i].model, s.Sweep, n.demand, k.blanks[i].play
	bodies := []material.Body{r.body(r.hull, &s.turn)}
	list := r.pieces
	if n.slim {
		on.Off, gap, play = s.bent, 0, 0
		list = r.slim[i]
	}
	if len(list) > 0 {
		bodies = bodies[:0]
		for _, o := range list {
			bodies = append(bodies, material.Body{Outline: o})
		}
	}
	any := false
	for b := range bodies {
		near, ok := m.Keeps(&bodies[b], &on, gap, play)
		if !ok && (!any || near.Sure && !worst.Sure || near.Sure == worst.Sure && near.Depth > worst.Depth) {
			worst, any = near, true
		}
	}
	return worst
}

// guard is up to where, in a chunk, something is known of a rider.
type guard struct {
	chunk, until int
	demand       float64
	slim         bool
	stride       int // how many legs are asked about at one stroke
}

// mostStride is how many legs at most are asked about at one stroke.
const mostStride = 256

// guarded reports whether a rider keeps clear on a leg, by what is known of it and the legs that follow, and
// looks as far ahead as that seems worth while. The stock only gets less, so it holds for later legs, too.
func (w *cutWalk) guarded(r *rider, i, at int, n *need) bool {
	g := &r.guards[i]
	if g.chunk == w.chunk.number+1 && at < g.until && n.slim == g.slim && (n.slim || n.demand <= g.demand) {
		return true
	}
	if g.stride == 0 {
		g.stride = 4
	}
	for {
		end, most := w.alike(r, i, at, g.stride, n)
		if end-at < 2 && g.stride > 1 {
			g.stride = max(1, g.stride/2)
		}
		st := hullOf(w.chunk.legs[at:end])
		if end-at == 1 {
			st = passOf(&w.chunk.legs[at])
		}
		if _, ok := w.stock.keeps(r, i, &st, &most); ok {
			*g = guard{chunk: w.chunk.number + 1, until: end, demand: most.demand, slim: most.slim, stride: min(mostStride, 2*g.stride)}
			return true
		}
		if end-at == 1 {
			g.stride = 1
			return false
		}
		g.stride = max(1, (end-at)/4)
	}
}

// alike says how many legs from one on, up to stride, a rider can be asked about together, and what of it.
func (w *cutWalk) alike(r *rider, i, at, stride int, n *need) (end int, most need) {
	most = *n
	for end = at + 1; end < min(at+stride, len(w.chunk.legs)); end++ {
		next, ok := w.needOf(r, w.stock.blanks[i], &w.chunk.legs[end], false)
		if !ok || next.slim != most.slim || r.Part && r.Sharp() && next.demand != most.demand {
			break
		}
		if next.demand > most.demand {
			most = next
		}
	}
	return end, most
}
