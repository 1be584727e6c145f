package material

import (
	"cmp"
	"math"
	"slices"

	"gridswing/collide"
	"gridswing/geom"

	"github.com/golang/geo/r3"
)

// lines tell which corners of cells are in a solid: where the lines of the lattice that run along x cross its
// surface, and in which sense. Where a line passes too near an edge to be sure, its corners
// are asked one by one.
type lines struct {
	m        *Model
	tree     *collide.Tree
	ny, nz   int
	crossing [][]crossing // by z, y
	doubt    []bool
}

type crossing struct {
	x     float64
	sense int
}

func newLines(mesh *geom.Mesh, m *Model, tree *collide.Tree) *lines {
	l := &lines{m: m, tree: tree, ny: m.n[1]*side + 1, nz: m.n[2]*side + 1}
	l.crossing = make([][]crossing, l.ny*l.nz)
	l.doubt = make([]bool, l.ny*l.nz)
	for f := range mesh.Facets {
		a, b, c := mesh.Triangle(f)
		l.add(a, b, c)
	}
	for _, list := range l.crossing {
		slices.SortFunc(list, func(p, q crossing) int { return cmp.Compare(q.x, p.x) })
	}
	return l
}

// add enters where the lines cross a facet.
func (l *lines) add(a, b, c r3.Vector) {
	m := l.m
	step := func(v, lo float64) float64 { return (v - lo) / m.cell }
	y0 := int(math.Floor(step(min(a.Y, b.Y, c.Y), m.lo.Y)))
	y1 := int(math.Ceil(step(max(a.Y, b.Y, c.Y), m.lo.Y)))
	z0 := int(math.Floor(step(min(a.Z, b.Z, c.Z), m.lo.Z)))
	z1 := int(math.Ceil(step(max(a.Z, b.Z, c.Z), m.lo.Z)))
	for z := max(0, z0); z <= min(z1, l.nz-1); z++ {
		for y := max(0, y0); y <= min(y1, l.ny-1); y++ {
			py, pz := m.lo.Y+float64(y)*m.cell, m.lo.Z+float64(z)*m.cell
			sense, x, sure := crosses(a, b, c, py, pz)
			switch {
			case !sure:
				l.doubt[z*l.ny+y] = true
			case sense != 0:
				l.crossing[z*l.ny+y] = append(l.crossing[z*l.ny+y], crossing{x, sense})
			}
		}
	}
}

// crosses tells where the line along x at (y, z) crosses the triangle: +1 where it leaves the solid.
func crosses(a, b, c r3.Vector, y, z float64) (sense int, x float64, sure bool) {
	turn := func(p, q r3.Vector) float64 { return (p.Y-y)*(q.Z-z) - (p.Z-z)*(q.Y-y) }
	u, v, w := turn(b, c), turn(c, a), turn(a, b)
	far := max(math.Abs(a.Y-y), math.Abs(b.Y-y), math.Abs(c.Y-y), math.Abs(a.Z-z), math.Abs(b.Z-z), math.Abs(c.Z-z))
	doubt := 1e-12 * far * far
	switch {
	case (u > doubt || v > doubt || w > doubt) && (u < -doubt || v < -doubt || w < -doubt):
		return 0, 0, true
	case u > doubt && v > doubt && w > doubt:
		sense = 1
	case u < -doubt && v < -doubt && w < -doubt:
		sense = -1
	default:
		return 0, 0, beside(a, b, c, y, z)
	}
	return sense, (u*a.X + v*b.X + w*c.X) / (u + v + w), true
}

// beside reports whether the line is beside the triangle's box.
func beside(a, b, c r3.Vector, y, z float64) bool {
	return y < min(a.Y, b.Y, c.Y)-1e-9 || y > max(a.Y, b.Y, c.Y)+1e-9 || z < min(a.Z, b.Z, c.Z)-1e-9 || z > max(a.Z, b.Z, c.Z)+1e-9
}

// inside reports whether corner (x, y, z) of the lattice is in the solid: whether the surface winds round it.
func (l *lines) inside(x, y, z int) bool {
	i := z*l.ny + y
	px := l.m.lo.X + float64(x)*l.m.cell
	if l.doubt[i] {
		return l.tree.Contains(r3.Vector{X: px, Y: l.m.lo.Y + float64(y)*l.m.cell, Z: l.m.lo.Z + float64(z)*l.m.cell})
	}
	winding := 0
	for _, c := range l.crossing[i] {
		if c.x < px {
			break
		}
		winding += c.sense
	}
	return winding != 0
}
