package varied

import (
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"gridswing/machine"

	"github.com/google/go-cmp/cmp"
)

func written(t *testing.T, n int, seed int64) map[string]string {
	t.Helper()
	dir := t.TempDir()
	if err := Write(dir, n, seed); err != nil {
		t.Fatal(err)
	}
	all := map[string]string{}
	err := fs.WalkDir(os.DirFS(dir), ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := os.ReadFile(filepath.Join(dir, name))
		all[filepath.ToSlash(name)] = string(data)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// The same seed gives the same bytes; more setups are those of before and others.
func TestSameBytes(t *testing.T) {
	few, again, many, others := written(t, 12, 3), written(t, 12, 3), written(t, 20, 3), written(t, 12, 4)
	if diff := cmp.Diff(few, again); diff != "" {
		t.Error(diff)
	}
	for name, text := range few {
		if many[name] != text {
			t.Errorf("%s is another one among more", name)
		}
	}
	if len(many) != len(few)+3*8 {
		t.Errorf("%d files of 12 setups, %d of 20", len(few), len(many))
	}
	if cmp.Equal(few, others) {
		t.Error("another seed gives the same")
	}
}

// The setups can be read, but for a few that are meant to be faulty; they differ, and so do their
// solids.
func TestSetupsLoad(t *testing.T) {
	const n = 60
	dir := t.TempDir()
	if err := Write(dir, n, 1); err != nil {
		t.Fatal(err)
	}
	files, err := filepath.Glob(filepath.Join(dir, Folder, "*", "*.toml"))
	if err != nil || len(files) != n {
		t.Fatalf("%d files, %v", len(files), err)
	}
	store, faulty, risers := machine.NewStore(), 0, map[string]bool{}
	for _, file := range files {
		s, err := store.Load(file)
		if err != nil {
			faulty++
			if text := err.Error(); !strings.Contains(text, "colour") && !strings.Contains(text, "stock-of-nobody") {
				t.Error(err)
			}
			continue
		}
		if len(s.Faulty) > 0 || len(s.Operations) < 3 {
			t.Errorf("%s: %d operations, faulty %v", file, len(s.Operations), s.Faulty)
		}
		for i := range s.Bodies {
			if s.Bodies[i].Unit == "riser" {
				risers[filepath.Base(s.Bodies[i].Solid.File)] = true
			}
		}
	}
	if faulty < 1 || faulty > n/8 || len(risers) != 3 {
		t.Errorf("%d of %d are faulty; risers %v", faulty, n, risers)
	}
}
