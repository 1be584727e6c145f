package stl

import (
	"fmt"
	"math/rand/v2"
	"os"

	"gridswing/geom"
)

// WriteFile writes m as binary STL to the file at path, replacing what is there.
// The file appears whole or not at all: it is written under another name in the
// same folder, then renamed.
func WriteFile(path string, m *geom.Mesh) error {
	f, err := createBeside(path)
	if err != nil {
		return err
	}
	err = Encode(f, m)
	if e := f.Close(); err == nil {
		err = e
	}
	if err == nil {
		err = os.Rename(f.Name(), path)
	}
	if err != nil {
		os.Remove(f.Name())
	}
	return err
}

// createBeside creates a new file in the folder of path; unlike os.CreateTemp
// with the permissions of any other file.
func createBeside(path string) (*os.File, error) {
	for try := 0; ; try++ {
		name := fmt.Sprintf("%s.%08x.part", path, rand.Uint32())
		f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
		if !os.IsExist(err) || try == 100 {
			return f, err
		}
	}
}
