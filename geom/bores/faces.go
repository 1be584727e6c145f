package bores

import (
	"cmp"
	"math"
	"slices"

	"github.com/golang/geo/r3"
)

// face is a connected flat piece of the surface.
type face struct {
	normal r3.Vector // zero if it has none
	area   float64   // mm2
	facets []int32
	seams  []int32
}

// seam is where two faces meet at a small angle: one straight line, as two planes
// have no more in common.
type seam struct {
	faces     [2]int32
	along     r3.Vector // unit, as the lower face's facets run
	turn      float64   // radians, between the faces' normals
	convex    bool      // the material's edge points outward there
	halfEdges []int32   // of the lower face
}

// smoothTurn is the largest turn in radians between neighbouring sides of what may
// stand for a cylinder: those of an octagon turn by 45 degrees, those of a hexagon,
// a key's socket, by 60.
const smoothTurn = 50 * math.Pi / 180

// faceted is a surface in faces and seams.
type faceted struct {
	*surface
	faceOf []int32 // of each facet
	faces  []face
	seams  []seam
	// open are the faces with an open edge at a vertex: where facets are missing,
	// only vertices lead on.
	open map[int32][]int32
}

func newFaceted(s *surface) *faceted {
	t := &faceted{surface: s}
	t.joinFlat()
	t.findSeams()
	t.open = map[int32][]int32{}
	for h, g := range t.Across {
		if g >= 0 || t.sliver[h/3] {
			continue
		}
		for _, c := range [2]int32{int32(h), t.Next(int32(h))} {
			v := t.Vertex[c]
			t.open[v] = append(t.open[v], t.faceOf[h/3])
		}
	}
	return t
}

// acrossGaps returns the faces that have an open edge at a vertex where this one has
// one, too.
func (t *faceted) acrossGaps(f int32) []int32 {
	const most = 32 // faces at a vertex, that is: more is a knot
	var next []int32
	if len(t.open) == 0 {
		return next
	}
	for _, g := range t.faces[f].facets {
		for h := 3 * g; h < 3*g+3; h++ {
			if t.Across[h] >= 0 {
				continue
			}
			for _, c := range [2]int32{h, t.Next(h)} {
				if at := t.open[t.Vertex[c]]; len(at) <= most {
					next = append(next, at...)
				}
			}
		}
	}
	return next
}

// joinFlat numbers the faces by their first facet.
func (t *faceted) joinFlat() {
	n := len(t.mesh.Facets)
	parent := make([]int32, n)
	for f := range parent {
		parent[f] = int32(f)
	}
	root := func(f int32) int32 {
		for parent[f] != f {
			parent[f] = parent[parent[f]]
			f = parent[f]
		}
		return f
	}
	for h, g := range t.Across {
		if g <= int32(h) || !t.flat(int32(h), g) {
			continue
		}
		a, b := root(int32(h)/3), root(g/3)
		parent[max(a, b)] = min(a, b)
	}
	t.faceOf = make([]int32, n)
	for f := range parent {
		if r := root(int32(f)); r == int32(f) {
			t.faceOf[f] = int32(len(t.faces))
			t.faces = append(t.faces, face{})
		} else {
			t.faceOf[f] = t.faceOf[r]
		}
		p := &t.faces[t.faceOf[f]]
		p.facets = append(p.facets, int32(f))
		p.normal = p.normal.Add(t.product[f])
		p.area += t.product[f].Norm() / 2
	}
	for i := range t.faces {
		p := &t.faces[i]
		// Normals that cancel mean nothing.
		if length := p.normal.Norm(); length > p.area {
			p.normal = p.normal.Mul(1 / length)
		} else {
			p.normal = r3.Vector{}
		}
		if t.inward {
			p.normal = p.normal.Mul(-1)
		}
	}
}

// findSeams gathers the edges between each two faces that meet at a small angle.
func (t *faceted) findSeams() {
	type edge struct {
		pair uint64
		half int32
	}
	var edges []edge
	for h, g := range t.Across {
		if g < 0 {
			continue
		}
		a, b := t.faceOf[h/3], t.faceOf[g/3]
		if a < b && t.smooth(a, b) {
			edges = append(edges, edge{uint64(a)<<32 | uint64(b), int32(h)})
		}
	}
	slices.SortFunc(edges, func(a, b edge) int {
		return cmp.Or(cmp.Compare(a.pair, b.pair), cmp.Compare(a.half, b.half))
	})
	for len(edges) > 0 {
		n := 1
		for n < len(edges) && edges[n].pair == edges[0].pair {
			n++
		}
		half := make([]int32, n)
		for i := range half {
			half[i] = edges[i].half
		}
		t.addSeam(int32(edges[0].pair>>32), int32(uint32(edges[0].pair)), half)
		edges = edges[n:]
	}
}

func (t *faceted) smooth(a, b int32) bool {
	p, q := t.faces[a].normal, t.faces[b].normal
	return p != (r3.Vector{}) && q != (r3.Vector{}) && turn(p, q) <= smoothTurn
}

func (t *faceted) addSeam(a, b int32, half []int32) {
	along := r3.Vector{}
	for _, h := range half {
		from, to := t.ends(h)
		along = along.Add(to.Sub(from))
	}
	length := along.Norm()
	if length == 0 {
		return
	}
	along = along.Mul(1 / length)
	p, q := t.faces[a].normal, t.faces[b].normal
	convex := p.Cross(q).Dot(along) > 0
	if t.inward { // the half-edges still run as in the file
		convex = !convex
	}
	i := int32(len(t.seams))
	t.seams = append(t.seams, seam{faces: [2]int32{a, b}, along: along, turn: turn(p, q), convex: convex, halfEdges: half})
	t.faces[a].seams = append(t.faces[a].seams, i)
	t.faces[b].seams = append(t.faces[b].seams, i)
}

// other returns the face on the other side of a seam.
func (m *seam) other(f int32) int32 {
	if m.faces[0] == f {
		return m.faces[1]
	}
	return m.faces[0]
}

// extent returns how far the corners of a face reach along a direction.
func (t *faceted) extent(f int32, along r3.Vector) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, g := range t.faces[f].facets {
		for c := 3 * g; c < 3*g+3; c++ {
			x := t.at(c).Dot(along)
			low, high = min(low, x), max(high, x)
		}
	}
	return low, high
}
