package stl

import (
	"bytes"
	"io"
	"io/fs"
	"os"

	"gridswing/geom"
)

// ReadFile reads the solid in the file at path. It goes through small buffers:
// the memory it needs is that of the mesh, not of the file besides. An error is
// an *Error, or that of the operating system, with the path.
func ReadFile(path string) (*geom.Mesh, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return read(f, path)
}

// ReadFS is ReadFile for a file of fsys, called by its slash-separated name.
func ReadFS(fsys fs.FS, name string) (*geom.Mesh, error) {
	f, err := fsys.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return read(f, name)
}

func read(f fs.File, name string) (*geom.Mesh, error) {
	info, err := f.Stat()
	if err != nil {
		return nil, err
	}
	if at, ok := f.(io.ReaderAt); ok && info.Mode().IsRegular() {
		return decode(source{name: name, size: info.Size(), at: at})
	}
	// A pipe, a directory (whose error comes from here), a compressed archive.
	var data bytes.Buffer
	if _, err := data.ReadFrom(f); err != nil {
		return nil, err
	}
	return Decode(data.Bytes(), name)
}
