// Package files writes whole files or none. Its writers take turns with
// Freeze, after which nothing is written any more: so a program that has to
// end at once leaves no part of a file behind.
package files

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"sync"
)

// writing is held for reading by whoever writes a file.
var writing sync.RWMutex

// Freeze waits for the files that are being written and lets nobody begin
// another one, ever.
func Freeze() { writing.Lock() }

// whole calls write for the file at path, of which it must leave the whole or
// nothing. An error names that file, whatever temporary one it came from.
func whole(path string, write func(path string) error) error {
	writing.RLock()
	defer writing.RUnlock()
	err := write(path)
	if err == nil {
		return nil
	}
	var file *fs.PathError
	var link *os.LinkError
	switch {
	case errors.As(err, &file):
		err = file.Err
	case errors.As(err, &link):
		err = link.Err
	}
	return &fs.PathError{Op: "write", Path: path, Err: err}
}

// Words says what went wrong. What the operating system says of a file begins with the file's
// name, like every other fault of a file.
func Words(err error) string {
	var p *fs.PathError
	if errors.As(err, &p) {
		return fmt.Sprintf("%s: cannot %s: %v", p.Path, p.Op, p.Err)
	}
	return err.Error()
}

// Write stores data at path: in a temporary file of the same folder first,
// which is then renamed. The folder must exist.
func Write(path string, data []byte) error {
	return whole(path, func(path string) error { return write(filepath.Dir(path), path, data, false) })
}

// WriteBy is Write by way of a temporary file in another folder of the same file system, where
// what a killed program leaves behind can be found. The data are on the disk before the
// file has its name, so that it is whole even if the computer stops.
func WriteBy(folder, path string, data []byte) error {
	return whole(path, func(path string) error { return write(folder, path, data, true) })
}

func write(folder, path string, data []byte, flush bool) (err error) {
	f, err := create(folder)
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			f.Close()
			os.Remove(f.Name())
		}
	}()
	if _, err = f.Write(data); err != nil {
		return err
	}
	if flush {
		if err = f.Sync(); err != nil {
			return err
		}
	}
	if err = f.Close(); err != nil {
		return err
	}
	return replace(f.Name(), path)
}

// create makes a temporary file. Whoever the system lets read what this user writes may read it.
func create(folder string) (*os.File, error) {
	for {
		name := filepath.Join(folder, ".gridswing-"+strconv.FormatUint(rand.Uint64(), 36))
		f, err := os.OpenFile(name, os.O_RDWR|os.O_CREATE|os.O_EXCL, 0o666)
		if !errors.Is(err, fs.ErrExist) {
			return f, err
		}
	}
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
