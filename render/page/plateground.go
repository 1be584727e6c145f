package page

import (
	"image"
	"image/color"
	"math"
	"slices"

	"gridswing/render/ink"
)

// overlap is by how much an area of a mosaic reaches below its neighbours to the right and
// below, in pixels: with edges that only touch, what lies below shows between them on screens.
const overlap = 0.35

// Mosaic covers areas; those of one colour become one path.
func (p *Plate) Mosaic(tiles []ink.Tile) {
	var right, foot float64
	for _, t := range tiles {
		right, foot = max(right, t.X1), max(foot, t.Y1)
	}
	right, foot = min(right, p.width), min(foot, p.height)
	var colors []color.RGBA
	areas := map[color.RGBA][][]Point{}
	for _, t := range tiles {
		a := ink.Area{X0: max(t.X0, 0), Y0: max(t.Y0, 0), X1: min(t.X1+overlap, right), Y1: min(t.Y1+overlap, foot)}
		if a.X0 >= a.X1 || a.Y0 >= a.Y1 {
			continue
		}
		if areas[t.Color] == nil {
			colors = append(colors, t.Color)
		}
		areas[t.Color] = append(areas[t.Color], points(a.Outline()))
	}
	for _, c := range colors {
		p.fill(areas[c], c)
	}
}

// mixed returns a colour mixed with what the ground is at a point.
func (p *Plate) mixed(col color.RGBA, at ink.Point) color.RGBA {
	below := white
	if x, y := int(math.Floor(at.X)), int(math.Floor(at.Y)); image.Pt(x, y).In(p.grounds().Rect) {
		below = p.grounds().RGBAAt(x, y)
	}
	opaque := col
	opaque.A = 255
	return ink.Mix(below, printed(opaque), float64(col.A)/255)
}

// grounds returns what areas are filled with so far, patterns left out.
func (p *Plate) grounds() *ink.Canvas {
	if p.ground == nil {
		p.ground = ink.NewCanvas(int(math.Ceil(p.width)), int(math.Ceil(p.height)), white)
	}
	for ; p.grounded < len(p.items); p.grounded++ {
		it := p.items[p.grounded]
		path, is := it.Item.(*Path)
		if !is || path.Fill == nil || it.texture != nil {
			continue
		}
		for _, line := range path.Lines {
			outline := make([]ink.Point, len(line))
			for i, q := range line {
				outline[i] = ink.Point(q)
			}
			p.ground.Polygon(outline, *path.Fill)
		}
	}
	return p.ground
}

// veil draws a line through which the ground shines, in pieces of one colour each. It goes
// below patterns, so that these show on it as they are.
func (p *Plate) veil(width float64, col color.RGBA, line []ink.Point) {
	p.grounds()
	at := len(p.items)
	for at > 0 && p.items[at-1].texture != nil {
		at--
	}
	n := len(p.items)
	for i := 1; i < len(line); i++ {
		a, b := line[i-1], line[i]
		steps := max(1, math.Ceil(math.Hypot(b.X-a.X, b.Y-a.Y)))
		along := func(k float64) ink.Point {
			return ink.Point{X: a.X + (b.X-a.X)*k/steps, Y: a.Y + (b.Y-a.Y)*k/steps}
		}
		from, is := 0.0, p.mixed(col, along(0.5))
		for k := 1.0; k <= steps; k++ {
			next := color.RGBA{}
			if k < steps {
				next = p.mixed(col, along(k+0.5))
			}
			if next != is {
				p.draw(&Path{Lines: [][]Point{points([]ink.Point{along(from), along(k)})}, Width: width}, is)
				from, is = k, next
			}
		}
	}
	pieces := slices.Clone(p.items[n:])
	p.items = slices.Insert(p.items[:n], at, pieces...)
	p.grounded = len(p.items)
}
