package models

import (
	"errors"
	"io/fs"
)

// Overlay returns the demo's folder with other files in it: those of extra, in
// place of the demo's own where both have one of a name. It cannot list a folder of
// which extra has some files and the demo others.
func Overlay(extra fs.FS) fs.FS { return overlay{extra} }

type overlay struct{ extra fs.FS }

// Open implements fs.FS.
func (o overlay) Open(name string) (fs.File, error) {
	f, err := o.extra.Open(name)
	if errors.Is(err, fs.ErrNotExist) {
		return Demo.Open(name)
	}
	return f, err
}
