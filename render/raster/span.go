package raster

// fill draws the last entry of the layer's shown list. A sample on an edge
// belongs to exactly one of the two facets that share it: the signs of edge
// functions are decided in whole numbers, ties by the edge's direction.
// (Pineda, "A parallel algorithm for polygon rasterization", SIGGRAPH 1988;
// here each row is solved for its ends instead of tested sample by sample.)
func (t *tile) fill(l *layer, f *facet, windings bool) {
	sx, sy := int64(t.x0-apron)*perPixel, int64(t.y0-apron)*perPixel
	shift := t.j.shift
	half := int64(1) << shift >> 1
	first := max(sy, (int64(min(f.y[0], f.y[1], f.y[2]))-half+(1<<shift)-1)>>shift)
	last := min(sy+side-1, (int64(max(f.y[0], f.y[1], f.y[2]))-half)>>shift)
	var m, dx, dy [3]int64
	for k := range 3 {
		n := (k + 1) % 3
		x, y := int64(f.x[k]), int64(f.y[k])
		dx[k], dy[k] = int64(f.x[n])-x, int64(f.y[n])-y
		e := dx[k]*(first<<shift+half-y) - dy[k]*(half-x)
		if !(dy[k] < 0 || dy[k] == 0 && dx[k] > 0) {
			e--
		}
		m[k] = e >> shift
	}
	careful := f.cut || f.steep || windings
	if windings {
		t.woundFrom, t.woundTo = min(t.woundFrom, int(first-sy)), max(t.woundTo, int(last-sy)+1)
	}
	for row := first; row <= last; row++ {
		lo, hi := sx, sx+side-1
		for k := range 3 {
			switch {
			case dy[k] > 0:
				hi = min(hi, floorDiv(m[k], dy[k]))
			case dy[k] < 0:
				lo = max(lo, -floorDiv(m[k], -dy[k]))
			case m[k] < 0:
				hi = lo - 1
			}
			m[k] += dx[k]
		}
		if lo > hi {
			continue
		}
		z := f.depth.value(0.5, float64(row)+0.5)
		at := int((row-sy)*side + lo - sx)
		n := int(hi - lo + 1)
		if careful {
			t.carefulRow(l, f, at, n, int(lo), int(row), z, windings)
			continue
		}
		what := uint32(len(l.shown))
		depth, id := l.depth[at:at+n], l.what[at:at+n]
		for i := range depth {
			if d := float32(z + f.depth.dx*float64(int(lo)+i)); d < depth[i] {
				depth[i] = d
				id[i] = what
			}
		}
	}
}

// carefulRow is the inner loop of fill for facets that the cut concerns or that
// are seen edge-on.
func (t *tile) carefulRow(l *layer, f *facet, at, n, x, row int, z float64, windings bool) {
	what := uint32(len(l.shown))
	for i := range n {
		d := float32(z + f.depth.dx*float64(x+i))
		d = max(f.near, min(d, f.far))
		if f.cut && float64(d) < t.cutDepth(x+i, row) {
			continue
		}
		if windings {
			if f.back {
				t.wind[at+i]++
			} else {
				t.wind[at+i]--
			}
		}
		if d < l.depth[at+i] {
			l.depth[at+i] = d
			l.what[at+i] = what
		}
	}
}

// cutDepth is the depth of the cutting plane at a sample.
func (t *tile) cutDepth(x, y int) float64 {
	return t.j.cut.value((float64(x)+0.5)/perPixel, (float64(y)+0.5)/perPixel)
}

// fillCut shows the cut face of a body wherever the plane runs inside it: where
// behind the plane one more facet is seen from within than from without. Bodies
// that overlap there are seen to overlap. A body that is not cut hides what is behind it.
func (t *tile) fillCut(body int) {
	if t.woundFrom >= t.woundTo {
		return // nothing of it lies behind the plane here
	}
	l := &t.solid
	b := &t.j.bodies[body]
	color := lit(b.Color, t.j.cutNormal)
	face := uint32(len(l.shown)) + 1
	l.shown = append(l.shown, shown{color: color, body: body, cutFace: true},
		shown{color: t.j.scene.Overlap, body: body, cutFace: true, overlap: true})
	sx, sy := (t.x0-apron)*perPixel, (t.y0-apron)*perPixel
	inFront := 0.25 / t.j.scene.Camera.Scale // mm: before all faces that touch the plane
	for y := t.woundFrom; y < t.woundTo; y++ {
		row := t.wind[y*side : (y+1)*side]
		for x, n := range row {
			if n <= 0 {
				continue
			}
			i := y*side + x
			depth := float32(t.cutDepth(sx+x, sy+y) - inFront)
			if l.depth[i] < depth {
				continue // behind a body that is not cut
			}
			over := uint32(0)
			switch {
			case t.filled[i] == firmly && b.Yields:
				continue
			case t.filled[i] == firmly || t.filled[i] == yielding && b.Yields:
				over = 1
			}
			l.what[i] = face + over
			l.depth[i] = depth
			t.filled[i] = firmly
			if b.Yields {
				t.filled[i] = yielding
			}
		}
		clear(row)
	}
	t.woundFrom, t.woundTo = side, 0
}

// What fills a sample of the cut.
const (
	firmly   = 1
	yielding = 2 // a body that yields
)

// floorDiv is a/b rounded down; b > 0.
func floorDiv(a, b int64) int64 {
	q := a / b
	if a%b < 0 {
		q--
	}
	return q
}
