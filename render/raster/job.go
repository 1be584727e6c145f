package raster

import (
	"cmp"
	"fmt"
	"image"
	"math"
	"slices"

	"gridswing/geom"

	"github.com/golang/geo/r3"
)

const (
	tileSize  = 64   // pixels
	apron     = 3    // pixels computed round a tile, for lines that reach into it
	chunkSize = 4096 // facets or edges set up in one go
	// maxCoordinate, in units of the finest step, leaves the products of two
	// differences of coordinates inside 64 bits.
	maxCoordinate = 1 << 30
)

// job is the work of drawing one scene.
type job struct {
	scene  *Scene
	img    *image.RGBA
	seen   *Seen
	bodies []placed
	// shift: coordinates count steps of 2^-shift pixels.
	shift        uint
	cut          *affine // depth of the cutting plane over the pixels
	cutNormal    r3.Vector
	cutFace      facet // lies a little before the cutting plane
	facetChunks  []facetChunk
	order        []int // of the facetChunks: nearest first, but body after body if there is a cut
	lineChunks   []lineChunk
	across, down int // tiles
	tiles        []*tile
	thin         *stamp
	merges       bool // there are veils of several bodies
}

// placed is a body as the camera sees it.
type placed struct {
	*Body
	view  geom.Pose // body frame to (right, up, toward) about the camera's centre, mm
	cull  bool      // facets that look away need not be drawn
	fill  bool      // the cut shows a filled face
	owner uint32    // of its surface; bodies that are shown as one have one
	heavy *stamp    // for its outline; nil: none
	near  float64   // mm taken off all depths, so that coincident faces are told apart the same way everywhere
}

func newJob(s *Scene, img *image.RGBA) (*job, error) {
	w, h := img.Rect.Dx(), img.Rect.Dy()
	seen := &Seen{Width: w, Height: h, owner: make([]uint16, w*h), depth: make([]float32, w*h)}
	j := &job{scene: s, img: img, seen: seen,
		thin:   newStamp(thinWidth/2 - sampleStep/2),
		across: (w + tileSize - 1) / tileSize, down: (h + tileSize - 1) / tileSize}
	c := &s.Camera
	axes := geom.Pose{R: geom.Rotation{
		{c.Right.X, c.Right.Y, c.Right.Z}, {c.Up.X, c.Up.Y, c.Up.Z}, {c.Toward.X, c.Toward.Y, c.Toward.Z}}}
	axes.T = axes.R.Apply(c.Center).Mul(-1)
	if s.Cut != nil {
		plane := c.depthOf(s.Cut.Point, s.Cut.Normal)
		plane.at += 0.01 / c.Scale // a face that lies in the plane goes with what is taken away
		j.cut, j.cutNormal = &plane, axes.Dir(s.Cut.Normal)
		j.cutFace = facet{depth: plane, near: -math.MaxFloat32, far: math.MaxFloat32}
		j.cutFace.depth.at -= 0.25 / c.Scale // before all faces that touch the plane
	}
	farthest := 0.0
	for i := range s.Bodies {
		b := &s.Bodies[i]
		p := placed{Body: b, view: axes.Mul(b.Pose)}
		p.fill = b.Shape.solid && s.Cut != nil && p.isCut()
		p.cull = b.Shape.solid && !p.fill
		p.near = float64(i) * 1e-3 / c.Scale
		p.owner = surfaceOf(s.mergedInto(i))
		j.merges = j.merges || b.merged()
		if b.Outline > 0 {
			p.heavy = newStamp(min(b.Outline, MaxOutline) / 2)
		}
		j.bodies = append(j.bodies, p)
		farthest = max(farthest, p.reach()*c.Scale)
		j.split(i)
	}
	if err := j.setShift(farthest + float64(w+h)); err != nil {
		return nil, err
	}
	for range workers(s.Workers) {
		j.tiles = append(j.tiles, newTile(j))
	}
	return j, nil
}

// isCut reports whether a cut takes away what stands before it of the body.
func (p *placed) isCut() bool { return !p.Ghost && !p.Whole }

// reach bounds the distance of the body's points from the camera's centre, mm.
func (p *placed) reach() float64 {
	b := p.Shape.bounds
	if b.Empty() {
		return 0
	}
	return p.view.Point(b.Center()).Norm() + b.Size().Norm()/2
}

// setShift chooses the finest step that coordinates up to the given number of
// pixels allow, at most 2^-10 pixels.
func (j *job) setShift(pixels float64) error {
	for j.shift = 10; j.shift >= stepBits; j.shift-- {
		if pixels*math.Ldexp(1, int(j.shift)) < maxCoordinate {
			return nil
		}
	}
	return fmt.Errorf("the scene reaches %.3g pixels from the middle of the picture at this scale: at most %d can be drawn",
		pixels, maxCoordinate>>stepBits)
}

// sortChunks sets the order in which facets are drawn.
func (j *job) sortChunks() {
	j.order = make([]int, len(j.facetChunks))
	for i := range j.order {
		j.order[i] = i
	}
	if j.cut == nil {
		slices.SortStableFunc(j.order, func(a, b int) int {
			return cmp.Compare(j.facetChunks[a].nearest, j.facetChunks[b].nearest)
		})
	}
}

// split hands out the facets and edges of body i in chunks.
func (j *job) split(i int) {
	s := j.bodies[i].Shape
	for f := 0; f < len(s.mesh.Facets); f += chunkSize {
		j.facetChunks = append(j.facetChunks, facetChunk{body: i, from: f, to: min(f+chunkSize, len(s.mesh.Facets))})
	}
	if j.bodies[i].merged() {
		return // it has no edges of its own
	}
	for e := 0; e < len(s.edges); e += chunkSize {
		j.lineChunks = append(j.lineChunks, lineChunk{body: i, from: e, to: min(e+chunkSize, len(s.edges))})
	}
}

// bins lists for each tile what may be seen in it, in order.
type bins struct {
	start []int32 // entries of tile t: list[start[t]:start[t+1]]
	list  []uint32
}

// tileRange is a rectangle of tiles, ends included; empty if x0 > x1.
type tileRange struct{ x0, y0, x1, y1 int16 }

// tilesOf returns the tiles that need the rectangle of pixels [x0, x1] x [y0, y1].
func (j *job) tilesOf(x0, y0, x1, y1 float64) tileRange {
	at := func(v float64, n int) int16 {
		return int16(max(0, min(math.Floor(v/tileSize), float64(n-1))))
	}
	if x1 < -apron || y1 < -apron || x0 > float64(j.seen.Width+apron) || y0 > float64(j.seen.Height+apron) {
		return tileRange{x0: 1}
	}
	return tileRange{at(x0-apron, j.across), at(y0-apron, j.down), at(x1+apron, j.across), at(y1+apron, j.down)}
}

// fillBins sorts entries 0 to len(ranges)-1 into tiles, by counting.
func (j *job) fillBins(ranges []tileRange) bins {
	b := bins{start: make([]int32, j.across*j.down+1)}
	each := func(do func(tile int, entry uint32)) {
		for e, r := range ranges {
			for y := r.y0; y <= r.y1; y++ {
				for x := r.x0; x <= r.x1; x++ {
					do(int(y)*j.across+int(x), uint32(e))
				}
			}
		}
	}
	each(func(tile int, _ uint32) { b.start[tile+1]++ })
	for t := 1; t < len(b.start); t++ {
		b.start[t] += b.start[t-1]
	}
	b.list = make([]uint32, b.start[len(b.start)-1])
	next := append([]int32(nil), b.start...)
	each(func(tile int, entry uint32) {
		b.list[next[tile]] = entry
		next[tile]++
	})
	return b
}

func (b *bins) of(tile int) []uint32 { return b.list[b.start[tile]:b.start[tile+1]] }
