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
	careful := f.cut || b.fill
	wide := x1-x0 > 3
	if wide {
		for k := range e {
			if e[k].across != 0 {
				e[k].inverse = 1 / float64(e[k].across)
			}
		}
	}
	p := (int(y0)-l.y0)*side + int(x0) - l.x0
	z := f.depth.value(float64(x0)+0.5, float64(y0)+0.5)
	for range y1 - y0 + 1 {
		lo, hi := 0, int(x1-x0)
		if wide {
			lo, hi = between(&e, hi)
		}
		t.fillRow(l, f, &e, p, lo, hi, z, careful)
		p += side
		z += f.depth.dy
		for k := range e {
			e[k].best += e[k].down
		}
	}
}

// between narrows the pixels 0 to hi of a row down to those that may have samples inside.
func between(e *[3]border, hi int) (lo, last int) {
	for k := range e {
		b := &e[k]
		if b.best < 0 {
			if b.across <= 0 {
				return 0, -1
			}
			lo = max(lo, int(-float64(b.best)*b.inverse))
		} else if b.across < 0 {
			hi = min(hi, int(-float64(b.best)*b.inverse+1e-3))
		}
	}
	return lo, hi
}

// fillRow draws the pixels lo to hi of a row that begins at pixel p, where the facet has depth z.
func (t *tile) fillRow(l *layer, f *facet, e *[3]border, p, lo, hi int, z float64, careful bool) {
	a0, a1, a2 := e[0].across, e[1].across, e[2].across
	at := int64(lo)
	e0, e1, e2 := e[0].best+at*a0, e[1].best+at*a1, e[2].best+at*a2
	s0, s1, s2 := e[0].spread, e[1].spread, e[2].spread
	for x := lo; x <= hi; x++ {
		if e0|e1|e2 >= 0 {
			var mask uint16
			in0, in1, in2 := e0 >= s0, e1 >= s1, e2 >= s2
			switch {
			case in1 && in2:
				mask = all
				if !in0 {
					mask = e[0].mask(e0)
				}
			case in0 && in2:
				mask = e[1].mask(e1)
			case in0 && in1:
				mask = e[2].mask(e2)
			default:
				mask = maskOf(e, e0, e1, e2)
			}
			if mask != 0 {
				middle := float32(z + f.depth.dx*float64(x))
				if careful {
					t.paintCut(l, f, p+x, mask, middle)
				} else {
					l.paint(&t.brush, p+x, mask, middle)
				}
			}
		}
		e0, e1, e2 = e0+a0, e1+a1, e2+a2
	}
}
