package raster

import "math"

// A tile's buffers cover it and its apron, in pixels.
const side = tileSize + 2*apron

// tile is one worker's buffers.
type tile struct {
	j       *job
	index   int
	x0, y0  int // pixel at the upper left of the tile itself
	w, h    int // pixels inside of the image
	solid   layer
	ghost   layer
	brush   brush
	section section
	marks   marks
	ink     []uint8 // pixels: how much of it the edges cover
	faint   []uint8 // the same for ghosts' edges
	dots    []uint8 // by quarters of pixels: which dots are inked
	dotted  bool    // some are
	veiled  bool    // there are ghosts in the tile; otherwise the ghost layer is not valid
	scratch scratch
}

func newTile(j *job) *tile {
	const n = side * side
	t := &tile{j: j, solid: newLayer(n), marks: newMarks(n),
		dots: make([]uint8, n*dotsPerPixel*dotsPerPixel),
		ink:  make([]uint8, tileSize*tileSize), faint: make([]uint8, tileSize*tileSize)}
	for i := range j.bodies {
		if j.bodies[i].Ghost {
			t.ghost = newLayer(n)
			break
		}
	}
	if j.cut != nil {
		t.section = section{wind: make([]uint8, samples*n), filled: make([]uint8, samples*n), from: side}
		t.section.plane.along(&facet{depth: *j.cut})
	}
	return t
}

// draw computes tile i of the image.
func (t *tile) draw(i int) {
	j := t.j
	t.index = i
	t.x0, t.y0 = i%j.across*tileSize, i/j.across*tileSize
	t.w, t.h = min(tileSize, j.seen.Width-t.x0), min(tileSize, j.seen.Height-t.y0)
	t.solid.clear(t.x0-apron, t.y0-apron)
	t.veiled = false
	clear(t.section.filled)
	t.drawBodies()
	if len(t.solid.shown) == 0 && !t.veiled {
		t.noteNothing()
		return
	}
	clear(t.ink)
	clear(t.faint)
	if t.dotted {
		clear(t.dots)
		t.dotted = false
	}
	for c := range j.lineChunks {
		t.drawLines(&j.lineChunks[c])
	}
	t.outline()
	t.resolve()
}

// drawBodies fills the depth buffers from the facets, body after body.
func (t *tile) drawBodies() {
	j := t.j
	for n, c := range j.order {
		chunk := &j.facetChunks[c]
		b := &j.bodies[chunk.body]
		l := &t.solid
		entries := chunk.bins.of(t.index)
		if b.Ghost && len(entries) > 0 {
			l = &t.ghost
			if !t.veiled {
				l.clear(t.x0-apron, t.y0-apron)
				t.veiled = true
			}
		}
		for _, e := range entries {
			f := &chunk.facets[e]
			l.shown = append(l.shown, shown{face: f, color: f.color, body: int32(chunk.body), owner: b.owner})
			t.fill(l, f, b)
		}
		if last := n+1 == len(j.order) || j.facetChunks[j.order[n+1]].body != chunk.body; last && b.fill {
			t.fillCut(chunk.body)
		}
	}
}

// noteNothing leaves the tile's pixels as they are and infinitely deep.
func (t *tile) noteNothing() {
	seen := t.j.seen
	for y := range t.h {
		row := seen.depth[(t.y0+y)*seen.Width+t.x0:]
		for x := range t.w {
			row[x] = math.MaxFloat32
		}
	}
}
