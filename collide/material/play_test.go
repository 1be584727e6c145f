package material

import (
	"math"
	"testing"

	"gridswing/geom"

	"github.com/golang/geo/r3"
)

// A block that may stand 0.3 mm off is cut down exactly to its side, and a pin goes along there. Where the block stands
// off, a skin of up to 0.3 mm was left beside the cutter: that the pin is clear of it is not said, though it is
// where the block is drawn.
func TestSkinBesideACutter(t *testing.T) {
	const play = 0.3
	m := mustNewLoose(t, block(v(0, 0, 0), v(30, 20, 10)), play, 0.5)
	// All of the block goes, in x up to 30; what of it stands farther out stays.
	for y := 0.0; y <= 20; y += 2 {
		line(m, endMill(6, 20), v(0, 0, 1), v(-10, y, -1), v(27, y, -1), 7)
	}
	pin := Body{Outline: Outline{{1, -1}, {1, 12}}}
	at := func(x float64) *Sweep {
		return &Sweep{Origin: v(x, 0, 0), Axis: v(0, 0, 1), Ways: []r3.Vector{{Y: 20}}}
	}
	if m.Apart(&pin, at(30.9), 0) {
		t.Error("clear of a skin that may be there")
	}
	if !m.Apart(&pin, at(31.31), 0) {
		t.Error("not clear beyond the play")
	}
	if near, ok := m.Keeps(&pin, at(30.9), 0); ok || near.Sure {
		t.Errorf("%+v: nobody knows that there is something", near)
	}
	if left := m.Volume(); left > 0.01*30*20*10 {
		t.Errorf("%g mm3 are left of the block as drawn", left)
	}
}

// Volumes and the mesh are those of the solid as drawn, whatever its play; what is milled off a face is what there
// is of that as drawn, in front of the face and behind it.
func TestVolumesAsDrawn(t *testing.T) {
	for i, solid := range solids {
		mesh := solid()
		want := mustNew(t, mesh, 0, 0.5).Volume()
		for _, play := range []float64{0.05, 0.3} {
			if got := mustNewLoose(t, mesh, play, 0.5).Volume(); math.Abs(got-want) > 0.03*want {
				t.Errorf("solid %d: %g mm3 with a play of %g, %g without", i, got, play, want)
			}
		}
	}
	const play = 0.3
	m := mustNewLoose(t, block(v(0, 0, 0), v(30, 20, 10)), play, 0.5)
	if got := m.Volume(); math.Abs(got-6000) > 1e-3*6000 {
		t.Errorf("%g mm3, it is 6000", got)
	}
	for _, c := range []struct{ z, want float64 }{{10.2, 0}, {10.05, 0}, {9.9, 60}, {9.8, 60}, {9, 480}} {
		got := 0.0
		for y := 0.0; y <= 20; y += 4 {
			got += faced(m, y, c.z)
		}
		if math.Abs(got-c.want) > 1+0.01*c.want {
			t.Errorf("down to %g: %g mm3, it is %g", c.z, got, c.want)
		}
	}
	left := m.Mesh()
	box := left.Bounds()
	if v := geom.MassOf(left).Volume; math.Abs(v-5400) > 54 || box.Max.Sub(r3.Vector{X: 30, Y: 20, Z: 9}).Norm() > 0.02 {
		t.Errorf("what is left has %g mm3 within %v", v, box)
	}
}

// faced is how much a face mill takes along y at a height.
func faced(m *Model, y, z float64) float64 {
	s := Sweep{Origin: v(-10, y, z), Axis: v(0, 0, 1), Ways: []r3.Vector{{X: 50}}}
	return m.Cut(endMill(12, 20), &s).Volume
}
