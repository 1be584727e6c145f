package raster

import (
	"encoding/binary"
	"math/bits"
)

// section is what a tile knows of the cut.
type section struct {
	wind   []uint8 // of each sample: backs minus fronts behind the plane, of one body
	filled []uint8 // of each sample: what fills the cut there
	plane  brush   // follows the plane
	// from and to are the first row of pixels in which wind may not be zero and the one after
	// the last.
	from, to int
}

// What fills a sample of the cut.
const (
	firmly   = 1
	yielding = 2 // a body that yields
)

// paintCut is paint for facets that the cut may take a part of, or whose body it fills: it
// leaves out samples before the cut and counts the others.
func (t *tile) paintCut(l *layer, f *facet, p int, mask uint16, z float32) {
	r := &t.brush
	if f.cut {
		plane := float32(t.j.cut.value(float64(l.x0+p%side)+0.5, float64(l.y0+p/side)+0.5))
		for m := mask; m != 0; m &= m - 1 {
			s := bits.TrailingZeros16(m) & (samples - 1)
			if r.at(z, s) < t.section.plane.at(plane, s) {
				mask &^= 1 << s
			}
		}
		if mask == 0 {
			return
		}
	}
	if t.j.bodies[l.shown[r.what].body].fill {
		c := &t.section
		c.from, c.to = min(c.from, p/side), max(c.to, p/side+1)
		turn := uint64(1)
		if !f.back {
			turn = 0xff // one less
		}
		wind := c.wind[samples*p : samples*p+samples : samples*p+samples]
		count(wind[:8], bytesOf[mask&0xff]*turn)
		count(wind[8:], bytesOf[mask>>8]*turn)
	}
	l.paint(r, p, mask, z)
}

// bytesOf has a byte of 1 for each bit of the index that is set, the lowest first.
var bytesOf = func() (table [256]uint64) {
	for i := range table {
		for k := range 8 {
			table[i] |= uint64(i>>k&1) << (8 * k)
		}
	}
	return table
}()

// count adds eight bytes to eight others, each for itself.
func count(to []uint8, n uint64) {
	const high = 0x8080808080808080
	w := binary.LittleEndian.Uint64(to)
	binary.LittleEndian.PutUint64(to, (w&^high+n&^high)^((w^n)&high))
}

// fillCut shows the cut face of a body wherever the plane runs inside it: where
// behind the plane one more facet is seen from within than from without. Bodies
// that overlap there are seen to overlap. A body that is not cut hides what is behind it.
func (t *tile) fillCut(body int) {
	c := &t.section
	if c.from >= c.to {
		return // nothing of it lies behind the plane here
	}
	l := &t.solid
	b := &t.j.bodies[body]
	face := shown{face: &t.j.cutFace, color: lit(b.Color, t.j.cutNormal), body: int32(body), owner: surfaceOf(body) + cutFaces, cutFace: true}
	over := face
	over.color, over.owner, over.overlap = t.j.scene.Overlap, overlaps, true
	l.shown = append(l.shown, face, over)
	var brushes [2]brush
	for k := range brushes {
		l.dip(&brushes[k], uint32(len(l.shown)-2+k))
		brushes[k].onto = true // all cut faces lie in one plane
	}
	for p := c.from * side; p < c.to*side; p++ {
		wind := c.wind[samples*p : samples*p+samples : samples*p+samples]
		if binary.LittleEndian.Uint64(wind)|binary.LittleEndian.Uint64(wind[8:]) == 0 {
			continue
		}
		alone, shared := c.inside(p, wind, b.Yields)
		clear(wind)
		z := float32(t.j.cutFace.depth.value(float64(l.x0+p%side)+0.5, float64(l.y0+p/side)+0.5))
		for k, mask := range [2]uint16{alone, shared} {
			if mask != 0 {
				l.paint(&brushes[k], p, mask, z)
			}
		}
	}
	c.from, c.to = side, 0
}

// inside returns the samples of pixel p at which a body fills the cut, alone or where another
// does too, and notes that it does. Where one of two yields, neither is told of.
func (c *section) inside(p int, wind []uint8, yields bool) (alone, shared uint16) {
	filled := c.filled[samples*p : samples*p+samples : samples*p+samples]
	for s := range samples {
		if int8(wind[s]) <= 0 {
			continue
		}
		switch {
		case filled[s] == firmly && yields:
			continue
		case filled[s] == firmly || filled[s] == yielding && yields:
			shared |= 1 << s
		default:
			alone |= 1 << s
		}
		filled[s] = firmly
		if yields {
			filled[s] = yielding
		}
	}
	return alone, shared
}
