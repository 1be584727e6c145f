package posted

import (
	"context"
	"math"

	"gridswing/collide/material"
	"gridswing/machine/check"
	"gridswing/machine/program"
)

// cutWalk is one chunk on its way through the stock.
type cutWalk struct {
	stock   *stock
	chunk   *chunk
	riders  []*rider
	cutting *cutting
	hits    []hit
	parts   int // what the leg was parted in so far, to ask,
	pieces  int // and to cut
	// told is, of each rider, which of hits is about it on this leg and this blank.
	told map[*rider]noted
	// rung is, of each rider, the smallest one that this leg and this blank rest on.
	rung map[*rider]int
	// near says on which legs a rider may come too near to a blank, if nothing were cut; on, which of these
	// is the next one.
	near   [][]spans
	joined [][]stroke // by blank and part of the cutter: cuts that wait
}

// spans are looked through from the front.
type spans struct {
	list []span
	next int
}

// has reports whether a leg is in them; legs are asked about in order.
func (s *spans) has(leg int) bool {
	for s.next < len(s.list) && int(s.list[s.next].to) <= leg {
		s.next++
	}
	return s.next < len(s.list) && int(s.list[s.next].from) <= leg
}

// newWalk begins a walk through a chunk.
func (k *stock) newWalk(c *chunk) *cutWalk {
	w := &cutWalk{stock: k, chunk: c, riders: k.with(c), cutting: k.cuttingOf(c.called), told: map[*rider]noted{}, rung: map[*rider]int{}}
	w.near, w.joined = make([][]spans, len(w.riders)), make([][]stroke, len(k.blanks))
	if r := w.sharp(); r != nil {
		for i := range w.joined {
			w.joined[i] = make([]stroke, len(r.cutters))
		}
	}
	for i, r := range w.riders {
		w.near[i] = make([]spans, len(k.blanks))
		for n, b := range k.blanks {
			w.near[i][n].list = c.nearStock(r.mover, b.body)
		}
	}
	return w
}

// nearBy reports whether a rider may come too near to a blank on a leg, if nothing were cut.
func (w *cutWalk) nearBy(r *rider, i, at int) bool { return w.near[r.mover][i].has(at) }

// asked is what is asked of a rider.
type asked struct {
	rider *rider
	need  need
	near  material.Near
}

// mostParts is in how many parts a leg is looked at, at most.
const mostParts = 1024

// leg takes the riders along a leg past every blank, and cuts.
func (w *cutWalk) leg(ctx context.Context, at int) error {
	l := &w.chunk.legs[at]
	for i := range w.stock.blanks {
		w.parts, w.pieces = 0, 0
		clear(w.told)
		clear(w.rung)
		st := passOf(l)
		asks := w.unproven(i, at, &st)
		cuts := w.cuts(l)
		beside := cuts && !w.nearBy(w.sharp(), i, at)
		switch {
		case len(asks) > 0 && w.leaves(i, at):
			w.leave(i, at, &st, asks)
		case len(asks) > 0 || cuts && !beside:
			w.part(i, at, &st, asks, cuts)
		case beside:
			w.beside(i, &st)
		}
		if l.kind == program.Feed && !beside || goesSmaller(asks) {
			w.gouges(i, at)
		}
		var line *bore
		if cuts {
			line = w.lineOf(i, &st)
		}
		if l.other {
			continue // it is not known whether it goes there
		}
		w.stock.follow.went(i, len(w.stock.blanks), l.kind, line)
	}
	return ctx.Err()
}

// sharp is the cutting part; nil where no tool is known in the spindle.
func (w *cutWalk) sharp() *rider {
	if len(w.riders) > 0 && w.riders[0].Sharp() {
		return w.riders[0]
	}
	return nil
}

// cuts reports whether something is surely taken away on a leg: not while the spindle stands, nor where it is
// not known which way round an axis goes.
func (w *cutWalk) cuts(l *leg) bool {
	r := w.sharp()
	if l.kind != program.Feed || r == nil || r.inside == nil {
		return false
	}
	s := &w.chunk.steps[l.step]
	legs := w.chunk.legsOf(s)
	return s.turning != 0 && !legs[len(legs)-1].other
}

// unproven lists what is asked of riders on a leg and not proven of all of it at once.
func (w *cutWalk) unproven(i, at int, st *pass) (list []asked) {
	l, b := &w.chunk.legs[at], w.stock.blanks[i]
	following, told := false, false
	for _, r := range w.riders {
		n, ok := w.needOf(r, b, l, false)
		if !ok || !w.nearBy(r, i, at) || w.guarded(r, i, at, &n) {
			continue
		}
		w.made(i)
		if l.kind == program.Rapid {
			if !told {
				following, told = w.follows(i, at, st), true
			}
			if following {
				n, _ = w.needOf(r, b, l, true)
			}
			if n.slim && w.freed(r, i, st, &n) {
				continue
			}
		}
		list = append(list, asked{rider: r, need: n})
	}
	return list
}

// freed reports whether a cutting part or a neck goes in rapid where it was fed before, and is clear above that.
func (w *cutWalk) freed(r *rider, i int, st *pass, n *need) bool {
	l := w.bored(i, st)
	if l == nil {
		return false
	}
	upper, ok := w.above(i, st, l)
	if ok {
		_, ok = w.stock.keeps(r, i, &upper, n)
		return ok
	}
	return true
}

// part goes along a stretch: what is asked must hold with the stock as it is at its beginning, which is
// more than there is later on. Where that is not so the stretch is parted, and the second half asked with
// what the first one has cut; until it is about as short as a cell.
func (w *cutWalk) part(i, at int, st *pass, asks []asked, cuts bool) {
	b := w.stock.blanks[i]
	w.parts++
	var failing []asked
	bent, longest := 0.0, 0.0
	for _, a := range asks {
		if w.met(a.rider) {
			continue
		}
		s, ok := w.stock.keeps(a.rider, i, st, &a.need)
		if !ok && w.rung[a.rider] > 0 {
			n := a.need // the leg rests on it already
			n.rung = w.rung[a.rider]
			_, ok = w.stock.keeps(a.rider, i, st, &n)
		}
		if ok {
			continue
		}
		bent = max(bent, s.bent)
		for _, way := range s.Ways {
			longest = max(longest, way.Norm())
		}
		failing = append(failing, a)
	}
	if len(failing) > 0 && w.waiting(i) {
		w.made(i)
		w.part(i, at, st, failing, cuts)
		return
	}
	if len(failing) > 0 && w.parts < mostParts && (bent > b.finest() || cuts && longest > b.cell) {
		first, second := st.halves(st.widest())
		w.part(i, at, &first, failing, cuts)
		w.part(i, at, &second, failing, cuts)
		return
	}
	for n := range failing {
		f := &failing[n]
		s := f.rider.rides[i].over(st, f.rider.center, f.rider.radius)
		f.near = w.stock.nearest(f.rider, i, &s, &f.need)
		if !w.smaller(i, at, st, f) && !w.noWorse(i, st, f) {
			h, n := w.hit(i, at, st, f)
			w.tell(f.rider, h, n)
		}
	}
	if cuts {
		w.cut(i, st)
	}
}

// noted is what is known of a rider on a leg.
type noted struct {
	hit           int // in cutWalk.hits
	proven, depth float64
}

// met reports whether a rider is known to be in contact on this leg: then nothing more is asked of it.
func (w *cutWalk) met(r *rider) bool {
	n, told := w.told[r]
	return told && w.hits[n.hit].verdict == check.Contact
}

// noWorse reports whether what was found on another part of the leg is as bad as what is found on this one.
func (w *cutWalk) noWorse(i int, st *pass, a *asked) bool {
	n, told := w.told[a.rider]
	if !told || a.near.Sure || a.near.Depth > n.depth {
		return false
	}
	if n.proven == 0 {
		return true
	}
	s := a.rider.rides[i].over(st, a.rider.center, a.rider.radius)
	return w.stock.apart(a.rider, i, &s, &a.need, n.proven)
}

// tell notes what was found of a rider: on one leg only the worst.
func (w *cutWalk) tell(r *rider, h hit, n noted) {
	old, told := w.told[r]
	switch {
	case !told:
		n.hit = len(w.hits)
		w.hits = append(w.hits, h)
	case h.worse(&w.hits[old.hit]):
		n.hit = old.hit
		w.hits[n.hit] = h
	default:
		return
	}
	w.told[r] = n
}

// lever is how far from a rotary axis something is taken to be where it is asked which way takes it
// farther, mm.
const lever = 100

// widest is the way that takes the body farthest, as far as is seen at a glance.
func (st *pass) widest() (widest int) {
	most := -1.0
	for w := range st.ways {
		size := 0.0
		for _, v := range st.ways[w] {
			size += math.Abs(v)
			if math.Abs(v) < math.Pi {
				size += lever * math.Abs(v)
			}
		}
		if size > most {
			widest, most = w, size
		}
	}
	return widest
}
