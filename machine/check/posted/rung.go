package posted

import (
	"fmt"
	"math"

	"gridswing/collide/material"
	"gridswing/machine/program"
)

// A neck, being no wider than what cuts, and a cutting part that leaves what it has cut may go where there is
// nothing to spare between them and what is left, and the model tells a little too much of that. So where they
// are not proven to meet nothing as large as they are, they are asked smaller, rung by rung; moves that rest on that
// are counted, and told.

// rung is a rider made smaller.
type rung struct {
	pieces []material.Outline
	less   float64 // by which it is smaller, mm
}

// rungsOf are the shares of what the model cannot tell that a rider is made smaller by, but for the first one: that is smaller by no more
// than axes may be off by and one looseStep, as what stands on the floor that it has cut must be. No more is said of that.
var rungsOf = [...]float64{0, 0.125, 0.25, 0.5, 1}

// grazing is the first rung.
const grazing = 1

// onRung is a rider on a rung.
func (r *rider) onRung(i, rung int, loose float64) []material.Outline {
	if rung > grazing {
		return r.slim[i][rung-1].pieces
	}
	c := &r.graze[i]
	if steps := 1 + int(loose/looseStep); steps != c.steps {
		by := float64(steps) * looseStep
		*c = closer{steps, r.smaller(by, by)}
	}
	return c.pieces
}

// unseen is what may seem to be left where a cutter has been, mm. What is left in a cell is told by its
// convex hull: in the corner between a wall and a floor up to half of the cell's diagonal too much. And what
// cuts is made smaller by what is not known of its way.
func (b *blank) unseen() float64 { return 0.75*b.cell + 2*b.finest() }

// rungs are what a neck, or a cutting part, may be asked as on a blank.
func (r *rider) rungs(b *blank) (list []rung) {
	if !r.Sharp() && !r.Slim() {
		return nil
	}
	most := b.unseen()
	if r.Slim() { // which comes to no corner that the cutter has left at its tip
		most = r.aside(b, 0)
	}
	for _, share := range rungsOf {
		list = append(list, r.smaller(share*most, share*most))
	}
	return list
}

// smaller is a cutting part that is narrower by so much and shorter by what it is raised, or a neck that is narrower
// by so much than what cuts, if it is not anyway.
func (r *rider) smaller(by, raised float64) (s rung) {
	most := math.Inf(1)
	if r.Slim() {
		most, raised = max(0, r.tool.Cutter.Largest()/2-by), 0
	} else {
		s.less = by
	}
	pieces := r.pieces
	if len(pieces) == 0 {
		pieces = []material.Outline{r.hull}
	}
	for _, p := range pieces {
		var less material.Outline
		low, high := p[0][1]+raised, p[len(p)-1][1]
		for i, c := range p {
			if r.Sharp() {
				c[0] = max(0, c[0]-by)
			}
			s.less = max(s.less, c[0]-most)
			c[0] = min(c[0], most)
			if c[1] < low && i+1 < len(p) && p[i+1][1] <= low {
				continue // all of it is below
			}
			c[1] = max(c[1], low)
			less = append(less, c)
		}
		if len(less) > 1 && low < high {
			s.pieces = append(s.pieces, less)
		}
	}
	return s
}

// resting is what of a blank rests on riders that were asked smaller than they are.
type resting struct {
	moves int64
	first program.Place
	most  float64 // mm
	// The last move that was counted.
	chunk int
	step  int32
}

// rests notes that a leg rests on a rung; 0 is none.
func (w *cutWalk) rests(r *rider, i, at, rung int) {
	if rung <= grazing {
		return
	}
	b := w.stock.blanks[i]
	on, step := &b.resting, w.chunk.legs[at].step
	if on.moves == 0 {
		on.first = w.chunk.steps[step].Place
	}
	if on.moves == 0 || on.chunk != w.chunk.number || on.step != step {
		on.moves++
		on.chunk, on.step = w.chunk.number, step
	}
	on.most = max(on.most, r.slim[i][rung-1].less)
}

// smaller reports whether what is asked of a neck, or of a cutting part that leaves, is proven of it on one of its rungs.
func (w *cutWalk) smaller(i, at int, st *pass, a *asked) bool {
	if !a.need.slim || a.near.Sure {
		return false
	}
	g := &a.rider.guards[i]
	n := a.need
	for n.rung = 1; n.rung <= len(rungsOf); n.rung++ {
		if _, ok := w.stock.keeps(a.rider, i, st, &n); ok {
			w.rests(a.rider, i, at, n.rung)
			g.habit, g.tried = g.habit+1, n.rung
			w.rung[a.rider] = max(w.rung[a.rider], n.rung)
			return true
		}
	}
	return false
}

// words says what rests on that; nothing if none does.
func (on *resting) words(stock string) string {
	if on.moves == 0 {
		return ""
	}
	moves := fmt.Sprintf("up to %d moves, the first on %s", on.moves, lineOf(&on.first))
	if on.moves == 1 {
		moves = "the move on " + lineOf(&on.first)
	}
	return fmt.Sprintf("%s: a neck, or a cutting part that leaves what it has cut, is proven to meet nothing of %s only if it is up to %s mm smaller all round than it is, and goes where the program puts it",
		moves, stock, millimetres(on.most))
}
