package material

import (
	"testing"

	"gridswing/geom/shape"

	"github.com/golang/geo/r3"
)

// The parts that are counted on are about those that there are: on a plain solid, with and without play.
func TestMemory(t *testing.T) {
	mesh := shape.Box(r3.Vector{}, r3.Vector{X: 60, Y: 40, Z: 30}).Mesh()
	for _, play := range []float64{0, 0.3, 2} {
		for _, cell := range []float64{1, 0.5} {
			m, err := New(mesh, 0.01, play, cell)
			if err != nil {
				t.Fatal(err)
			}
			parts := 0
			for _, b := range m.bricks {
				if b != nil {
					parts += len(b.parts)
					if len(b.parts) != cap(b.parts) {
						t.Fatalf("room for %d parts, of which there are %d", cap(b.parts), len(b.parts))
					}
				}
			}
			got := Memory(mesh, 0.01, play, cell) / perPart
			if r := got / float64(parts); r < 0.75 || r > 1.5 {
				t.Errorf("play %g mm, cells of %g mm: %.0f parts, there are %d", play, cell, got, parts)
			}
		}
	}
}
