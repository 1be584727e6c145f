package files

import (
	"bytes"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"testing"
)

func TestWrite(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "a")
	for _, data := range [][]byte{[]byte("old"), []byte("new and longer"), {}} {
		if err := Write(path, data); err != nil {
			t.Fatal(err)
		}
		if exists, same, err := Holds(path, data); !exists || !same || err != nil {
			t.Errorf("after writing %q: there %v, the same %v, %v", data, exists, same, err)
		}
	}
	if exists, same, _ := Holds(path, []byte("other")); !exists || same {
		t.Error("another content is taken for the same")
	}
	if exists, _, err := Holds(filepath.Join(dir, "none"), nil); exists || err != nil {
		t.Errorf("a file that is not there: there %v, %v", exists, err)
	}
	only(t, dir, "a")
}

// TestWriteBy: the temporary file is in the other folder, also where it stays since the name is taken.
func TestWriteBy(t *testing.T) {
	dir, by := t.TempDir(), t.TempDir()
	if err := WriteBy(by, filepath.Join(dir, "a"), []byte("data")); err != nil {
		t.Fatal(err)
	}
	only(t, dir, "a")
	if err := os.MkdirAll(filepath.Join(dir, "a-folder", "in it"), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := WriteBy(by, filepath.Join(dir, "a-folder"), []byte("data")); err == nil {
		t.Error("a folder was replaced")
	}
	if left, err := os.ReadDir(by); err != nil || len(left) > 0 {
		t.Errorf("left behind: %v, %v", left, err)
	}
	if err := WriteBy(filepath.Join(by, "nowhere"), filepath.Join(dir, "b"), nil); err == nil {
		t.Error("written by way of no folder")
	}
}

// TestWriteFails: what is in the way stays as it is, and nothing is left beside it.
func TestWriteFails(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "folder")
	if err := os.MkdirAll(filepath.Join(path, "in it"), 0o755); err != nil {
		t.Fatal(err)
	}
	var at *fs.PathError
	if err := Write(path, []byte("data")); !errors.As(err, &at) || at.Path != path {
		t.Errorf("a folder in the way: %v", err)
	}
	only(t, dir, "folder")
	nowhere := filepath.Join(dir, "nowhere", "a")
	if err := Write(nowhere, []byte("data")); !errors.Is(err, fs.ErrNotExist) || !errors.As(err, &at) || at.Path != nowhere {
		t.Errorf("writing into a folder that is not there: %v", err)
	}
	only(t, dir, "folder")
}

func only(t *testing.T, dir, name string) {
	t.Helper()
	list, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	if len(list) != 1 || list[0].Name() != name {
		t.Errorf("%s holds %v, want only %s", dir, list, name)
	}
}

// TestFreeze: it waits for the file that is being written, and the next one is
// never begun.
func TestFreeze(t *testing.T) {
	t.Cleanup(writing.Unlock) // what is frozen would stay so for the tests that follow
	dir := t.TempDir()
	begun, release, frozen := make(chan bool), make(chan bool), make(chan bool)
	var log bytes.Buffer
	go whole(filepath.Join(dir, "whole"), func(path string) error {
		close(begun)
		<-release
		log.WriteString("written ")
		return write(dir, path, []byte("data"), false)
	})
	<-begun
	go func() {
		Freeze()
		log.WriteString("frozen")
		close(frozen)
	}()
	close(release)
	<-frozen
	if log.String() != "written frozen" {
		t.Errorf("in this order: %s", log.String())
	}
	only(t, dir, "whole")
	if writing.TryRLock() {
		t.Error("a file could still be begun")
	}
}
