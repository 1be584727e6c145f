package ink

import "math"

// Label is a piece of text in a box, with a line (leader) to what it names.
type Label struct {
	Words  string
	Bold   bool
	Mark   bool                    // what it names is a point: a ring is drawn there
	Hidden bool                    // a mark behind something: its ring is dashed
	Anchor Point                   // the end of the leader
	Swatch func(c Surface, a Area) // drawn before the words; nil: nothing
	Round  bool                    // a few letters in a circle, such as a number; the leader ends in a dot
	Plain  bool                    // no dot or ring where the leader ends: something is drawn there
	Line   [2]Point                // if it has length: the leader goes on from either end of it, whatever Anchor is
	box    Area
}

// Labels sets labels so that no two overlap and none is clipped.
type Labels struct {
	Inside Area                 // where the boxes must lie
	Unit   float64              // pixels; 1 on a page of 1600 x 1200
	Cost   func(a Area) float64 // how bad it is to cover the area, 0 to 1; nil: all the same
	Theme  Theme                // zero: Light
	Keep   [][2]Point           // lines that no box may cover, and no leader cross but of a Plain label
	placed []Label
	taken  []Point
}

// Place finds a place for each label, the first ones first: of all candidates
// round its anchor that overlap no box, marked point or leader, the one with the
// shortest leader over the least valuable ground. It returns the labels that
// find none; of more than a few hundred also those that come later, as no page has room for so many.
func (l *Labels) Place(wanted []Label) (left []Label) {
	n := min(mostTried, len(wanted))
	wanted, rest := wanted[:n], wanted[n:]
	for i := range wanted {
		l.taken = append(l.taken, wanted[i].anchors()...)
	}
	for _, w := range wanted {
		if l.settle(&w) {
			l.placed = append(l.placed, w)
		} else {
			left = append(left, w)
		}
	}
	return append(left, rest...)
}

const (
	mostTried  = 400 // labels of one call
	rings      = 10
	directions = 24
)

// anchors lists where the leader may end.
func (w *Label) anchors() []Point {
	if w.Line[0] != w.Line[1] {
		return w.Line[:]
	}
	return []Point{w.Anchor}
}

// runsBack reports whether the leader runs back along the line that it is to go on from.
func (w *Label) runsBack() bool {
	if w.Line[0] == w.Line[1] {
		return false
	}
	other, foot := w.Line[0], w.foot()
	if other == w.Anchor {
		other = w.Line[1]
	}
	return (foot.X-w.Anchor.X)*(w.Anchor.X-other.X)+(foot.Y-w.Anchor.Y)*(w.Anchor.Y-other.Y) < 0
}

// settle finds the best place for a label; false if there is none.
func (l *Labels) settle(w *Label) bool {
	best, anchor, least := Area{}, w.Anchor, math.Inf(1)
	for _, w.Anchor = range w.anchors() {
		if box, cost := l.best(w); cost < least {
			best, anchor, least = box, w.Anchor, cost
		}
	}
	w.box, w.Anchor = best, anchor
	return !math.IsInf(least, 1)
}

// best returns the best place of a label with the anchor that it has, and how bad that is: infinitely, if
// there is none.
func (l *Labels) best(w *Label) (best Area, least float64) {
	width, height := l.size(w)
	first, further := 60.0, 50.0
	if w.Round {
		first, further = 45, 35
	} else if w.Plain {
		first, further = 24, 30
	}
	least = math.Inf(1)
	for ring := range rings {
		r := (first + further*float64(ring)) * l.Unit
		for k := range directions {
			s, c := math.Sincos(2 * math.Pi * (float64(k) + 0.5) / directions)
			x, y := w.Anchor.X+r*c+(c-1)/2*width, w.Anchor.Y+r*s-height/2
			w.box = Area{math.Round(x), math.Round(y), math.Round(x + width), math.Round(y + height)}
			if !w.box.Within(l.Inside) || w.runsBack() || l.collides(w) {
				continue
			}
			cost := r
			if l.Cost != nil {
				cost += 260 * l.Unit * l.Cost(w.box)
			}
			if cost < least {
				best, least = w.box, cost
			}
		}
	}
	return best, least
}

func (l *Labels) collides(w *Label) bool {
	gap := 12 * l.Unit
	roomy := w.box.Shrunk(-gap)
	from, to := w.Anchor, w.foot()
	for i := range l.placed {
		p := &l.placed[i]
		if roomy.Overlaps(p.box) || p.box.crosses(from, to) || roomy.crosses(p.Anchor, p.foot()) || meet(from, to, p.Anchor, p.foot()) {
			return true
		}
	}
	for _, k := range l.Keep {
		if roomy.crosses(k[0], k[1]) || !w.Plain && meet(from, to, k[0], k[1]) {
			return true
		}
	}
	for _, p := range l.taken {
		if around(p, gap).Overlaps(w.box) || w.Round && p != w.Anchor && around(p, gap).crosses(from, to) {
			return true // a number's leader that passes another's end could be either's
		}
	}
	return false
}

// foot is where the leader meets the box.
func (w *Label) foot() Point {
	if w.Round {
		c := Point{(w.box.X0 + w.box.X1) / 2, (w.box.Y0 + w.box.Y1) / 2}
		l := math.Hypot(w.Anchor.X-c.X, w.Anchor.Y-c.Y) // not 0: boxes keep away from anchors
		return along(c, w.Anchor, w.box.Height()/2/max(l, w.box.Height()/2))
	}
	y := (w.box.Y0 + w.box.Y1) / 2
	switch {
	case w.Anchor.X < w.box.X0:
		return Point{w.box.X0, y}
	case w.Anchor.X > w.box.X1:
		return Point{w.box.X1, y}
	case w.Anchor.Y < w.box.Y0:
		return Point{w.Anchor.X, w.box.Y0}
	}
	return Point{w.Anchor.X, w.box.Y1}
}

// meet reports whether two segments cross.
func meet(a, b, c, e Point) bool {
	side := func(p, q, r Point) float64 { return (q.X-p.X)*(r.Y-p.Y) - (q.Y-p.Y)*(r.X-p.X) }
	return side(a, b, c)*side(a, b, e) < 0 && side(c, e, a)*side(c, e, b) < 0
}

func (l *Labels) letters(w *Label) Type {
	return Type{Size: 21 * l.Unit, Bold: w.Bold || w.Round, Color: l.Theme.Or(Light).Text}
}

func (l *Labels) size(w *Label) (width, height float64) {
	if w.Round {
		across := math.Ceil(max(l.letters(w).Width(w.Words)+14*l.Unit, 36*l.Unit))
		return across, across
	}
	width = l.letters(w).Width(w.Words) + 24*l.Unit
	if w.Swatch != nil {
		width += 40 * l.Unit
	}
	return math.Ceil(width), math.Ceil(38 * l.Unit)
}

// Size returns how much a label's box covers, in square pixels.
func (l *Labels) Size(w *Label) float64 {
	width, height := l.size(w)
	return width * height
}

// Covered returns how much the boxes of all labels that found a place cover, in square pixels.
func (l *Labels) Covered() (area float64) {
	for i := range l.placed {
		area += l.placed[i].box.Width() * l.placed[i].box.Height()
	}
	return area
}

// Draw draws all labels that found a place, over their leaders.
func (l *Labels) Draw(c Surface) {
	for i := range l.placed {
		l.leader(c, &l.placed[i])
	}
	for i := range l.placed {
		l.boxed(c, &l.placed[i])
	}
}

// leader draws a line on a border of paper, so that it can be followed over any ground.
func (l *Labels) leader(c Surface, w *Label) {
	u, t := l.Unit, l.Theme.Or(Light)
	c.Line(5*u, t.Paper, w.foot(), w.Anchor)
	c.Line(2*u, t.Text, w.foot(), w.Anchor)
	switch {
	case w.Plain:
	case w.Mark:
		l.ring(c, w)
	default:
		c.Disc(w.Anchor, 6.5*u, t.Paper)
		c.Disc(w.Anchor, 4.5*u, t.Text)
	}
}

// ring marks a point.
func (l *Labels) ring(c Surface, w *Label) {
	u, t := l.Unit, l.Theme.Or(Light)
	c.Disc(w.Anchor, 10.5*u, t.Paper)
	if w.Hidden {
		for k := range 6 { // 35 of each 60 degrees
			end := -60 * float64(k)
			Arc(c, w.Anchor, 7*u, 3*u, end-35, end, t.Text)
		}
	} else {
		c.Disc(w.Anchor, 8.5*u, t.Text)
		c.Disc(w.Anchor, 5.5*u, t.Paper)
	}
	c.Disc(w.Anchor, 2.2*u, t.Text)
}

func (l *Labels) boxed(c Surface, w *Label) {
	u, b, theme := l.Unit, w.box, l.Theme.Or(Light)
	t := l.letters(w)
	if w.Round {
		at, r := Point{(b.X0 + b.X1) / 2, (b.Y0 + b.Y1) / 2}, b.Width()/2
		c.Disc(at, r+2*u, theme.Paper)
		c.Disc(at, r, theme.Text)
		c.Disc(at, r-1.8*u, theme.Paper)
		c.Text(at.X, at.Y+t.Ascent()/2, Center, t, w.Words)
		return
	}
	c.Fill(b.X0-2*u, b.Y0-2*u, b.X1+2*u, b.Y1+2*u, theme.Paper)
	c.Frame(b.X0, b.Y0, b.X1, b.Y1, 1.6*u, theme.Text)
	x := b.X0 + 12*u
	if w.Swatch != nil {
		w.Swatch(c, Area{b.X0 + 8*u, b.Y0 + 8*u, b.X0 + 40*u, b.Y1 - 8*u})
		x += 40 * u
	}
	c.Text(x, (b.Y0+b.Y1+t.Ascent())/2, Left, t, w.Words)
}
