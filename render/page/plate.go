package page

import (
	"image/color"
	"math"

	"gridswing/render/ink"
)

// Plate is an ink.Surface for paper: what is drawn on it becomes the items of a Drawing, words
// as words and lines as lines. One goroutine draws on it. What does not fit on it is cut off,
// words are moved in. The colour ink.Paper becomes that of the paper, which is white.
//
// A page has no transparency: colours that let what is below shine through are mixed with what
// areas below them are filled with.
type Plate struct {
	// Fineness is how many pixels of pictures there are to one of the plate; 0: 1.
	Fineness float64
	// Words says what pictures on the plate show, for those who cannot see them.
	Words string

	width, height float64
	items         []plated    // in pixels, as if these were mm
	ground        *ink.Canvas // what areas are filled with; made when it is first needed
	grounded      int         // how many items are on it
}

// plated is an item on a plate; a texture lies on the ground and is none.
type plated struct {
	Item
	texture *texture
	veil    bool // a line through which the ground shines
}

// texture is what a path was made of that is a pattern.
type texture struct {
	pattern ink.Pattern
	color   color.RGBA
}

// NewPlate returns an empty plate of so many pixels, as pictures and charts count.
func NewPlate(width, height float64) *Plate { return &Plate{width: width, height: height} }

var _ ink.Surface = (*Plate)(nil)

// Size is how large the plate is, in pixels.
func (p *Plate) Size() (width, height float64) { return p.width, p.height }

// Density is how many pixels of an Image there should be to one of the plate.
func (p *Plate) Density() float64 {
	if p.Fineness > 0 {
		return p.Fineness
	}
	return 1
}

// Drawing returns what was drawn so far, so many mm wide.
func (p *Plate) Drawing(width float64) *Drawing {
	scale := width / p.width
	d := &Drawing{Width: width, Height: p.height * scale, Items: make([]Item, len(p.items))}
	for i, it := range p.items {
		d.Items[i] = it.shifted(scale, 0, 0)
	}
	return d
}

var white = color.RGBA{255, 255, 255, 255}

// printed returns the colour as it is on white paper.
func printed(col color.RGBA) color.RGBA {
	if col == ink.Paper {
		return white
	}
	return col
}

// Fill covers a rectangle.
func (p *Plate) Fill(x0, y0, x1, y1 float64, col color.RGBA) {
	a := ink.Area{X0: max(x0, 0), Y0: max(y0, 0), X1: min(x1, p.width), Y1: min(y1, p.height)}
	if a.X0 < a.X1 && a.Y0 < a.Y1 {
		p.Polygon(a.Outline(), col)
	}
}

// Polygon covers the inside of the outline (non-zero winding).
func (p *Plate) Polygon(outline []ink.Point, col color.RGBA) {
	if col.A < 255 {
		col = p.mixed(col, middle(outline))
	}
	p.fill([][]Point{points(outline)}, col)
}

// Disc covers a circle.
func (p *Plate) Disc(at ink.Point, radius float64, col color.RGBA) {
	if radius > 0 {
		p.Polygon(round(at, radius), col)
	}
}

// roundWithin is how far the sides of a disc may lie inside of the circle, in pixels.
const roundWithin = 0.03

func round(at ink.Point, radius float64) []ink.Point {
	n := 12
	if radius > roundWithin {
		n = max(n, min(int(math.Ceil(math.Pi/math.Acos(1-roundWithin/radius))), 360))
	}
	outline := make([]ink.Point, n)
	for i := range outline {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		outline[i] = ink.Point{X: at.X + radius*cos, Y: at.Y + radius*sin}
	}
	return outline
}

// Line draws a polyline of the given width with round joints. A straight one ends square if it
// is wide enough for that to be seen; the round ends of others do not reach farther.
func (p *Plate) Line(width float64, col color.RGBA, line ...ink.Point) {
	switch {
	case len(line) < 2:
	case col.A < 255:
		p.veil(width, col, line)
	case len(line) == 2 && width > roundUpTo:
		p.fill([][]Point{bar(Point(line[0]), Point(line[1]), width)}, col)
	case len(line) == 2:
		p.draw(&Path{Lines: [][]Point{points(line)}, Width: width}, col)
	default:
		ends := points(line)
		n := len(ends) - 1
		ends[0], ends[n] = nearer(ends[0], ends[1], width/2), nearer(ends[n], ends[n-1], width/2)
		p.draw(&Path{Lines: [][]Point{ends}, Width: width}, col)
	}
}

// roundUpTo is the width up to which nobody sees whether the end of a line is round, in pixels:
// a fifth of a mm on a page.
const roundUpTo = 2.5

// bar is the outline of a straight line.
func bar(a, b Point, width float64) []Point {
	l := math.Hypot(b.X-a.X, b.Y-a.Y)
	x, y := -(b.Y-a.Y)/l*width/2, (b.X-a.X)/l*width/2
	return []Point{{a.X - x, a.Y - y}, {b.X - x, b.Y - y}, {b.X + x, b.Y + y}, {a.X + x, a.Y + y}}
}

// nearer returns the point so far from a on the way to b, or half of the way if that is short.
func nearer(a, b Point, by float64) Point {
	l := math.Hypot(b.X-a.X, b.Y-a.Y)
	if l == 0 {
		return a
	}
	part := min(by/l, 0.5)
	return Point{a.X + (b.X-a.X)*part, a.Y + (b.Y-a.Y)*part}
}

// mostDashes is more than a line on any surface has.
const mostDashes = 1e5

// Dashed draws a straight line in dashes of the given length and gap.
func (p *Plate) Dashed(width, dash, gap float64, col color.RGBA, a, b ink.Point) {
	length := math.Hypot(b.X-a.X, b.Y-a.Y)
	if !(dash > 0 && gap >= 0 && length/(dash+gap) < mostDashes) {
		return
	}
	at := func(s float64) Point { return Point{a.X + (b.X-a.X)*s/length, a.Y + (b.Y-a.Y)*s/length} }
	var dashes [][]Point
	for s := 0.0; s < length; s += dash + gap {
		dashes = append(dashes, bar(at(s), at(min(s+dash, length)), width))
	}
	p.fill(dashes, col)
}

// Frame draws the outline of a rectangle.
func (p *Plate) Frame(x0, y0, x1, y1, width float64, col color.RGBA) {
	p.draw(&Path{Lines: [][]Point{points(ink.Area{X0: x0, Y0: y0, X1: x1, Y1: y1}.Outline())}, Closed: true, Width: width}, col)
}

// draw adds lines that are drawn.
func (p *Plate) draw(path *Path, col color.RGBA) {
	col = printed(col)
	path.Stroke = &col
	p.add(path, nil)
}

// fill adds outlines that are filled.
func (p *Plate) fill(outlines [][]Point, col color.RGBA) {
	col = printed(col)
	p.add(&Path{Lines: outlines, Closed: true, Fill: &col}, nil)
}

// add adds a path if any of it is on the plate.
func (p *Plate) add(path *Path, t *texture) {
	if p.fits(path) {
		p.items = append(p.items, plated{Item: path, texture: t})
	}
}

// fits reports whether any of a path is on the plate, and cuts off what is not.
func (p *Plate) fits(path *Path) bool {
	a := path.bounds()
	if !(a.X0 < p.width && a.X1 > 0 && a.Y0 < p.height && a.Y1 > 0) || min(a.X0, a.Y0) < -farthest || max(a.X1, a.Y1) > farthest {
		return false
	}
	if a.X0 < 0 || a.Y0 < 0 || a.X1 > p.width || a.Y1 > p.height {
		path.Clip = &Area{X1: p.width, Y1: p.height}
	}
	return true
}

// farthest is how far from a plate, in pixels, nothing is that is meant to be on it.
const farthest = 1e6

// bounds is the box of a path, the width of its lines included; not ordered if it has no point,
// or one that is no number.
func (p *Path) bounds() Area {
	a := Area{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	half := 0.0
	if p.Stroke != nil {
		half = p.Width / 2
	}
	for _, line := range p.Lines {
		for _, q := range line {
			a = Area{min(a.X0, q.X-half), min(a.Y0, q.Y-half), max(a.X1, q.X+half), max(a.Y1, q.Y+half)}
		}
	}
	return a
}

func points(line []ink.Point) []Point {
	list := make([]Point, len(line))
	for i, q := range line {
		list[i] = Point(q)
	}
	return list
}

// middle returns the middle of the corners.
func middle(outline []ink.Point) (m ink.Point) {
	for _, q := range outline {
		m.X, m.Y = m.X+q.X/float64(len(outline)), m.Y+q.Y/float64(len(outline))
	}
	return m
}
