package posted

import (
	"gridswing/collide/material"
	"gridswing/geom/motion"
)

// What rests on a rung must, hardly smaller than it is, stay out of what no cutter has touched: of that the model tells
// all. And a cutting part that leaves a cut is asked so of everything once it has gone aside of where it was: then
// the corners that it left are behind it, and beside its way the model tells of the walls nearly as they are.

// closer is a rider of which axes may be off so many steps of looseStep.
type closer struct {
	steps int
	rung
}

// looseStep is what axes may be off by is counted in, mm.
const looseStep = 0.01

// closely returns a rider less only what the model cannot tell aside of a cutter's way.
func (r *rider) closely(i int, b *blank, loose float64) []material.Outline {
	c := &r.close[i]
	if steps := 1 + int(min(loose, b.unseen())/looseStep); steps != c.steps {
		*c = closer{steps, r.smaller(r.aside(b, float64(steps)*looseStep), b.unseen())}
	}
	return c.pieces
}

// aside is how much narrower than it is a cut may seem to be where the cutter has gone by, mm: what axes may be off by,
// a quarter of a cell for what a cut gives away of its way and for strokes, and the sagitta of a
// sphere as wide as the cutter over the diagonal of a cell that it has not a corner of.
func (r *rider) aside(b *blank, loose float64) float64 {
	return min(b.unseen(), loose+5*b.finest()+b.cell*b.cell/(2*r.tool.Cutter.DC))
}

// fits reports whether what rests on a rung meets, hardly smaller than it is, nothing that no cutter has touched; or
// nothing at all where the need is close.
func (k *stock) fits(r *rider, i int, s *swept, on *material.Sweep, n *need) bool {
	b := k.blanks[i]
	ask := b.model.Uncut
	if n.close {
		ask = b.model.Apart
	}
	for _, o := range r.closely(i, b, s.loose) {
		if !ask(&material.Body{Outline: o}, on, 0) {
			return false
		}
	}
	return true
}

// leave takes the riders along a rapid that leaves the cut.
func (w *cutWalk) leave(i, at int, st *pass, asks []asked) {
	near, far, beside, off := w.leaving(i, &w.chunk.legs[at], st)
	if beside {
		w.part(i, at, &near, asks, false)
	}
	if !off {
		return
	}
	for n := range asks {
		asks[n].need.close = asks[n].need.slim
	}
	w.part(i, at, &far, asks, false)
}

// leaving parts a rapid that leaves the cut where it has gone so far aside of the tool's axis as the model may tell
// too much: near is beside where the cutter was, with the corners that it left, and far is not any more. beside and off
// say which of the two there are.
func (w *cutWalk) leaving(i int, l *leg, st *pass) (near, far pass, beside, off bool) {
	if len(st.ways) == 0 {
		return *st, far, true, false
	}
	t, most := &w.stock.follow.of[i], w.stock.blanks[i].unseen()
	aside := func(at motion.Params) float64 {
		s := w.place(i, at)
		return s.Axis.Cross(s.Origin.Sub(t.from)).Norm()
	}
	widest, to := 0, -1.0
	for n, way := range st.ways {
		end := l.From
		for k := range end {
			end[k] += way[k]
		}
		if d := aside(end); d > to {
			widest, to = n, d
		}
	}
	begins := aside(l.From)
	switch {
	case begins >= most:
		return near, *st, false, true
	case to <= most:
		return *st, far, true, false
	}
	near, far = st.parted(widest, (most-begins)/(to-begins))
	return near, far, true, true
}

// place is where the cutting part is at a position.
func (w *cutWalk) place(i int, at motion.Params) swept {
	r := w.sharp()
	return r.rides[i].over(&pass{at: at}, r.center, r.radius)
}

// goesSmaller reports whether a cutting part may rest on a rung: then it may go deeper than it seems to.
func goesSmaller(asks []asked) bool {
	for i := range asks {
		if asks[i].need.slim && asks[i].rider.Sharp() {
			return true
		}
	}
	return false
}
