package material

import (
	"cmp"
	"fmt"
	"math"
	"runtime"
	"slices"
	"sync/atomic"

	"gridswing/collide"
	"gridswing/geom"
	"gridswing/geom/together"

	"github.com/golang/geo/r3"
)

// mostBricks is how many bricks a model may have, 256 MB of references.
const mostBricks = 1 << 25

// New returns a model that holds every solid whose surface is within chord of the mesh's, mm, in cells of
// the given side, wherever it stands if no point of it is more than play from where it is drawn, mm. The mesh must
// be closed and oriented.
//
// In a cell that the surface crosses, the solid reaches farthest along n either at the surface or at a
// corner of the cell that is inside. So the plane n.x <= d with d the largest n.x of those is in front
// of all that the cell holds, for any n; the facets' normals are taken. With chord and play, the cell is made larger by
// both, as what is in the cell is within them of something that the mesh holds in the larger one, and d too. A cell
// is full only if no facet is in the larger one.
func New(mesh *geom.Mesh, chord, play, cell float64) (*Model, error) {
	if !(cell > 0) || math.IsInf(cell, 1) || !(chord >= 0) || math.IsInf(chord, 1) {
		return nil, fmt.Errorf("material: cells of %g mm with a chord error of %g mm, expected a side above 0 and an error of 0 or more", cell, chord)
	}
	if a := geom.AuditOf(mesh); !a.Closed || !a.Oriented {
		return nil, fmt.Errorf("material: %d open and %d misoriented edges, expected a closed solid", a.OpenEdges, a.Misoriented)
	}
	if !(play >= 0) || math.IsInf(play, 1) {
		return nil, fmt.Errorf("material: a solid that may stand %g mm off, expected 0 or more", play)
	}
	b := builder{mesh: mesh, wide: chord + play, m: &Model{cell: cell, play: play, token: new(byte)}}
	if err := b.place(); err != nil {
		return nil, err
	}
	if len(mesh.Facets) == 0 {
		return b.m, nil
	}
	b.tree = collide.NewTree(mesh)
	b.sort()
	b.lines = newLines(mesh, b.m, b.tree)
	b.fill()
	return b.m, nil
}

// builder makes a model from a mesh.
type builder struct {
	mesh    *geom.Mesh
	wide    float64 // how much larger cells are made to look for facets: chord error and play
	m       *Model
	tree    *collide.Tree
	hits    [][]hit // of each brick: its cells that facets are in
	lines   *lines
	points  []r3.Vector // of the cell at hand
	facets  []r3.Vector // and the normals of its facets, with how far each facet reaches along them
	reaches []float64
	polygon [2][]r3.Vector
	center  r3.Vector // of the cell
	parts   []part    // of the brick at hand
	hull    hull
}

type hit struct {
	cell  uint16
	facet int32
}

// place finds where the bricks stand: one cell's margin, and a part of a cell that is no simple fraction, so that
// the lattice runs along no face of the solid.
func (b *builder) place() error {
	m := b.m
	box := b.mesh.Bounds()
	if box.Empty() {
		return nil
	}
	margin := b.wide + m.cell*(1-0.27182818)
	m.lo = box.Min.Sub(r3.Vector{X: margin, Y: margin * 1.0137, Z: margin * 1.0291})
	m.slack = 1e-9 + 64*0x1p-53*max(box.Min.Norm(), box.Max.Norm())
	size := box.Max.Sub(m.lo)
	total := 1.0
	for k, s := range [3]float64{size.X, size.Y, size.Z} {
		n := math.Floor((s+b.wide+m.cell*0.75)/(side*m.cell)) + 1
		total *= n
		if total > mostBricks {
			return fmt.Errorf("cells of %g mm in a solid of %.0f x %.0f x %.0f mm are too many, expected larger ones",
				m.cell, size.X, size.Y, size.Z)
		}
		m.n[k] = int(n)
	}
	m.bricks = make([]*brick, int(total))
	return nil
}

// sort finds the cells that each facet is in.
func (b *builder) sort() {
	m := b.m
	b.hits = make([][]hit, len(m.bricks))
	b.wide += m.slack
	for f := range b.mesh.Facets {
		p, q, r := b.mesh.Triangle(f)
		box := geom.EmptyBox().Include(p).Include(q).Include(r)
		b.spread(f, [3]r3.Vector{p, q, r}, box)
	}
}

// spread puts facet f into the cells that it is in, made larger by wide.
func (b *builder) spread(f int, t [3]r3.Vector, box geom.Box) {
	m := b.m
	lo, hi := m.span(box.Min, box.Max, b.wide, side*m.cell, [3]int{m.n[0], m.n[1], m.n[2]})
	for z := lo[2]; z <= hi[2]; z++ {
		for y := lo[1]; y <= hi[1]; y++ {
			for x := lo[0]; x <= hi[0]; x++ {
				i := (z*m.n[1]+y)*m.n[0] + x
				corner := m.corner(i)
				half := side * m.cell / 2
				c := corner.Add(r3.Vector{X: half, Y: half, Z: half})
				if !meets(&t, c, half+b.wide) {
					continue
				}
				b.spreadCells(f, &t, box, i, corner)
			}
		}
	}
}

func (b *builder) spreadCells(f int, t *[3]r3.Vector, box geom.Box, i int, corner r3.Vector) {
	m := b.m
	half := m.cell / 2
	lo, hi := span(box.Min.Sub(corner), box.Max.Sub(corner), b.wide, m.cell, [3]int{side, side, side})
	for z := lo[2]; z <= hi[2]; z++ {
		for y := lo[1]; y <= hi[1]; y++ {
			for x := lo[0]; x <= hi[0]; x++ {
				c := corner.Add(r3.Vector{X: float64(x), Y: float64(y), Z: float64(z)}.Mul(m.cell)).Add(r3.Vector{X: half, Y: half, Z: half})
				if meets(t, c, half+b.wide) {
					b.hits[i] = append(b.hits[i], hit{uint16((z*side+y)*side + x), int32(f)})
				}
			}
		}
	}
}

// span returns the first and last place, in steps from the model's corner, of a box made larger.
func (m *Model) span(lo, hi r3.Vector, wide, step float64, n [3]int) (first, last [3]int) {
	return span(lo.Sub(m.lo), hi.Sub(m.lo), wide, step, n)
}

func span(lo, hi r3.Vector, wide, step float64, n [3]int) (first, last [3]int) {
	a := [3]float64{lo.X, lo.Y, lo.Z}
	b := [3]float64{hi.X, hi.Y, hi.Z}
	for k := range 3 {
		first[k] = int(max(0, min(float64(n[k]), math.Floor((a[k]-wide)/step))))
		last[k] = int(max(-1, min(float64(n[k]-1), math.Floor((b[k]+wide)/step))))
	}
	return first, last
}

// meets reports whether a triangle may meet the cube: whether neither its plane nor, checked before, its box
// keeps it off.
func meets(t *[3]r3.Vector, c r3.Vector, half float64) bool {
	n := t[1].Sub(t[0]).Cross(t[2].Sub(t[0]))
	d := n.Dot(c.Sub(t[0]))
	return math.Abs(d) <= half*(math.Abs(n.X)+math.Abs(n.Y)+math.Abs(n.Z))*(1+1e-9)
}

// fill gives each brick its cells, on all cores: no brick depends on another.
func (b *builder) fill() {
	m := b.m
	full := &brick{}
	for z := range side {
		full.left[z], full.whole[z] = math.MaxUint64, math.MaxUint64
	}
	var next atomic.Int64
	var workers together.Group
	for range runtime.GOMAXPROCS(0) {
		w := *b // with memory of its own
		workers.Go(func() {
			for i := int(next.Add(1)) - 1; i < len(m.bricks); i = int(next.Add(1)) - 1 {
				m.bricks[i] = w.brick(i, full)
			}
		})
	}
	workers.Wait()
	for _, br := range m.bricks {
		if br != nil {
			m.volume += m.size(br)
		}
	}
}

// inside reports whether corner (x, y, z) of brick i's lattice is in the solid.
func (b *builder) inside(i, x, y, z int) bool {
	n := b.m.n
	return b.lines.inside(i%n[0]*side+x, i/n[0]%n[1]*side+y, i/n[0]/n[1]*side+z)
}

// brick makes brick i; full is what it is where all of it is in the solid, nil where none is.
func (b *builder) brick(i int, full *brick) *brick {
	hits := b.hits[i]
	if len(hits) == 0 {
		if b.inside(i, 0, 0, 0) {
			return full
		}
		return nil
	}
	slices.SortStableFunc(hits, func(p, q hit) int { return cmp.Compare(p.cell, q.cell) })
	br := &brick{token: b.m.token, parts: b.parts[:0]}
	at := 0
	for k := range cells {
		from := at
		for at < len(hits) && int(hits[at].cell) == k {
			at++
		}
		x, y, z := k%side, k/side%side, k/side/side
		bit := uint64(1) << (k % (side * side))
		if !b.gather(i, x, y, z, hits[from:at]) {
			if b.inside(i, x, y, z) {
				br.left[z] |= bit
				br.whole[z] |= bit
			}
			continue
		}
		// A cell that no plane cuts is a part all the same: it is not known to be solid.
		var p part
		if b.planes(&p) {
			br.put(z, k%(side*side), &p)
		}
	}
	b.hits[i] = nil
	b.parts = br.parts
	br.parts = append(make([]part, 0, len(b.parts)), b.parts...) // no larger than they are
	if br.nothing() {
		return nil
	}
	return br
}

// gather clips the facets to the cell made larger, and collects what the solid's reach is told by, seen
// from the cell's centre. It reports whether there is any facet in it.
func (b *builder) gather(i, x, y, z int, hits []hit) bool {
	b.points, b.facets, b.reaches = b.points[:0], b.facets[:0], b.reaches[:0]
	m := b.m
	half := m.cell / 2
	c := m.corner(i).Add(r3.Vector{X: float64(x), Y: float64(y), Z: float64(z)}.Mul(m.cell)).Add(r3.Vector{X: half, Y: half, Z: half})
	wide := half + b.wide
	for _, h := range hits {
		p, q, r := b.mesh.Triangle(int(h.facet))
		first := len(b.points)
		b.clipped(p.Sub(c), q.Sub(c), r.Sub(c), wide)
		if len(b.points) == first {
			continue
		}
		n := q.Sub(p).Cross(r.Sub(p))
		if n == (r3.Vector{}) {
			continue
		}
		n = n.Normalize()
		b.facets = append(b.facets, n)
		b.reaches = append(b.reaches, n.Dot(p.Sub(c)))
	}
	if len(b.points) == 0 {
		return false
	}
	b.center = c
	for k := range 8 {
		if b.insideWide(i, x, y, z, k) {
			b.points = append(b.points, cubeCorner(k, wide))
		}
	}
	return true
}

// insideWide reports whether corner k of the cell (x, y, z) made larger is in the solid, or may be: on one side or another
// of the facets that were gathered, that corner of the cell itself tells.
func (b *builder) insideWide(i, x, y, z, k int) bool {
	if half := b.m.cell / 2; b.nearCorner(k, half) {
		return !b.bent() || b.tree.Contains(b.center.Add(cubeCorner(k, half+b.wide)))
	}
	return b.inside(i, x+k&1, y+k>>1&1, z+k>>2)
}

// bent reports whether there are facets in more than one direction: where there are not, the surface itself reaches as far
// as a corner that matters.
func (b *builder) bent() bool {
	for _, n := range b.facets[1:] {
		if n.Dot(b.facets[0]) < 1-1e-9 {
			return true
		}
	}
	return false
}

// nearCorner reports whether the surface may come between corner k of the cell and that of the cell made
// larger: then whether the one is inside tells nothing of the other.
func (b *builder) nearCorner(k int, half float64) bool {
	r := b.wide / 2
	c := cubeCorner(k, half+r)
	for i, n := range b.facets {
		if math.Abs(n.Dot(c)-b.reaches[i]) <= r*(math.Abs(n.X)+math.Abs(n.Y)+math.Abs(n.Z))*(1+1e-9) {
			return true
		}
	}
	return false
}

// clipped appends the corners of the triangle's part in the cube.
func (b *builder) clipped(p, q, r r3.Vector, half float64) {
	b.polygon[0] = append(b.polygon[0][:0], p, q, r)
	for axis := range 3 {
		for _, sign := range [2]float64{-1, 1} {
			in, out := b.polygon[0], b.polygon[1][:0]
			for i, v := range in {
				w := in[(i+1)%len(in)]
				dv, dw := sign*along(v, axis)-half, sign*along(w, axis)-half
				if dv <= 0 {
					out = append(out, v)
				}
				if (dv < 0) != (dw < 0) && dv != 0 && dw != 0 {
					out = append(out, v.Add(w.Sub(v).Mul(dv/(dv-dw))))
				}
			}
			b.polygon[0], b.polygon[1] = out, in
			if len(out) == 0 {
				return
			}
		}
	}
	b.points = append(b.points, b.polygon[0]...)
}

func along(v r3.Vector, axis int) float64 {
	switch axis {
	case 0:
		return v.X
	case 1:
		return v.Y
	}
	return v.Z
}
