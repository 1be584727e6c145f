package render

import (
	"image/color"
	"math"
	"slices"

	"gridswing/render/ink"

	"github.com/golang/geo/r3"
)

// Of the line of a way, in pixels at full size: how broad it and the paper around it are, how
// long and how broad the arrow's head is, and how short a line is left out.
const (
	wayLine   = 5.0
	wayPaper  = 12.0
	wayHead   = 34.0
	wayBreast = 13.0
	leastWay  = 6.0
)

// ways draws the lines along which things are moved, over everything.
func (d *drawing) ways() {
	for _, way := range d.Ways {
		var line []ink.Point
		for _, q := range way {
			p := d.onPage(q)
			if n := len(line); n == 0 || math.Hypot(p.X-line[n-1].X, p.Y-line[n-1].Y) > leastWay*d.unit {
				line = append(line, p)
			}
		}
		if len(line) < 2 {
			continue
		}
		d.way(wayPaper-wayLine, d.Theme.Paper, line)
		d.way(0, d.Theme.Text, line)
	}
}

// overWay reports whether the line of a way runs through an area.
func (d *drawing) overWay(b ink.Area) bool {
	step := 8 * d.unit // pixels; an area is higher
	for _, way := range d.Ways {
		for i := 1; i < len(way); i++ {
			p, q := d.onPage(way[i-1]), d.onPage(way[i])
			n := math.Ceil(math.Hypot(q.X-p.X, q.Y-p.Y) / step)
			for k := 0.0; k <= n; k++ {
				t := k / max(n, 1)
				if b.Holds(ink.Point{X: p.X + t*(q.X-p.X), Y: p.Y + t*(q.Y-p.Y)}) {
					return true
				}
			}
		}
	}
	return false
}

func (d *drawing) onPage(q r3.Vector) ink.Point {
	x, y, _ := d.camera.Project(q)
	return ink.Point{X: x, Y: y}
}

// way draws a line with an arrow at its end, all of it broader by so many pixels. The arrow
// points along the last of the line that is as long as it, from the last sharp bend on.
func (d *drawing) way(more float64, c color.RGBA, line []ink.Point) {
	u := d.unit
	b := line[len(line)-1]
	a, length := b, 0.0
	for i := len(line) - 2; i >= 0 && length < wayHead*u; i-- {
		length += math.Hypot(line[i+1].X-line[i].X, line[i+1].Y-line[i].Y)
		a = line[i]
		if i > 0 && bends(line[i-1], line[i], line[i+1]) {
			break
		}
	}
	l := math.Hypot(b.X-a.X, b.Y-a.Y) // not 0: it has no sharp bend, and two points at least
	dx, dy := (b.X-a.X)/l, (b.Y-a.Y)/l
	head := min(wayHead*u, 0.9*length)
	breast := wayBreast / wayHead * head
	grown := func(along, across float64) ink.Point { // from the tip back, and to the left
		return ink.Point{X: b.X - along*dx + across*dy, Y: b.Y - along*dy - across*dx}
	}
	e := more * u / 2
	d.page.Line((wayLine+more)*u, c, upTo(line, 0.7*head)...)
	d.page.Disc(line[0], wayLine*u+e, c)
	d.page.Polygon([]ink.Point{grown(-2*e, 0), grown(head+e, breast+1.5*e), grown(head+e, -breast-1.5*e)}, c)
}

// bends reports whether a line turns by more than 45 degrees at its second point.
func bends(a, b, c ink.Point) bool {
	ux, uy, vx, vy := b.X-a.X, b.Y-a.Y, c.X-b.X, c.Y-b.Y
	return ux*vx+uy*vy < math.Sqrt2/2*math.Hypot(ux, uy)*math.Hypot(vx, vy)
}

// upTo returns a line without the last of it, of so many pixels.
func upTo(line []ink.Point, cut float64) []ink.Point {
	for n := len(line) - 1; n > 0; n-- {
		a, b := line[n-1], line[n]
		l := math.Hypot(b.X-a.X, b.Y-a.Y)
		if l > cut {
			t := 1 - cut/l
			return append(slices.Clone(line[:n]), ink.Point{X: a.X + t*(b.X-a.X), Y: a.Y + t*(b.Y-a.Y)})
		}
		cut -= l
	}
	return line[:1]
}
