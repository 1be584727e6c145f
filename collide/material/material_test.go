package material

import (
	"math"
	"testing"

	"gridswing/geom"
	"gridswing/geom/shape"

	"github.com/golang/geo/r3"
)

func v(x, y, z float64) r3.Vector { return r3.Vector{X: x, Y: y, Z: z} }

// block returns a box from lo to hi.
func block(lo, hi r3.Vector) *geom.Mesh { return shape.Box(lo, hi).Mesh() }

// endMill is a cutter with a flat end, its tip at the origin.
func endMill(d, length float64) Outline { return Outline{{d / 2, 0}, {d / 2, length}} }

// ballEnd is a cutter with a ball end, its arc inscribed by n chords.
func ballEnd(d, length float64, n int) (o Outline) {
	for i := range n + 1 {
		a := math.Pi / 2 * float64(i) / float64(n)
		o = append(o, [2]float64{d / 2 * math.Sin(a), d / 2 * (1 - math.Cos(a))})
	}
	return append(o, [2]float64{d / 2, length})
}

// drill is a drill with a point of 118 degrees, ISO 5419's usual one.
func drill(d, length float64) Outline {
	return Outline{{0, 0}, {d / 2, d / 2 / math.Tan(59*math.Pi/180)}, {d / 2, length}}
}

func mustNewLoose(t testing.TB, m *geom.Mesh, play, cell float64) *Model {
	t.Helper()
	model, err := New(m, 0, play, cell)
	if err != nil {
		t.Fatal(err)
	}
	return model
}

func mustNew(t testing.TB, m *geom.Mesh, chord, cell float64) *Model {
	t.Helper()
	model, err := New(m, chord, 0, cell)
	if err != nil {
		t.Fatal(err)
	}
	return model
}

// line cuts from one place to another, in steps.
func line(m *Model, o Outline, axis, from, to r3.Vector, steps int) (taken float64) {
	way := to.Sub(from).Mul(1 / float64(steps))
	for i := range steps {
		s := Sweep{Origin: from.Add(way.Mul(float64(i))), Axis: axis, Ways: []r3.Vector{way}}
		taken += m.Cut(o, &s).Volume
	}
	return taken
}

func TestSolidsAsTheyAre(t *testing.T) {
	m := mustNew(t, block(v(0, 0, 0), v(30, 20, 10)), 0, 0.5)
	if got := m.Volume(); math.Abs(got-6000) > 1e-2 {
		t.Errorf("a block of 6000 mm3 has %g", got)
	}
	if n := m.Bounds().Size(); n.Sub(v(30, 20, 10)).Norm() > 2*math.Sqrt(3)*0.5 {
		t.Errorf("bounds of %v", n)
	}
	// A slot of 10 mm, 3 mm deep, from side to side; and a drilled hole with its point.
	for _, steps := range []int{1, 100} {
		c := m.Clone()
		taken := line(c, endMill(10, 20), v(0, 0, 1), v(-6, 10, 7), v(36, 10, 7), steps)
		if taken > 900 || taken < 899 {
			t.Errorf("in %d steps %g of 900 mm3 were taken from a slot", steps, taken)
		}
		if d := c.Volume() + taken - m.Volume(); math.Abs(d) > 1e-6 {
			t.Errorf("%g mm3 are unaccounted for", d)
		}
	}
	c := m.Clone()
	h := 5 / math.Tan(59*math.Pi/180)
	want := math.Pi*25*(8-h) + math.Pi*25*h/3
	if taken := line(c, drill(10, 30), v(0, 0, 1), v(15, 10, 12), v(15, 10, 2), 1); taken > want || taken < 0.99*want {
		t.Errorf("%g of %g mm3 were taken from a hole", taken, want)
	}
	if math.Abs(m.Volume()-6000) > 1e-2 {
		t.Error("cutting a clone has cut the original")
	}
}

func TestMeshIsASolid(t *testing.T) {
	m := mustNew(t, block(v(0, 0, 0), v(30, 20, 10)), 0, 0.5)
	line(m, endMill(10, 20), v(0, 0, 1), v(-6, 10, 7), v(36, 10, 7), 10)
	line(m, ballEnd(8, 20, 20), v(0, 0.6, 0.8), v(5, 3, 8), v(25, 5, 7), 10)
	line(m, drill(6, 30), v(0, 0, 1), v(15, 10, 12), v(15, 10, 2), 1)
	mesh := m.Mesh()
	a := geom.AuditOf(mesh)
	if !a.Closed || !a.Oriented || a.InsideOut {
		t.Errorf("closed %v, oriented %v, inside out %v", a.Closed, a.Oriented, a.InsideOut)
	}
	if math.Abs(a.Volume-m.Volume()) > 2e-3*m.Volume() {
		t.Errorf("the mesh has %g mm3, the model %g", a.Volume, m.Volume())
	}
	uncut := geom.AuditOf(mustNew(t, block(v(0, 0, 0), v(30, 20, 10)), 0, 0.5).Mesh())
	if math.Abs(uncut.Volume-6000) > 1 {
		t.Errorf("the mesh of a block of 6000 mm3 has %g", uncut.Volume)
	}
}
