package machine

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"strings"
	"sync"
	"unicode"
)

// Store is where files are read from. Each tool file and each solid is read
// once, however many setups name it; but what was not used for long is forgotten, so that a
// store does not grow with the number of setups (forget).
type Store struct {
	read   func(name string) ([]byte, error)
	beside func(file, relative string) string
	// known is what a file is known by, however its path is written.
	known func(name string) string
	list  func(folder string) ([]fs.DirEntry, error)

	loading   sync.Mutex // one setup after the other
	loads     int        // how many were begun
	room      int        // how many facets it keeps for later setups, at most
	libraries map[string]*library
	meshes    map[meshKey]*mesh
	// components are those that no setup names, by what their files are known by.
	components map[string]*assembly
}

// NewStore returns a store of the files on disk, for setups that have tools or
// solids in common.
func NewStore() *Store { return onDisk() }

// NewStoreFS returns a store of a file system, such as one embedded in the program. Names
// are slash-separated, from the root of fsys.
func NewStoreFS(fsys fs.FS) *Store { return inFS(fsys) }

// Load is the function Load, from the store. Several goroutines may call it.
func (st *Store) Load(path string) (*Setup, error) {
	st.loading.Lock()
	defer st.loading.Unlock()
	return st.load(path)
}

// onDisk reads from disk. Relative paths go from the folder of the file that
// names them; an absolute path is taken as it is.
func onDisk() *Store {
	return &Store{
		libraries: make(map[string]*library), meshes: make(map[meshKey]*mesh), components: make(map[string]*assembly),
		read: os.ReadFile, room: mostFacets,
		beside: func(file, relative string) string {
			p := filepath.FromSlash(relative)
			if filepath.IsAbs(p) {
				return filepath.Clean(p)
			}
			return filepath.Join(filepath.Dir(file), p)
		},
		known: func(name string) string {
			if whole, err := filepath.Abs(name); err == nil {
				return whole
			}
			return filepath.Clean(name)
		},
		list: os.ReadDir,
	}
}

// inFS reads from a file system, whose paths cannot be absolute.
func inFS(fsys fs.FS) *Store {
	return &Store{
		libraries: make(map[string]*library), meshes: make(map[meshKey]*mesh), components: make(map[string]*assembly),
		read: func(name string) ([]byte, error) { return fs.ReadFile(fsys, name) }, room: mostFacets,
		beside: func(file, relative string) string {
			return path.Join(path.Dir(file), relative)
		},
		known: path.Clean,
		list:  func(folder string) ([]fs.DirEntry, error) { return fs.ReadDir(fsys, folder) },
	}
}

// resolve returns the full name of a file that another one names.
func (st *Store) resolve(from *source, key, relative string) (name string, ok bool) {
	// A backslash in double quotes can have become a tab or a line's end.
	if relative == "" || strings.ContainsFunc(relative, func(r rune) bool { return r == '\\' || unicode.IsControl(r) }) {
		from.fault(key, quoted(relative), "a path with forward slashes, from the folder of %s", from.name)
		return "", false
	}
	return st.beside(from.name, relative), true
}

// missing notes that a file named by another one cannot be read.
func (s *source) missing(key, relative, name string, err error) {
	var p *fs.PathError
	if errors.As(err, &p) {
		err = p.Err // it repeats the name
	}
	s.fault(key, fmt.Sprintf("%q (%s: %v)", relative, name, err), "a file, its path from the folder of %s", s.name)
}
