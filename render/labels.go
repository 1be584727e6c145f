package render

import (
	"image"
	"math"
	"slices"

	"gridswing/render/ink"
)

// hiddenBy is how far a marked point may lie below a surface, in pixels, before
// it counts as hidden: points of contact lie on one, or just inside.
const hiddenBy = 4

// labels names the marks and the bodies with a verdict; in a close-up all bodies
// that are seen.
func (d *drawing) labels() {
	setter := ink.Labels{Inside: d.view.Shrunk(10 * d.unit), Unit: d.unit, Cost: d.covered}
	var wanted []ink.Label
	for _, m := range d.Marks {
		x, y, depth := d.camera.Project(m.Point)
		l := ink.Label{Words: m.Label, Mark: true, Anchor: ink.Point{X: x, Y: y}}
		if !d.view.Holds(l.Anchor) {
			d.silent = append(d.silent, m.Label)
			continue
		}
		if d.seen.Hides(int(x), int(y), depth, hiddenBy/d.camera.Scale) {
			l.Hidden = true
			l.Words += " (hidden)"
		}
		wanted = append(wanted, l)
	}
	spots := make([]*ink.Point, len(d.Items))
	if d.Close != nil || slices.ContainsFunc(d.Items, func(it Item) bool { return it.Emphasis >= Tight }) {
		d.findSpots(spots)
	}
	for _, e := range worstFirst {
		for i := range d.Items {
			if it := &d.Items[i]; it.Emphasis == e && it.Name != "" {
				if spots[i] == nil {
					d.silent = append(d.silent, it.Name)
					continue
				}
				wanted = append(wanted, ink.Label{Words: it.Name, Bold: true, Anchor: *spots[i],
					Swatch: func(c *ink.Canvas, a ink.Area) { swatch(c, a, e, d.bodies[i].Pattern, d.unit) }})
			}
		}
	}
	for _, l := range setter.Place(wanted) {
		d.silent = append(d.silent, l.Words)
	}
	if d.Close != nil {
		setter.Place(d.plainLabels(spots)) // those that find no place are not missed
	}
	setter.Draw(d.page)
}

func (d *drawing) plainLabels(spots []*ink.Point) []ink.Label {
	var plain []ink.Label
	for i := range d.Items {
		if it := &d.Items[i]; it.Emphasis == Plain && it.Name != "" && spots[i] != nil {
			plain = append(plain, ink.Label{Words: it.Name, Anchor: *spots[i]})
		}
	}
	return plain
}

// findSpots finds for each item that is seen the pixel deepest inside of
// what is seen of it: a place that is surely the body.
func (d *drawing) findSpots(spots []*ink.Point) {
	const step = 2 // pixels
	w, h := d.Width/step, int(d.view.Height())/step
	who := make([]int32, w*h)
	for i := range who {
		who[i] = int32(d.seen.Body(i%w*step, int(d.view.Y0)+i/w*step))
	}
	inset := insets(who, w, h)
	deepest := make([]int32, len(d.Items))
	for i, body := range who {
		if body >= 0 && (spots[body] == nil || inset[i] > deepest[body]) {
			deepest[body] = inset[i]
			spots[body] = &ink.Point{X: float64(i%w*step) + 0.5, Y: math.Floor(d.view.Y0) + float64(i/w*step) + 0.5}
		}
	}
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

// covered is the part of the area that lies over bodies, 0 to 1.
func (d *drawing) covered(b ink.Area) float64 {
	n, hits := 0, 0
	for v := range 3 {
		for h := range 9 {
			x, y := int(b.X0+b.Width()*float64(h)/8), int(b.Y0+b.Height()*float64(v)/2)
			n++
			if image.Pt(x, y).In(d.page.Rect) && d.seen.Body(x, y) >= 0 {
				hits++
			}
		}
	}
	return float64(hits) / float64(n)
}
