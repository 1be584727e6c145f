package stl

import (
	"bytes"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"gridswing/geom"
)

func TestWriteFile(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "a plate.stl")
	for _, n := range []int{20, 3} { // the second replaces the first
		m := dome(n)
		if err := WriteFile(path, m); err != nil {
			t.Fatal(err)
		}
		got, err := ReadFile(path)
		if err != nil || !sameBits(got, m) {
			t.Fatalf("reading back: %v", err)
		}
	}
	if err := WriteFile(path, &geom.Mesh{}); err == nil {
		t.Error("an empty mesh is written")
	}
	if err := WriteFile(filepath.Join(dir, "missing", "x.stl"), dome(1)); err == nil {
		t.Error("a folder that is not there is no error")
	}
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	if len(entries) != 1 {
		t.Errorf("left behind: %v", entries)
	}
	if got, err := ReadFile(path); err != nil || len(got.Facets) != 18 {
		t.Errorf("what was there is gone after a failure: %v", err)
	}
}

func TestReadFailures(t *testing.T) {
	dir := t.TempDir()
	if _, err := ReadFile(filepath.Join(dir, "none.stl")); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("missing file: %v", err)
	}
	if _, err := ReadFile(dir); err == nil || !strings.Contains(err.Error(), dir) {
		t.Errorf("a directory: %v", err)
	}
	if _, err := ReadFS(os.DirFS(dir), "none.stl"); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("missing file: %v", err)
	}
}

// A file may shrink, or a disk fail, between Stat and reading.
func TestReadWhatIsNotThere(t *testing.T) {
	var text bytes.Buffer
	if err := EncodeText(&text, dome(100), ""); err != nil {
		t.Fatal(err)
	}
	for _, data := range [][]byte{encoded(t, dome(100)), text.Bytes()} {
		size := int64(len(data))
		for _, kept := range []int64{0, 100, size / 2, size - 5} {
			_, err := decode(source{name: "x.stl", size: size, at: bytes.NewReader(data[:kept])})
			var e *Error
			if !errors.As(err, &e) || e.Kind != Malformed {
				t.Errorf("%d of %d bytes: %v, want an Error", kept, size, err)
			}
			at := failingReaderAt{bytes.NewReader(data[:kept])}
			if _, err := decode(source{name: "x.stl", size: size, at: at}); !errors.Is(err, fs.ErrPermission) || !strings.HasPrefix(err.Error(), "x.stl: byte ") {
				t.Errorf("%d of %d bytes, then an error: %v", kept, size, err)
			}
		}
	}
}

// failingReaderAt fails where its file ends.
type failingReaderAt struct{ r *bytes.Reader }

func (f failingReaderAt) ReadAt(p []byte, off int64) (int, error) {
	n, err := f.r.ReadAt(p, off)
	if err == io.EOF {
		err = fs.ErrPermission
	}
	return n, err
}

// A file system without random access is read whole.
func TestReadFSWithoutReaderAt(t *testing.T) {
	m := dome(5)
	fsys := onlyRead{fstest.MapFS{"a/dome.stl": {Data: encoded(t, m)}}}
	got, err := ReadFS(fsys, "a/dome.stl")
	if err != nil || !sameBits(got, m) {
		t.Errorf("error %v", err)
	}
}

type onlyRead struct{ fs.FS }

func (f onlyRead) Open(name string) (fs.File, error) {
	file, err := f.FS.Open(name)
	return struct{ fs.File }{file}, err
}
