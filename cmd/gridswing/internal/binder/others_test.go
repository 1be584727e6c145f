//go:build !windows

package binder

import (
	"io/fs"
	"path/filepath"
	"syscall"
	"testing"
)

// What is no file is not read: nobody may ever write into a pipe.
func TestPipe(t *testing.T) {
	dir := shop(t, 1)
	if err := syscall.Mkfifo(filepath.Join(dir, "pipe.toml"), 0o644); err != nil {
		t.Fatal(err)
	}
	if _, made := run(t, options([]string{dir}, filepath.Join(t.TempDir(), "binder"))); len(made) != 1 {
		t.Errorf("made %v", made)
	}
}

// A binder belongs to all whom its owner lets write files: no lock, folder or page keeps them out.
func TestSharedWithOthers(t *testing.T) {
	defer syscall.Umask(syscall.Umask(0o002))
	out := filepath.Join(t.TempDir(), "binder")
	run(t, options([]string{shop(t, 3)}, out))
	err := filepath.WalkDir(out, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		info, err := d.Info()
		if err != nil {
			return err
		}
		want := fs.FileMode(0o664)
		if d.IsDir() {
			want = 0o775
		}
		if info.Mode().Perm() != want {
			t.Errorf("%s: %v, expected %v", path, info.Mode().Perm(), want)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}
