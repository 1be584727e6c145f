package machine

import (
	"fmt"
	"slices"
	"strings"
)

// Catalogue is component files from which to choose.
type Catalogue struct {
	Components []CatalogueComponent // in the order in which they were named; of a folder by file name
}

// CatalogueComponent is one of a catalogue.
type CatalogueComponent struct {
	File string
	Name string
	// Height is from the plane of its seat to the face on top of it with holes, mm, along
	// the seat's normal; 0 where Reason says that it has none.
	Height float64
	Reason string // why it cannot be one of a stack; "": it can
}

// Catalogue reads component files, or all TOML files of folders (not of folders in them). A
// file that is named more than once counts once. It is an error, with its place, if one is
// no component, and if a folder has none.
func (st *Store) Catalogue(paths ...string) (*Catalogue, error) {
	var files []string
	seen := make(map[string]bool)
	for _, path := range paths {
		found, err := st.filesAt(path)
		if err != nil {
			return nil, err
		}
		for _, file := range found {
			if known := st.known(file); !seen[known] {
				seen[known] = true
				files = append(files, file)
			}
		}
	}
	st.loading.Lock()
	defer st.loading.Unlock()
	list, err := st.readComponents(files)
	if err != nil {
		return nil, err
	}
	c := &Catalogue{}
	for i, a := range list {
		one := CatalogueComponent{File: files[i], Name: a.name, Reason: a.noTop()}
		if one.Reason == "" {
			one.Height = a.height(a.top())
		}
		c.Components = append(c.Components, one)
	}
	return c, nil
}

// filesAt lists the TOML files of a folder, by name; of a file the file itself.
func (st *Store) filesAt(path string) (files []string, err error) {
	entries, err := st.list(path)
	if err != nil {
		return []string{path}, nil // no folder: reading it will tell
	}
	for _, e := range entries {
		if name := e.Name(); !e.IsDir() && strings.HasSuffix(strings.ToLower(name), ".toml") {
			files = append(files, st.beside(path+"/.", name))
		}
	}
	if len(files) == 0 {
		return nil, &Error{File: path, Found: "a folder without TOML files", Expected: "component files"}
	}
	slices.Sort(files)
	return files, nil
}

// component returns a component by its file: that of the setup, or one of the store.
func (d *Draft) component(file string) (*assembly, error) {
	if a := d.own[d.store.known(file)]; a != nil {
		return a, nil
	}
	return d.store.component(file)
}

// component returns a component by its file, which is read once.
func (st *Store) component(file string) (*assembly, error) {
	st.loading.Lock()
	defer st.loading.Unlock()
	list, err := st.readComponents([]string{file})
	if err != nil {
		return nil, err
	}
	return list[0], nil
}

// readComponents reads component files with their solids, those that are not known yet.
func (st *Store) readComponents(files []string) ([]*assembly, error) {
	list := make([]*assembly, len(files))
	var sources []*source
	fresh := make(map[string]*assembly)
	for i, file := range files {
		key := st.known(file)
		if list[i] = st.components[key]; list[i] != nil {
			continue
		}
		data, err := st.read(file)
		if err != nil {
			return nil, fmt.Errorf("component file: %w", err)
		}
		src := parse(file, data)
		sources = append(sources, src)
		if list[i] = component(src); list[i] != nil {
			fresh[key] = list[i]
		}
	}
	if err := report(sources); err != nil {
		return nil, err
	}
	st.loadSolids(slices.Clone(list))
	if err := report(sources); err != nil {
		return nil, err
	}
	for key, a := range fresh {
		st.components[key] = a
	}
	return list, nil
}
