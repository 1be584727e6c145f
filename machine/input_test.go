package machine

import (
	"crypto/sha256"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"
)

// counted makes a store count how often it opens which file, by a form of its name.
func (st *Store) counted(form func(string) string) map[string]int {
	var lock sync.Mutex
	reads := make(map[string]int)
	read := st.read
	st.read = func(name string) ([]byte, error) {
		lock.Lock()
		reads[form(name)]++
		lock.Unlock()
		return read(name)
	}
	return reads
}

// Every file that was opened is an input, of the second setup of a store as of the first, and
// nothing else is; the sums are those of the files' bytes.
func TestInputs(t *testing.T) {
	dir := t.TempDir()
	w := withProbe(t)
	w["setup.toml"] = "\ufeff" + w["setup.toml"] // a mark counts, too
	w.onDiskIn(t, dir)
	st := NewStore()
	opened := st.counted(filepath.Clean)
	first, err := st.Load(filepath.Join(dir, "setup.toml"))
	if err != nil {
		t.Fatal(err)
	}
	second, err := st.Load(filepath.Join(dir, "second.toml"))
	if err != nil {
		t.Fatal(err)
	}
	all := make(map[string]bool)
	for _, s := range []*Setup{first, second} {
		if !slices.IsSortedFunc(s.Inputs, func(a, b Input) int { return strings.Compare(a.Name, b.Name) }) {
			t.Errorf("not sorted: %v", s.Inputs)
		}
		for _, in := range s.Inputs {
			all[in.Name] = true
			data, err := os.ReadFile(in.Name)
			if err != nil {
				t.Fatal(err)
			}
			if in.Sum != sha256.Sum256(data) {
				t.Errorf("%s: another sum", in.Name)
			}
		}
	}
	if len(first.Inputs) != len(second.Inputs) || len(all) != len(opened) || len(first.Inputs) != len(opened)-1 {
		t.Errorf("%d and %d inputs, %d files opened", len(first.Inputs), len(second.Inputs), len(opened))
	}
	for name := range opened {
		if !all[name] {
			t.Errorf("%s is no input", name)
		}
	}
}

// enlarge makes a store find, under names such as own-7.stl, a block whose first facet is there so
// often that it has so many.
func (st *Store) enlarge(block string, facets int) {
	read := st.read
	st.read = func(name string) ([]byte, error) {
		base := filepath.Base(name)
		if !strings.HasPrefix(base, "own-") || !strings.HasSuffix(base, ".stl") {
			return read(name)
		}
		data := []byte(block)
		data = append(data[:84:84], slices.Repeat(data[84:134], facets-12)...)
		data = append(data, block[84:]...)
		data[80], data[81] = byte(facets&255), byte(facets>>8)
		return data, nil
	}
}

// withOwn writes a setup whose stock is a solid that no other one has, and returns its file.
func (w world) withOwn(t *testing.T, dir, name string) string {
	t.Helper()
	for file, text := range map[string]string{
		name + ".toml":       strings.Replace(w["setup.toml"], "stock.toml", name+"-stock.toml", 1),
		name + "-stock.toml": strings.Replace(w["stock.toml"], "block.stl", name+".stl", 1),
	} {
		if err := os.WriteFile(filepath.Join(dir, file), []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	return filepath.Join(dir, name+".toml")
}

// heapMB is how much memory is in use.
func heapMB() float64 {
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return float64(m.HeapAlloc) / 1e6
}

// A store of hundreds of setups, each with a large solid of its own, holds no more than a few of
// them, and what all of them share is still read once.
func TestStoreDoesNotGrow(t *testing.T) {
	dir := t.TempDir()
	w := withProbe(t)
	w.onDiskIn(t, dir)
	const setups, facets = 200, 5000
	st := NewStore()
	st.room = 10 * facets
	st.enlarge(w["block.stl"], facets)
	reads := st.counted(filepath.Base)
	var early float64
	for i := range setups {
		if _, err := st.Load(w.withOwn(t, dir, fmt.Sprintf("own-%d", i))); err != nil {
			t.Fatal(err)
		}
		if i == 20 {
			early = heapMB()
		}
	}
	// One such solid is 0.18 MB of facets, and as much again of what is known of it.
	if late := heapMB(); late > early+2 {
		t.Errorf("%.1f MB after 20 setups, %.1f MB after %d", early, late, setups)
	}
	if reads["probe.stl"] != 1 || reads["head.stl"] != 1 || reads["tools.toml"] != 1 {
		t.Errorf("what is shared is read again: %v", reads)
	}
	const setup = 15 // solids that all have
	if kept := len(st.meshes); kept > setup+10 {
		t.Errorf("%d solids are kept", kept)
	}
	// Where there is room enough, what was not used for long goes all the same.
	st.room = mostFacets
	for range mostIdle + 1 {
		if _, err := st.Load(filepath.Join(dir, "setup.toml")); err != nil {
			t.Fatal(err)
		}
	}
	if kept := len(st.meshes); kept > setup {
		t.Errorf("%d solids are kept", kept)
	}
	runtime.KeepAlive(st)
}
