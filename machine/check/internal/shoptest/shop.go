// Package shoptest is what the tests of checks share: small shops whose files are
// written as text, by name.
package shoptest

import (
	"bytes"
	"strings"
	"testing"
	"testing/fstest"

	"gridswing/geom/shape"
	"gridswing/geom/stl"
	"gridswing/machine"

	"github.com/golang/geo/r3"
)

// Edit replaces text in one of the files, once. It is fatal if it is not there.
func Edit(t testing.TB, files map[string]string, file, old, new string) {
	t.Helper()
	if !strings.Contains(files[file], old) {
		t.Fatalf("%s has no %q", file, old)
	}
	files[file] = strings.Replace(files[file], old, new, 1)
}

// Try loads the named setup file.
func Try(files map[string]string, name string) (*machine.Setup, error) {
	fs := fstest.MapFS{}
	for name, text := range files {
		fs[name] = &fstest.MapFile{Data: []byte(text)}
	}
	return machine.LoadFS(fs, name)
}

// Load is Try where a fault is fatal.
func Load(t testing.TB, files map[string]string, name string) *machine.Setup {
	t.Helper()
	setup, err := Try(files, name)
	if err != nil {
		t.Fatal(err)
	}
	return setup
}

// Box returns a closed box as STL text; several may follow each other.
func Box(x0, y0, z0, x1, y1, z1 float64) string {
	var out bytes.Buffer
	mesh := shape.Box(r3.Vector{X: x0, Y: y0, Z: z0}, r3.Vector{X: x1, Y: y1, Z: z1}).Mesh()
	if err := stl.EncodeText(&out, mesh, "box"); err != nil {
		panic(err)
	}
	return out.String()
}
