package envelope

import (
	"math"
	"slices"

	"gridswing/geom"

	"github.com/golang/geo/r3"
)

// node is a corner of tetrahedra.
type node struct {
	index int // unique: nodes on the axis are one, whatever their row
	at    r3.Vector
	far   float64
}

// Six tetrahedra fill a cell, all round its diagonal: each goes along the three edges in one
// order (Kuhn, "Some combinatorial lemmas in topology", IBM Journal 4(5), 1960). Neighbouring
// cells divide their common face the same way. Corners are numbered by bits: 1 one layer, 2 one ring, 4 one row
// on. Layers, rings and rows are a right-handed frame, and so are the edges from each one's first corner.
var tetrahedra = [6][4]int{{0, 1, 3, 7}, {0, 2, 6, 7}, {0, 4, 5, 7}, {0, 3, 2, 7}, {0, 6, 4, 7}, {0, 5, 1, 7}}

// mesh returns the surface on which the interpolated distance is the level.
func (f *field) mesh() *geom.Mesh {
	slabs := make([][]geom.Facet, f.nh-1)
	f.parallel(f.nh-1, func(layer int) {
		s := surface{level: f.level}
		var cell [8]node
		for ring := range f.nr - 1 {
			for row := range f.np {
				if f.crosses(layer, ring, row) {
					for k := range cell {
						cell[k] = f.node(layer+k&1, ring+k>>1&1, row+k>>2)
					}
					s.cell(&cell)
				}
			}
		}
		slabs[layer] = s.facets
	})
	return &geom.Mesh{Facets: slices.Concat(slabs...)}
}

// crosses reports whether a cell has nodes on both sides of the level.
func (f *field) crosses(layer, ring, row int) bool {
	next := (row + 1) % f.np
	inside := 0
	for k := range 4 {
		at := f.index(layer+k&1, ring+k>>1, 0)
		for _, r := range [2]int{row, next} {
			if float64(f.far[at+r]) <= f.level {
				inside++
			}
		}
	}
	return inside != 0 && inside != 8
}

func (f *field) node(layer, ring, row int) node {
	row %= f.np
	if ring == 0 {
		row = 0
	}
	s, c := math.Sincos(f.from + float64(row)*f.turn)
	rho := float64(ring) * f.step
	i := f.index(layer, ring, row)
	return node{i, r3.Vector{X: rho * c, Y: rho * s, Z: f.h0 + float64(layer)*f.step}, float64(f.far[i])}
}

// surface collects facets.
type surface struct {
	level  float64
	facets []geom.Facet
}

// cell adds what is in a cell: in each tetrahedron nothing, a corner cut off, or a quadrilateral.
func (s *surface) cell(cell *[8]node) {
	for _, t := range tetrahedra {
		var in, out []*node
		odd := false // whether so many corners were passed that the sense is turned round
		for k := range t {
			n := &cell[t[k]]
			if n.far <= s.level {
				odd = odd != (len(out)%2 == 1)
				in = append(in, n)
			} else {
				out = append(out, n)
			}
		}
		s.between(in, out, odd)
	}
}

// between adds the facets that part some corners of a tetrahedron from the others. Odd says that
// the corners in the order in, out are turned round against the tetrahedron's own.
func (s *surface) between(in, out []*node, odd bool) {
	switch len(in) {
	case 1:
		s.facet(odd, s.corner(in[0], out[0]), s.corner(in[0], out[1]), s.corner(in[0], out[2]))
	case 2:
		a, b := s.corner(in[0], out[0]), s.corner(in[0], out[1])
		c, d := s.corner(in[1], out[1]), s.corner(in[1], out[0])
		s.facet(odd, a, b, c)
		s.facet(odd, a, c, d)
	case 3:
		s.facet(odd, s.corner(in[0], out[0]), s.corner(in[1], out[0]), s.corner(in[2], out[0]))
	}
}

// facet adds a triangle, its corners in the other sense if odd, unless two of them are one:
// its neighbours over the edges that are left are each other's then.
func (s *surface) facet(odd bool, a, b, c geom.Vertex) {
	if odd {
		b, c = c, b
	}
	if a != b && b != c && c != a {
		s.facets = append(s.facets, geom.Facet{a, b, c})
	}
}

// corner is where the level is met between two nodes, the same bits whichever comes first.
func (s *surface) corner(a, b *node) geom.Vertex {
	if a.index > b.index {
		a, b = b, a
	}
	t := (s.level - a.far) / (b.far - a.far)
	v := geom.VertexOf(a.at.Add(b.at.Sub(a.at).Mul(t)))
	for k := range v {
		v[k] += 0 // no -0
	}
	return v
}
