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

// keeps asks the model about a rider on a stretch.
func (k *stock) keeps(r *rider, i int, st *pass, n *need) (material.Near, swept, bool) {
	s := r.rides[i].over(st, r.center, r.radius)
	return k.keepsOn(r, i, &s, n, n.demand, k.blanks[i].play)
}

// keepsOn asks it about a sweep.
func (k *stock) keepsOn(r *rider, i int, s *swept, n *need, gap, play float64) (material.Near, swept, bool) {
	m := k.blanks[i].model
	on := s.Sweep
	list := r.pieces
	if n.slim {
		on.Off, gap, play = s.bent, 0, 0
		list = r.slim[i]
		if len(list) == 0 {
			return material.Near{}, *s, true
		}
	} else {
		hull := r.body(r.hull, &s.turn)
		near, ok := m.Keeps(&hull, &on, gap, play)
		if ok || len(list) == 0 {
			return near, *s, ok
		}
	}
	var worst material.Near
	all := true
	for _, o := range list {
		b := material.Body{Outline: o}
		near, ok := m.Keeps(&b, &on, gap, play)
		if ok {
			continue
		}
		if all || near.Sure && !worst.Sure || near.Sure == worst.Sure && near.Depth > worst.Depth {
			worst = near
		}
		all = false
	}
	return worst, *s, all
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
		if _, _, ok := w.stock.keeps(r, i, &st, &most); ok {
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
