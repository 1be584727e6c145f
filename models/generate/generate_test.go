package main

import (
	"io/fs"
	"math"
	"strings"
	"testing"

	"gridswing/geom"
	"gridswing/geom/stl"
	"gridswing/models"
)

// The solids in the repository are those that the generator builds: equal
// facet counts, closed, volumes equal to 1e-6. Not byte for byte, as another
// processor may round the last bit of a sine another way.
func TestCheckedInSolidsAreTheGenerated(t *testing.T) {
	total := 0
	for i := range solids {
		s := &solids[i]
		t.Run(s.file, func(t *testing.T) {
			built, err := s.mesh()
			if err != nil {
				t.Fatal(err)
			}
			kept, err := stl.ReadFS(models.Demo, "solids/"+s.file+".stl")
			if err != nil {
				t.Fatal(err)
			}
			a, b := geom.AuditOf(built), geom.AuditOf(kept)
			if a.Facets != b.Facets || len(a.Shells) != len(b.Shells) {
				t.Errorf("checked in: %d facets, %d shells; built: %d, %d", b.Facets, len(b.Shells), a.Facets, len(a.Shells))
			}
			if faults := b.Faults(); !b.Closed || !b.Oriented || b.InsideOut || b.Degenerate > 0 || b.Cavities > 0 {
				t.Errorf("not sound: %v", faults)
			}
			if math.Abs(a.Volume-b.Volume) > 1e-6*a.Volume {
				t.Errorf("volume %v mm3 checked in, %v built", b.Volume, a.Volume)
			}
			total += b.Facets
		})
	}
	if total < 150_000 || total > 240_000 { // 240,000 facets are 12 MB
		t.Errorf("%d facets together, want 150,000 to 240,000", total)
	}
}

func TestNoSolidIsLeftOver(t *testing.T) {
	files, err := fs.Glob(models.Demo, "solids/*")
	if err != nil {
		t.Fatal(err)
	}
	known := make(map[string]bool)
	for _, s := range solids {
		known["solids/"+s.file+".stl"] = true
	}
	for _, f := range files {
		if !known[f] && !strings.HasSuffix(f, ".md") {
			t.Errorf("%s is not built by the generator", f)
		}
	}
}
