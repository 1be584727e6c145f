package models

import (
	"cmp"
	"errors"
	"io/fs"
	"slices"
)

// Overlay returns the demo's folder with other files in it: those of extra, in
// place of the demo's own where both have one of a name.
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

// ReadDir implements fs.ReadDirFS: a folder lists what both have in it.
func (o overlay) ReadDir(name string) ([]fs.DirEntry, error) {
	list, err := fs.ReadDir(o.extra, name)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, err
	}
	own, ownErr := fs.ReadDir(Demo, name)
	if ownErr != nil {
		return list, err
	}
	for _, e := range own {
		if !slices.ContainsFunc(list, func(x fs.DirEntry) bool { return x.Name() == e.Name() }) {
			list = append(list, e)
		}
	}
	slices.SortFunc(list, func(a, b fs.DirEntry) int { return cmp.Compare(a.Name(), b.Name()) })
	return list, nil
}
