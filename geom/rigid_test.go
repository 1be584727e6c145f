package geom

import (
	"math"
	"testing"

	"github.com/golang/geo/r3"
	"pgregory.net/rapid"
)

// A plate 300 x 200 x 38: 6.156 kg in aluminium 6061 (2700 kg/m3), 17.898 kg in
// steel (7850 kg/m3); densities of Gere, "Mechanics of Materials", appendix H.
func TestPlateWeight(t *testing.T) {
	m := MassOf(join(box(Vertex{-150, -100, 0}, Vertex{150, 100, 38})))
	for density, kg := range map[float64]float64{2700: 6.156, 7850: 17.898} {
		if got := m.WithDensity(density).Mass; math.Abs(got-kg) > 1e-12 {
			t.Errorf("%g kg/m3: %.15g kg, want %g", density, got, kg)
		}
	}
}

// A block about its centre: m (b2 + c2) / 12; about a corner: m (b2 + c2) / 3 and
// products -m a b / 4. Any handbook.
func TestBlockInertia(t *testing.T) {
	a, b, c, kg := 30.0, 20.0, 50.0, 2.5
	r := MassOf(join(box(Vertex{0, 0, 0}, Vertex{30, 20, 50}))).WithMass(kg)
	centre := [3][3]float64{{kg * (b*b + c*c) / 12, 0, 0}, {0, kg * (a*a + c*c) / 12, 0}, {0, 0, kg * (a*a + b*b) / 12}}
	corner := [3][3]float64{
		{kg * (b*b + c*c) / 3, -kg * a * b / 4, -kg * a * c / 4},
		{-kg * a * b / 4, kg * (a*a + c*c) / 3, -kg * b * c / 4},
		{-kg * a * c / 4, -kg * b * c / 4, kg * (a*a + b*b) / 3},
	}
	sameTensor(t, "about the centre", r.Inertia, centre, 1e-12)
	sameTensor(t, "about a corner", r.About(r3.Vector{}), corner, 1e-12)
	sameTensor(t, "about the centroid", r.About(r.Centroid), centre, 1e-12)

	// A quarter turn about z: what was along x is along y.
	turned := r.At(Turn(r3.Vector{}, r3.Vector{Z: 1}, math.Pi/2))
	sameTensor(t, "turned", turned.Inertia, [3][3]float64{{centre[1][1], 0, 0}, {0, centre[0][0], 0}, {0, 0, centre[2][2]}}, 1e-12)
	if want := (r3.Vector{X: -10, Y: 15, Z: 25}); turned.Centroid.Sub(want).Norm() > 1e-12 {
		t.Errorf("turned: centroid %v, want %v", turned.Centroid, want)
	}
}

type errorer interface{ Errorf(string, ...any) }

func sameTensor(t errorer, what string, got, want [3][3]float64, tolerance float64) {
	scale := math.Abs(want[0][0]) + math.Abs(want[1][1]) + math.Abs(want[2][2])
	for i := range 3 {
		for j := range 3 {
			if relative(got[i][j], want[i][j], scale) > tolerance {
				t.Errorf("%s: I[%d][%d] = %.15g, want %.15g", what, i, j, got[i][j], want[i][j])
			}
		}
	}
}

// Two halves weigh what the whole does, wherever they are cut and looked at from.
func TestCombinedHalves(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := float32(rapid.IntRange(1, 99).Draw(t, "cut"))
		p := Turn(drawVector(t, "point", 100), r3.Vector{X: 1, Y: 2, Z: 3}.Normalize(), rapid.Float64Range(-3, 3).Draw(t, "angle"))
		whole := MassOf(join(box(Vertex{0, 0, 0}, Vertex{100, 40, 30}))).WithDensity(7850)
		left := MassOf(join(box(Vertex{0, 0, 0}, Vertex{x, 40, 30}))).WithDensity(7850)
		right := MassOf(join(box(Vertex{x, 0, 0}, Vertex{100, 40, 30}))).WithDensity(7850)
		got, want := Combined(left.At(p), right.At(p)), whole.At(p)
		if relative(got.Mass, want.Mass, want.Mass) > 1e-12 || got.Centroid.Sub(want.Centroid).Norm() > 1e-9 {
			t.Fatalf("got %+v, want %+v", got, want)
		}
		sameTensor(t, "two halves", got.Inertia, want.Inertia, 1e-11)
	})
}

func TestCombinedNothing(t *testing.T) {
	if got := Combined(); got != (Rigid{}) {
		t.Errorf("got %+v", got)
	}
	point := Mass{}.WithMass(3)
	if got := Combined(point, point); got.Mass != 6 || got.Inertia != ([3][3]float64{}) {
		t.Errorf("got %+v", got)
	}
}
