package machine

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// A folder's components in the order of their file names, each once; of those that can be
// in no stack, why.
func TestCatalogue(t *testing.T) {
	side := low
	side.name, side.more = "side", "normal = [0, 0, -1]"
	w := risen(t, high, wide, side)
	w["risers/keyed.toml"] = strings.NewReplacer("play = 0.03", "play = 0.03\nlocated_by = \"keys\"").Replace(w[low.file()])
	w["risers/open.toml"] = strings.Split(w[low.file()], "[[grid]]")[0]
	w["risers/notes.txt"] = "not a component"
	c, err := NewStoreFS(w.fs()).Catalogue("risers", "stock.toml", "vise.toml", "trunnion.toml", low.file(), "./"+low.file())
	if err != nil {
		t.Fatal(err)
	}
	want := []CatalogueComponent{
		{"risers/high.toml", "high", 45, ""},
		{"risers/keyed.toml", "low", 0, "it has tenon keys, which stand in a slot and in no hole"},
		{"risers/low.toml", "low", 20, ""},
		{"risers/open.toml", "low", 0, "it has no grid"},
		{"risers/side.toml", "side", 0, "it has no grid that looks away from its seat"},
		{"risers/wide.toml", "wide", 30, ""},
		{"stock.toml", "block 80 x 60 x 40", 0, "it has no seat"},
		{"vise.toml", "vise 125", 0, "it has a setting axis, jaw, whose position nothing states"},
		{"trunnion.toml", "trunnion 200", 0, "it has an axis of its own, A"},
	}
	if len(c.Components) != len(want) {
		t.Fatalf("%+v", c.Components)
	}
	for i, got := range c.Components {
		if got.File != want[i].File || got.Height != want[i].Height || got.Reason != want[i].Reason {
			t.Errorf("got  %+v\nwant %+v", got, want[i])
		}
	}
}

// The height is that of the topmost grid that looks away from the seat, in mm whatever the
// file's unit.
func TestHeightOfAComponent(t *testing.T) {
	w := risen(t)
	w["risers/low.toml"] = strings.Replace(w[low.file()], "[[grid]]", "[[grid]]\nname = \"step\"\nsolid = \"block\"\norigin = [0, 0, 0.5]\ncolumns = 2\nrows = 2\npitch = 1\n\n"+
		"[[grid]]\nname = \"front\"\nsolid = \"block\"\norigin = [0, -3, 9]\nv = [0, 0, 1]\ncolumns = 2\nrows = 2\npitch = 1\n\n[[grid]]", 1)
	c, err := NewStoreFS(w.fs()).Catalogue(low.file())
	if err != nil {
		t.Fatal(err)
	}
	nearly(t, "height", c.Components[0].Height, 20, 1e-12)
	w["risers/low.toml"] = strings.NewReplacer(`units = "mm"`, `units = "inch"`, "[-50, 0, 0], [50, 0, 0]", "[-2, 0, 1], [2, 0, 1]", "[-50, -50, 20]", "[-2, -2, 3]", "pitch = 50", "pitch = 2").Replace(w[low.file()])
	if c, err = NewStoreFS(w.fs()).Catalogue(low.file()); err != nil {
		t.Fatal(err)
	}
	nearly(t, "height", c.Components[0].Height, 50.8, 1e-12)
}

// What is no component is an error with its place.
func TestNoCatalogue(t *testing.T) {
	w := risen(t)
	for path, want := range map[string]string{
		"":             "", // the root of the files has machines and setups in it
		"machine.toml": "machine.toml:3:1: kind: found \"machine\", expected \"component\"",
		"none.toml":    "component file: open none.toml",
	} {
		c, err := NewStoreFS(w.fs()).Catalogue(path)
		if err == nil || c != nil || !strings.HasPrefix(err.Error(), want) {
			t.Errorf("%q: %v", path, err)
		}
	}
	w[low.file()] = strings.Replace(w[low.file()], "pitch", "pich", 1)
	_, err := NewStoreFS(w.fs()).Catalogue("risers")
	var e *Error
	if !errors.As(err, &e) || !strings.HasPrefix(err.Error(), w.place(t, low.file(), "pich")) {
		t.Error(err)
	}
	w[low.file()] = strings.Replace(w[low.file()], "pich", "pitch", 1)
	w["low.stl"] = "no solid"
	if _, err = NewStoreFS(w.fs()).Catalogue("risers"); !errors.As(err, &e) || !strings.Contains(err.Error(), "which cannot be read") {
		t.Error(err)
	}
}

// On disk: folders, and files by any path.
func TestCatalogueOnDisk(t *testing.T) {
	dir := t.TempDir()
	if err := os.Mkdir(filepath.Join(dir, "risers"), 0o777); err != nil {
		t.Fatal(err)
	}
	if err := os.Mkdir(filepath.Join(dir, "empty"), 0o777); err != nil {
		t.Fatal(err)
	}
	risen(t, high).onDiskIn(t, dir)
	st := NewStore()
	c, err := st.Catalogue(filepath.Join(dir, "risers"), filepath.Join(dir, "empty", "..", "risers", "low.toml"))
	if err != nil || len(c.Components) != 2 || c.Components[1].File != filepath.Join(dir, "risers", "low.toml") {
		t.Errorf("%+v, %v", c, err)
	}
	if _, err := st.Catalogue(filepath.Join(dir, "empty")); err == nil || !strings.Contains(err.Error(), "a folder without TOML files") {
		t.Error(err)
	}
	d, err := st.Draft(filepath.Join(dir, "setup.toml"))
	if err != nil {
		t.Fatal(err)
	}
	list, _, err := d.Stacks("riser", c, 1)
	if err != nil || len(list) != 2 {
		t.Fatalf("%+v, %v", list, err)
	}
	// The one that stands there now is among them, in the holes in which it stands.
	now := d.variant(t, Change{Stack: &list[0].Change})
	a, b := d.Setup(), now
	if list[0].Names[0] != "low" || a.Bodies[a.body(t, "riser")].Solid != b.Bodies[b.body(t, "riser")].Solid {
		t.Errorf("%+v", list[0])
	}
}

// Which riser is meant where nobody says.
func TestRiser(t *testing.T) {
	if name, err := risen(t).draft(t).Riser(); name != "riser" || err != nil {
		t.Errorf("%q, %v", name, err)
	}
	// Nothing between the trunnion and the vise: the plate under the trunnion is one, too.
	if name, err := example(t).draft(t).Riser(); name != "plate" || err != nil {
		t.Errorf("%q, %v", name, err)
	}
	two := stackOf([2]string{"A2", "C2"}, Level{low.file(), [2]string{"B3", "D3"}}, Level{low.file(), [2]string{"A2", "C2"}})
	if _, err := risen(t).written(t, two.Stack).draft(t).Riser(); err == nil || !strings.Contains(err.Error(), "one of riser, riser 2") {
		t.Error(err)
	}
	none := example(t).with(t, "setup.toml", "on = \"plate\"\npins = [\"B4\", \"L4\"]", "on = \"table\"\nat = [0, 0, 0]\nwithin = 1")
	if _, err := none.draft(t).Riser(); err == nil || !strings.Contains(err.Error(), "nothing in this setup") {
		t.Error(err)
	}
}
