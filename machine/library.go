package machine

import (
	"fmt"
	"slices"
)

// readLibraries reads the tool files that a setup names, those that are not
// known yet.
func (st *Store) readLibraries(b *builder, sources *[]*source) (list []*assembly) {
	for i, relative := range b.file.Tools {
		key := fmt.Sprintf("tools[%d]", i)
		name, ok := st.resolve(b.src, key, relative)
		if !ok {
			continue
		}
		l := st.libraries[name]
		if l == nil {
			src := st.open(b.src, key, relative)
			if src == nil {
				continue
			}
			l = libraryOf(src)
			st.libraries[name] = l
		}
		l.used = st.loads
		if slices.Contains(b.libraries, l) {
			b.src.fault(key, quoted(relative)+" a second time", "each tool file once")
			continue
		}
		*sources = append(*sources, l.src)
		b.libraries = append(b.libraries, l)
		list = append(list, &l.assembly)
	}
	return list
}

func (b *builder) finishLibraries() {
	for _, l := range b.libraries {
		l.finish()
	}
}

// addLibraries lists the tools of all tool files together: those that something
// is wrong with are kept apart.
func (b *builder) addLibraries() {
	b.tools = make(map[int]*listedTool)
	for i, l := range b.libraries {
		for _, t := range l.tools {
			if first := b.tools[t.Number]; first != nil {
				b.src.fault(fmt.Sprintf("tools[%d]", i), fmt.Sprintf("T%d a second time: %s and %s", t.Number, first.where(), l.where(t)),
					"each tool under its own number")
				continue
			}
			listed := &listedTool{libraryTool: t, library: l, index: -1}
			b.tools[t.Number] = listed
			if len(t.faults) == 0 {
				listed.index = len(b.setup.Tools)
				b.setup.Tools = append(b.setup.Tools, &t.Tool)
			}
		}
	}
}

// listedTool is a tool as a setup has it.
type listedTool struct {
	*libraryTool
	library *library
	index   int // into Setup.Tools; -1: something is wrong with it
	used    bool
}

func (t *listedTool) where() string { return t.library.where(t.libraryTool) }

// where gives a tool's place: "crib.toml:12".
func (l *library) where(t *libraryTool) string { return l.src.line(t.path) }

// line gives the place of a key: "op10.toml:48".
func (s *source) line(path string) string {
	line, _ := s.at(path)
	return fmt.Sprintf("%s:%d", s.name, line)
}

// UnusedTool is a fault of a tool that no operation uses.
type UnusedTool struct {
	Number int
	Fault  string // with its place
}

// warnOfTools tells what is suspicious about tools that operations use, once for
// those with the same cutter or holder, and apart from it what is wrong with the others.
func (b *builder) warnOfTools() {
	warn := func(text string) {
		if !slices.Contains(b.setup.Warnings, text) {
			b.setup.Warnings = append(b.setup.Warnings, text)
		}
	}
	for _, l := range b.libraries {
		for _, w := range l.warnings {
			warn(w)
		}
		for _, t := range l.tools {
			if b.tools[t.Number].used {
				for _, w := range t.warnings {
					warn(w)
				}
				continue
			}
			for _, w := range t.faults {
				b.setup.Unused = append(b.setup.Unused, UnusedTool{t.Number, w.where + ": " + w.text})
			}
		}
	}
}
