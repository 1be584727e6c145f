// Package files writes whole files or none. Its writers take turns with
// Freeze, after which nothing is written any more: so a program that has to
// end at once leaves no part of a file behind.
package files

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"sync"
)

// writing is held for reading by whoever writes a file.
var writing sync.RWMutex

// Freeze waits for the files that are being written and lets nobody begin
// another one, ever.
func Freeze() { writing.Lock() }

// Whole calls write, which must leave the whole file or nothing.
func Whole(write func() error) error {
	writing.RLock()
	defer writing.RUnlock()
	return write()
}

// Write stores data at path: in a temporary file of the same folder first,
// which is then renamed. The folder must exist.
func Write(path string, data []byte) error {
	return Whole(func() error { return write(path, data) })
}

func write(path string, data []byte) (err error) {
	f, err := os.CreateTemp(filepath.Dir(path), ".gridswing-*")
	if err != nil {
		return fmt.Errorf("cannot write %s: %w", path, err)
	}
	defer func() {
		if err != nil {
			f.Close()
			os.Remove(f.Name())
			err = fmt.Errorf("cannot write %s: %w", path, err)
		}
	}()
	if _, err = f.Write(data); err != nil {
		return err
	}
	if err = f.Chmod(0o644); err != nil {
		return err
	}
	if err = f.Close(); err != nil {
		return err
	}
	return os.Rename(f.Name(), path)
}

// Holds reports whether the file at path is there, and whether it holds just
// this data.
func Holds(path string, data []byte) (exists, same bool, err error) {
	old, err := os.ReadFile(path)
	if errors.Is(err, fs.ErrNotExist) {
		return false, false, nil
	}
	if err != nil {
		return true, false, err
	}
	return true, bytes.Equal(old, data), nil
}
