package raster

import (
	"image/color"
	"math"
	"math/bits"
)

// layer is a depth buffer for the samples of a tile. Where one thing covers a whole pixel, only
// that is kept; the samples are written out when something else reaches into the pixel.
type layer struct {
	x0, y0 int // the image's pixel at the upper left of the buffer
	pixels []pixel
	depth  []float32 // of each pixel's samples, where mixed and covered
	what   []uint32  // likewise: an entry in shown
	shown  []shown
}

// pixel is what is known of a pixel's samples together.
type pixel struct {
	near, far float32 // bounds of their depths, if there are any
	what      uint32  // what all of them show: an entry in shown, or mixed
	owner     uint32  // whose they are; several
	cover     uint16  // those that show anything
}

const (
	mixed   = math.MaxUint32 // each sample for itself
	several = math.MaxUint32 // owners
)

// shown is what samples of a tile can show: a facet or a cut face of a body.
type shown struct {
	face    *facet // its plane tells the depth
	owner   uint32
	color   color.RGBA
	body    int32
	cutFace bool
	overlap bool // a cut face that belongs to two bodies
}

// Owners: outlines are drawn where one owner's samples end. There is one for nothing, one for
// all overlaps, and two for each body: its surface and its cut face.
const (
	nobody    = 0
	overlaps  = 1
	cutFaces  = 1 // more than the body's surface
	perBody   = 2
	firstBody = 2
)

func surfaceOf(body int) uint32 { return uint32(perBody*body + firstBody) }

func newLayer(n int) layer {
	return layer{pixels: make([]pixel, n), depth: make([]float32, samples*n), what: make([]uint32, samples*n)}
}

func (l *layer) clear(x0, y0 int) {
	l.x0, l.y0 = x0, y0
	clear(l.pixels)
	l.shown = l.shown[:0]
}

// brush is what is being drawn.
type brush struct {
	what      uint32
	owner     uint32
	near, far float32 // of the facet
	reach     float32 // how much depth differs between a pixel's middle and its samples at most
	steep     bool
	onto      bool             // covers also what is as near
	off       [samples]float32 // depth of each sample less that of the pixel's middle
}

// dip makes an entry of the shown list what is drawn.
func (l *layer) dip(r *brush, what uint32) {
	r.what, r.owner = what, l.shown[what].owner
	r.along(l.shown[what].face)
}

// along makes the brush follow a face.
func (r *brush) along(f *facet) {
	r.near, r.far, r.steep = f.near, f.far, f.steep
	dx, dy := float32(f.depth.dx/samples), float32(f.depth.dy/samples)
	r.reach = (max(dx, -dx) + max(dy, -dy)) * (samples - 1) / 2
	// In sixteenths of a pixel from the middle: x = 4i + j - 7.5, y = 4j - i - 4.5.
	alongI, alongJ := 4*dx-dy, dx+4*dy
	at := -7.5*dx - 4.5*dy
	for j := 0; j < samples; j += 4 {
		r.off[j], r.off[j+1], r.off[j+2], r.off[j+3] = at, at+alongI, at+2*alongI, at+3*alongI
		at += alongJ
	}
}

// at is the depth of a sample, given that of the pixel's middle.
func (r *brush) at(z float32, s int) float32 {
	d := z + r.off[s&(samples-1)]
	if r.steep {
		d = max(r.near, min(d, r.far))
	}
	return d
}

// paint draws over the samples of pixel p that the mask names and that are not nearer. The
// facet lies at depth z in the middle of the pixel.
func (l *layer) paint(r *brush, p int, mask uint16, z float32) {
	px := &l.pixels[p]
	near, far := z-r.reach, z+r.reach
	if r.steep {
		near, far = r.near, r.far
	}
	if px.cover == all && (near > px.far || near == px.far && !r.onto) {
		return
	}
	if mask == all && (px.cover == 0 || far < px.near) {
		*px = pixel{near: near, far: far, what: r.what, owner: r.owner, cover: all}
		return
	}
	l.paintSamples(r, p, mask, z, near, far)
}

// paintSamples is paint where a pixel's samples differ.
func (l *layer) paintSamples(r *brush, p int, mask uint16, z, near, far float32) {
	px := &l.pixels[p]
	depth, what := l.samplesOf(p)
	first := px.cover == 0
	if first {
		px.near, px.far, px.owner = near, far, r.owner
	} else if px.what != mixed {
		l.writeOut(px, p)
	}
	px.what = mixed
	for m := mask &^ px.cover; m != 0; m &= m - 1 {
		s := bits.TrailingZeros16(m) & (samples - 1)
		depth[s], what[s] = r.at(z, s), r.what
	}
	hit := mask&^px.cover != 0
	if hit {
		px.far = max(px.far, far)
	}
	for m := mask & px.cover; m != 0; m &= m - 1 {
		s := bits.TrailingZeros16(m) & (samples - 1)
		if d := r.at(z, s); d < depth[s] || d == depth[s] && r.onto {
			depth[s], what[s] = d, r.what
			hit = true
		}
	}
	if !hit {
		return
	}
	px.cover |= mask
	px.near = min(px.near, near)
	if px.owner != r.owner {
		px.owner = several
	}
}

// samplesOf returns the samples of pixel p.
func (l *layer) samplesOf(p int) (depth *[samples]float32, what *[samples]uint32) {
	return (*[samples]float32)(l.depth[samples*p:]), (*[samples]uint32)(l.what[samples*p:])
}

// writeOut gives the samples of a pixel that shows one thing values of their own.
func (l *layer) writeOut(px *pixel, p int) {
	var r brush
	l.dip(&r, px.what)
	depth, what := l.samplesOf(p)
	z := l.planeAt(p, px.what)
	for s := range samples {
		depth[s], what[s] = r.at(z, s), px.what
	}
}

// planeAt is the depth of the plane of what is shown in the middle of pixel p.
func (l *layer) planeAt(p int, what uint32) float32 {
	return float32(l.shown[what].face.depth.value(float64(l.x0+p%side)+0.5, float64(l.y0+p/side)+0.5))
}

// middleOf is the same, within what is shown.
func (l *layer) middleOf(p int, what uint32) float32 {
	f := l.shown[what].face
	return max(f.near, min(l.planeAt(p, what), f.far))
}

// depthAt is the depth of a sample, math.MaxFloat32 if it shows nothing.
func (l *layer) depthAt(p, s int) float32 {
	px := &l.pixels[p]
	switch {
	case px.cover>>s&1 == 0:
		return math.MaxFloat32
	case px.what == mixed:
		return l.depth[samples*p+s]
	}
	var r brush
	l.dip(&r, px.what)
	return r.at(l.planeAt(p, px.what), s)
}

// ownerAt tells whose a sample is.
func (l *layer) ownerAt(p, s int) uint32 {
	px := &l.pixels[p]
	switch {
	case px.cover>>s&1 == 0:
		return nobody
	case px.owner != several:
		return px.owner
	}
	return l.shown[l.whatAt(p, s)].owner
}

// whatAt is what a covered sample shows.
func (l *layer) whatAt(p, s int) uint32 {
	if w := l.pixels[p].what; w != mixed {
		return w
	}
	return l.what[samples*p+s]
}

// even reports whether all samples of pixel p are one owner's, and whose.
func (l *layer) even(p int) (owner uint32, ok bool) {
	px := &l.pixels[p]
	if px.cover == 0 {
		return nobody, true
	}
	return px.owner, px.cover == all && px.owner != several
}
