package raster

import "math"

const thinWidth = 1.1 // pixels, of the line round what is seen of a body

// marks holds, for each pixel, the samples that outlines cover.
type marks struct {
	thin, heavy, faint []uint16
	used               bool
}

func newMarks(n int) marks {
	return marks{thin: make([]uint16, n), heavy: make([]uint16, n), faint: make([]uint16, n)}
}

func (m *marks) clear() {
	if m.used {
		clear(m.thin)
		clear(m.heavy)
		clear(m.faint)
		m.used = false
	}
}

// outline draws where one body's picture ends and another's begins: thin lines,
// and heavy ones round bodies with an Outline. It also finds the curves in which
// bodies run into each other, which are edges of neither. Veils of several bodies
// get a line round the whole, where nothing hides it.
func (t *tile) outline() {
	m := &t.marks
	m.clear()
	t.solid.boundaries(func(a, b spot) {
		m.used = true
		heavy := t.heavyStamp(a)
		if other := t.heavyStamp(b); heavy == nil || other != nil && other.radius > heavy.radius {
			heavy = other
		}
		for _, s := range [2]spot{a, b} {
			t.j.thin.press(m.thin, s)
			if heavy != nil {
				heavy.press(m.heavy, s)
			}
		}
	})
	if !t.veiled || !t.j.merges {
		return
	}
	t.ghost.boundaries(func(a, b spot) {
		if t.endOfVeil(a) || t.endOfVeil(b) {
			m.used = true
			t.j.thin.press(m.faint, a)
			t.j.thin.press(m.faint, b)
		}
	})
}

// endOfVeil reports whether a ghost that is drawn as part of a whole is seen at a sample.
func (t *tile) endOfVeil(s spot) bool {
	if t.ghost.pixels[s.p].cover>>s.s&1 == 0 {
		return false
	}
	what := &t.ghost.shown[t.ghost.whatAt(s.p, s.s)]
	return t.j.bodies[what.body].merged() && t.ghost.depthAt(s.p, s.s) < t.solid.depthAt(s.p, s.s)
}

// heavyStamp is what the outline of the body seen at a sample is drawn with, nil if it has none.
func (t *tile) heavyStamp(s spot) *stamp {
	if t.solid.pixels[s.p].cover>>s.s&1 == 0 {
		return nil
	}
	return t.j.bodies[t.solid.shown[t.solid.whatAt(s.p, s.s)].body].heavy
}

// spot is sample s of pixel p.
type spot struct{ p, s int }

// boundaries tells of all pairs of neighbouring samples that are not one owner's.
func (l *layer) boundaries(tell func(a, b spot)) {
	for y := range side {
		for x := range side {
			p := y*side + x
			owner, even := l.even(p)
			within := !even
			for _, next := range [2]struct{ exists, right bool }{{x+1 < side, true}, {y+1 < side, false}} {
				if !next.exists {
					continue
				}
				q := p + side
				if next.right {
					q = p + 1
				}
				if other, ok := l.even(q); even && ok && owner == other {
					continue
				}
				for k := range 4 {
					a, b := spot{p, 12 + k}, spot{q, k} // lowest row above highest
					if next.right {
						a, b = spot{p, 4*k + 3}, spot{q, 4 * k}
					}
					if l.ownerAt(a.p, a.s) != l.ownerAt(b.p, b.s) {
						tell(a, b)
					}
				}
			}
			if within {
				l.boundariesWithin(p, tell)
			}
		}
	}
}

func (l *layer) boundariesWithin(p int, tell func(a, b spot)) {
	var owners [samples]uint32
	for s := range owners {
		owners[s] = l.ownerAt(p, s)
	}
	for s, o := range owners {
		if s%4 < 3 && owners[s+1] != o {
			tell(spot{p, s}, spot{p, s + 1})
		}
		if s < 12 && owners[s+4] != o {
			tell(spot{p, s}, spot{p, s + 4})
		}
	}
}

// stamp is the samples within a radius, in pixels, of each of a pixel's.
type stamp struct {
	radius float64
	dabs   [samples][]dab
}

// dab is a stamp's samples in one pixel.
type dab struct {
	dx, dy int
	mask   uint16
}

func newStamp(radius float64) *stamp {
	st := &stamp{radius: radius}
	n := int(math.Ceil(radius))
	for s := range samples {
		x0, y0 := sampleAt(s)
		for dy := -n; dy <= n; dy++ {
			for dx := -n; dx <= n; dx++ {
				d := dab{dx: dx, dy: dy}
				for k := range samples {
					x, y := sampleAt(k)
					if math.Hypot(x+float64(dx)-x0, y+float64(dy)-y0) <= radius {
						d.mask |= 1 << k
					}
				}
				if d.mask != 0 {
					st.dabs[s] = append(st.dabs[s], d)
				}
			}
		}
	}
	return st
}

// press marks the samples round a spot.
func (st *stamp) press(target []uint16, s spot) {
	x, y := s.p%side, s.p/side
	for _, d := range st.dabs[s.s] {
		if u, v := x+d.dx, y+d.dy; u >= 0 && v >= 0 && u < side && v < side {
			target[v*side+u] |= d.mask
		}
	}
}
