package page

import (
	"image"
	"image/color"
	"math"
	"slices"

	"gridswing/render/ink"
)

// overlap is how far an area of a mosaic reaches below those that follow it to the right and
// below, in pixels: two edges that only touch let what is below them shine through on a screen,
// so this is more than a pixel of one on which a page is looked at as a whole.
const overlap = 4

// Mosaic covers areas, the later ones over the earlier ones.
func (p *Plate) Mosaic(tiles []ink.Tile) {
	foot := 0.0
	for _, t := range tiles {
		foot = max(foot, t.Y1)
	}
	onPlate := ink.Area{X1: p.width, Y1: p.height}
	var outlines [][]Point
	for i, t := range tiles {
		for _, a := range reaching(tiles, i, foot) {
			a = ink.Area{X0: max(a.X0, 0), Y0: max(a.Y0, 0), X1: min(a.X1, p.width), Y1: min(a.Y1, p.height)}
			if a.X0 < a.X1 && a.Y0 < a.Y1 && a.Within(onPlate) {
				outlines = append(outlines, points(a.Outline()))
			}
		}
		if i+1 == len(tiles) || tiles[i+1].Color != t.Color {
			p.fill(outlines, t.Color)
			outlines = nil
		}
	}
}

// reaching returns the area of a tile, and what it covers of the tiles that follow.
func reaching(tiles []ink.Tile, i int, foot float64) []ink.Area {
	a := tiles[i].Area
	below := a
	for k := i + 1; k < len(tiles) && tiles[k].X0 == below.X1 && below.X1 < a.X1+overlap; k++ {
		n := tiles[k].Area
		if below.Y0, below.Y1 = max(below.Y0, n.Y0), min(below.Y1, n.Y1); below.Y0 >= below.Y1 {
			break
		}
		below.X1 = n.X1
	}
	right := min(below.X1, a.X1+overlap)
	if below.Y0 != a.Y0 || below.Y1 != a.Y1 {
		below.X0, below.X1, below.Y1 = a.X1-overlap, right, min(below.Y1+overlap, foot)
		below.X0 = max(below.X0, a.X0)
		a.Y1 = min(a.Y1+overlap, foot)
		return []ink.Area{a, below}
	}
	a.X1, a.Y1 = right, min(a.Y1+overlap, foot)
	return []ink.Area{a}
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
	first := at // of the veils that lie there already
	for first > 0 && p.items[first-1].veil {
		first--
	}
	veils := p.items[first:at:at]
	piece := func(a, b ink.Point, col color.RGBA) {
		col = printed(col)
		path := &Path{Lines: [][]Point{{Point(a), Point(b)}}, Stroke: &col, Width: width}
		if !p.fits(path) {
			return
		}
		for _, it := range veils {
			if of := it.Item.(*Path); *of.Stroke == col && of.Width == width && of.Clip == nil && path.Clip == nil {
				of.Lines = append(of.Lines, path.Lines...)
				return
			}
		}
		veils = append(veils, plated{Item: path, veil: true})
	}
	for i := 1; i < len(line); i++ {
		p.pieces(line[i-1], line[i], col, piece)
	}
	p.items = slices.Concat(p.items[:first], veils, p.items[at:])
	p.grounded = len(p.items)
}

// pieces cuts a line through which the ground shines into pieces of one colour.
func (p *Plate) pieces(a, b ink.Point, col color.RGBA, piece func(a, b ink.Point, col color.RGBA)) {
	steps := max(1, math.Ceil(math.Hypot(b.X-a.X, b.Y-a.Y)))
	if !(steps < farthest) {
		return
	}
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
			piece(along(from), along(k), is)
			from, is = k, next
		}
	}
}
