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
	// slim is set of what goes where a cutter has been: it is asked to meet nothing; where that is not shown at
	// its full size, at one of the smaller ones, counted from 1: its rung.
	slim bool
	rung int
	// close is set where that must nearly do at its full size: see closely.
	close bool
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
	return s, s.bent <= mostBent && k.apart(r, i, &s, n, n.demand)
}

// apart reports whether a rider is proven to keep a gap on a sweep.
func (k *stock) apart(r *rider, i int, s *swept, n *need, gap float64) bool {
	on := s.Sweep
	if n.rung > 0 {
		on.Off = s.bent
		if !k.fits(r, i, s, &on, n) {
			return false
		}
	}
	return r.apart(i, s, &on, n, gap, k.blanks[i].model.Apart)
}

// apartAsDrawn reports whether a rider meets nothing on a sweep if the stock stands where it is drawn, and all
// goes where the program puts it.
func (k *stock) apartAsDrawn(r *rider, i int, s *swept, n *need) bool {
	on := s.Sweep
	on.Off = s.bent
	return r.apart(i, s, &on, n, 0, k.blanks[i].model.ApartAsDrawn)
}

// apart asks of the rider as a whole, unless it is on a rung, and then of its pieces.
func (r *rider) apart(i int, s *swept, on *material.Sweep, n *need, gap float64, ask func(*material.Body, *material.Sweep, float64) bool) bool {
	list := r.pieces
	if n.rung > 0 {
		list = r.onRung(i, n.rung, s.loose)
	} else {
		hull := r.body(r.hull, &s.turn)
		if ask(&hull, on, gap) {
			return true
		}
	}
	if len(list) == 0 {
		return false // so small is nothing left of it
	}
	for _, o := range list {
		if !ask(&material.Body{Outline: o}, on, gap) {
			return false
		}
	}
	return true
}

// nearest says where a rider is deepest in what is left, where it is not proven to do what is asked.
func (k *stock) nearest(r *rider, i int, s *swept, n *need) (worst material.Near) {
	bodies := []material.Body{r.body(r.hull, &s.turn)}
	if len(r.pieces) > 0 {
		bodies = bodies[:0]
		for _, o := range r.pieces {
			bodies = append(bodies, material.Body{Outline: o})
		}
	}
	any := false
	for b := range bodies {
		near, ok := k.blanks[i].model.Keeps(&bodies[b], &s.Sweep, n.demand)
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
	rung         int // that was needed
	stride       int // how many legs are asked about at one stroke
	// habit is how many times running a rung was needed, which is tried is the last of them.
	habit, tried int
}

// habitual is how many times running a rung must have been needed before it is tried at once, without parting a
// leg down to a cell.
const habitual = 8

// mostStride is how many legs at most are asked about at one stroke.
const mostStride = 256

// guarded reports whether a rider keeps clear on a leg, by what is known of it and the legs that follow, and
// looks as far ahead as that seems worth while. The stock only gets less, so it holds for later legs, too.
func (w *cutWalk) guarded(r *rider, i, at int, n *need) bool {
	g := &r.guards[i]
	if g.chunk == w.chunk.number+1 && at < g.until && n.slim == g.slim && (n.slim || n.demand <= g.demand) {
		w.rests(r, i, at, g.rung)
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
		_, ok := w.stock.keeps(r, i, &st, &most)
		if ok && most.slim {
			g.habit = 0
		}
		if !ok && most.slim && g.habit >= habitual {
			most.rung = g.tried
			_, ok = w.stock.keeps(r, i, &st, &most)
		}
		if ok {
			g.chunk, g.until, g.demand, g.slim, g.rung = w.chunk.number+1, end, most.demand, most.slim, most.rung
			g.stride = min(mostStride, 2*g.stride)
			w.rests(r, i, at, g.rung)
			return true
		}
		most.rung = 0
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
