package machine

import (
	"slices"
	"testing"
)

// The example's pages say what its file says, the program's path from the file's folder.
func TestBinder(t *testing.T) {
	s := example(t).load(t)
	want := Binder{Revision: "C", Program: "block-two.nc", Notes: []string{"Wipe the faceplate before the vise goes on."}}
	if k := s.Binder; k == nil || k.Revision != want.Revision || k.Program != want.Program || !slices.Equal(k.Notes, want.Notes) {
		t.Errorf("binder %+v", k)
	}
	w := example(t)
	if s, err := LoadFS(w.with(t, "setup.toml", "[binder] ", "# ").with(t, "setup.toml", "revision = \"C\"", "#").
		with(t, "setup.toml", "program = \"block-two.nc\"", "#").with(t, "setup.toml", "notes = [\"W", "# [\"W").fs(), "setup.toml"); err != nil || s.Binder != nil {
		t.Errorf("without the table: %v", err)
	}
	empty := example(t).with(t, "setup.toml", "revision = \"C\"", "#").with(t, "setup.toml", "program = \"block-two.nc\"", "#").
		with(t, "setup.toml", "notes = [\"W", "# [\"W").load(t)
	if k := empty.Binder; k == nil || k.Revision != "" || k.Program != "" || len(k.Notes) != 0 {
		t.Errorf("an empty table: %+v", k)
	}
}

// A variant of a setup has the same pages.
func TestBinderOfVariant(t *testing.T) {
	d, err := DraftFS(example(t).fs(), "setup.toml")
	if err != nil {
		t.Fatal(err)
	}
	s, err := d.With()
	if err != nil || s.Binder == nil || s.Binder.Revision != "C" {
		t.Errorf("%v, %+v", err, s)
	}
}

func TestBinderFaults(t *testing.T) {
	for _, c := range []faulty{
		{"no revision", "setup.toml", `revision = "C"`, `revision = " "`, `revision = " "`, "", []string{`" "`, `revision = "C"`}},
		{"long revision", "setup.toml", `revision = "C"`, `revision = "as the drawing of March has it"`, `revision = "as`, "", []string{"30 letters", "at most 24"}},
		{"revision of two lines", "setup.toml", `revision = "C"`, `revision = "C\nD"`, `revision = "C\n`, "", []string{"line's end"}},
		{"a number", "setup.toml", `revision = "C"`, `revision = 3`, `revision = 3`, "", []string{"3"}},
		{"a path with backslashes", "setup.toml", `program = "block-two.nc"`, `program = 'a\b.nc'`, `program = 'a`, "", []string{"forward slashes"}},
		{"no path", "setup.toml", `program = "block-two.nc"`, `program = ""`, `program = ""`, "", []string{"forward slashes"}},
		{"no words", "setup.toml", `notes = ["Wipe`, `notes = ["", "Wipe`, `"", "Wipe`, "", []string{"words"}},
		{"a tab", "setup.toml", `notes = ["Wipe`, `notes = ["Wipe\t`, `"Wipe\t`, "", []string{"tab"}},
		{"unknown key", "setup.toml", `revision = "C"`, `revison = "C"`, `revison`, "", []string{`"revision"`}},
	} {
		t.Run(c.name, func(t *testing.T) { c.told(t, example(t)) })
	}
}
