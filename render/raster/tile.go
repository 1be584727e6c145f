package raster

import (
	"image/color"
	"math"
)

// A tile's buffers cover it and its apron, in samples.
const side = (tileSize + 2*apron) * perPixel

// tile is one worker's buffers.
type tile struct {
	j      *job
	index  int
	x0, y0 int // pixel at the upper left of the tile itself
	w, h   int // pixels inside of the image
	solid  layer
	ghost  layer
	wind   []int8 // cut: backs minus fronts behind the plane, of one body
	// woundFrom and woundTo are the first row of samples in which wind may not be
	// zero and the one after the last.
	woundFrom, woundTo int
	filled             []uint8 // cut: how many bodies fill the sample
	marks              []uint8 // samples: edgeMark beside the end of what is seen of a body, heavyMark under a heavy outline
	ink                []uint8 // pixels: how much of it the edges cover
	faint              []uint8 // the same for ghosts' edges
	veiled             bool    // there are ghosts in the tile; otherwise the ghost layer is not valid
}

// layer is a depth buffer.
type layer struct {
	depth []float32
	what  []uint32 // 0: nothing; otherwise entry in shown + 1
	shown []shown  // facets of this tile
}

// shown is what samples of a tile can show: a facet or a cut face of a body.
type shown struct {
	color   color.RGBA
	body    int
	cutFace bool
	overlap bool // a cut face that belongs to two bodies
}

func newTile(j *job) *tile {
	n := side * side
	t := &tile{j: j, woundFrom: side, marks: make([]uint8, n),
		ink: make([]uint8, tileSize*tileSize), faint: make([]uint8, tileSize*tileSize)}
	t.solid = layer{depth: make([]float32, n), what: make([]uint32, n)}
	t.ghost = layer{depth: make([]float32, n), what: make([]uint32, n)}
	if j.cut != nil {
		t.wind, t.filled = make([]int8, n), make([]uint8, n)
	}
	return t
}

func (l *layer) clear() {
	for i := range l.depth {
		l.depth[i] = math.MaxFloat32
	}
	clear(l.what)
	l.shown = l.shown[:0]
}

// draw computes tile i of the image.
func (t *tile) draw(i int) {
	j := t.j
	t.index = i
	t.x0, t.y0 = i%j.across*tileSize, i/j.across*tileSize
	t.w, t.h = min(tileSize, j.seen.Width-t.x0), min(tileSize, j.seen.Height-t.y0)
	t.solid.clear()
	t.veiled = false
	clear(t.filled)
	t.drawBodies()
	if len(t.solid.shown) == 0 && !t.veiled {
		t.noteNothing()
		return
	}
	clear(t.ink)
	clear(t.faint)
	for c := range j.lineChunks {
		t.drawLines(&j.lineChunks[c])
	}
	t.outline()
	t.resolve()
}

// drawBodies fills the depth buffers from the facets, body after body.
func (t *tile) drawBodies() {
	j := t.j
	for c := range j.facetChunks {
		chunk := &j.facetChunks[c]
		b := &j.bodies[chunk.body]
		l := &t.solid
		entries := chunk.bins.of(t.index)
		if b.Ghost && len(entries) > 0 {
			l = &t.ghost
			if !t.veiled {
				l.clear()
				t.veiled = true
			}
		}
		for _, e := range entries {
			f := &chunk.facets[e]
			l.shown = append(l.shown, shown{color: f.color, body: chunk.body})
			t.fill(l, f, b.fill)
		}
		last := c+1 == len(j.facetChunks) || j.facetChunks[c+1].body != chunk.body
		if last && b.fill {
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
