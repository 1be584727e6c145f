package raster

import (
	"math"
	"slices"

	"github.com/golang/geo/r3"
)

// Widths of drawn edges, in pixels.
const (
	creaseWidth     = 1.1
	silhouetteWidth = 1.5
	boundaryDark    = 0.85 // how much of a pixel an edge's ink covers at most
	ghostDark       = 0.40
	dotsPerPixel    = 4   // both ways; shorter edges are dots
	around          = 0.5 // pixels from a line's middle; where anything lets it be seen, it is
)

// line is an edge on the image: its ends in pixels, their depths in mm.
type line struct {
	x0, y0, z0, x1, y1, z1 float64
	half                   float32 // half its width, pixels
}

// lineChunk holds what may be seen of a run of one body's edges.
type lineChunk struct {
	body     int
	from, to int
	lines    []line
	bins     bins
}

// setLines projects the chunk's edges that are to be drawn in this view. The scratch is memory
// to work in.
func (j *job) setLines(c *lineChunk, scratch *scratch) {
	b := &j.bodies[c.body]
	cam := &j.scene.Camera
	toward := b.view.R.ApplyInverse(r3.Vector{Z: 1}) // in the body's frame
	lines, ranges := scratch.lines[:0], scratch.ranges[:0]
	for i := c.from; i < c.to; i++ {
		e := &b.Shape.edges[i]
		s1, s2 := e.Normals[0].Dot(toward), e.Normals[1].Dot(toward)
		if b.cull && s1 <= 0 && s2 <= 0 {
			continue // both facets look away
		}
		silhouette := e.Open || (s1 > 0) != (s2 > 0)
		if !e.Crease && !silhouette {
			continue
		}
		p, q := b.view.Point(e.A.Vector()), b.view.Point(e.B.Vector())
		l := line{x0: cam.X + cam.Scale*p.X, y0: cam.Y - cam.Scale*p.Y, z0: -p.Z - b.near,
			x1: cam.X + cam.Scale*q.X, y1: cam.Y - cam.Scale*q.Y, z1: -q.Z - b.near, half: creaseWidth / 2}
		if silhouette {
			l.half = silhouetteWidth / 2
		}
		r := j.tilesOf(min(l.x0, l.x1), min(l.y0, l.y1), max(l.x0, l.x1), max(l.y0, l.y1))
		if r.x0 <= r.x1 {
			lines, ranges = append(lines, l), append(ranges, r)
		}
	}
	c.lines, c.bins = slices.Clone(lines), j.fillBins(ranges)
	scratch.lines, scratch.ranges = lines, ranges
}

// drawLines inks the chunk's edges where nothing hides them.
func (t *tile) drawLines(c *lineChunk) {
	b := &t.j.bodies[c.body]
	target, flag := t.ink, uint8(1)
	if b.Ghost {
		target, flag = t.faint, 4
	}
	for _, e := range c.bins.of(t.index) {
		l := &c.lines[e]
		if math.Abs(l.x1-l.x0)+math.Abs(l.y1-l.y0) > 1.0/dotsPerPixel {
			t.drawLine(l, b, target)
			continue
		}
		f := flag
		if l.half > creaseWidth/2 {
			f *= 2
		}
		if dot := t.dotAt(l); *dot&f == 0 && t.drawLine(l, b, target) {
			*dot |= f
			t.dotted = true
		}
	}
}

// dotAt is what is known of dots in the same quarter of a pixel as a line that is no longer: whether
// one is inked, thin or wide, of a body or of a ghost. Curves of tens of thousands of sides are
// drawn once.
func (t *tile) dotAt(l *line) *uint8 {
	const n = side * dotsPerPixel
	x := int((l.x0 - float64(t.solid.x0)) * dotsPerPixel)
	y := int((l.y0 - float64(t.solid.y0)) * dotsPerPixel)
	return &t.dots[max(0, min(y, n-1))*n+max(0, min(x, n-1))]
}

// drawLine walks along the longer of the line's extents pixel by pixel. Ink is
// the greatest coverage of all lines, so that short pieces of a curve join
// without knots. It reports whether any of the line is seen.
func (t *tile) drawLine(l *line, b *placed, target []uint8) (seen bool) {
	dx, dy, dz := l.x1-l.x0, l.y1-l.y0, l.z1-l.z0
	steep := math.Abs(dy) > math.Abs(dx)
	u0, du, v0, dv := l.x0, dx, l.y0, dy // u: the longer extent, v: the other
	uOrigin, vOrigin, uSize, vSize := t.x0, t.y0, t.w, t.h
	if steep {
		u0, du, v0, dv = v0, dv, u0, du
		uOrigin, vOrigin, uSize, vSize = vOrigin, uOrigin, vSize, uSize
	}
	reach := float64(l.half) + 0.5
	perU := 0.0
	if du != 0 {
		perU = 1 / du
	}
	from := max(float64(uOrigin), math.Floor(min(u0, u0+du)-reach))
	to := min(float64(uOrigin+uSize-1), math.Floor(max(u0, u0+du)+reach))
	length2 := dx*dx + dy*dy
	for u := from; u <= to; u++ {
		s := max(0, min((u+0.5-u0)*perU, 1))
		if !t.visible(l.x0+s*dx, l.y0+s*dy, l.z0+s*dz, b) {
			continue
		}
		seen = true
		v := v0 + s*dv
		width := reach * 1.5 // measured along v, at most sqrt 2 of the distance
		vTo := min(float64(vOrigin+vSize-1), math.Floor(v+width))
		for w := max(float64(vOrigin), math.Floor(v-width)); w <= vTo; w++ {
			px, py := u+0.5, w+0.5
			if steep {
				px, py = py, px
			}
			ex, ey := px-l.x0, py-l.y0
			if length2 > 0 {
				along := max(0, min((ex*dx+ey*dy)/length2, 1))
				ex, ey = ex-along*dx, ey-along*dy
			}
			d2 := ex*ex + ey*ey
			if d2 >= reach*reach {
				continue
			}
			cover := uint8(255 * min(1, reach-math.Sqrt(d2), 2*float64(l.half)))
			at := (int(py)-t.y0)*tileSize + int(px) - t.x0
			target[at] = max(target[at], cover)
		}
	}
	return seen
}

// visible reports whether a point of an edge is hidden by nothing: whether in
// the samples round it anything is seen that is not nearer than the point. The
// samples round it, because the edge's own facets fall away from it on one side
// only; the allowance, because they rise on the other.
func (t *tile) visible(x, y, depth float64, b *placed) bool {
	scale := t.j.scene.Camera.Scale
	limit := float32(depth - 0.75/scale)
	if t.j.cut != nil && b.isCut() && depth < t.j.cut.value(x, y)-0.1/scale {
		return false
	}
	x, y = x-float64(t.solid.x0), y-float64(t.solid.y0)
	for py := max(0, int(y-around)); py <= min(side-1, int(y+around)); py++ {
		for px := max(0, int(x-around)); px <= min(side-1, int(x+around)); px++ {
			if t.visibleIn(py*side+px, x-float64(px), y-float64(py), limit, b.Ghost) {
				return true
			}
		}
	}
	return false
}

// visibleIn reports whether one of the samples round the point (x, y) of pixel p, in pixels from
// its corner, shows nothing that is nearer than the limit.
func (t *tile) visibleIn(p int, x, y float64, limit float32, ghost bool) bool {
	px := &t.solid.pixels[p]
	if px.cover == all && px.far < limit {
		return false
	}
	single := px.what != mixed && px.cover == all
	var r brush
	var plane float32
	if single { // as depthAt does for each sample
		t.solid.dip(&r, px.what)
		plane = t.solid.planeAt(p, px.what)
	}
	for s := range samples {
		dx, dy := placeOf[s][0]-x, placeOf[s][1]-y
		if max(dx, -dx, dy, -dy) > around {
			continue
		}
		var depth float32
		if single {
			depth = r.at(plane, s)
		} else {
			depth = t.solid.depthAt(p, s)
		}
		if depth >= limit && !(ghost && t.veiled && t.ghost.depthAt(p, s) < limit) {
			return true
		}
	}
	return false
}
