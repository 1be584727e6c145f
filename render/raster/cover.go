package raster

// fill draws a facet, the last entry of the layer's shown list, into the pixels of the tile.
func (t *tile) fill(l *layer, f *facet, b *placed) {
	j := t.j
	shift := j.shift
	x0 := max(min(f.x[0], f.x[1], f.x[2])>>shift, int32(l.x0))
	x1 := min(max(f.x[0], f.x[1], f.x[2])>>shift, int32(l.x0)+side-1)
	y0 := max(min(f.y[0], f.y[1], f.y[2])>>shift, int32(l.y0))
	y1 := min(max(f.y[0], f.y[1], f.y[2])>>shift, int32(l.y0)+side-1)
	if x0 > x1 || y0 > y1 {
		return
	}
	careful := f.cut || b.fill
	p, width, height := (int(y0)-l.y0)*side+int(x0)-l.x0, int(x1-x0+1), int(y1-y0+1)
	if width*height <= fewPixels && !careful && l.hides(p, width, height, f.near) {
		return
	}
	var e [3]border
	for k := range 3 {
		n := k + 1
		if n == 3 {
			n = 0
		}
		x, y := int64(f.x[k]), int64(f.y[k])
		e[k] = borderOf(x, y, int64(f.x[n])-x, int64(f.y[n])-y, int64(x0)<<shift, int64(y0)<<shift, shift)
		if e[k].best+max(0, e[k].across*int64(x1-x0))+max(0, e[k].down*int64(y1-y0)) < 0 {
			return // all of it lies outside of this side
		}
	}
	l.dip(&t.brush, uint32(len(l.shown)-1))
	t.fillRows(l, f, &e, rows{p: p, last: width - 1, count: height,
		z: f.depth.value(float64(x0)+0.5, float64(y0)+0.5), careful: careful})
}

// fewPixels is so few that looking whether they hide a facet is cheaper than drawing it.
const fewPixels = 32

// hides reports whether all samples of the pixels from p on are nearer than the given depth.
func (l *layer) hides(p, width, height int, near float32) bool {
	for range height {
		for i := range l.pixels[p : p+width] {
			if px := &l.pixels[p+i]; px.cover != all || px.far > near {
				return false
			}
		}
		p += side
	}
	return true
}

// rows are the pixels round a facet.
type rows struct {
	p       int     // the first
	last    int     // of a row, counted from its first
	count   int     // of rows
	z       float64 // depth of the facet in the middle of pixel p
	careful bool    // the cut may take part of the facet away, or fills its body
}

// fillRows draws the samples that are inside of all three sides.
func (t *tile) fillRows(l *layer, f *facet, e *[3]border, r rows) {
	wide := r.last > 3
	if wide {
		for k := range e {
			if e[k].across != 0 {
				e[k].inverse = -1 / float64(e[k].across)
			}
		}
	}
	a0, a1, a2 := e[0].across, e[1].across, e[2].across
	s0, s1, s2 := e[0].spread, e[1].spread, e[2].spread
	// How far behind all of a pixel the facet must be not to be seen in it; 0: it always matters.
	hides := t.brush.reach
	if r.careful || f.steep {
		hides = 0
	}
	for range r.count {
		lo, hi := 0, r.last
		if wide {
			lo, hi = between(e, hi)
		}
		at := int64(lo)
		e0, e1, e2 := e[0].best+at*a0, e[1].best+at*a1, e[2].best+at*a2
		for x := lo; x <= hi; x++ {
			if e0|e1|e2 >= 0 {
				z := float32(r.z + f.depth.dx*float64(x))
				mask := uint16(all)
				if e0 < s0 || e1 < s1 || e2 < s2 {
					if px := &l.pixels[r.p+x]; px.cover == all && hides > 0 && z > px.far+hides {
						mask = 0 // nothing of it would be seen
					} else {
						mask = maskOf(e, e0, e1, e2)
					}
				}
				switch {
				case mask == 0:
				case r.careful:
					t.paintCut(l, f, r.p+x, mask, z)
				default:
					l.paint(&t.brush, r.p+x, mask, z)
				}
			}
			e0, e1, e2 = e0+a0, e1+a1, e2+a2
		}
		r.p += side
		r.z += f.depth.dy
		e[0].best += e[0].down
		e[1].best += e[1].down
		e[2].best += e[2].down
	}
}

// between narrows the pixels 0 to last of a row down to those that may have samples inside.
func between(e *[3]border, last int) (lo, hi int) {
	hi = last
	for k := range e {
		b := &e[k]
		if b.across > 0 {
			lo = max(lo, int(float64(b.best)*b.inverse))
		} else if b.across < 0 {
			hi = min(hi, int(float64(b.best)*b.inverse+1e-3))
		}
	}
	return lo, hi
}
