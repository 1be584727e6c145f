package machine

import (
	"cmp"
	"crypto/sha256"
	"maps"
	"slices"
)

// Input is a file that was read for a setup.
type Input struct {
	Name string            // as it was opened
	Sum  [sha256.Size]byte // SHA-256 (FIPS 180-4) of the bytes that were read
}

// inputs lists the files behind sources and solids, sorted by name, each once. The sums are
// those of the very bytes that the setup is made of, whatever has happened to a file since.
func inputs(sources []*source, assemblies []*assembly) []Input {
	sums := make(map[string]Input)
	for _, s := range sources {
		sums[s.name] = Input{s.name, s.sum}
	}
	for _, a := range assemblies {
		for _, p := range a.parts {
			if p.solid != nil && p.solid.File != "" {
				sums[p.solid.File] = Input{p.solid.File, p.sum}
			}
		}
	}
	return slices.SortedFunc(maps.Values(sums), func(a, b Input) int { return cmp.Compare(a.Name, b.Name) })
}

const (
	// mostFacets is how many facets of solids a store keeps, of 36 bytes each; mostIdle is over
	// how many loads it keeps a solid that none of them uses.
	mostFacets = 1 << 23
	mostIdle   = 32
	// mostLibraries is how many tool files it keeps.
	mostLibraries = 32
)

// forget drops what was not used for long, and what was not for longest, solids and tool files,
// until what is left fits.
// What the load just done has used stays, so that nothing is read twice for one setup. Setups
// keep what they have.
func (st *Store) forget() {
	total := 0
	for _, m := range st.meshes {
		total += m.facets()
	}
	oldest := slices.SortedFunc(maps.Keys(st.meshes), func(a, b meshKey) int {
		return cmp.Or(cmp.Compare(st.meshes[a].used, st.meshes[b].used), cmp.Compare(a.name, b.name), cmp.Compare(a.unit, b.unit))
	})
	for _, key := range oldest {
		m := st.meshes[key]
		idle := st.loads - m.used
		if idle == 0 || idle <= mostIdle && total <= st.room && m.err == nil {
			continue
		}
		total -= m.facets()
		delete(st.meshes, key)
	}
	names := slices.SortedFunc(maps.Keys(st.libraries), func(a, b string) int {
		return cmp.Or(cmp.Compare(st.libraries[a].used, st.libraries[b].used), cmp.Compare(a, b))
	})
	for _, name := range names[:max(0, len(names)-mostLibraries)] {
		if st.libraries[name].used != st.loads {
			delete(st.libraries, name)
		}
	}
}

// facets is how many a solid has; 0 of one that could not be read.
func (m *mesh) facets() int {
	if m.mesh == nil {
		return 0
	}
	return len(m.mesh.Facets)
}
