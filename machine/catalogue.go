package machine

import "fmt"

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
		if list[i] = fresh[key]; list[i] != nil {
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
	var all []*assembly
	for _, a := range list {
		all = append(all, a)
	}
	st.loadSolids(all)
	if err := report(sources); err != nil {
		return nil, err
	}
	for key, a := range fresh {
		st.components[key] = a
	}
	return list, nil
}
