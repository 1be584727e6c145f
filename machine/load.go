package machine

import (
	"errors"
	"fmt"
	"io/fs"
	"slices"
)

// Load reads a setup file and everything it names: the machine, the components,
// their solids. A setup file that cannot be read at all is an error of the
// operating system. All others are of type *Error, joined by errors.Join: those
// of the setup file, then of the machine, then of the components, tool files
// and lists in the order in which the setup names them, each file's from top to
// bottom. A Setup is returned only without any error. What is wrong with the
// values of one operation is none: see Setup.Faulty.
func Load(path string) (*Setup, error) { return onDisk().load(path) }

// LoadFS is Load from a file system, such as one embedded in the program. The
// name is slash-separated, from the root of fsys.
func LoadFS(fsys fs.FS, name string) (*Setup, error) { return inFS(fsys).load(name) }

func (st *Store) load(path string) (*Setup, error) {
	b, sources, err := st.readAll(path)
	if err != nil {
		return nil, err
	}
	b.build()
	st.forget()
	if err := report(sources); err != nil {
		return nil, err
	}
	return b.setup, nil
}

// readAll reads a setup file and everything it names, and puts nothing together yet. What is
// wrong with solids is in the sources only.
func (st *Store) readAll(path string) (b *builder, sources []*source, err error) {
	st.loads++
	data, err := st.read(path)
	if err != nil {
		return nil, nil, fmt.Errorf("setup file: %w", err)
	}
	b = &builder{src: parse(path, data), setup: &Setup{File: path, made: newMade()}}
	sources = []*source{b.src}
	if b.src.is("setup") {
		b.src.decode(&b.file)
	}
	if b.src.values == nil || b.src.any() {
		return nil, nil, report(sources)
	}
	b.unit = b.src.unit(b.file.Units)
	assemblies := st.readFiles(b, &sources)
	if err := report(sources); err != nil {
		return nil, nil, err
	}
	st.loadSolids(slices.Clone(assemblies)) // which leaves out those that have theirs
	b.finishLibraries()
	b.setup.Inputs = inputs(sources, assemblies)
	return b, sources, nil
}

// report joins what is wrong with the files, in the order in which they were
// read; nil if nothing is.
func report(sources []*source) error {
	var all []error
	for _, s := range sources {
		for _, e := range s.sorted() {
			all = append(all, e)
		}
	}
	return errors.Join(all...)
}

// readFiles reads the machine and the components, each file once, and returns
// them in that order. What is wrong is noted in the sources.
func (st *Store) readFiles(b *builder, sources *[]*source) []*assembly {
	var list []*assembly
	if src := st.open(b.src, "machine", b.file.Machine); src != nil {
		*sources = append(*sources, src)
		if b.machine = machineOf(src); b.machine != nil {
			list = append(list, &b.machine.assembly)
		}
	}
	if b.machine != nil && b.machine.changer != nil {
		list = append(list, b.machine.changer)
	}
	b.sets = make(map[string]*assembly)
	read := make(map[string]*assembly)
	b.components = read
	for i := range b.file.Places {
		t := &b.file.Places[i]
		name, ok := st.resolve(b.src, t.Path+".component", t.Component)
		a, known := read[name]
		if !known && ok {
			src := st.open(b.src, t.Path+".component", t.Component)
			if src != nil {
				*sources = append(*sources, src)
				a = component(src)
			}
			read[name] = a
			if a != nil {
				list = append(list, a)
			}
		}
		if _, taken := b.sets[t.Name]; !taken {
			b.sets[t.Name] = a
		}
	}
	b.binder = st.readBinder(b)
	b.finished = b.finishedParts()
	list = append(list, b.finished)
	list = append(list, st.readLibraries(b, sources)...)
	st.readLists(b, sources)
	return list
}

// open reads and parses a file that another one names; nil, and a fault of the
// file that names it, if it cannot be read.
func (st *Store) open(from *source, key, relative string) *source {
	name, ok := st.resolve(from, key, relative)
	if !ok {
		return nil
	}
	data, err := st.read(name)
	if err != nil {
		from.missing(key, relative, name, err)
		return nil
	}
	return parse(name, data)
}
