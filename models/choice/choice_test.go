package choice

import (
	"io/fs"
	"testing"

	"gridswing/geom"
	"gridswing/machine"
	"gridswing/models"
)

func TestChoiceIsAsLargeAsItSays(t *testing.T) {
	fsys, err := FS(0)
	if err != nil {
		t.Fatal(err)
	}
	demo, err := machine.LoadFS(models.Demo, models.GoodSetup)
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{RiserSetup, SeatSetup} {
		s, err := machine.LoadFS(fsys, name)
		if err != nil {
			t.Fatal(err)
		}
		features := 0
		for i := range s.Operations {
			features += len(s.Operations[i].Features)
		}
		if features != Features {
			t.Errorf("%s has %d features, want %d", name, features, Features)
		}
		// Everything stands where it does in the demo.
		for i := range demo.Bodies {
			b, at := &demo.Bodies[i], demo.Pose(i, [8]float64{})
			for k := range s.Bodies {
				if s.Bodies[k].Name == b.Name && s.Pose(k, [8]float64{}).T.Sub(at.T).Norm() > 1e-9 {
					t.Errorf("%s: %s stands at %v, in the demo at %v", name, b.Name, s.Pose(k, [8]float64{}).T, at.T)
				}
			}
		}
	}
}

func TestSolidsAreClosed(t *testing.T) {
	for _, r := range catalogue() {
		s, err := r.surface()
		if err != nil {
			t.Fatal(err)
		}
		if a := geom.AuditOf(s.Mesh()); !a.Closed || !a.Oriented || a.InsideOut || a.Bounds.Size().Z != r.height {
			t.Errorf("%s: %+v", r.name, a)
		}
	}
}

func TestCatalogue(t *testing.T) {
	fsys, err := FS(0)
	if err != nil {
		t.Fatal(err)
	}
	files, err := fs.Glob(fsys, Catalogue+"/*.toml")
	if err != nil || len(files) != Risers {
		t.Errorf("%d files of risers, want %d (%v)", len(files), Risers, err)
	}
}
