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
		d.way(wayPaper-wayLine, ink.Paper, line)
		d.way(0, ink.Text, line)
	}
}

func (d *drawing) onPage(q r3.Vector) ink.Point {
	x, y, _ := d.camera.Project(q)
	return ink.Point{X: x, Y: y}
}

// way draws a line with an arrow at its end, all of it broader by so many pixels.
func (d *drawing) way(more float64, c color.RGBA, line []ink.Point) {
	u := d.unit
	last := len(line) - 1
	a, b := line[last-1], line[last]
	l := math.Hypot(b.X-a.X, b.Y-a.Y)
	dx, dy := (b.X-a.X)/l, (b.Y-a.Y)/l
	head := min(wayHead*u, 0.8*l) + more*u/2
	breast := wayBreast/wayHead*(head-more*u/2) + more*u/2
	tip := ink.Point{X: b.X + dx*more*u/2, Y: b.Y + dy*more*u/2}
	foot := ink.Point{X: tip.X - head*dx, Y: tip.Y - head*dy}
	shaft := append(slices.Clone(line[:last]), ink.Point{X: tip.X - 0.7*head*dx, Y: tip.Y - 0.7*head*dy})
	d.page.Line((wayLine+more)*u, c, shaft...)
	d.page.Disc(line[0], (wayLine+more/2)*u, c)
	d.page.Polygon([]ink.Point{tip, {X: foot.X - breast*dy, Y: foot.Y + breast*dx}, {X: foot.X + breast*dy, Y: foot.Y - breast*dx}}, c)
}
