package machine

import (
	"io/fs"
	"maps"
	"slices"
	"sync"
)

// Draft is a setup that has been read and can be put together again with changes. Its
// variants share the solids, the tools and the solids of tools with it: the same pointers
// for what is the same. Nothing changes it; several goroutines may use it.
type Draft struct {
	store *Store
	read  builder // what the files say, nothing built of it
	built *builder
	own   map[string]*assembly // components of the setup, by what their files are known by

	lock  sync.Mutex
	tools map[stickOut]*libraryTool // at other stick-outs
}

// Draft reads a setup file to be varied. Errors are those of Load.
func (st *Store) Draft(path string) (*Draft, error) {
	st.loading.Lock()
	defer st.loading.Unlock()
	b, sources, err := st.readAll(path)
	if err != nil {
		return nil, err
	}
	d := &Draft{store: st, read: *b, built: b, own: make(map[string]*assembly), tools: make(map[stickOut]*libraryTool)}
	for _, name := range slices.Sorted(maps.Keys(b.components)) {
		d.own[st.known(name)] = b.components[name]
	}
	b.build()
	if err := report(sources); err != nil {
		return nil, err
	}
	return d, nil
}

// DraftFS is Draft from a file system, such as one embedded in the program. The
// name is slash-separated, from the root of fsys.
func DraftFS(fsys fs.FS, name string) (*Draft, error) { return inFS(fsys).Draft(name) }

// Setup is the setup as the files have it.
func (d *Draft) Setup() *Setup { return d.built.setup }

// With returns the setup with changes, made one after the other. It is what Load returns
// of a file written so: a stack stands where the one component stood in the file,
// its lowest level under the name of that, the others under the name and a number. Where
// the file names that place (a demand, what may be cut, the order of loading), the
// levels stand in for it: those of the same component alone may be cut, and keep what the
// place says of setting axes, screws and ways. Places in the file (Operation.Where and the
// like) are those of the file as it is.
//
// It is no setup if something does not fit: the error is then of Refused, joined by
// errors.Join where there are several, or says which file cannot be read.
func (d *Draft) With(changes ...Change) (*Setup, error) {
	b := d.again()
	for i := range changes {
		if err := d.apply(b, &changes[i]); err != nil {
			return nil, err
		}
	}
	b.build()
	if err := b.refusals(); err != nil {
		return nil, err
	}
	return b.setup, nil
}

// again returns a builder of the same setup, none of whose parts that building changes is
// shared with another one.
func (d *Draft) again() *builder {
	b := d.read
	b.src = b.src.clean()
	m := *b.machine
	m.src = m.src.clean()
	b.machine = &m
	b.setup = &Setup{File: d.read.setup.File, Inputs: d.read.setup.Inputs, made: d.read.setup.made}
	b.file.Places = slices.Clone(b.file.Places)
	b.sets = maps.Clone(b.sets)
	return &b
}
