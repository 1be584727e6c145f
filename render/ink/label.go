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
	box    Area
}

// Labels sets labels so that no two overlap and none is clipped.
type Labels struct {
	Inside Area                 // where the boxes must lie
	Unit   float64              // pixels; 1 on a page of 1600 x 1200
	Cost   func(a Area) float64 // how bad it is to cover the area, 0 to 1; nil: all the same
	placed []Label
	taken  []Point
}

// Place finds a place for each label, the first ones first: of all candidates
// round its anchor that overlap no box, marked point or leader, the one with the
// shortest leader over the least valuable ground. It returns the labels that
// find none.
func (l *Labels) Place(wanted []Label) (left []Label) {
	for i := range wanted {
		l.taken = append(l.taken, wanted[i].Anchor)
	}
	for _, w := range wanted {
		if l.settle(&w) {
			l.placed = append(l.placed, w)
		} else {
			left = append(left, w)
		}
	}
	return left
}

const (
	rings      = 10
	directions = 24
)

func (l *Labels) settle(w *Label) bool {
	width, height := l.size(w)
	best, least := Area{}, math.Inf(1)
	for ring := range rings {
		r := (60 + 50*float64(ring)) * l.Unit
		for k := range directions {
			s, c := math.Sincos(2 * math.Pi * (float64(k) + 0.5) / directions)
			x, y := w.Anchor.X+r*c+(c-1)/2*width, w.Anchor.Y+r*s-height/2
			w.box = Area{math.Round(x), math.Round(y), math.Round(x + width), math.Round(y + height)}
			if !w.box.Within(l.Inside) || l.collides(w) {
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
	w.box = best
	return !math.IsInf(least, 1)
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
	for _, p := range l.taken {
		if around(p, gap).Overlaps(w.box) {
			return true
		}
	}
	return false
}

// foot is where the leader meets the box.
func (w *Label) foot() Point {
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
	return Type{Size: 21 * l.Unit, Bold: w.Bold, Color: Text}
}

func (l *Labels) size(w *Label) (width, height float64) {
	width = l.letters(w).Width(w.Words) + 24*l.Unit
	if w.Swatch != nil {
		width += 40 * l.Unit
	}
	return math.Ceil(width), math.Ceil(38 * l.Unit)
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

// leader draws a dark line on a light border, so that it can be followed over
// any ground.
func (l *Labels) leader(c Surface, w *Label) {
	u := l.Unit
	c.Line(5*u, Paper, w.foot(), w.Anchor)
	c.Line(2*u, Text, w.foot(), w.Anchor)
	if w.Mark {
		l.ring(c, w)
		return
	}
	c.Disc(w.Anchor, 6.5*u, Paper)
	c.Disc(w.Anchor, 4.5*u, Text)
}

// ring marks a point.
func (l *Labels) ring(c Surface, w *Label) {
	u := l.Unit
	c.Disc(w.Anchor, 10.5*u, Paper)
	if w.Hidden {
		for k := range 6 { // 35 of each 60 degrees
			var arc []Point
			for i := range 6 {
				s, cos := math.Sincos((float64(k)*60 + float64(i)*7) * math.Pi / 180)
				arc = append(arc, Point{w.Anchor.X + 7*u*cos, w.Anchor.Y + 7*u*s})
			}
			c.Line(3*u, Text, arc...)
		}
	} else {
		c.Disc(w.Anchor, 8.5*u, Text)
		c.Disc(w.Anchor, 5.5*u, Paper)
	}
	c.Disc(w.Anchor, 2.2*u, Text)
}

func (l *Labels) boxed(c Surface, w *Label) {
	u, b := l.Unit, w.box
	c.Fill(b.X0-2*u, b.Y0-2*u, b.X1+2*u, b.Y1+2*u, Paper)
	c.Frame(b.X0, b.Y0, b.X1, b.Y1, 1.6*u, Text)
	x := b.X0 + 12*u
	if w.Swatch != nil {
		w.Swatch(c, Area{b.X0 + 8*u, b.Y0 + 8*u, b.X0 + 40*u, b.Y1 - 8*u})
		x += 40 * u
	}
	t := l.letters(w)
	c.Text(x, (b.Y0+b.Y1+t.Ascent())/2, Left, t, w.Words)
}
