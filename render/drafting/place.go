package drafting

import (
	"cmp"
	"math"
	"slices"

	"gridswing/render/ink"
)

// note is words beside a point, in pixels of the layout.
type note struct {
	words  string
	at     ink.Point
	away   float64 // how far from the point the words begin
	size   float64
	bold   bool
	within ink.Area // where they may stand anywhere, the nearer to the point the better; empty: nowhere
	near   bool     // left out rather than led to by a line
	spare  bool     // not missed if there is no room
	box    ink.Area
	led    bool
}

// notes sets words so that none overlaps another, nor what must stay seen.
type notes struct {
	board  *board
	inside ink.Area
	taken  []ink.Area // what must stay seen, and words
	yields []ink.Area // what should be seen if there is room, such as holes in which nothing is
	lines  [][2]ink.Point
	placed []note
	left   []string // words that found no place
}

// around are directions in the order in which they are tried.
var around = []float64{0, 180, 45, 135, 315, 225, 90, 270}

// place finds a place for words: beside their point, or further off at the end of a line; over
// what should be seen only where there is no other near.
func (n *notes) place(w note) {
	width, height := n.board.width(w.size, w.bold, w.words), 0.76*w.size
	for _, yields := range []bool{false, true} {
		w.led = false
		if n.inArea(&w, width, height, yields) {
			return
		}
		for _, turn := range around {
			if n.settles(&w, beside(&w, turn, w.away, width, height), width, height, yields) {
				return
			}
		}
		if w.near {
			continue
		}
		rings := 5
		if yields {
			rings = 16
		}
		w.led = true
		for ring := range rings {
			for k := range 24 {
				away := w.away + 30 + 24*float64(ring)
				if n.settles(&w, beside(&w, 15*float64(k)+7.5, away, width, height), width, height, yields) {
					return
				}
			}
		}
	}
	if !w.near && !w.spare {
		n.left = append(n.left, w.words)
	}
}

// inArea puts words anywhere in their area.
func (n *notes) inArea(w *note, width, height float64, yields bool) bool {
	const steps = 24
	var middles []ink.Point
	for i := range steps * steps {
		middles = append(middles, ink.Point{X: w.within.X0 + w.within.Width()*(0.5+float64(i%steps))/steps, Y: w.within.Y0 + w.within.Height()*(0.5+float64(i/steps))/steps})
	}
	far := func(p ink.Point) float64 { return math.Hypot(p.X-w.at.X, p.Y-w.at.Y) }
	slices.SortStableFunc(middles, func(a, b ink.Point) int { return cmp.Compare(far(a), far(b)) })
	return slices.ContainsFunc(middles, func(p ink.Point) bool {
		box := ink.Area{X0: p.X - width/2, Y0: p.Y - height/2, X1: p.X + width/2, Y1: p.Y + height/2}
		return box.Within(w.within) && n.settles(w, p, width, height, yields)
	})
}

// beside returns the middle of words that stand so far off in a direction.
func beside(w *note, turn, away, width, height float64) ink.Point {
	sin, cos := math.Sincos(turn * math.Pi / 180)
	return ink.Point{X: w.at.X + away*cos + cos*width/2, Y: w.at.Y - away*sin - sin*height/2}
}

// settles puts words at a place if it is free, or if only what yields is there.
func (n *notes) settles(w *note, middle ink.Point, width, height float64, yields bool) bool {
	const gap = 5
	w.box = ink.Area{X0: middle.X - width/2, Y0: middle.Y - height/2, X1: middle.X + width/2, Y1: middle.Y + height/2}
	roomy := w.box.Shrunk(-gap)
	if !roomy.Within(n.inside) {
		return false
	}
	for _, t := range n.taken {
		if roomy.Overlaps(t) {
			return false
		}
	}
	if !yields && slices.ContainsFunc(n.yields, w.box.Shrunk(-2).Overlaps) {
		return false
	}
	for _, l := range n.lines {
		if crosses(roomy, l[0], l[1]) {
			return false
		}
	}
	if w.led {
		from := w.foot()
		for _, t := range n.taken {
			if !t.Holds(w.at) && crosses(t.Shrunk(-3), from, w.at) {
				return false
			}
		}
		n.lines = append(n.lines, [2]ink.Point{from, w.at})
	}
	n.taken = append(n.taken, w.box)
	n.placed = append(n.placed, *w)
	return true
}

// foot is where the line to the point begins.
func (w *note) foot() ink.Point {
	return ink.Point{X: max(w.box.X0-3, min(w.at.X, w.box.X1+3)), Y: max(w.box.Y0-3, min(w.at.Y, w.box.Y1+3))}
}

// crosses reports whether a segment comes into an area: it is halved until it is inside or out.
func crosses(a ink.Area, p, q ink.Point) bool {
	if a.Holds(p) || a.Holds(q) {
		return true
	}
	if max(p.X, q.X) < a.X0 || min(p.X, q.X) > a.X1 || max(p.Y, q.Y) < a.Y0 || min(p.Y, q.Y) > a.Y1 || math.Hypot(p.X-q.X, p.Y-q.Y) < 0.5 {
		return false
	}
	m := ink.Point{X: (p.X + q.X) / 2, Y: (p.Y + q.Y) / 2}
	return crosses(a, p, m) || crosses(a, m, q)
}

// draw writes the words, over paper so that lines do not run through them.
func (n *notes) draw() {
	for i := range n.placed {
		if w := &n.placed[i]; w.led {
			n.board.line(faint, w.foot(), w.at)
			n.board.Disc(n.board.at(w.at), 3.5*n.board.unit, ink.Text)
		}
	}
	for i := range n.placed {
		w := &n.placed[i]
		u := n.board.unit
		n.board.Fill((w.box.X0-2)*u, (w.box.Y0-2)*u, (w.box.X1+2)*u, (w.box.Y1+2)*u, ink.Paper)
		n.board.write((w.box.X0+w.box.X1)/2, w.box.Y1, ink.Center, w.size, w.bold, w.words)
	}
}
