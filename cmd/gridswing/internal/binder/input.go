package binder

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"sync"
	"time"
)

// input is a file that pages depend on.
type input struct {
	Name string `json:"name"`   // slash-separated, from the setup's folder
	Sum  string `json:"sha256"` // in hex; "" of a file that was looked for and was not there
}

// Inputs are the files that the pages of a setup depend on.
type Inputs struct {
	folder string // of the setup, absolute
	list   map[string]string
	newest time.Time
}

// NewInputs returns inputs of a setup, none as yet.
func NewInputs(setup string) (*Inputs, error) {
	whole, err := filepath.Abs(setup)
	if err != nil {
		return nil, err
	}
	return &Inputs{folder: filepath.Dir(whole), list: map[string]string{}}, nil
}

// Add adds a file by its name as it was opened, and the SHA-256 of the bytes that were read.
func (in *Inputs) Add(name string, sum [sha256.Size]byte) error {
	if info, err := os.Stat(name); err == nil && info.ModTime().After(in.newest) {
		in.newest = info.ModTime()
	}
	return in.put(name, hex.EncodeToString(sum[:]))
}

// Missing adds a file that was looked for and is not there.
func (in *Inputs) Missing(name string) error { return in.put(name, "") }

func (in *Inputs) put(name, sum string) error {
	name, err := in.Called(name)
	if err == nil {
		in.list[name] = sum
	}
	return err
}

// Called is what a file is called on pages: slash-separated, from the setup's folder, from wherever
// pages are made.
func (in *Inputs) Called(name string) (string, error) {
	whole, err := filepath.Abs(name)
	if err != nil {
		return "", err
	}
	if relative, err := filepath.Rel(in.folder, whole); err == nil {
		whole = relative // on another drive it stays as it is
	}
	return filepath.ToSlash(whole), nil
}

// Date is the day, by UTC, on which one of the files was changed last: "2026-03-31"; "" if there
// are none.
func (in *Inputs) Date() string {
	if in.newest.IsZero() {
		return ""
	}
	return in.newest.UTC().Format(time.DateOnly)
}

// Hash is a hash of the names, from the setup's folder, and the contents of all files: the same on
// every computer, in hex.
func (in *Inputs) Hash() string {
	h := sha256.New()
	for _, i := range in.sorted() {
		fmt.Fprintf(h, "%d %s %s\n", len(i.Name), i.Name, i.Sum)
	}
	return hex.EncodeToString(h.Sum(nil))
}

func (in *Inputs) sorted() []input {
	list := make([]input, 0, len(in.list))
	for name, sum := range in.list {
		list = append(list, input{name, sum})
	}
	slices.SortFunc(list, func(a, b input) int { return cmp.Compare(a.Name, b.Name) })
	return list
}

// sums are hashes of files as they are now, each worked out once in a run.
type sums struct{ known sync.Map }

// of returns the hash of a file, "" if it is not there.
func (s *sums) of(name string) (string, error) {
	once, _ := s.known.LoadOrStore(name, sync.OnceValues(func() (string, error) { return sumOf(name) }))
	return once.(func() (string, error))()
}

// sumOf is SumOf in hex, "" of a file that is not there.
func sumOf(name string) (string, error) {
	sum, err := SumOf(name)
	if errors.Is(err, fs.ErrNotExist) {
		return "", nil
	}
	if err != nil {
		return "", err
	}
	return hex.EncodeToString(sum[:]), nil
}

// SumOf is the SHA-256 of a file as it is now.
func SumOf(name string) (sum [sha256.Size]byte, err error) {
	f, err := os.Open(name)
	if err != nil {
		return sum, err
	}
	defer f.Close()
	h := sha256.New()
	if _, err := io.Copy(h, f); err != nil {
		return sum, err
	}
	return [sha256.Size]byte(h.Sum(nil)), nil
}

// changed returns the first of the inputs that is not what it was, "" if all are.
func (s *sums) changed(setup string, inputs []input) (string, error) {
	whole, err := filepath.Abs(setup)
	if err != nil {
		return "", err
	}
	for _, in := range inputs {
		name := filepath.FromSlash(in.Name)
		if !filepath.IsAbs(name) {
			name = filepath.Join(filepath.Dir(whole), name)
		}
		if sum, err := s.of(name); err != nil || sum != in.Sum {
			return in.Name, nil // what cannot be read is told when pages are to be made of it
		}
	}
	return "", nil
}

// ProgramHash is a hash of the program that runs, in hex.
func ProgramHash() (string, error) {
	name, err := os.Executable()
	if err != nil {
		return "", err
	}
	sum, err := SumOf(name)
	return hex.EncodeToString(sum[:]), err
}
