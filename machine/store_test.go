package machine

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// onDiskIn writes a world into a folder.
func (w world) onDiskIn(t *testing.T, dir string) {
	t.Helper()
	for name, text := range w {
		if err := os.WriteFile(filepath.Join(dir, filepath.FromSlash(name)), []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
}

const probeSolid = "file = \"probe.stl\"\nlength = 105\nchord_error = 0.02"

// withProbe is the example with the solid of its probe's body.
func withProbe(t *testing.T) world {
	w := example(t).with(t, "tools.toml", "profile = [[0, 63], [30, 63], [30, 50], [105, 50]]", probeSolid)
	w["probe.stl"] = string(box(-30, -30, -105, 30, 30, 0))
	w["second.toml"] = w["setup.toml"]
	return w
}

// A holder given as a solid has it, with its chord error.
func TestHolderSolid(t *testing.T) {
	s := withProbe(t).load(t)
	h := s.Tools[3].Holder
	if h.Mesh == nil || h.ChordError != 0.02 || h.Length != 105 || h.Profile != nil || len(s.Faulty) > 0 {
		t.Errorf("%+v, faulty %+v", h, s.Faulty)
	}
	if s.Tools[0].Holder.Length != 45 || s.Tools[0].LPR() != 85 {
		t.Errorf("an arbor of %g, LPR %g", s.Tools[0].Holder.Length, s.Tools[0].LPR())
	}
	// 1.2 kg of arbor and 0.4 of cutter; or what the tool says of the whole.
	nearly(t, "mass", s.Tools[0].Mass, 1.6, 1e-12)
	stated := example(t).with(t, "tools.toml", "# mass = 1.6 ", "mass = 2 #").load(t)
	nearly(t, "stated mass", stated.Tools[0].Mass, 2, 0)
	unknown := example(t).with(t, "tools.toml", "mass = 0.4\n", "").load(t)
	nearly(t, "unknown mass", unknown.Tools[0].Mass, 0, 0)
}

// What several setups have in common is read once: tools and solids.
func TestStore(t *testing.T) {
	dir := t.TempDir()
	withProbe(t).onDiskIn(t, dir)
	st := NewStore()
	reads := st.counted(filepath.Base)
	a, err := st.Load(filepath.Join(dir, "setup.toml"))
	if err != nil {
		t.Fatal(err)
	}
	b, err := st.Load(filepath.Join(dir, "second.toml"))
	if err != nil {
		t.Fatal(err)
	}
	if reads["tools.toml"] != 1 || reads["probe.stl"] != 1 || reads["block.stl"] != 1 {
		t.Errorf("read %v", reads)
	}
	if a.Tools[3] != b.Tools[3] || a.Tools[3].Holder.Mesh == nil || a.Bodies[0].Solid.Mesh != b.Bodies[0].Solid.Mesh {
		t.Error("tools or solids a second time")
	}
	if len(b.Faulty) > 0 || len(b.Operations) != 5 {
		t.Errorf("faulty %+v", b.Faulty)
	}
	alone, err := Load(filepath.Join(dir, "setup.toml"))
	if err != nil {
		t.Fatal(err)
	}
	if alone.Tools[3] == a.Tools[3] {
		t.Error("Load shares with others")
	}
}

// What is wrong with a file is told once to each setup that names it.
func TestStoreTellsEach(t *testing.T) {
	for _, c := range []struct{ old, new string }{
		{probeSolid, strings.Replace(probeSolid, "probe.stl", "prob.stl", 1)},
		{"number = 4", "number = 2"},
		{"[[holder]] ", "[[holdre]] "},
	} {
		dir := t.TempDir()
		withProbe(t).with(t, "tools.toml", c.old, c.new).onDiskIn(t, dir)
		st := NewStore()
		var told [2]string
		for i, name := range []string{"setup.toml", "second.toml"} {
			s, err := st.Load(filepath.Join(dir, name))
			if err == nil || s != nil {
				t.Fatalf("%s: loaded", c.new)
			}
			told[i] = err.Error()
		}
		if told[0] != told[1] {
			t.Errorf("%s\nand then\n%s", told[0], told[1])
		}
	}
}

// A setup that cannot be loaded leaves nothing half read behind.
func TestStoreAfterFailure(t *testing.T) {
	dir := t.TempDir()
	w := withProbe(t)
	w["broken.toml"] = strings.Replace(w["setup.toml"], `component = "vise.toml"`, `component = "vice.toml"`, 1)
	w.onDiskIn(t, dir)
	st := NewStore()
	if _, err := st.Load(filepath.Join(dir, "broken.toml")); err == nil {
		t.Fatal("loaded")
	}
	s, err := st.Load(filepath.Join(dir, "setup.toml"))
	if err != nil {
		t.Fatal(err)
	}
	if s.Tools[3].Holder.Mesh == nil || len(s.Faulty) > 0 {
		t.Errorf("%+v", s.Faulty)
	}
}

// Tools of several files are there together; a number in two of them is told.
func TestTwoToolFiles(t *testing.T) {
	w := example(t).with(t, "setup.toml", `["tools.toml"]`, `["tools.toml", "more.toml"]`)
	w["more.toml"] = "kind = \"tools\"\nname = \"more\"\nunits = \"mm\"\n[[holder]]\nname = \"h\"\nprofile = [[0, 50], [60, 50]]\n" +
		"[[cutter]]\nname = \"c\"\nkind = \"end mill\"\nDC = 8\nAPMX = 10\nDMM = 8\nOAL = 60\n" +
		"[[tool]]\nnumber = 5\ncutter = \"c\"\nholder = \"h\"\nstick_out = 30\n"
	s := w.load(t)
	if len(s.Tools) != 5 || s.Tools[4].Number != 5 || s.Tools[4].Name != "c" {
		t.Errorf("%d tools", len(s.Tools))
	}
	e := w.with(t, "more.toml", "number = 5", "number = 4").onlyError(t)
	if at := w.place(t, "setup.toml", `"more.toml"`); !strings.HasPrefix(e.Error(), at) || !strings.Contains(e.Found, "T4 a second time: tools.toml:87 and more.toml:14") {
		t.Error(e)
	}
}

// Of a tool that nothing uses, faults are told apart; of one that is used, what
// only looks wrong is a warning.
func TestWarningsOfTools(t *testing.T) {
	w := example(t)
	w["tools.toml"] += "[[tool]]\nnumber = 9\ncutter = \"drill 10\"\nholder = \"arbor 22\"\nstick_out = 95\n"
	s := w.load(t)
	if len(s.Faulty) > 0 || len(s.Tools) != 4 || len(s.Warnings) != 0 || len(s.Unused) != 1 || s.Unused[0].Number != 9 || !strings.Contains(s.Unused[0].Fault, ": stick_out: found 95 mm") {
		t.Errorf("%d tools, faulty %+v, warnings %q, unused %+v", len(s.Tools), s.Faulty, s.Warnings, s.Unused)
	}
	// Two tools with one holder, whose taper nobody knows: told once.
	s = example(t).with(t, "tools.toml", "[0, 44.45], [3.2, 44.45], [3.2, 63.5]", "[0, 40], [3.2, 44.45], [3.2, 63.5]").load(t)
	if len(s.Faulty) > 0 || len(s.Warnings) != 1 || !strings.Contains(s.Warnings[0], "40 mm at the gauge line") {
		t.Errorf("faulty %+v, warnings %q", s.Faulty, s.Warnings)
	}
}
