package render

import (
	"image"
	"math"

	"gridswing/render/ink"
)

// label is a piece of text with a line to what it names.
type label struct {
	words    string
	mark     bool
	emphasis Emphasis
	anchor   ink.Point
	box      area
}

// labels names the bodies in contact or tight, and the marks.
func (d *drawing) labels() {
	var wanted []label
	for _, m := range d.Marks {
		x, y, _ := d.camera.Project(m.Point)
		at := ink.Point{X: x, Y: y}
		if !(area{x, y, x, y}).within(d.view) {
			d.silent = append(d.silent, m.Label)
			continue
		}
		wanted = append(wanted, label{words: m.Label, mark: true, anchor: at})
	}
	spots := d.visibleSpots()
	named := []Emphasis{Contact, Tight}
	if d.Close != nil {
		named = append(named, Plain)
	}
	for _, e := range named {
		for i := range d.Items {
			it := &d.Items[i]
			if it.Emphasis != e || it.Name == "" {
				continue
			}
			if spots[i] == nil {
				d.unnamed(it.Name, e)
				continue
			}
			wanted = append(wanted, label{words: it.Name, emphasis: e, anchor: *spots[i]})
		}
	}
	placed := d.place(wanted)
	for i := range placed {
		d.leader(&placed[i])
	}
	for i := range placed {
		d.drawLabel(&placed[i])
	}
}

// unnamed reports a label that could not be set; of a plain body nobody misses it.
func (d *drawing) unnamed(name string, e Emphasis) {
	if e != Plain {
		d.silent = append(d.silent, name)
	}
}

// visibleSpots finds for each item that is seen the pixel deepest inside of
// what is seen of it: a place that is surely the body.
func (d *drawing) visibleSpots() []*ink.Point {
	const step = 2 // pixels
	w, h := d.Width/step, int(d.view.height())/step
	who := make([]int32, w*h)
	for i := range who {
		who[i] = int32(d.seen.Body(i%w*step, int(d.view.y0)+i/w*step))
	}
	// inset is how many steps a place is from the end of its body, along rows,
	// columns or diagonals (chessboard distance), in two passes.
	inset := make([]int32, w*h)
	pass := func(x, y, dx, dy int) {
		least := inset[y*w+x]
		for _, n := range [4][2]int{{x - dx, y}, {x, y - dy}, {x - dx, y - dy}, {x + dx, y - dy}} {
			if n[0] < 0 || n[0] >= w || n[1] < 0 || n[1] >= h || who[n[1]*w+n[0]] != who[y*w+x] {
				least = 0
				break
			}
			least = min(least, inset[n[1]*w+n[0]]+1)
		}
		inset[y*w+x] = least
	}
	for i := range inset {
		inset[i] = int32(w + h)
	}
	for y := range h {
		for x := range w {
			pass(x, y, 1, 1)
		}
	}
	spots := make([]*ink.Point, len(d.Items))
	deepest := make([]int32, len(d.Items))
	for y := h - 1; y >= 0; y-- {
		for x := w - 1; x >= 0; x-- {
			pass(x, y, -1, -1)
			if i := who[y*w+x]; i >= 0 && (spots[i] == nil || inset[y*w+x] > deepest[i]) {
				deepest[i] = inset[y*w+x]
				spots[i] = &ink.Point{X: float64(x*step) + 0.5, Y: math.Floor(d.view.y0) + float64(y*step) + 0.5}
			}
		}
	}
	return spots
}

// place finds a place for each label, the first ones first: of all candidates
// round its anchor that overlap nothing and cross no other leader, the one with
// the shortest leader over the fewest bodies. What finds none is left out and
// reported in the footer.
func (d *drawing) place(wanted []label) []label {
	u := d.unit
	inside := d.view.shrunk(10 * u)
	var placed []label
	for _, l := range wanted {
		w, h := d.labelSize(&l)
		best, least := area{}, math.Inf(1)
		for ring := range 9 {
			r := (60 + 55*float64(ring)) * u
			for step := range 24 {
				s, c := math.Sincos(2 * math.Pi * (float64(step) + 0.5) / 24)
				x, y := l.anchor.X+r*c+(c-1)/2*w, l.anchor.Y+r*s-h/2
				l.box = area{x, y, x + w, y + h}
				if !l.box.within(inside) || d.collides(&l, placed, wanted) {
					continue
				}
				if cost := r + 260*u*d.covered(l.box); cost < least {
					best, least = l.box, cost
				}
			}
		}
		if math.IsInf(least, 1) {
			if l.mark {
				d.silent = append(d.silent, l.words)
			} else {
				d.unnamed(l.words, l.emphasis)
			}
			continue
		}
		l.box = best
		placed = append(placed, l)
	}
	return placed
}

// collides reports whether the label or its leader would touch a placed label,
// its leader, or the anchor of any other label.
func (d *drawing) collides(l *label, placed, wanted []label) bool {
	gap := 12 * d.unit
	roomy := l.box.shrunk(-gap)
	from, to := l.anchor, l.foot()
	for i := range placed {
		p := &placed[i]
		if roomy.overlaps(p.box) || crosses(from, to, p.box) || crosses(p.anchor, p.foot(), roomy) || meet(from, to, p.anchor, p.foot()) {
			return true
		}
	}
	for i := range wanted {
		a := wanted[i].anchor
		if a != l.anchor && (area{a.X, a.Y, a.X, a.Y}).shrunk(-2*gap).overlaps(l.box) {
			return true
		}
	}
	return (area{from.X, from.Y, from.X, from.Y}).shrunk(-2 * gap).overlaps(l.box)
}

// covered is the part of the box that lies over bodies, 0 to 1.
func (d *drawing) covered(b area) float64 {
	n, hits := 0, 0
	for v := range 3 {
		for h := range 9 {
			x, y := int(b.x0+b.width()*float64(h)/8), int(b.y0+b.height()*float64(v)/2)
			n++
			if image.Pt(x, y).In(d.page.Rect) && d.seen.Body(x, y) >= 0 {
				hits++
			}
		}
	}
	return float64(hits) / float64(n)
}

// foot is where the leader meets the box: the middle of the nearer end.
func (l *label) foot() ink.Point {
	y := (l.box.y0 + l.box.y1) / 2
	switch {
	case l.anchor.X < l.box.x0:
		return ink.Point{X: l.box.x0, Y: y}
	case l.anchor.X > l.box.x1:
		return ink.Point{X: l.box.x1, Y: y}
	case l.anchor.Y < l.box.y0:
		return ink.Point{X: l.anchor.X, Y: l.box.y0}
	}
	return ink.Point{X: l.anchor.X, Y: l.box.y1}
}

// crosses reports whether the segment has a point in the box (sampled finely
// enough for boxes as large as labels).
func crosses(a, b ink.Point, box area) bool {
	for i := range 65 {
		t := float64(i) / 64
		x, y := a.X+(b.X-a.X)*t, a.Y+(b.Y-a.Y)*t
		if x > box.x0 && x < box.x1 && y > box.y0 && y < box.y1 {
			return true
		}
	}
	return false
}

// meet reports whether two segments cross.
func meet(a, b, c, e ink.Point) bool {
	side := func(p, q, r ink.Point) float64 { return (q.X-p.X)*(r.Y-p.Y) - (q.Y-p.Y)*(r.X-p.X) }
	return side(a, b, c)*side(a, b, e) < 0 && side(c, e, a)*side(c, e, b) < 0
}

func (d *drawing) labelType(l *label) ink.Type {
	return ink.Type{Size: 21 * d.unit, Bold: l.emphasis != Plain, Color: ink.Text}
}

func (d *drawing) labelSize(l *label) (w, h float64) {
	w = d.labelType(l).Width(l.words) + 24*d.unit
	if l.emphasis != Plain {
		w += 40 * d.unit // its pattern
	}
	return math.Ceil(w), math.Ceil(38 * d.unit)
}

// leader draws the line from the label to its anchor, dark on a light border so
// that it can be followed over any ground.
func (d *drawing) leader(l *label) {
	u := d.unit
	d.page.Line(5*u, ink.Paper, l.foot(), l.anchor)
	d.page.Line(2*u, ink.Text, l.foot(), l.anchor)
	if l.mark {
		d.page.Disc(l.anchor, 10.5*u, ink.Paper)
		d.page.Disc(l.anchor, 8.5*u, ink.Text)
		d.page.Disc(l.anchor, 5.5*u, ink.Paper)
		d.page.Disc(l.anchor, 2.2*u, ink.Text)
		return
	}
	d.page.Disc(l.anchor, 6.5*u, ink.Paper)
	d.page.Disc(l.anchor, 4.5*u, ink.Text)
}

func (d *drawing) drawLabel(l *label) {
	u := d.unit
	b := area{math.Round(l.box.x0), math.Round(l.box.y0), math.Round(l.box.x1), math.Round(l.box.y1)}
	d.page.Fill(b.x0-2*u, b.y0-2*u, b.x1+2*u, b.y1+2*u, ink.Paper)
	d.page.Frame(b.x0, b.y0, b.x1, b.y1, 1.6*u, ink.Text)
	x := b.x0 + 12*u
	if l.emphasis != Plain {
		d.swatch(b.x0+8*u, b.y0+8*u, 32*u, b.height()-16*u, l.emphasis)
		x += 40 * u
	}
	t := d.labelType(l)
	d.page.Text(x, (b.y0+b.y1+t.Ascent())/2, ink.Left, t, l.words)
}

// pixels is the rectangle of whole pixels nearest to the given one.
func pixels(x, y, w, h float64) image.Rectangle {
	r := func(v float64) int { return int(math.Round(v)) }
	return image.Rect(r(x), r(y), r(x+w), r(y+h))
}
