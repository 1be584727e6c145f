package machine

import (
	"errors"
	"io/fs"
)

// Load reads a setup file and everything it names from disk.
func Load(path string) (*Setup, error) { return nil, errors.New("not implemented") }

// LoadFS is Load from a file system.
func LoadFS(fsys fs.FS, name string) (*Setup, error) { return nil, errors.New("not implemented") }
