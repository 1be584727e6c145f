package large

import (
	"math"
	"testing"

	"gridswing/geom"
	"gridswing/geom/stl"
	"gridswing/machine"
	"gridswing/models"
)

// A large model is what it claims to be: of the asked size, open, of many
// shells, and no further out than a screw is long from the model it stands for.
func TestMeshesAreAsDelivered(t *testing.T) {
	const facets = 500_000
	total := 0
	for _, b := range bodies {
		m, err := Mesh(b.file, facets)
		if err != nil {
			t.Fatal(err)
		}
		a := geom.AuditOf(m)
		total += a.Facets
		if a.Closed || a.OpenEdges < 10 {
			t.Errorf("%s: closed, with %d open edges", b.file, a.OpenEdges)
		}
		if len(a.Shells) < 2*b.screws {
			t.Errorf("%s: %d shells, want two for each of %d screws", b.file, len(a.Shells), b.screws)
		}
		plain, err := stl.ReadFS(models.Demo, "solids/"+b.file+".stl")
		if err != nil {
			t.Fatal(err)
		}
		grown := a.Bounds.Size().Sub(plain.Bounds().Size())
		if worst := max(grown.X, grown.Y, grown.Z); worst > 2*26 || b.screws == 0 && worst > 0 {
			t.Errorf("%s grew by %v", b.file, grown)
		}
	}
	if off := math.Abs(float64(total)/facets - 1); off > 0.05 {
		t.Errorf("%d facets, want about %d", total, facets)
	}
}

func TestSetupsLoad(t *testing.T) {
	fsys, err := FS(350_000)
	if err != nil {
		t.Fatal(err)
	}
	s, err := machine.LoadFS(fsys, models.GoodSetup)
	if err != nil {
		t.Fatal(err)
	}
	outside := 0
	for _, b := range s.Bodies {
		if b.Solid.Outside {
			outside++
		}
	}
	if outside != len(bodies) {
		t.Errorf("%d bodies stated to be outside, want %d", outside, len(bodies))
	}
}

func BenchmarkFS(b *testing.B) {
	for b.Loop() {
		if _, err := FS(3_000_000); err != nil {
			b.Fatal(err)
		}
	}
}
