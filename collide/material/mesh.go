package material

import (
	"math"
	"math/bits"

	"gridswing/geom"

	"github.com/golang/geo/r3"
)

// Mesh returns a surface of what is left, for pictures and files: closed and oriented, with flat faces flat and
// sharp edges sharp where they are farther apart than cells; of the solid as drawn. It is as near as the cells tell, and neither more nor
// less than what is left: nothing is proven from it.
//
// Cells whose centre is left and those whose centre is not are told apart by four-sided faces, one across
// each face between two such cells. A corner of theirs stands for a corner of cells and is put where
// the planes that the lines between the centres cross meet best, in the sense of least squares (Ju, Losasso,
// Schaefer, Warren, "Dual contouring of Hermite data", SIGGRAPH 2002). However the corners are moved, what
// encloses a set of cubes stays closed.
func (m *Model) Mesh() *geom.Mesh {
	if len(m.bricks) == 0 {
		return &geom.Mesh{}
	}
	m = m.asDrawn()
	b := skin{m: m, corners: map[int]geom.Vertex{}, solid: make([][side]uint64, len(m.bricks))}
	for i, br := range m.bricks {
		if br != nil {
			b.solid[i] = br.centres()
		}
	}
	for i, br := range m.bricks {
		if br != nil {
			b.brick(i)
		}
	}
	return &b.mesh
}

// centres returns the cells whose centre is left.
func (b *brick) centres() (solid [side]uint64) {
	for z := range side {
		solid[z] = b.whole[z]
		for w := b.left[z] &^ b.whole[z]; w != 0; w &= w - 1 {
			k := bits.TrailingZeros64(w)
			if b.part(z, k).holds(r3.Vector{}) {
				solid[z] |= 1 << k
			}
		}
	}
	return solid
}

// holds reports whether v, seen from the cell's centre, is in what the part leaves.
func (p *part) holds(v r3.Vector) bool {
	beyond := 0
	for i := range p.n {
		if p.plane[i].normal().Dot(v) <= float64(p.plane[i].d) {
			continue
		}
		if beyond++; !p.either || i > 1 || beyond > 1 {
			return false
		}
	}
	return true
}

// skin is a surface that is being made.
type skin struct {
	m       *Model
	solid   [][side]uint64
	corners map[int]geom.Vertex // by their place in the lattice
	mesh    geom.Mesh
}

// place is where a cell is, in cells; it may be outside.
type place [3]int

// brickAt returns the brick that a cell is in, -1 outside, and its place there.
func (m *Model) brickAt(p place) (i, z, k int) {
	for a := range 3 {
		if p[a] < 0 || p[a] >= m.n[a]*side {
			return -1, 0, 0
		}
	}
	i = (p[2]/side*m.n[1]+p[1]/side)*m.n[0] + p[0]/side
	return i, p[2] % side, p[1]%side*side + p[0]%side
}

func (b *skin) in(p place) bool {
	i, z, k := b.m.brickAt(p)
	return i >= 0 && b.solid[i][z]>>k&1 != 0
}

// brick adds the faces between cells of brick i that are left and their neighbours that are not.
func (b *skin) brick(i int) {
	m := b.m
	base := place{i % m.n[0] * side, i / m.n[0] % m.n[1] * side, i / m.n[0] / m.n[1] * side}
	const lowX, highX = 0x0101010101010101, 0x8080808080808080
	for z := range side {
		s := b.solid[i][z]
		if s == 0 {
			continue
		}
		inner := s
		if z > 0 && z < side-1 { // whose neighbours are all in the brick, and all left
			inner = s << 1 &^ lowX & (s >> 1 &^ highX) & (s << side) & (s >> side) & b.solid[i][z-1] & b.solid[i][z+1]
		} else {
			inner = 0
		}
		for w := s &^ inner; w != 0; w &= w - 1 {
			k := bits.TrailingZeros64(w)
			p := place{base[0] + k%side, base[1] + k/side, base[2] + z}
			for axis := range 3 {
				for _, up := range [2]int{0, 1} {
					q := p
					q[axis] += 2*up - 1
					if !b.in(q) {
						b.face(p, axis, up)
					}
				}
			}
		}
	}
}

// face adds the face of cell p across axis, up or down.
func (b *skin) face(p place, axis, up int) {
	i, j := (axis+1)%3, (axis+2)%3
	if up == 0 {
		i, j = j, i
	}
	c := p
	c[axis] += up
	var v [4]geom.Vertex
	for k, d := range [4][2]int{{0, 0}, {1, 0}, {1, 1}, {0, 1}} {
		q := c
		q[i] += d[0]
		q[j] += d[1]
		v[k] = b.corner(q)
	}
	first := 0
	if bend(v[1], v[2], v[3], v[0]) > bend(v[0], v[1], v[2], v[3]) {
		first = 1
	}
	for _, t := range [2][3]int{{0, 1, 2}, {0, 2, 3}} {
		f := geom.Facet{v[(t[0]+first)%4], v[(t[1]+first)%4], v[(t[2]+first)%4]}
		b.mesh.Facets = append(b.mesh.Facets, f)
	}
}

// bend returns the cosine between the triangles abc and acd.
func bend(a, b, c, d geom.Vertex) float64 {
	p, q, r := b.Vector().Sub(a.Vector()), c.Vector().Sub(a.Vector()), d.Vector().Sub(a.Vector())
	m, n := p.Cross(q), q.Cross(r)
	l := m.Norm() * n.Norm()
	if l == 0 {
		return -1
	}
	return m.Dot(n) / l
}

// corner returns where the surface passes by corner c of the lattice.
func (b *skin) corner(c place) geom.Vertex {
	m := b.m
	key := (c[2]*(m.n[1]*side+1)+c[1])*(m.n[0]*side+1) + c[0]
	if v, ok := b.corners[key]; ok {
		return v
	}
	var q leastSquares
	for axis := range 3 {
		for k := range 4 {
			low := place{c[0] - 1, c[1] - 1, c[2] - 1}
			low[(axis+1)%3] += k & 1
			low[(axis+2)%3] += k >> 1
			high := low
			high[axis]++
			if in := b.in(low); in != b.in(high) {
				b.cross(&q, low, high, axis, in, c)
			}
		}
	}
	x := q.best(m.cell)
	at := m.lo.Add(r3.Vector{X: float64(c[0]), Y: float64(c[1]), Z: float64(c[2])}.Mul(m.cell)).Add(x)
	v := geom.VertexOf(at)
	b.corners[key] = v
	return v
}

// cross adds where the line between the centres of two cells leaves what is left, seen from corner c.
func (b *skin) cross(q *leastSquares, low, high place, axis int, lowIn bool, c place) {
	from, to, sign := low, high, 1.0
	if !lowIn {
		from, to, sign = high, low, -1.0
	}
	h := b.m.cell
	var u r3.Vector
	switch axis {
	case 0:
		u.X = sign
	case 1:
		u.Y = sign
	default:
		u.Z = sign
	}
	center := r3.Vector{X: float64(from[0]-c[0]) + 0.5, Y: float64(from[1]-c[1]) + 0.5, Z: float64(from[2]-c[2]) + 0.5}.Mul(h)
	t, n := b.exit(from, r3.Vector{}, u, h/2)
	if t >= h/2 {
		t, n = b.exit(to, u.Mul(-h/2), u, h/2)
		t += h / 2
		center = center.Add(u.Mul(t))
	} else {
		center = center.Add(u.Mul(t))
	}
	if n == (r3.Vector{}) {
		n = u
	}
	q.add(center, n)
}

// exit returns how far from p along u, up to most, the cell is left, and the normal of the plane that ends it; p is
// seen from the cell's centre. Where the cell does not hold p, that is 0 and the normal of the plane that
// p is farthest in front of.
func (b *skin) exit(cell place, p, u r3.Vector, most float64) (t float64, n r3.Vector) {
	i, z, k := b.m.brickAt(cell)
	if i < 0 || b.m.bricks[i] == nil || b.m.bricks[i].left[z]>>k&1 == 0 {
		return 0, n
	}
	br := b.m.bricks[i]
	if br.whole[z]>>k&1 != 0 {
		return most, n
	}
	part := br.part(z, k)
	if part.either {
		return part.exit(p, u, most)
	}
	t, worst := most, 0.0
	for j := range part.n {
		o := part.plane[j].normal()
		over := o.Dot(p) - float64(part.plane[j].d)
		if over >= 0 {
			if over >= worst {
				t, n, worst = 0, o, over
			}
			continue
		}
		if s := o.Dot(u); s > 0 && -over/s < t {
			t, n = -over/s, o
		}
	}
	return t, n
}

// exit is what it says for a part of two pieces: the piece that is left later.
func (p *part) exit(from, u r3.Vector, most float64) (t float64, n r3.Vector) {
	t, n = -1, r3.Vector{}
	over, out := math.Inf(1), r3.Vector{}
	for piece := range 2 {
		end, normal := most, r3.Vector{}
		for j := range p.n {
			if j == uint8(1-piece) {
				continue
			}
			o := p.plane[j].normal()
			v := o.Dot(from) - float64(p.plane[j].d)
			if v > 0 {
				end = -1
				if v < over {
					over, out = v, o
				}
			} else if s := o.Dot(u); s > 0 && -v < end*s {
				end, normal = -v/s, o
			}
		}
		if end > t {
			t, n = end, normal
		}
	}
	if t < 0 {
		return 0, out
	}
	return t, n
}

// leastSquares looks for the point nearest to planes.
type leastSquares struct {
	points, normals [12]r3.Vector
	n               int
}

func (q *leastSquares) add(p, n r3.Vector) {
	q.points[q.n], q.normals[q.n] = p, n
	q.n++
}

// best returns the point with the least sum of squared distances from the planes, drawn a little to the middle of
// where they were met, no farther from the corner than three quarters of a cell.
func (q *leastSquares) best(cell float64) r3.Vector {
	var mid r3.Vector
	for i := range q.n {
		mid = mid.Add(q.points[i])
	}
	mid = mid.Mul(1 / float64(max(1, q.n)))
	const drawn = 0.01
	a, b, c := r3.Vector{X: drawn}, r3.Vector{Y: drawn}, r3.Vector{Z: drawn}
	var g r3.Vector
	for i := range q.n {
		n := q.normals[i]
		a, b, c = a.Add(n.Mul(n.X)), b.Add(n.Mul(n.Y)), c.Add(n.Mul(n.Z))
		g = g.Add(n.Mul(n.Dot(q.points[i].Sub(mid))))
	}
	det := a.Dot(b.Cross(c))
	x := r3.Vector{X: g.Dot(b.Cross(c)), Y: a.Dot(g.Cross(c)), Z: a.Dot(b.Cross(g))}.Mul(1 / det).Add(mid)
	most := 0.75 * cell
	return r3.Vector{X: clamp(x.X, most), Y: clamp(x.Y, most), Z: clamp(x.Z, most)}
}

func clamp(x, most float64) float64 { return math.Max(-most, math.Min(most, x)) }
