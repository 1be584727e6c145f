package raster

import (
	"image/color"
	"math"
	"math/bits"

	"gridswing/render/ink"
)

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
	p := (y+apron)*side + x + apron
	t.note(x, y, p)
	at := y*tileSize + x
	var thin, heavy, faint uint16
	if t.marks.used {
		thin, heavy, faint = t.marks.thin[p], t.marks.heavy[p], t.marks.faint[p]
	}
	px := &t.solid.pixels[p]
	veiled := t.veiled && t.ghost.pixels[p].cover != 0
	bare := px.cover == 0 && !veiled
	if bare && thin|heavy|faint == 0 && t.ink[at]|t.faint[at] == 0 {
		return
	}
	c := color.RGBA{out[0], out[1], out[2], 255}
	switch {
	case !veiled && px.cover == all && px.what == mixed && px.owner != several && !t.patterned(px.owner):
		c = t.mean(p)
	case veiled || px.cover != all && !bare || px.what == mixed:
		c = t.average(p, x, y, c)
	case !bare:
		c = t.surface(&t.solid.shown[px.what], t.x0+x, t.y0+y)
	}
	lines := t.j.scene.Lines
	c = blend(c, lines, ghostDark*max(float64(t.faint[at])/255, share(faint)))
	if thin|heavy != 0 || t.ink[at] != 0 {
		dark := boundaryDark * max(float64(t.ink[at])/255, share(thin))
		c = blend(c, lines, max(dark, share(heavy)))
	}
	out[0], out[1], out[2], out[3] = c.R, c.G, c.B, 255
}

// share is the part of a pixel's samples that a mask names.
func share(mask uint16) float64 { return float64(bits.OnesCount16(mask)) / samples }

// patterned reports whether a surface or cut face has a pattern.
func (t *tile) patterned(owner uint32) bool {
	return owner < firstBody || (owner-firstBody)%perBody != 0 || t.j.bodies[(owner-firstBody)/perBody].Pattern != ink.Blank
}

// mean is the mean colour of a pixel's samples where they show facets of one body.
func (t *tile) mean(p int) color.RGBA {
	_, what := t.solid.samplesOf(p)
	var r, g, b uint32
	for _, w := range what {
		c := &t.solid.shown[w].color
		r, g, b = r+uint32(c.R), g+uint32(c.G), b+uint32(c.B)
	}
	return meanOf(r, g, b)
}

// meanOf divides sums over all samples.
func meanOf(r, g, b uint32) color.RGBA {
	const half = samples / 2
	return color.RGBA{uint8((r + half) / samples), uint8((g + half) / samples), uint8((b + half) / samples), 255}
}

// average is the mean colour of a pixel's samples over the ground.
func (t *tile) average(p, x, y int, ground color.RGBA) color.RGBA {
	px := &t.solid.pixels[p]
	var veils uint16
	if t.veiled {
		veils = t.veils(p)
	}
	var r, g, b uint32
	before, last := uint32(mixed), ground // what the sample before shows
	for s := range samples {
		c := ground
		if px.cover>>s&1 != 0 {
			if what := t.solid.whatAt(p, s); what != before {
				before, last = what, t.surface(&t.solid.shown[what], t.x0+x, t.y0+y)
			}
			c = last
		}
		if veils>>s&1 != 0 {
			part := veil
			if px.cover>>s&1 != 0 {
				part = veilOverBody
			}
			c = blend(c, t.ghost.shown[t.ghost.whatAt(p, s)].color, part)
		}
		r, g, b = r+uint32(c.R), g+uint32(c.G), b+uint32(c.B)
	}
	return meanOf(r, g, b)
}

// veils returns the samples of pixel p where a ghost lies before what is seen.
func (t *tile) veils(p int) uint16 {
	g, px := &t.ghost.pixels[p], &t.solid.pixels[p]
	switch {
	case g.cover == 0 || px.cover == 0 || g.far < px.near:
		return g.cover
	case px.cover == all && px.far <= g.near:
		return 0
	}
	mask := g.cover
	for m := g.cover & px.cover; m != 0; m &= m - 1 {
		if s := bits.TrailingZeros16(m); t.ghost.depthAt(p, s) >= t.solid.depthAt(p, s) {
			mask &^= 1 << s
		}
	}
	return mask
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
		return blend(c, b.Stroke, b.Pattern.CoverageAt(x, y, t.j.scene.density()))
	}
	if s.cutFace {
		p := ink.SectionUp
		if s.body%2 == 1 {
			p = ink.SectionDown
		}
		c = blend(c, t.j.scene.Lines, 0.6*p.CoverageAt(x, y, t.j.scene.density()))
	}
	return c
}

// note keeps which body a pixel shows, and how deep.
func (t *tile) note(x, y, p int) {
	seen := t.j.seen
	at := (t.y0+y)*seen.Width + t.x0 + x
	l := &t.solid
	px := &l.pixels[p]
	switch {
	case px.cover == 0:
		seen.owner[at], seen.depth[at] = 0, math.MaxFloat32
	case px.cover == all && px.what != mixed:
		seen.owner[at], seen.depth[at] = uint16(l.shown[px.what].body)+1, l.middleOf(p, px.what)
	case px.cover == all && px.owner != several:
		seen.owner[at], seen.depth[at] = uint16(l.shown[l.whatAt(p, 0)].body)+1, l.middleOf(p, l.whatAt(p, middle))
	default:
		seen.owner[at], seen.depth[at] = t.majority(p), math.MaxFloat32
		if px.cover>>middle&1 != 0 {
			seen.depth[at] = l.middleOf(p, l.whatAt(p, middle))
		}
	}
}

// majority returns 1 + the body that most of a pixel's samples show, 0 for none; of two
// equal, the one whose samples come first.
func (t *tile) majority(p int) uint16 {
	var bodies [samples]uint16
	for s := range bodies {
		if t.solid.pixels[p].cover>>s&1 != 0 {
			bodies[s] = uint16(t.solid.shown[t.solid.whatAt(p, s)].body) + 1
		}
	}
	best, votes := uint16(0), 0
	for s, b := range bodies {
		n := 0
		for _, other := range bodies[s:] {
			if other == b {
				n++
			}
		}
		if n > votes {
			best, votes = b, n
		}
	}
	return best
}
