package drafting

import (
	"fmt"
	"math"
	"strings"

	"gridswing/render/ink"
)

// Of a plan's sheet, in pixels of the layout.
const (
	planWide  = 1750.0 // 175 mm: between the margins of either paper
	planHigh  = 880.0  // the face, at most: two plans fit a page
	asideWide = 590.0  // compass, scale and key beside the face, where that leaves room for it
	asideKey  = 270.0  // where the key begins there
	sideways  = 130.0  // left and right of the face: names of rows, on the left a dimension
	above     = 120.0  // names of columns, and a dimension
	below     = 84.0   // names of columns, and what there was no room for
	footHigh  = 190.0  // compass and scale
	leastFoot = 34.0   // a line of the key
)

// planSheet is a plan being drawn.
type planSheet struct {
	*Plan
	board
	sheet  Sheet
	aside  bool
	box    box      // of what is drawn, mm as it lies
	plot   ink.Area // where that is, pixels of the layout
	pixels float64  // of the layout, in a mm
	used   map[string]bool
	notes  notes
}

// Sheet is how large the plan is on paper, and its scale.
func (p *Plan) Sheet() Sheet {
	s, _ := p.layOut()
	return s
}

// layOut returns the sheet, and whether compass, scale and key stand beside the face.
func (p *Plan) layOut() (s Sheet, aside bool) {
	b, rows := p.extent(), leastFoot*float64(len(keyOf(p)))
	scale := scaleFor(b.width(), b.height(), (planWide-2*sideways)/perMM, planHigh/perMM)
	high := above + b.height()/scale*perMM + below
	if b.width()/scale*perMM <= planWide-asideWide-2*sideways {
		return Sheet{Width: planWide / perMM, Height: max(high, asideKey+rows+20) / perMM, Scale: scale}, true
	}
	return Sheet{Width: planWide / perMM, Height: (high + max(footHigh, 44+rows)) / perMM, Scale: scale}, false
}

func newPlanSheet(p *Plan, s ink.Surface) *planSheet {
	d := &planSheet{Plan: p, box: p.extent(), used: map[string]bool{}}
	d.sheet, d.aside = p.layOut()
	width, height := s.Size()
	wide, high := d.sheet.pixels()
	d.board = board{Surface: s, unit: min(width/wide, height/high)}
	d.pixels = perMM / d.sheet.Scale
	face := d.box.width() * d.pixels
	right := wide
	if d.aside {
		right -= asideWide
	}
	x0 := (right - face) / 2
	d.plot = ink.Area{X0: x0, Y0: above, X1: x0 + face, Y1: above + d.box.height()*d.pixels}
	for _, l := range p.Locators {
		d.used[l.Hole] = true
	}
	for _, s := range p.Screws {
		d.used[s.Hole] = true
	}
	delete(d.used, "")
	d.notes = notes{board: &d.board, inside: ink.Area{X0: 10, Y0: 50, X1: right - 10, Y1: d.plot.Y1 + below - 26}}
	return d
}

// on returns where a place of the face is in the layout.
func (d *planSheet) on(q Point) ink.Point {
	q = d.turned(q)
	return ink.Point{X: d.plot.X0 + (q.X-d.box.low.X)*d.pixels, Y: d.plot.Y1 - (q.Y-d.box.low.Y)*d.pixels}
}

func (d *planSheet) path(line []Point) []ink.Point {
	list := make([]ink.Point, len(line))
	for i, q := range line {
		list[i] = d.on(q)
	}
	return list
}

// stands draws the outlines of what stands on the face, on a grey that shows where it covers it.
func (d *planSheet) stands() {
	for i := range d.Stands {
		for _, line := range d.Stands[i].Outline {
			var area []ink.Point
			for _, q := range d.path(line) {
				area = append(area, d.board.at(q))
			}
			d.Polygon(area, standGround)
		}
	}
}

// face draws the edges of the face, and the outlines of what stands there over them.
func (d *planSheet) face() {
	for _, line := range d.Face {
		path := d.path(line)
		d.line(thin, path...)
		d.keepSeen(path)
	}
	if len(d.Body) > 0 {
		d.dashes(faint, d.path(append(d.Body[:len(d.Body):len(d.Body)], d.Body[0])), 14, 10)
	}
	for i := range d.Stands {
		for _, line := range d.Stands[i].Outline {
			d.dashes(thin*1.3, d.path(line), 44, 8, 6, 8, 6, 8) // ISO 128: outlines of adjacent parts
		}
	}
}

// keepSeen keeps words off a line that goes round something small, such as a screw's counterbore.
func (d *planSheet) keepSeen(path []ink.Point) {
	a := ink.Area{X0: path[0].X, Y0: path[0].Y, X1: path[0].X, Y1: path[0].Y}
	for _, p := range path {
		a.X0, a.Y0, a.X1, a.Y1 = min(a.X0, p.X), min(a.Y0, p.Y), max(a.X1, p.X), max(a.Y1, p.Y)
	}
	if path[0] == path[len(path)-1] && max(a.Width(), a.Height()) < 150 {
		d.notes.yields = append(d.notes.yields, a)
	}
}

// dashes draws a line of dashes and gaps in turn.
func (d *board) dashes(width float64, line []ink.Point, pieces ...float64) {
	k, left := 0, pieces[0]
	for i := 1; i < len(line); i++ {
		a, b := line[i-1], line[i]
		for {
			l := math.Hypot(b.X-a.X, b.Y-a.Y)
			step := min(l, left)
			if l == 0 {
				break
			}
			m := ink.Point{X: a.X + (b.X-a.X)*step/l, Y: a.Y + (b.Y-a.Y)*step/l}
			if k%2 == 0 {
				d.line(width, a, m)
			}
			if left -= step; left <= 1e-9 {
				k = (k + 1) % len(pieces)
				left = pieces[k]
			}
			if a = m; step == l {
				break
			}
		}
	}
}

// circle draws part of a circle, in turns, counter-clockwise from the right.
func (d *planSheet) circle(width float64, at ink.Point, radius, from, to float64) {
	n := max(28, int(radius*math.Abs(to-from)/1.5))
	n = min(n, 180)
	line := make([]ink.Point, n+1)
	for i := range line {
		sin, cos := math.Sincos(2 * math.Pi * (from + (to-from)*float64(i)/float64(n)))
		line[i] = ink.Point{X: at.X + radius*cos, Y: at.Y - radius*sin}
	}
	d.line(width, line...)
}

// holes draws every hole as large as it is: the mouth, and of a thread three quarters of a
// circle (ISO 6410-1).
func (d *planSheet) holes() {
	for i := range d.Rings {
		d.ring(d.Rings[i])
	}
	for i := range d.Holes {
		h := &d.Holes[i]
		at, r := d.on(h.At), h.radius()*d.pixels
		if !d.used[h.Name] {
			d.notes.yields = append(d.notes.yields, ink.Area{X0: at.X - r, Y0: at.Y - r, X1: at.X + r, Y1: at.Y + r})
		}
		if r < 2 {
			d.Disc(d.board.at(at), max(r, 1.6)*d.unit, ink.Text)
			continue
		}
		mouth := max(h.Bore, h.Through) * d.pixels / 2
		if mouth > 0 {
			d.circle(thin, at, mouth, 0, 1)
		}
		if thread := h.Thread * d.pixels / 2; thread > 2 {
			d.circle(faint, at, thread, -0.2, 0.55)
			if mouth == 0 {
				d.circle(thin, at, 0.85*thread, 0, 1)
			}
		}
	}
}

func (d *planSheet) ring(radius float64) {
	centre := d.on(Point{})
	n := 90
	line := make([]ink.Point, n+1)
	for i := range line {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		line[i] = ink.Point{X: centre.X + radius*d.pixels*cos, Y: centre.Y - radius*d.pixels*sin}
	}
	d.dashes(faint, line, 24, 6, 4, 6)
}

// slots draws the sides of slots over the whole face, with their numbers at both ends.
func (d *planSheet) slots() {
	low, high := math.Inf(1), math.Inf(-1)
	for _, corner := range []Point{d.box.low, d.box.high, {d.box.low.X, d.box.high.Y}, {d.box.high.X, d.box.low.Y}} {
		q := corner // back from the paper to the face
		for range (4 - ((d.Turn%4)+4)%4) % 4 {
			q = Point{-q.Y, q.X}
		}
		low, high = min(low, q.X), max(high, q.X)
	}
	for _, s := range d.Slots {
		for _, side := range []float64{-s.Width / 2, s.Width / 2} {
			d.line(thin, d.on(Point{low, s.Y + side}), d.on(Point{high, s.Y + side}))
		}
		for _, end := range []float64{low, high} {
			at := d.on(Point{end, s.Y})
			out := d.turned(Point{end - (low+high)/2, 0})
			d.edgeName("slot "+s.Name, at, ink.Point{X: sign(out.X), Y: -sign(out.Y)}, true)
		}
	}
}

func sign(v float64) float64 {
	switch {
	case v > 1e-9:
		return 1
	case v < -1e-9:
		return -1
	}
	return 0
}

// edgeName writes a name outside of the face, beside a point of its edge.
func (d *planSheet) edgeName(name string, at, out ink.Point, bold bool) {
	w := note{words: name, at: at, away: 12, size: letter, bold: bold, near: true}
	width, height := d.width(w.size, w.bold, name), 0.76*w.size
	middle := ink.Point{X: at.X + out.X*(w.away+width/2), Y: at.Y + out.Y*(w.away+height/2)}
	d.notes.settles(&w, middle, width, height, true)
}

// edges writes the names of columns and rows at both ends of each: those in which something is
// set first, so that they are there however many there are.
func (d *planSheet) edges() {
	for _, wanted := range []bool{true, false} {
		for _, c := range d.Columns {
			if d.isUsed(c.Name, true) == wanted {
				d.lineName(c.Name, Point{X: c.At}, Point{Y: 1}, wanted)
			}
		}
		for _, r := range d.Rows {
			if d.isUsed(r.Name, false) == wanted {
				d.lineName(r.Name, Point{Y: r.At}, Point{X: 1}, wanted)
			}
		}
	}
}

// isUsed reports whether something is set in a column, or in a row.
func (d *planSheet) isUsed(name string, column bool) bool {
	for hole := range d.used {
		digits := strings.IndexAny(hole, "0123456789")
		if digits > 0 && (column && hole[:digits] == name || !column && hole[digits:] == name) {
			return true
		}
	}
	return false
}

// lineName writes the name of a column or row at both of its ends.
func (d *planSheet) lineName(name string, through, along Point, bold bool) {
	at, way := d.on(through), d.turned(along)
	if way.Y != 0 {
		d.edgeName(name, ink.Point{X: at.X, Y: d.plot.Y0}, ink.Point{Y: -1}, bold)
		d.edgeName(name, ink.Point{X: at.X, Y: d.plot.Y1}, ink.Point{Y: 1}, bold)
		return
	}
	d.edgeName(name, ink.Point{X: d.plot.X0, Y: at.Y}, ink.Point{X: -1}, bold)
	d.edgeName(name, ink.Point{X: d.plot.X1, Y: at.Y}, ink.Point{X: 1}, bold)
}

// dimensions draws how far columns and rows are apart: above and on the left.
func (d *planSheet) dimensions() {
	for _, q := range []struct {
		list  []Label
		pitch float64
		along Point
	}{{d.Columns, d.Pitch.X, Point{X: 1}}, {d.Rows, d.Pitch.Y, Point{Y: 1}}} {
		n := len(q.list) - 1
		if n < 1 || q.pitch <= 0 {
			continue
		}
		first, last := q.list[0].At, q.list[n].At
		a, b := d.on(Point{q.along.X * first, q.along.Y * first}), d.on(Point{q.along.X * last, q.along.Y * last})
		words := fmt.Sprintf("%d × %s = %s %s", n, d.Lengths.Write(q.pitch), d.Lengths.Write(last-first), d.Lengths.Name())
		if n == 1 {
			words = d.Lengths.Write(q.pitch) + " " + d.Lengths.Name()
		}
		if way := d.turned(q.along); way.X != 0 {
			d.across(min(a.X, b.X), max(a.X, b.X), words)
		} else {
			d.upward(min(a.Y, b.Y), max(a.Y, b.Y), words)
		}
	}
}

// across draws a dimension above the face.
func (d *planSheet) across(x0, x1 float64, words string) {
	const y = above - 62
	for _, x := range []float64{x0, x1} {
		d.line(faint, ink.Point{X: x, Y: y - 8}, ink.Point{X: x, Y: y + 14})
	}
	d.arrow(ink.Point{X: (x0 + x1) / 2, Y: y}, ink.Point{X: x0, Y: y})
	d.arrow(ink.Point{X: (x0 + x1) / 2, Y: y}, ink.Point{X: x1, Y: y})
	half := d.width(small, false, words) / 2
	middle := max(half+10, min((x0+x1)/2, d.notes.inside.X1-half))
	d.notes.taken = append(d.notes.taken, ink.Area{X0: x0 - 4, Y0: y - 10, X1: x1 + 4, Y1: y + 15},
		ink.Area{X0: middle - half, Y0: y - 9 - small, X1: middle + half, Y1: y})
	d.write(middle, y-9, ink.Center, small, false, words)
}

// upward draws one to the left of the face.
func (d *planSheet) upward(y0, y1 float64, words string) {
	x := d.plot.X0 - sideways + 58
	for _, y := range []float64{y0, y1} {
		d.line(faint, ink.Point{X: x - 8, Y: y}, ink.Point{X: x + 14, Y: y})
	}
	d.arrow(ink.Point{X: x, Y: (y0 + y1) / 2}, ink.Point{X: x, Y: y0})
	d.arrow(ink.Point{X: x, Y: (y0 + y1) / 2}, ink.Point{X: x, Y: y1})
	half := d.width(small, false, words) / 2
	middle := max(half+10, (y0+y1)/2)
	d.notes.taken = append(d.notes.taken, ink.Area{X0: x - 10, Y0: y0 - 4, X1: x + 15, Y1: y1 + 4},
		ink.Area{X0: x - 9 - small, Y0: middle - half, X1: x, Y1: middle + half})
	d.TextUp((x-9)*d.unit, middle*d.unit, d.type_(small, false), words)
}

// arrow draws a line with a filled head at its end.
func (d *board) arrow(a, b ink.Point) {
	d.line(faint, a, b)
	d.head(a, b)
}

// head draws an arrow's head at the end of a line.
func (d *board) head(a, b ink.Point) {
	l := math.Hypot(b.X-a.X, b.Y-a.Y)
	if l == 0 {
		return
	}
	ux, uy := (b.X-a.X)/l, (b.Y-a.Y)/l
	long := min(22, l)
	tip := []ink.Point{b, {X: b.X - long*ux - long/4*uy, Y: b.Y - long*uy + long/4*ux}, {X: b.X - long*ux + long/4*uy, Y: b.Y - long*uy - long/4*ux}}
	for i := range tip {
		tip[i] = d.at(tip[i])
	}
	d.Polygon(tip, ink.Text)
}
