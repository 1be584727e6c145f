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
	clear(t.heavy)
	clear(t.edge)
	for i := range t.owners {
		t.owners[i] = t.owner(i)
	}
	for y := range side - 1 {
		for x := range side - 1 {
			i := y*side + x
			o := t.owners[i]
			if r := t.owners[i+1]; r != o {
				t.boundary(x, y, i, i+1)
			}
			if d := t.owners[i+side]; d != o {
				t.boundary(x, y, i, i+side)
			}
		}
	}
}

// boundary marks two neighbouring samples, i at (x, y) and k.
func (t *tile) boundary(x, y, i, k int) {
	t.edge[i], t.edge[k] = true, true
	width := max(t.weight(i), t.weight(k))
	if width == 0 {
		return
	}
	r := min(width, MaxOutline) / 2 * perPixel
	n := int(math.Ceil(r))
	for dy := max(-n, -y); dy <= min(n, side-1-y); dy++ {
		for dx := max(-n, -x); dx <= min(n, side-1-x); dx++ {
			if float64(dx*dx+dy*dy) <= r*r {
				t.heavy[i+dy*side+dx] = true
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
	const n = perPixel * perPixel
	first := (y+apron)*perPixel*side + (x+apron)*perPixel
	var r, g, b, edges, heavy, veils int
	t.seen(x, y, first)
	for k := range n {
		i := first + k/perPixel*side + k%perPixel
		c := color.RGBA{out[0], out[1], out[2], 255}
		if what := t.solid.what[i]; what != 0 {
			c = t.surface(&t.solid.shown[what-1], t.x0+x, t.y0+y)
		}
		if t.veiled && t.ghost.what[i] != 0 && t.ghost.depth[i] < t.solid.depth[i] {
			c = ink.Mix(c, t.ghost.shown[t.ghost.what[i]-1].color, veil)
			veils++
		}
		r, g, b = r+int(c.R), g+int(c.G), b+int(c.B)
		edges += count(t.edge[i])
		heavy += count(t.heavy[i])
	}
	c := color.RGBA{uint8((r + n/2) / n), uint8((g + n/2) / n), uint8((b + n/2) / n), 255}
	at := y*tileSize + x
	if t.veiled {
		c = ink.Mix(c, t.j.scene.Lines, float64(t.faint[at])/255*ghostDark)
	}
	dark := boundaryDark * max(float64(t.ink[at])/255, float64(edges)/n)
	dark = max(dark, float64(heavy)/n)
	if dark > 0 {
		c = ink.Mix(c, t.j.scene.Lines, dark)
	}
	out[0], out[1], out[2], out[3] = c.R, c.G, c.B, 255
}

// veil is how much of what lies behind it a ghost covers.
const veil = 0.25

// surface is the colour of a facet or cut face under its pattern.
func (t *tile) surface(s *shown, x, y int) color.RGBA {
	b := &t.j.bodies[s.body]
	c := s.color
	if s.overlap {
		return c
	}
	if s.cutFace {
		p := ink.SectionUp
		if s.body%2 == 1 {
			p = ink.SectionDown
		}
		c = ink.Mix(c, t.j.scene.Lines, 0.6*p.Coverage(x, y))
	}
	if b.Pattern != ink.Blank {
		c = ink.Mix(c, b.Stroke, b.Pattern.Coverage(x, y))
	}
	return c
}

// seen notes the body that most samples of the pixel show; of two equal, the first.
func (t *tile) seen(x, y, first int) {
	best, votes := uint16(0), 0
	var of [perPixel * perPixel]uint16
	for k := range of {
		if what := t.solid.what[first+k/perPixel*side+k%perPixel]; what != 0 {
			of[k] = uint16(t.solid.shown[what-1].body) + 1
		}
		n := 0
		for _, o := range of[:k+1] {
			n += count(o == of[k])
		}
		if n > votes {
			best, votes = of[k], n
		}
	}
	t.j.seen.owner[(t.y0+y)*t.j.seen.Width+t.x0+x] = best
}

func count(b bool) int {
	if b {
		return 1
	}
	return 0
}
