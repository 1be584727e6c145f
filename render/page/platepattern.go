package page

import (
	"image"
	"image/color"
	"math"
	"slices"

	"gridswing/render/ink"
)

// Pattern covers a rectangle with a pattern.
func (p *Plate) Pattern(r image.Rectangle, pattern ink.Pattern, col color.RGBA) {
	a := ink.Area{X0: float64(r.Min.X), Y0: float64(r.Min.Y), X1: float64(r.Max.X), Y1: float64(r.Max.Y)}
	if a.X0 < a.X1 && a.Y0 < a.Y1 {
		p.PatternIn([][]ink.Point{a.Outline()}, pattern, col)
	}
}

// PatternIn puts a pattern on what is inside of the outlines: as outlines of what is left of
// its lines there, which are cut off exactly, and fixed to the plate. Patterns of one kind that
// follow each other become one path.
func (p *Plate) PatternIn(outlines [][]ink.Point, pattern ink.Pattern, col color.RGBA) {
	stripes, dots := pattern.Lines()
	outlines = p.within(outlines)
	var lines [][]Point
	for _, s := range stripes {
		lines = append(lines, striped(outlines, s)...)
	}
	if dots != nil {
		rows, rims := dotted(outlines, *dots)
		lines = rims
		p.texture(&Path{Lines: rows, Width: 2 * dots.Radius, Dash: []float64{leastDash, dots.Period - leastDash}}, pattern, col)
	}
	p.texture(&Path{Lines: lines, Closed: true}, pattern, col)
}

// leastDash is how long a dash is that is but a dot, in pixels: not every program draws one
// that has no length.
const leastDash = 0.02

// texture adds a part of a pattern, to the last path if that is more of the same.
func (p *Plate) texture(path *Path, pattern ink.Pattern, col color.RGBA) {
	if len(path.Lines) == 0 {
		return
	}
	col = printed(col)
	if path.Closed {
		path.Fill = &col
	} else {
		path.Stroke = &col
	}
	t := texture{pattern, col}
	for i := len(p.items) - 1; i >= 0 && p.items[i].texture != nil; i-- {
		if last := p.items[i].Item.(*Path); *p.items[i].texture == t && last.Closed == path.Closed && last.Clip == nil {
			last.Lines = append(last.Lines, path.Lines...)
			if a := path.bounds(); a.X0 < 0 || a.Y0 < 0 || a.X1 > p.width || a.Y1 > p.height {
				last.Clip = &Area{X1: p.width, Y1: p.height}
			}
			return
		}
	}
	p.add(path, &t)
}

// striped returns the outlines of stripes inside of outlines.
func striped(outlines [][]ink.Point, s ink.Stripes) (lines [][]Point) {
	l := math.Hypot(s.X, s.Y)
	x, y := s.X/l, s.Y/l
	turned := make([][]ink.Point, len(outlines)) // X across the stripes, Y along them
	least, most := math.Inf(1), math.Inf(-1)
	for i, outline := range outlines {
		for _, q := range outline {
			u := q.X*x + q.Y*y
			turned[i] = append(turned[i], ink.Point{X: u, Y: q.Y*x - q.X*y})
			least, most = min(least, u), max(most, u)
		}
	}
	edges := edgesOf(turned)
	for k := math.Ceil((least - s.Width/2) / s.Period); k*s.Period-s.Width/2 < most; k++ {
		for _, piece := range edges.within(k*s.Period-s.Width/2, k*s.Period+s.Width/2) {
			line := make([]Point, len(piece))
			for i, q := range piece {
				line[i] = Point{q.X*x - q.Y*y, q.X*y + q.Y*x}
			}
			lines = append(lines, line)
		}
	}
	return lines
}

// within returns what of outlines is on the plate.
func (p *Plate) within(outlines [][]ink.Point) (kept [][]ink.Point) {
	all := slab{{}, {X: p.width}, {X: p.width, Y: p.height}, {Y: p.height}}
	for _, outline := range outlines {
		far := func(q ink.Point) bool { return !(math.Abs(q.X) < farthest && math.Abs(q.Y) < farthest) }
		if !slices.ContainsFunc(outline, far) {
			kept = append(kept, all.cut(outline))
		}
	}
	return kept
}

// dotted returns dots inside of outlines: those that are whole in rows from the middle of the first
// one to beyond that of the last one, a dot in each period; and the outlines of the others.
func dotted(outlines [][]ink.Point, d ink.Quincunx) (rows, rims [][]Point) {
	edges := edgesOf(outlines)
	if len(edges) == 0 {
		return nil, nil
	}
	slabs := edges.slabs(edges[0].a.X, edges.most())
	low, high := math.Inf(1), math.Inf(-1)
	for _, s := range slabs {
		low, high = min(low, s[0].Y, s[1].Y), max(high, s[2].Y, s[3].Y)
	}
	half := d.Period / 2
	for j := math.Floor((low - d.Radius) / half); j*half < high+d.Radius; j++ {
		y, shift := j*half, 0.0
		if math.Mod(j, 2) != 0 {
			shift = half
		}
		open, first, last := false, 0.0, 0.0
		end := func() {
			if open {
				rows = append(rows, []Point{{first, y}, {last + d.Period/4, y}})
			}
			open = false
		}
		for k := math.Floor((edges[0].a.X - d.Radius - shift) / d.Period); k*d.Period+shift < edges.most()+d.Radius; k++ {
			at := ink.Point{X: k*d.Period + shift, Y: y}
			whole, pieces := dot(slabs, at, d.Radius)
			if !whole {
				end()
				rims = append(rims, pieces...)
				continue
			}
			if !open {
				open, first = true, at.X
			}
			last = at.X
		}
		end()
	}
	return rows, rims
}

// dot returns what of a disc is inside of slabs: all of it, or pieces.
func dot(slabs []slab, at ink.Point, radius float64) (whole bool, pieces [][]Point) {
	disc := round(at, radius)
	left := area(disc)
	for _, s := range slabs {
		if s[0].X > at.X+radius {
			break
		}
		if s[1].X < at.X-radius || max(s[2].Y, s[3].Y) < at.Y-radius || min(s[0].Y, s[1].Y) > at.Y+radius {
			continue
		}
		if part := s.cut(disc); len(part) > 2 {
			left -= area(part)
			pieces = append(pieces, points(part))
		}
	}
	return left < 1e-6*radius*radius, pieces
}

// area is that inside of an outline, positive or negative with its sense, made positive.
func area(outline []ink.Point) float64 {
	sum := 0.0
	for i, q := range outline {
		p := outline[(i+len(outline)-1)%len(outline)]
		sum += p.X*q.Y - q.X*p.Y
	}
	return math.Abs(sum) / 2
}
