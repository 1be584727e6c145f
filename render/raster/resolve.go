package raster

import (
	"image/color"
	"math"

	"gridswing/render/ink"
)

// owner is what a boundary is drawn between: 0 for nothing, otherwise by body,
// twice as many for its cut face, and one for all overlaps.
func (t *tile) owner(i int) uint32 {
	what := t.solid.what[i]
	if what == 0 {
		return 0
	}
	s := &t.solid.shown[what-1]
	switch {
	case s.overlap:
		return 1
	case s.cutFace:
		return uint32(2*s.body + 3)
	}
	return uint32(2*s.body + 2)
}

// outline draws where one body's picture ends and another's begins: thin lines,
// and heavy ones round bodies with an Outline. It also finds the curves in which
// bodies run into each other, which are edges of neither.
func (t *tile) outline() {
	clear(t.marks)
	what := t.solid.what
	for y := range side - 1 {
		row := what[y*side : y*side+side]
		below := what[(y+1)*side : (y+1)*side+side]
		for x := range side - 1 {
			i := y*side + x
			if row[x+1] != row[x] && t.owner(i+1) != t.owner(i) {
				t.boundary(x, y, i, i+1)
			}
			if below[x] != row[x] && t.owner(i+side) != t.owner(i) {
				t.boundary(x, y, i, i+side)
			}
		}
	}
}

// Marks of a sample. The sum of those of a pixel's samples holds how many have
// the one and how many the other.
const (
	edgeMark  = 1
	heavyMark = 16
)

// boundary marks two neighbouring samples, i at (x, y) and k.
func (t *tile) boundary(x, y, i, k int) {
	t.marks[i] |= edgeMark
	t.marks[k] |= edgeMark
	width := max(t.weight(i), t.weight(k))
	if width == 0 {
		return
	}
	r := min(width, MaxOutline) / 2 * perPixel
	n := int(math.Ceil(r))
	for dy := max(-n, -y); dy <= min(n, side-1-y); dy++ {
		for dx := max(-n, -x); dx <= min(n, side-1-x); dx++ {
			if float64(dx*dx+dy*dy) <= r*r {
				t.marks[i+dy*side+dx] |= heavyMark
			}
		}
	}
}

func (t *tile) weight(i int) float64 {
	if what := t.solid.what[i]; what != 0 {
		return t.j.bodies[t.solid.shown[what-1].body].Outline
	}
	return 0
}

// resolve averages the samples of each pixel and lays patterns and ink over them.
func (t *tile) resolve() {
	j := t.j
	for y := range t.h {
		out := j.img.Pix[j.img.PixOffset(t.x0, t.y0+y):]
		for x := range t.w {
			t.pixel(x, y, out[4*x:4*x+4:4*x+4])
		}
	}
}

// pixel computes one pixel over what was there.
func (t *tile) pixel(x, y int, out []uint8) {
	first := (y+apron)*perPixel*side + (x+apron)*perPixel
	samples := [...]int{first, first + 1, first + side, first + side + 1}
	ground := color.RGBA{out[0], out[1], out[2], 255}
	var c color.RGBA
	if t.even(first) {
		c = t.sample(first, x, y, ground)
		t.note(x, y, t.bodyAt(first), first)
	} else {
		var r, g, b int
		for _, i := range samples {
			s := t.sample(i, x, y, ground)
			r, g, b = r+int(s.R), g+int(s.G), b+int(s.B)
		}
		c = color.RGBA{uint8((r + 2) / 4), uint8((g + 2) / 4), uint8((b + 2) / 4), 255}
		t.note(x, y, t.majority(&samples), first)
	}
	at := y*tileSize + x
	if t.veiled {
		c = blend(c, t.j.scene.Lines, float64(t.faint[at])/255*ghostDark)
	}
	m := t.marks
	marks := int(m[first] + m[first+1] + m[first+side] + m[first+side+1])
	if marks != 0 || t.ink[at] != 0 {
		dark := boundaryDark * max(float64(t.ink[at])/255, float64(marks%heavyMark)/4)
		c = blend(c, t.j.scene.Lines, max(dark, float64(marks/heavyMark)/4))
	}
	out[0], out[1], out[2], out[3] = c.R, c.G, c.B, 255
}

// even reports whether the four samples from first on show the same.
func (t *tile) even(first int) bool {
	w := t.solid.what
	if w[first] != w[first+1] || w[first] != w[first+side] || w[first] != w[first+side+1] {
		return false
	}
	if !t.veiled {
		return true
	}
	g, v := t.ghost.what, t.veils(first)
	return g[first] == g[first+1] && g[first] == g[first+side] && g[first] == g[first+side+1] &&
		v == t.veils(first+1) && v == t.veils(first+side) && v == t.veils(first+side+1)
}

// veils reports whether a ghost lies before what sample i shows.
func (t *tile) veils(i int) bool {
	return t.veiled && t.ghost.what[i] != 0 && t.ghost.depth[i] < t.solid.depth[i]
}

// sample is the colour of sample i of the pixel (x, y) of the tile.
func (t *tile) sample(i, x, y int, c color.RGBA) color.RGBA {
	if what := t.solid.what[i]; what != 0 {
		c = t.surface(&t.solid.shown[what-1], t.x0+x, t.y0+y)
	}
	if t.veils(i) {
		part := veil
		if t.solid.what[i] != 0 {
			part = veilOverBody
		}
		c = blend(c, t.ghost.shown[t.ghost.what[i]-1].color, part)
	}
	return c
}

// blend covers a colour with another to the given part, 0 to 1.
func blend(c, over color.RGBA, part float64) color.RGBA {
	if part <= 0 {
		return c
	}
	a := int(part*256 + 0.5)
	f := func(x, y uint8) uint8 { return uint8((int(x)*(256-a) + int(y)*a + 128) >> 8) }
	return color.RGBA{f(c.R, over.R), f(c.G, over.G), f(c.B, over.B), 255}
}

// How much of what lies behind it a ghost covers: of the ground, and of a body,
// which must stay as clear as can be.
const (
	veil         = 0.25
	veilOverBody = 0.10
)

// surface is the colour of a facet or cut face under its pattern.
func (t *tile) surface(s *shown, x, y int) color.RGBA {
	b := &t.j.bodies[s.body]
	c := s.color
	if s.overlap {
		return c
	}
	if b.Pattern != ink.Blank {
		return blend(c, b.Stroke, b.Pattern.Coverage(x, y))
	}
	if s.cutFace {
		p := ink.SectionUp
		if s.body%2 == 1 {
			p = ink.SectionDown
		}
		c = blend(c, t.j.scene.Lines, 0.6*p.Coverage(x, y))
	}
	return c
}

// bodyAt returns 1 + the body that a sample shows, 0 for none.
func (t *tile) bodyAt(i int) uint16 {
	what := t.solid.what[i]
	if what == 0 {
		return 0
	}
	return uint16(t.solid.shown[what-1].body) + 1
}

// majority returns what most of the samples show; of two equal, the first.
func (t *tile) majority(samples *[4]int) uint16 {
	best, votes := uint16(0), 0
	for k, i := range samples {
		n, o := 0, t.bodyAt(i)
		for _, other := range samples[:k+1] {
			if t.bodyAt(other) == o {
				n++
			}
		}
		if n > votes {
			best, votes = o, n
		}
	}
	return best
}

// note keeps what a pixel shows, and the depth of its sample i.
func (t *tile) note(x, y int, body uint16, i int) {
	seen := t.j.seen
	at := (t.y0+y)*seen.Width + t.x0 + x
	seen.owner[at], seen.depth[at] = body, t.solid.depth[i]
}
