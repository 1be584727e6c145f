package geom

import "github.com/golang/geo/r3"

// Mass is what a solid's shape says of its mass, at density 1.
type Mass struct {
	Volume   float64   // mm3
	Centroid r3.Vector // in the frame of the mesh

	// Inertia about the centroid, at density 1 (mm5). The matrix is the tensor:
	// moments on the diagonal, products with a minus sign beside it, so that
	// w . I w is twice the energy at density 1 and angular velocity w.
	Inertia [3][3]float64
}

// MassOf integrates over the solid that m encloses. It is meant for a mesh that
// AuditOf finds closed, oriented and not inside out; voids are subtracted, what
// two shells both fill counts twice. Of any other mesh the result means nothing:
// Volume may be below zero, and where it is zero so is everything else.
func MassOf(m *Mesh) Mass {
	s := integral{origin: m.Bounds().Center()}
	for i := range m.Facets {
		s.add(m.Triangle(i))
	}
	return s.mass()
}

// Triangle is a facet in double precision.
type Triangle [3]r3.Vector

// MassOfTriangles is MassOf for a surface in double precision.
func MassOfTriangles(surface []Triangle) Mass {
	box := EmptyBox()
	for _, t := range surface {
		box = box.Include(t[0]).Include(t[1]).Include(t[2])
	}
	s := integral{origin: box.Center()}
	for _, t := range surface {
		s.add(t[0], t[1], t[2])
	}
	return s.mass()
}

// integral sums moments up to the second over the tetrahedra that the facets
// make with an origin; those that stick out of the solid cancel by their sign.
// With the origin in the middle of the solid, and not where its drawing has it,
// nothing large is subtracted from anything large.
//
// For a tetrahedron 0abc with d = a.(b x c), and s = a + b + c:
// V = d/6, int x_i = d/24 s_i, int x_i x_j = d/120 (s_i s_j + a_i a_j + b_i b_j + c_i c_j);
// F. Tonon, "Explicit exact formulas for the 3-D tetrahedron inertia tensor in
// terms of its vertex coordinates", J. Math. Stat. 1(1), 2005, with one corner at 0.
type integral struct {
	origin r3.Vector
	volume float64       // times 6
	first  [3]float64    // times 24
	second [3][3]float64 // times 120; upper triangle
}

func (s *integral) add(a, b, c r3.Vector) {
	a, b, c = a.Sub(s.origin), b.Sub(s.origin), c.Sub(s.origin)
	d := a.Dot(b.Cross(c))
	s.volume += d
	p, q, r, sum := array(a), array(b), array(c), array(a.Add(b).Add(c))
	for i := range 3 {
		s.first[i] += d * sum[i]
		for j := i; j < 3; j++ {
			s.second[i][j] += d * (sum[i]*sum[j] + p[i]*p[j] + q[i]*q[j] + r[i]*r[j])
		}
	}
}

func (s *integral) mass() Mass {
	m := Mass{Volume: s.volume / 6}
	if m.Volume == 0 {
		return m
	}
	x := s.first[0] / 24 / m.Volume
	y := s.first[1] / 24 / m.Volume
	z := s.first[2] / 24 / m.Volume
	m.Centroid = s.origin.Add(r3.Vector{X: x, Y: y, Z: z})
	// Products about the centroid, then the tensor from them.
	p := [6]float64{
		s.second[0][0]/120 - m.Volume*x*x, s.second[1][1]/120 - m.Volume*y*y, s.second[2][2]/120 - m.Volume*z*z,
		s.second[1][2]/120 - m.Volume*y*z, s.second[0][2]/120 - m.Volume*x*z, s.second[0][1]/120 - m.Volume*x*y,
	}
	m.Inertia = [3][3]float64{
		{p[1] + p[2], -p[5], -p[4]},
		{-p[5], p[0] + p[2], -p[3]},
		{-p[4], -p[3], p[0] + p[1]},
	}
	return m
}

func array(v r3.Vector) [3]float64 { return [3]float64{v.X, v.Y, v.Z} }
