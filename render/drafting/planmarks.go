package drafting

import (
	"image/color"
	"slices"
	"strings"

	"gridswing/render/ink"
)

// standGround is the grey of what stands on a face: light enough for lines and words on it.
var standGround = color.RGBA{238, 238, 236, 255}

// leastMark is the least radius of a mark, in pixels of the layout.
const leastMark = 9.0

// marks draws screws and locators: as large as they are, or as large as it takes to tell them
// apart. What locates nothing lies under the rest.
func (d *planSheet) marks() {
	locators := func(spare bool) {
		for _, l := range d.Locators {
			if spare == (l.Mark == Set || l.Mark == Withdrawn) {
				at, r := d.on(l.At), max(l.Diameter*d.pixels/2, leastMark)
				d.mark(l.Mark, at, r)
				d.take(at, r+3)
			}
		}
	}
	locators(true)
	for _, s := range d.Screws {
		at, r := d.on(s.At), max(s.Diameter*d.pixels/2, leastMark)
		d.screw(at, r)
		d.take(at, r+5)
	}
	locators(false)
	for i := range d.Stands {
		for _, q := range d.Stands[i].Spots {
			d.take(d.on(q.At), 9)
		}
	}
}

// take keeps words off a place.
func (d *planSheet) take(at ink.Point, r float64) {
	d.notes.taken = append(d.notes.taken, ink.Area{X0: at.X - r, Y0: at.Y - r, X1: at.X + r, Y1: at.Y + r})
}

// screw draws a circle with a cross through it.
func (d *planSheet) screw(at ink.Point, r float64) {
	d.Disc(d.board.at(at), (r+3)*d.unit, ink.Paper)
	d.circle(broad*0.8, at, r, 0, 1)
	d.line(thin, ink.Point{X: at.X - r - 5, Y: at.Y}, ink.Point{X: at.X + r + 5, Y: at.Y})
	d.line(thin, ink.Point{X: at.X, Y: at.Y - r - 5}, ink.Point{X: at.X, Y: at.Y + r + 5})
}

func (d *planSheet) mark(m Mark, at ink.Point, r float64) {
	disc := func(radius float64, col color.RGBA) { d.Disc(d.board.at(at), radius*d.unit, col) }
	outline := func(points ...ink.Point) {
		for i := range points {
			points[i] = d.board.at(ink.Point{X: at.X + r*points[i].X, Y: at.Y + r*points[i].Y})
		}
		d.Polygon(points, ink.Text)
	}
	switch m {
	case Round:
		disc(r, ink.Text)
	case Relieved:
		disc(r+1, ink.Paper)
		d.circle(thin, at, r+1, 0, 1)
		outline(ink.Point{X: 1}, ink.Point{Y: 1}, ink.Point{X: -1}, ink.Point{Y: -1})
	case Set:
		disc(r+4, ink.Text)
		disc(r+1, ink.Paper)
		disc(0.6*r, ink.Text)
	case Withdrawn:
		disc(r+3, ink.Paper)
		d.circle(broad*0.8, at, r+2, 0, 1)
		d.line(broad, ink.Point{X: at.X - r, Y: at.Y}, ink.Point{X: at.X + r, Y: at.Y})
	case Key:
		outline(ink.Point{X: -1, Y: -1}, ink.Point{X: 1, Y: -1}, ink.Point{X: 1, Y: 1}, ink.Point{X: -1, Y: 1})
	case Stop:
		outline(ink.Point{X: -1, Y: 0.8}, ink.Point{Y: -1}, ink.Point{X: 1, Y: 0.8})
	}
}

// words sets the words on the face: first of what is set in holes, then of what stands there,
// then the names of holes as far as there is room.
func (d *planSheet) words() {
	locators := func(spare bool, size float64) {
		for _, l := range d.Locators {
			if spare == (l.Mark == Set || l.Mark == Withdrawn) {
				d.notes.place(note{words: strings.TrimSpace(l.Hole + " " + l.Words), at: d.on(l.At), away: max(l.Diameter*d.pixels/2, leastMark) + 12, size: size, bold: !spare})
			}
		}
	}
	locators(false, letter)
	for _, s := range d.Screws {
		d.notes.place(note{words: strings.TrimSpace(s.Hole + " " + s.Words), at: d.on(s.At), away: max(s.Diameter*d.pixels/2, leastMark) + 16, size: small})
	}
	locators(true, small)
	for i := range d.Stands {
		s := &d.Stands[i]
		b := emptyBox()
		for _, line := range s.Outline {
			b.take(line...)
		}
		if len(s.Outline) > 0 {
			p, q := d.on(b.low), d.on(b.high)
			within := ink.Area{X0: min(p.X, q.X), Y0: min(p.Y, q.Y), X1: max(p.X, q.X), Y1: max(p.Y, q.Y)}
			d.notes.place(note{words: s.Name, at: d.on(b.middle()), away: 30, size: letter + 6, bold: true, within: within.Shrunk(6)})
		}
	}
	for i := range d.Stands {
		for _, q := range d.Stands[i].Spots {
			at := d.on(q.At)
			d.line(thin, ink.Point{X: at.X - 8, Y: at.Y}, ink.Point{X: at.X + 8, Y: at.Y})
			d.line(thin, ink.Point{X: at.X, Y: at.Y - 8}, ink.Point{X: at.X, Y: at.Y + 8})
			d.notes.place(note{words: q.Words, at: at, away: 16, size: small, spare: true})
		}
	}
	if d.roomForNames() {
		for i := range d.Holes {
			if h := &d.Holes[i]; !d.used[h.Name] {
				d.notes.place(note{words: h.Name, at: d.on(h.At), away: h.radius()*d.pixels + 8, size: small, near: true})
			}
		}
	}
	d.notes.draw()
}

// roomForNames reports whether every hole is named: with columns and rows named, only where
// that leaves the plan light.
func (d *planSheet) roomForNames() bool {
	if len(d.Columns)+len(d.Rows) == 0 {
		return true
	}
	return min(d.Pitch.X, d.Pitch.Y)*d.pixels > 130
}

// keyEntry is a line of the key: what a mark means.
type keyEntry struct {
	words string
	draw  func(d *planSheet, at ink.Point)
}

// keyOf lists the marks that occur.
func keyOf(p *Plan) (list []keyEntry) {
	marked := func(m Mark) bool {
		return slices.ContainsFunc(p.Locators, func(l Locator) bool { return l.Mark == m })
	}
	for _, q := range []struct {
		mark  Mark
		words string
	}{
		{Round, "round pin, or dowel"},
		{Relieved, "relieved pin: across the line of the two only"},
		{Set, "pin of the face, set, locates nothing"},
		{Withdrawn, "pin of the face, withdrawn"},
		{Key, "tenon key"},
		{Stop, "stop"},
	} {
		if marked(q.mark) {
			list = append(list, keyEntry{q.words, func(d *planSheet, at ink.Point) { d.mark(q.mark, at, leastMark+1) }})
		}
	}
	if len(p.Screws) > 0 {
		list = append(list, keyEntry{"screw", func(d *planSheet, at ink.Point) { d.screw(at, leastMark) }})
	}
	if len(p.Stands) > 0 {
		list = append(list, keyEntry{"outline of what stands here", func(d *planSheet, at ink.Point) {
			d.dashes(thin*1.3, []ink.Point{{X: at.X - 26, Y: at.Y}, {X: at.X + 26, Y: at.Y}}, 20, 5, 4, 5, 4, 5)
		}})
	}
	if n := len(p.Rings); n > 0 {
		var radii []string
		for _, r := range p.Rings {
			radii = append(radii, p.Lengths.Write(r))
		}
		list = append(list, keyEntry{"rings of radius " + strings.Join(radii, ", ") + " " + p.Lengths.Name(), func(d *planSheet, at ink.Point) {
			d.dashes(faint, []ink.Point{{X: at.X - 26, Y: at.Y}, {X: at.X + 26, Y: at.Y}}, 24, 6, 4, 6)
		}})
	}
	return append(list, holeWords(p)...)
}

// holeWords says what sizes holes have, if they are alike.
func holeWords(p *Plan) []keyEntry {
	var words []string
	add := func(what string, size func(h *Hole) float64, form func(mm float64) string) {
		var sizes []float64
		for i := range p.Holes {
			if s := size(&p.Holes[i]); s > 0 && !slices.Contains(sizes, s) {
				sizes = append(sizes, s)
			}
		}
		for _, s := range sizes {
			words = append(words, what+" "+form(s))
		}
	}
	length := func(mm float64) string { return p.Lengths.Write(mm) + " " + p.Lengths.Name() }
	add("bore", func(h *Hole) float64 { return h.Bore }, length)
	add("clearance hole", func(h *Hole) float64 { return h.Through }, length)
	add("thread M", func(h *Hole) float64 { return h.Thread }, func(mm float64) string { return shortest(mm) })
	if len(words) == 0 {
		return nil
	}
	text := strings.ReplaceAll(strings.Join(words[:min(4, len(words))], ", "), "thread M ", "thread M")
	return []keyEntry{{text, func(d *planSheet, at ink.Point) {
		d.circle(thin, at, leastMark, 0, 1)
	}}}
}
