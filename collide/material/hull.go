package material

import (
	"math"

	"github.com/golang/geo/r3"
)

// hull is a convex polytope: a cell's cube after planes have cut from it. Every edge lies between
// two faces, and a plane that cuts a face cuts two edges of it, which gives the new face its edges; corners that
// fall together change nothing in that. Coordinates are seen from the cell's centre.
type hull struct {
	corners int
	edges   int
	corner  [mostCorners]r3.Vector
	edge    [mostEdges]edge
	faces   uint8
	// on is how far a corner may be in front of a plane and be taken to be on it: what rounding makes of
	// corners that are.
	on float64
}

// A polytope of n faces, three of them at each corner, has 2n-4 corners and 3n-6 edges (Euler); while it is
// cut, it has the new corners and the old.
const (
	mostFaces   = 6 + mostPlanes + 1
	mostCorners = 2 * (2*mostFaces - 4)
	mostEdges   = 2 * (3*mostFaces - 6)
)

type edge struct{ a, b, f, g uint8 }

// cubeEdges are the edges of a cube: corner k has x, y, z up where bits 0, 1, 2 of k are set; face 2i is
// low along axis i, 2i+1 high.
var cubeEdges = func() (list [12]edge) {
	n := 0
	for axis := range 3 {
		i, j := (axis+1)%3, (axis+2)%3
		for k := range 4 {
			a := (k&1)<<i | (k>>1)<<j
			list[n] = edge{uint8(a), uint8(a | 1<<axis), uint8(2*i + k&1), uint8(2*j + k>>1)}
			n++
		}
	}
	return list
}()

// cube makes h a cube of half side r about the origin.
func (h *hull) cube(r float64) {
	h.corners, h.edges, h.faces, h.on = 8, 12, 6, 1e-12*r
	for k := range 8 {
		h.corner[k] = cubeCorner(k, r)
	}
	copy(h.edge[:], cubeEdges[:])
}

func cubeCorner(k int, r float64) r3.Vector {
	v := r3.Vector{X: -r, Y: -r, Z: -r}
	if k&1 != 0 {
		v.X = r
	}
	if k&2 != 0 {
		v.Y = r
	}
	if k&4 != 0 {
		v.Z = r
	}
	return v
}

// copy makes h what g is.
func (h *hull) copy(g *hull) {
	h.corners, h.edges, h.faces, h.on = g.corners, g.edges, g.faces, g.on
	copy(h.corner[:g.corners], g.corner[:g.corners])
	copy(h.edge[:g.edges], g.edge[:g.edges])
}

// clip takes away what is in front of the plane n.x = d, and reports whether anything is left. Corners
// that are not kept vanish with the edges between them. Where rounding would make a muddle of a face, nothing is taken.
func (h *hull) clip(n r3.Vector, d float64) bool {
	var value [mostCorners]float64
	front := 0
	for i := range h.corners {
		if value[i] = n.Dot(h.corner[i]) - d; value[i] > h.on {
			front++
		} else {
			value[i] = min(0, value[i])
		}
	}
	if front == 0 {
		return true
	}
	if front == h.corners {
		h.corners, h.edges = 0, 0
		return false
	}
	if !h.clean(&value) {
		return true
	}
	face := h.faces
	h.faces++
	var open [2 * mostFaces]int16 // of each face: 1 + the new corner that waits for its partner
	var kept [mostEdges]edge
	old, nk, first := h.edges, 0, h.corners
	for i := range old {
		e := h.edge[i]
		va, vb := value[e.a], value[e.b]
		switch {
		case va > 0 && vb > 0:
			continue
		case va > 0 || vb > 0:
			c := uint8(h.corners)
			h.corner[c] = between(h.corner[e.a], h.corner[e.b], va/(va-vb))
			h.corners++
			if va > 0 {
				e.a = c
			} else {
				e.b = c
			}
			for _, f := range [2]uint8{e.f, e.g} {
				if w := open[f]; w != 0 {
					kept[nk] = edge{uint8(w - 1), c, f, face}
					nk++
				} else {
					open[f] = int16(c) + 1
				}
			}
		}
		kept[nk] = e
		nk++
	}
	h.edges = nk
	copy(h.edge[:], kept[:nk])
	h.pack(&value, first)
	return true
}

func between(a, b r3.Vector, t float64) r3.Vector {
	return r3.Vector{X: a.X + t*(b.X-a.X), Y: a.Y + t*(b.Y-a.Y), Z: a.Z + t*(b.Z-a.Z)}
}

// clean reports whether a plane cuts two edges of every face that it cuts, as it cannot but do where nothing is
// rounded, and whether there is room for the corners.
func (h *hull) clean(value *[mostCorners]float64) bool {
	var cuts [2 * mostFaces]uint8
	n := 0
	for i := range h.edges {
		e := &h.edge[i]
		if (value[e.a] > 0) != (value[e.b] > 0) {
			cuts[e.f]++
			cuts[e.g]++
			n++
		}
	}
	for _, c := range cuts {
		if c != 0 && c != 2 {
			return false
		}
	}
	return h.corners+n <= mostCorners && h.edges+n <= mostEdges && int(h.faces)+1 < len(cuts)
}

// pack closes the gaps that corners in front of a plane leave.
func (h *hull) pack(value *[mostCorners]float64, first int) {
	var to [mostCorners]uint8
	n := 0
	for i := range h.corners {
		if i < first && value[i] > 0 {
			continue
		}
		to[i] = uint8(n)
		h.corner[n] = h.corner[i]
		n++
	}
	h.corners = n
	for i := range h.edges {
		h.edge[i].a, h.edge[i].b = to[h.edge[i].a], to[h.edge[i].b]
	}
}

// far returns the largest u.x over the hull.
func (h *hull) far(u r3.Vector) float64 {
	far := math.Inf(-1)
	for i := range h.corners {
		far = max(far, u.Dot(h.corner[i]))
	}
	return far
}

// middle returns the mean of the corners, which is inside.
func (h *hull) middle() (m r3.Vector) {
	for i := range h.corners {
		m = m.Add(h.corner[i])
	}
	return m.Mul(1 / float64(h.corners))
}

// volume sums tetrahedra: each face is divided into triangles about one of its corners, each triangle
// stands on a point within; all turn the same way, so their sizes add up.
func (h *hull) volume() float64 {
	if h.corners < 4 {
		return 0
	}
	m := h.middle()
	var anchor [2*mostFaces + 2]int16
	sum := 0.0
	for i := range h.edges {
		e := h.edge[i]
		a, b := h.corner[e.a].Sub(m), h.corner[e.b].Sub(m)
		n := a.Cross(b)
		for _, f := range [2]uint8{e.f, e.g} {
			if anchor[f] == 0 {
				anchor[f] = int16(e.a) + 1
				continue
			}
			sum += math.Abs(n.Dot(h.corner[anchor[f]-1].Sub(m)))
		}
	}
	return sum / 6
}
