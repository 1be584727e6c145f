package machine

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"gridswing/geom"
	"gridswing/geom/motion"
	"gridswing/geom/stl"

	"github.com/golang/geo/r3"
)

// box returns a closed box in STL.
func box(x0, y0, z0, x1, y1, z1 float64) []byte {
	m := &geom.Mesh{}
	at := func(i int) geom.Vertex {
		p := r3.Vector{X: x0, Y: y0, Z: z0}
		if i&1 != 0 {
			p.X = x1
		}
		if i&2 != 0 {
			p.Y = y1
		}
		if i&4 != 0 {
			p.Z = z1
		}
		return geom.VertexOf(p)
	}
	for _, q := range [][4]int{{0, 2, 3, 1}, {4, 5, 7, 6}, {0, 1, 5, 4}, {2, 6, 7, 3}, {0, 4, 6, 2}, {1, 3, 7, 5}} {
		m.Facets = append(m.Facets,
			geom.Facet{at(q[0]), at(q[1]), at(q[2])}, geom.Facet{at(q[0]), at(q[2]), at(q[3])})
	}
	var out bytes.Buffer
	if err := stl.Encode(&out, m); err != nil {
		panic(err)
	}
	return out.Bytes()
}

// world is a folder of files in memory.
type world map[string]string

func (w world) fs() fs.FS {
	m := fstest.MapFS{}
	for name, text := range w {
		m[name] = &fstest.MapFile{Data: []byte(text)}
	}
	return m
}

// with returns a copy in which the file has old replaced by new, once.
func (w world) with(t testing.TB, file, old, new string) world {
	t.Helper()
	if strings.Count(w[file], old) < 1 {
		t.Fatalf("%s has no %q", file, old)
	}
	c := world{}
	for k, v := range w {
		c[k] = v
	}
	c[file] = strings.Replace(w[file], old, new, 1)
	return c
}

func (w world) load(t testing.TB) *Setup {
	t.Helper()
	s, err := LoadFS(w.fs(), "setup.toml")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// example returns the commented example files, with boxes as their solids.
func example(t testing.TB) world {
	t.Helper()
	w := world{
		"table.stl":      string(box(-450, -250, -100, 450, 250, 0)),
		"column.stl":     string(box(-200, 300, -400, 200, 600, 1200)),
		"head.stl":       string(box(-150, -150, 170, 150, 300, 600)),
		"nose.stl":       string(box(-60, -60, 120, 60, 60, 170)),
		"guards.stl":     string(box(-1000, -900, -400, 1000, -880, 1200)),
		"plate.stl":      string(box(-350, -200, 0, 350, 200, 40)),
		"base.stl":       string(box(-300, -100, 0, 300, 100, 60)),
		"cradle.stl":     string(box(-150, -100, 100, 150, 100, 180)),
		"faceplate.stl":  string(box(-100, -100, 180, 100, 100, 200)),
		"vise-body.stl":  string(box(-60, -110, 0, 60, 110, 60)),
		"fixed-jaw.stl":  string(box(-60, -50, 60, 60, -30, 90)),
		"moving-jaw.stl": string(box(-60, -30, 60, 60, -10, 90)),
		"block.stl":      string(box(-40, -30, 0, 40, 30, 40)),
	}
	files, err := filepath.Glob("testdata/example/*.*")
	if err != nil || len(files) == 0 {
		t.Fatal("no example files", err)
	}
	for _, f := range files {
		text, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		w[filepath.Base(f)] = string(text)
	}
	return w
}

// uncut returns the world without what its setup says of cutting.
func (w world) uncut(t testing.TB) world {
	t.Helper()
	_, cutting, found := strings.Cut(w["setup.toml"], "# What is cut.")
	if !found {
		t.Fatal("nothing is cut")
	}
	return w.with(t, "setup.toml", cutting, "")
}

// body returns the index of a body by name.
func (s *Setup) body(t testing.TB, name string) int {
	t.Helper()
	for i := range s.Bodies {
		if s.Bodies[i].Name == name {
			return i
		}
	}
	t.Fatalf("no body %q", name)
	return -1
}

// params sets axes by letter: mm, or degrees where they turn.
func (s *Setup) params(t testing.TB, values map[string]float64) motion.Params {
	t.Helper()
	var p motion.Params
	found := 0
	for k := range s.Axes {
		v, ok := values[s.Axes[k].Letter]
		if !ok {
			continue
		}
		found++
		p[k] = v
		if s.Axes[k].Kind == motion.Rotary {
			p[k] = radians(v)
		}
	}
	if found != len(values) {
		t.Fatalf("axes %v, not all of which the setup has", values)
	}
	return p
}

func (s *Setup) axis(t testing.TB, letter string) *Axis {
	t.Helper()
	for i := range s.Axes {
		if s.Axes[i].Letter == letter {
			return &s.Axes[i]
		}
	}
	t.Fatalf("no axis %q", letter)
	return nil
}

func near(t testing.TB, what string, got, want r3.Vector, within float64) {
	t.Helper()
	if d := got.Sub(want).Norm(); !(d <= within) {
		t.Errorf("%s: got %v, want %v, off by %g", what, got, want, d)
	}
}

func nearly(t testing.TB, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: got %.12g, want %.12g", what, got, want)
	}
}

func vec(x, y, z float64) r3.Vector { return r3.Vector{X: x, Y: y, Z: z} }

// onlyError loads a world that has exactly one fault and returns it.
func (w world) onlyError(t *testing.T) *Error {
	t.Helper()
	s, err := LoadFS(w.fs(), "setup.toml")
	if err == nil {
		t.Fatal("loaded")
	}
	if s != nil {
		t.Error("a setup beside an error")
	}
	var e *Error
	if !errors.As(err, &e) {
		t.Fatalf("%T is no *Error: %v", err, err)
	}
	if many := strings.Count(err.Error(), "\n"); many > 0 {
		t.Fatalf("%d errors:\n%v", many+1, err)
	}
	return e
}

// place says where a text first stands in a file, the way an Error does.
func (w world) place(t testing.TB, file, text string) string {
	t.Helper()
	i := strings.Index(w[file], text)
	if i < 0 {
		t.Fatalf("%s has no %q", file, text)
	}
	before := w[file][:i]
	return fmt.Sprintf("%s:%d:%d", file, 1+strings.Count(before, "\n"), i-strings.LastIndex(before, "\n"))
}
