package peer

import (
	"gridswing/geom"
	"gridswing/geom/shape"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
)

// Solid is a small closed body that the cases are posed with.
type Solid struct {
	Name string
	Mesh *geom.Mesh
	// Probes holds a point of each connected piece of the surface.
	Probes []r3.Vector
}

// Solids returns the bodies of the stored cases: blocks, slivers, round and
// concave ones. The files in meshes/ are these, as binary STL; they, not what is
// built here, are what the stored answers hold for.
func Solids() []Solid {
	plate := shape.Plate{
		Outline:   shape.Rect(-62.5, -50, 62.5, 50),
		Thickness: 12,
		Holes:     shape.HoleGrid(shape.Hole{Radius: 8}, r2.Point{}, 5, 4, 25, nil),
		Round:     shape.Round{Chord: 0.1},
	}
	pierced, err := plate.Surface()
	if err != nil {
		panic(err) // fixed sizes
	}
	blocks := map[string]shape.Surface{
		"block":  cuboid(20, 30, 40),
		"needle": cuboid(200, 1, 0.1),
		"rib":    cuboid(60, 0.2, 40),
		"pin":    shape.Cylinder(8, -25, 25, shape.Round{Chord: 0.01}),
		"plate":  pierced,
		// A base with two jaws standing half a millimetre above it.
		"vise": shape.Join(cuboid(80, 40, 16),
			cuboid(16, 40, 20).Shifted(-28, 0, 18.5),
			cuboid(16, 40, 20).Shifted(12, 0, 18.5)).WithFacets(500),
	}
	meshes := map[string]*geom.Mesh{
		"ball": shape.BumpyBall(1200),
		"knot": shape.TorusKnot(2400),
	}
	for name, s := range blocks {
		meshes[name] = s.Mesh()
	}
	var solids []Solid
	for _, name := range []string{"block", "needle", "rib", "pin", "plate", "vise", "ball", "knot"} {
		s := Solid{Name: name, Mesh: meshes[name]}
		for _, shell := range geom.AuditOf(s.Mesh).Shells {
			s.Probes = append(s.Probes, shell.Point)
		}
		solids = append(solids, s)
	}
	return solids
}

// cuboid returns a box about the origin.
func cuboid(x, y, z float64) shape.Surface {
	half := r3.Vector{X: x, Y: y, Z: z}.Mul(0.5)
	return shape.Box(half.Mul(-1), half)
}
