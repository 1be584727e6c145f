package peer

import (
	"math"

	"gridswing/geom"

	"github.com/golang/geo/r3"
)

// Solid is a small closed body that the cases are posed with.
type Solid struct {
	Name string
	Mesh *geom.Mesh
	// Shells holds the first facet of each connected piece of the surface.
	Shells []int
}

// Solids returns the bodies of the stored cases: blocks, slivers, round and
// concave ones, sizes in mm. The files in meshes/ are these, as binary STL.
func Solids() []Solid {
	return []Solid{
		{"block", block(10, 15, 20, 1), []int{0}},
		{"needle", block(100, 0.5, 0.05, 1), []int{0}},
		{"rib", block(30, 0.1, 20, 1), []int{0}},
		{"pin", pin(8, 25, 96), []int{0}},
		{"plate", plate(5, 4, 16, 25, 8, 12), []int{0}},
		vise(),
		{"ball", ball(20, 20, 32), []int{0}},
		{"knot", knot(12, 5, 4, 120, 10), []int{0}},
	}
}

func at(x, y, z float64) r3.Vector { return r3.Vector{X: x, Y: y, Z: z} }

// quad adds the two triangles of a four-sided face, counter-clockwise.
func quad(m *geom.Mesh, a, b, c, d r3.Vector) {
	va, vb, vc, vd := geom.VertexOf(a), geom.VertexOf(b), geom.VertexOf(c), geom.VertexOf(d)
	m.Facets = append(m.Facets, geom.Facet{va, vb, vc}, geom.Facet{va, vc, vd})
}

// block returns a box of the given half sizes about the origin, each face cut
// into n x n squares.
func block(x, y, z float64, n int) *geom.Mesh {
	m := new(geom.Mesh)
	half := at(x, y, z)
	// The three pairs of faces by cyclic exchange of the coordinates.
	for k := range 3 {
		point := func(u, v, w float64) r3.Vector {
			p := [3]r3.Vector{at(u, v, w), at(w, u, v), at(v, w, u)}[k]
			return at(p.X*half.X, p.Y*half.Y, p.Z*half.Z)
		}
		for i := range n {
			for j := range n {
				u0, u1 := -1+2*float64(i)/float64(n), -1+2*float64(i+1)/float64(n)
				v0, v1 := -1+2*float64(j)/float64(n), -1+2*float64(j+1)/float64(n)
				quad(m, point(u0, v0, 1), point(u1, v0, 1), point(u1, v1, 1), point(u0, v1, 1))
				quad(m, point(u0, v0, -1), point(u0, v1, -1), point(u1, v1, -1), point(u1, v0, -1))
			}
		}
	}
	return m
}

// pin returns a prism with the given number of sides along z, its ends fans
// about their middles.
func pin(radius, half float64, sides int) *geom.Mesh {
	m := new(geom.Mesh)
	top, bottom := geom.VertexOf(at(0, 0, half)), geom.VertexOf(at(0, 0, -half))
	for i := range sides {
		p, q := onCircle(radius, i, sides), onCircle(radius, i+1, sides)
		up, down := at(0, 0, half), at(0, 0, -half)
		quad(m, p.Add(down), q.Add(down), q.Add(up), p.Add(up))
		m.Facets = append(m.Facets,
			geom.Facet{top, geom.VertexOf(p.Add(up)), geom.VertexOf(q.Add(up))},
			geom.Facet{bottom, geom.VertexOf(q.Add(down)), geom.VertexOf(p.Add(down))})
	}
	return m
}

// onCircle returns corner i of n on a circle in the xy plane; corner n is
// corner 0 to the last bit.
func onCircle(radius float64, i, n int) r3.Vector {
	s, c := math.Sincos(2 * math.Pi * float64(i%n) / float64(n))
	return at(radius*c, radius*s, 0)
}

// plate returns a plate of columns x rows square cells, each with a through
// hole of the given number of sides (a multiple of 8, so that the cell's
// corners are met), centred on the origin.
func plate(columns, rows, sides int, pitch, radius, thickness float64) *geom.Mesh {
	m := new(geom.Mesh)
	up, down := at(0, 0, thickness/2), at(0, 0, -thickness/2)
	for i := range columns {
		for j := range rows {
			center := at((float64(i)-float64(columns-1)/2)*pitch, (float64(j)-float64(rows-1)/2)*pitch, 0)
			for k := range sides {
				p, q := center.Add(onCircle(radius, k, sides)), center.Add(onCircle(radius, k+1, sides))
				a, b := center.Add(onSquare(pitch/2, k, sides)), center.Add(onSquare(pitch/2, k+1, sides))
				quad(m, p.Add(up), a.Add(up), b.Add(up), q.Add(up))
				quad(m, p.Add(down), q.Add(down), b.Add(down), a.Add(down))
				quad(m, q.Add(down), p.Add(down), p.Add(up), q.Add(up))
				side := (k + sides/8) % sides / (sides / 4)
				if side == 0 && i == columns-1 || side == 1 && j == rows-1 || side == 2 && i == 0 || side == 3 && j == 0 {
					quad(m, a.Add(down), b.Add(down), b.Add(up), a.Add(up))
				}
			}
		}
	}
	return m
}

// onSquare returns point k of n on the outline of a square: n/4 equal steps on
// each side, beginning in the middle of the one towards +x.
func onSquare(half float64, k, n int) r3.Vector {
	quarter := n / 4
	k = (k + quarter/2) % n
	along := -half + 2*half*float64(k%quarter)/float64(quarter)
	return [4]r3.Vector{at(half, along, 0), at(-along, half, 0), at(-half, -along, 0), at(along, -half, 0)}[k/quarter]
}

// vise returns a base with two jaws standing half a millimetre above it.
func vise() Solid {
	s := Solid{Name: "vise", Mesh: new(geom.Mesh)}
	for _, part := range []struct {
		half, center r3.Vector
	}{
		{at(40, 20, 8), at(0, 0, 0)},
		{at(8, 20, 10), at(-28, 0, 18.5)},
		{at(8, 20, 10), at(12, 0, 18.5)},
	} {
		s.Shells = append(s.Shells, len(s.Mesh.Facets))
		for _, f := range block(part.half.X, part.half.Y, part.half.Z, 4).Facets {
			for k := range f {
				f[k] = geom.VertexOf(f[k].Vector().Add(part.center))
			}
			s.Mesh.Facets = append(s.Mesh.Facets, f)
		}
	}
	return s
}

// ball returns a sphere with bumps a tenth of its radius high.
func ball(radius float64, rings, sectors int) *geom.Mesh {
	point := func(i, j int) r3.Vector {
		theta := math.Pi * float64(i) / float64(rings)
		phi := 2 * math.Pi * float64(j%sectors) / float64(sectors)
		st, ct := math.Sincos(theta)
		if i == rings {
			st = 0
		}
		r := radius * (1 + 0.1*math.Sin(4*theta)*math.Sin(theta)*math.Cos(5*phi))
		return at(r*st*math.Cos(phi), r*st*math.Sin(phi), r*ct)
	}
	m := new(geom.Mesh)
	for j := range sectors {
		for i := range rings {
			a, b := geom.VertexOf(point(i, j)), geom.VertexOf(point(i+1, j))
			c, d := geom.VertexOf(point(i+1, j+1)), geom.VertexOf(point(i, j+1))
			if i < rings-1 {
				m.Facets = append(m.Facets, geom.Facet{a, b, c})
			}
			if i > 0 {
				m.Facets = append(m.Facets, geom.Facet{a, c, d})
			}
		}
	}
	return m
}

// knot returns a tube along a (2, 3) torus knot.
func knot(major, minor, tube float64, steps, sides int) *geom.Mesh {
	center := func(t float64) r3.Vector {
		r := major + minor*math.Cos(3*t)
		return at(r*math.Cos(2*t), r*math.Sin(2*t), minor*math.Sin(3*t)).Mul(1.6)
	}
	point := func(i, j int) r3.Vector {
		t := 2 * math.Pi * float64(i%steps) / float64(steps)
		c := center(t)
		along := center(t + 1e-4).Sub(center(t - 1e-4)).Normalize()
		// The direction away from the z axis is never along the knot.
		across := at(c.X, c.Y, 0)
		across = across.Sub(along.Mul(along.Dot(across))).Normalize()
		q := onCircle(tube/2, j, sides)
		return c.Add(across.Mul(q.X)).Add(along.Cross(across).Mul(q.Y))
	}
	m := new(geom.Mesh)
	for i := range steps {
		for j := range sides {
			quad(m, point(i, j), point(i, j+1), point(i+1, j+1), point(i+1, j))
		}
	}
	return m
}
