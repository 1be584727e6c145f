package render

import (
	"math"
	"testing"

	"gridswing/geom"
	"gridswing/geom/shape"
	"gridswing/render/raster"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
)

var fine = shape.Round{Chord: 0.02}

// rig is a trunnion of the tests' own on a grid plate, of a size as in the
// trade (mm): tilt about X at (0, 0, 230), rotary about Z.
type rig struct {
	table, plate, base, cradle, faceplate, riser, vise, part *raster.Shape
}

func newRig(t testing.TB) rig {
	t.Helper()
	solid := func(parts ...shape.Surface) *raster.Shape { return Prepare(shape.Join(parts...).Mesh(), true) }
	return rig{
		table: solid(block(t, -500, -260, -70, 500, 260, 0)),
		plate: solid(gridded(t, shape.Rect(-350, -220, 350, 220), 40, 8, 13, 8, nil)),
		base: solid(block(t, -300, -150, 40, 300, 150, 68),
			ear(t, 80).Shifted(-300, 0, 68), ear(t, 80).Shifted(240, 0, 68)),
		cradle: solid(block(t, -215, -90, 120, 215, 90, 150),
			block(t, -215, -60, 150, -185, 60, 262), block(t, 185, -60, 150, 215, 60, 262),
			shape.Cylinder(35, -300, -215, fine).AlongX().Shifted(0, 0, 230),
			shape.Cylinder(35, 215, 300, fine).AlongX().Shifted(0, 0, 230)),
		faceplate: solid(gridded(t, fine.CircleOf(r2.Point{}, 170, 200), 28, 6, 7, 7,
			func(p r2.Point) bool { return p.Norm() < 150 }).Shifted(0, 0, 150)),
		riser: solid(block(t, -70, -70, 178, 70, 70, 218)),
		vise: solid(block(t, -50, -90, 218, 50, 90, 250), block(t, -50, -90, 250, 50, -50, 285),
			block(t, -50, 40, 250, 50, 90, 285)),
		part: solid(block(t, -40, -50, 262, 40, 40, 330), shape.Cylinder(24, 330, 352, fine)),
	}
}

// items returns the rig at the given tilt and rotary position, in degrees.
func (r *rig) items(tilt, rotary float64) []Item {
	a := geom.Turn(r3.Vector{Z: 230}, r3.Vector{X: 1}, tilt*math.Pi/180)
	c := a.Mul(geom.Turn(r3.Vector{}, r3.Vector{Z: 1}, rotary*math.Pi/180))
	still := geom.Identity()
	return []Item{
		{Name: "table", Shape: r.table, Pose: still, Group: 0},
		{Name: "grid plate", Shape: r.plate, Pose: still, Group: 5},
		{Name: "trunnion base", Shape: r.base, Pose: still, Group: 1},
		{Name: "trunnion cradle", Shape: r.cradle, Pose: a, Group: 2},
		{Name: "faceplate", Shape: r.faceplate, Pose: c, Group: 3},
		{Name: "riser", Shape: r.riser, Pose: c, Group: 4},
		{Name: "vise", Shape: r.vise, Pose: c, Group: 5},
		{Name: "part", Shape: r.part, Pose: c, Group: 1},
	}
}

func block(t testing.TB, x0, y0, z0, x1, y1, z1 float64) shape.Surface {
	t.Helper()
	return built(t, shape.Plate{Outline: shape.Rect(x0, y0, x1, y1), Thickness: z1 - z0, Chamfer: 1.5, Round: fine}).Shifted(0, 0, z0)
}

// ear is an upright that is round at the top, thick along X.
func ear(t testing.TB, half float64) shape.Surface {
	t.Helper()
	outline := shape.Contour{}.Line(r2.Point{X: -half}, r2.Point{X: half}, r2.Point{X: half, Y: 162}).
		Arc(r2.Point{Y: 162}, r2.Point{X: -half, Y: 162}, true, fine)
	return built(t, shape.Plate{Outline: outline, Thickness: 60, Chamfer: 1.5, Round: fine}).AlongX()
}

func gridded(t testing.TB, outline shape.Contour, thick, radius float64, columns, rows int, keep func(r2.Point) bool) shape.Surface {
	t.Helper()
	h := shape.Hole{Radius: radius, HeadRadius: radius + 2, HeadDepth: 4, Chamfer: 0.5}
	return built(t, shape.Plate{Outline: outline, Thickness: thick, Chamfer: 2, Round: fine,
		Holes: shape.HoleGrid(h, r2.Point{}, columns, rows, 50, keep)})
}

func built(t testing.TB, p shape.Plate) shape.Surface {
	t.Helper()
	s, err := p.Surface()
	if err != nil {
		t.Fatal(err)
	}
	return s
}
