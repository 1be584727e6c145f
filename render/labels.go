package render

import (
	"cmp"
	"image"
	"math"
	"slices"

	"gridswing/render/ink"
)

// hiddenBy is how far a marked point may lie below a surface, in pixels, before
// it counts as hidden: points of contact lie on one, or just inside.
const hiddenBy = 4

// labels names the marks and the bodies with a verdict; then what is numbered, or else in a
// close-up all bodies that are seen, elsewhere the units.
func (d *drawing) labels() {
	setter := ink.Labels{Inside: d.view.Shrunk(10 * d.unit), Unit: d.unit, Cost: d.covered, Theme: d.Theme}
	var wanted []ink.Label
	for i := range d.Marks {
		if l, ok := d.markLabel(&d.Marks[i], &setter); ok {
			wanted = append(wanted, l)
		}
	}
	spots := d.findSpots()
	wanted = append(wanted, d.verdictLabels(spots)...)
	for _, l := range setter.Place(wanted) {
		d.silent = append(d.silent, l.Words)
	}
	switch {
	case d.Numbers:
		d.number(&setter, spots)
	case d.Close != nil:
		setter.Place(d.plainLabels(spots, mostLabelled*d.view.Width()*d.view.Height()-setter.Covered())) // those that find no place are not missed
	default:
		setter.Place(d.unitLabels(spots)) // nor are these
	}
	setter.Draw(d.page)
}

// markLabel returns the label of a mark, and draws the dimension of its gap if that is seen, and long
// enough to be; ok is false if the mark is outside of the picture.
func (d *drawing) markLabel(m *Mark, setter *ink.Labels) (l ink.Label, ok bool) {
	x, y, depth := d.camera.Project(m.Point)
	l = ink.Label{Words: m.Label, Mark: true, Anchor: ink.Point{X: x, Y: y}}
	if !d.view.Holds(l.Anchor) {
		d.silent = append(d.silent, m.Label)
		return l, false
	}
	if px, py := d.pixel(x, y); d.seen.Hides(px, py, depth, hiddenBy/d.camera.Scale) {
		l.Hidden = true
		l.Words += " (hidden)"
		return l, true // no dimension on what stands before it
	}
	if dim, ok := d.dimensionOf(m); ok {
		d.dimension(&dim)
		setter.Keep = append(setter.Keep, dim.line)
		l.Plain, l.Anchor = true, dim.value
		if dim.outside {
			l.Line = dim.line
		}
	}
	return l, true
}

// verdictLabels names the bodies with a verdict, worst first.
func (d *drawing) verdictLabels(spots []spot) (wanted []ink.Label) {
	for _, e := range worstFirst {
		for i := range d.Items {
			it := &d.Items[i]
			if it.Emphasis != e || it.Name == "" {
				continue
			}
			if spots[i].inset < 0 {
				d.silent = append(d.silent, it.Name)
				continue
			}
			wanted = append(wanted, ink.Label{Words: it.Name, Bold: true, Anchor: spots[i].Point,
				Swatch: func(c ink.Surface, a ink.Area) { d.swatch(c, a, e, d.bodies[i].Pattern) }})
		}
	}
	return wanted
}

// mostLabelled is the part of a view that labels in a close-up may cover before bodies without a verdict
// go without one: in a small picture they would hide what it is of.
const mostLabelled = 1.0 / 6

// plainLabels names bodies without a verdict, the best seen first where their labels would cover more
// than some room, in square pixels.
func (d *drawing) plainLabels(spots []spot, room float64) []ink.Label {
	var order []int
	for i := range d.Items {
		if it := &d.Items[i]; it.Emphasis == Plain && it.Name != "" && spots[i].inset >= 0 {
			order = append(order, i)
		}
	}
	slices.SortStableFunc(order, func(i, k int) int { return cmp.Compare(spots[k].inset, spots[i].inset) })
	setter := ink.Labels{Unit: d.unit}
	for n, i := range order {
		if room -= setter.Size(&ink.Label{Words: d.Items[i].Name}); room < 0 {
			order = order[:n]
			break
		}
	}
	slices.Sort(order)
	var plain []ink.Label
	for _, i := range order {
		plain = append(plain, ink.Label{Words: d.Items[i].Name, Anchor: spots[i].Point})
	}
	return plain
}

const (
	mostUnits = 10 // named in one picture: with more, leaders hide what they lead to
	leastSeen = 3  // inset of a unit that is worth a name: less of it cannot be recognised
)

// unitLabels names the units that are seen best, the best seen first. A unit of
// which a body is named for its verdict needs no second label.
func (d *drawing) unitLabels(spots []spot) []ink.Label {
	type unit struct {
		name  string
		spot  spot
		moved bool
	}
	var units []unit
	named := map[string]bool{"": true}
	for i := range d.Items {
		if it := &d.Items[i]; it.Emphasis >= Tight {
			named[it.Unit] = true
		}
	}
	for i := range d.Items {
		it := &d.Items[i]
		if named[it.Unit] || it.Emphasis != Plain && it.Emphasis != Moved {
			continue
		}
		k := slices.IndexFunc(units, func(u unit) bool { return u.name == it.Unit })
		if k < 0 {
			units = append(units, unit{it.Unit, spots[i], it.Emphasis == Moved})
		} else if spots[i].inset > units[k].spot.inset {
			units[k].spot = spots[i]
		}
	}
	units = slices.DeleteFunc(units, func(u unit) bool { return u.spot.inset < leastSeen })
	slices.SortStableFunc(units, func(a, b unit) int { return cmp.Compare(b.spot.inset, a.spot.inset) })
	var labels []ink.Label
	for _, u := range units[:min(mostUnits, len(units))] {
		labels = append(labels, ink.Label{Words: u.name, Bold: u.moved, Anchor: u.spot.Point})
	}
	return labels
}

// spot is the pixel deepest inside of what is seen of a body: a place that is
// surely the body.
type spot struct {
	ink.Point
	inset int32 // how deep, in steps of findSpots; -1: the body is not seen
}

// findSpots finds the spot of each item.
func (d *drawing) findSpots() []spot {
	const step = 2 // pixels
	w, h := d.Width/step, int(d.view.Height())/step
	who := make([]int32, w*h)
	for i := range who {
		who[i] = int32(d.seen.Body(d.pixel(float64(i%w*step), math.Floor(d.view.Y0)+float64(i/w*step))))
	}
	inset := insets(who, w, h)
	spots := make([]spot, len(d.Items))
	for i := range spots {
		spots[i].inset = -1
	}
	for i, body := range who {
		if body >= 0 && inset[i] > spots[body].inset {
			spots[body] = spot{ink.Point{X: float64(i%w*step) + 0.5, Y: math.Floor(d.view.Y0) + float64(i/w*step) + 0.5}, inset[i]}
		}
	}
	return spots
}

// insets returns how many steps each place is from the end of its body, along
// rows, columns or diagonals: the chessboard distance, in two passes
// (Rosenfeld and Pfaltz, Journal of the ACM 13(4), 1966).
func insets(who []int32, w, h int) []int32 {
	inset := make([]int32, w*h)
	for i := range inset {
		inset[i] = int32(w + h)
	}
	pass := func(x, y, dx, dy int) {
		i := y*w + x
		for _, n := range [4][2]int{{x - dx, y}, {x, y - dy}, {x - dx, y - dy}, {x + dx, y - dy}} {
			if n[0] < 0 || n[0] >= w || n[1] < 0 || n[1] >= h || who[n[1]*w+n[0]] != who[i] {
				inset[i] = 0
				return
			}
			inset[i] = min(inset[i], inset[n[1]*w+n[0]]+1)
		}
	}
	for i := range inset {
		pass(i%w, i/w, 1, 1)
	}
	for i := len(inset) - 1; i >= 0; i-- {
		pass(i%w, i/w, -1, -1)
	}
	return inset
}

// covered is the part of the area that lies over bodies, 0 to 1; all of it where the line of
// a way is covered.
func (d *drawing) covered(b ink.Area) float64 {
	if d.overWay(b) {
		return 1
	}
	n, hits := 0, 0
	for v := range 3 {
		for h := range 9 {
			x, y := d.pixel(b.X0+b.Width()*float64(h)/8, b.Y0+b.Height()*float64(v)/2)
			n++
			if image.Pt(x, y).In(d.scene.Rect) && d.seen.Body(x, y) >= 0 {
				hits++
			}
		}
	}
	return float64(hits) / float64(n)
}
