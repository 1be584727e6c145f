package main_test

import (
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

const module = "gridswing"

// rooms says what each part of the project may import of the project besides
// itself. The longest matching name counts: machine/check is no part of machine.
var rooms = map[string][]string{
	"geom":          {},
	"collide":       {"geom"},
	"machine":       {"geom"},
	"machine/check": {"machine", "collide", "geom"},
	"render":        {"geom"},
	"models":        {"geom"},
	"models/posted": {"models", "machine", "geom"},                             // writes programs for the demo, out of its setup
	"models/blocks": {"models", "machine", "geom"},                             // programs of any length, to measure with
	"testdata":      {"models", "machine/check", "machine", "collide", "geom"}, // programs that compare and measure
	"cmd":           {"models", "render", "machine/check", "machine", "collide", "geom"},
}

// roomOf returns the room a package (its path within the module) is part of,
// "" if there is none.
func roomOf(pkg string) string {
	best := ""
	for room := range rooms {
		if (pkg == room || strings.HasPrefix(pkg, room+"/")) && len(room) > len(best) {
			best = room
		}
	}
	return best
}

// mayImport reports whether one package of the project may import another.
func mayImport(from, to string) bool {
	room, other := roomOf(from), roomOf(to)
	if room == "" || other == "" {
		return false
	}
	if room == other {
		return true
	}
	for _, allowed := range rooms[room] {
		if other == allowed {
			return true
		}
	}
	return false
}

// TestHouse holds the imports of the project to the order of its rooms:
// downward only, machine and collide unknown to each other. Tests may look
// around, but nobody imports a command.
func TestHouse(t *testing.T) {
	root := filepath.Join("..", "..")
	seen := make(map[string]bool) // rooms that have source files
	err := filepath.WalkDir(root, func(file string, entry fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if entry.IsDir() && file != root && strings.HasPrefix(entry.Name(), ".") {
			return fs.SkipDir
		}
		if entry.IsDir() || filepath.Ext(file) != ".go" {
			return nil
		}
		relative, err := filepath.Rel(root, file)
		if err != nil {
			return err
		}
		pkg := path.Dir(filepath.ToSlash(relative))
		if roomOf(pkg) == "" {
			t.Errorf("%s: package %s is in no room of the house", relative, pkg)
			return nil
		}
		seen[roomOf(pkg)] = true
		checkImports(t, file, relative, pkg)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, room := range []string{"geom", "collide", "machine", "testdata", "cmd"} {
		if !seen[room] {
			t.Errorf("no source file found in %s: the walk went astray", room)
		}
	}
}

func checkImports(t *testing.T, file, relative, pkg string) {
	source, err := os.ReadFile(file)
	if err != nil {
		t.Error(err)
		return
	}
	parsed, err := parser.ParseFile(token.NewFileSet(), relative, source, parser.ImportsOnly)
	if err != nil {
		t.Error(err)
		return
	}
	test := strings.HasSuffix(relative, "_test.go")
	if !test && pkg != "geom/together" && strings.Contains(string(source), "sync.WaitGroup") {
		t.Errorf("%s: it waits by a sync.WaitGroup, expected a together.Group: what breaks down in one of its goroutines ends the program", relative)
	}
	for _, spec := range parsed.Imports {
		imported, err := strconv.Unquote(spec.Path.Value)
		if err != nil {
			t.Errorf("%s: %v", relative, err)
			continue
		}
		target, ours := strings.CutPrefix(imported, module+"/")
		switch {
		case !ours:
		case test && roomOf(target) != "cmd":
		case !mayImport(pkg, target):
			t.Errorf("%s: %s must not import %s", relative, pkg, target)
		}
	}
}

func TestMayImport(t *testing.T) {
	for _, c := range []struct {
		from, to string
		want     bool
	}{
		{"geom", "geom/motion", true},
		{"geom/motion", "geom", true},
		{"geom/stl", "collide", false},
		{"collide", "geom/motion", true},
		{"collide", "machine", false},
		{"machine", "collide", false},
		{"machine", "machine/check", false},
		{"machine/grid", "geom", true},
		{"machine/check", "collide", true},
		{"machine/check/swing", "machine/grid", true},
		{"machine/check", "render", false},
		{"render/raster", "geom", true},
		{"render", "machine/check", false},
		{"models", "machine", false},
		{"cmd/gridswing", "machine/check", true},
		{"machine/check", "cmd/gridswing/batch", false},
		{"geometry", "geom", false},
		{"utils", "geom", false},
	} {
		if got := mayImport(c.from, c.to); got != c.want {
			t.Errorf("mayImport(%q, %q) = %v", c.from, c.to, got)
		}
	}
}
