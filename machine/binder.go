package machine

import (
	"fmt"
	"strings"
	"unicode"
)

// Binder is what the pages of a setup say that nothing else in its files does.
type Binder struct {
	Revision string // of what the setup makes, as its drawing has it; "" if it is not stated
	// Program is the posted program that is looked at when the pages are made, its path as
	// resolved; "" for none. Load does not ask whether it is there: a setup is looked at before
	// its program is posted.
	Program string
	Notes   []string // for the first page, a paragraph each
}

// binderTable is [binder] of a setup file.
type binderTable struct {
	spot
	Revision string   `toml:"revision"`
	Program  string   `toml:"program"`
	Notes    []string `toml:"notes"`
}

// longestRevision is how many letters a revision can have: it stands at the head of every page.
const longestRevision = 24

// readBinder reads what is said for pages; nil if nothing is.
func (st *Store) readBinder(b *builder) *Binder {
	t := b.file.Binder
	if t == nil {
		return nil
	}
	k := &Binder{Revision: strings.TrimSpace(t.Revision)}
	if b.src.states(t.Path + ".revision") {
		b.src.oneLine(t.Path+".revision", t.Revision, `revision = "C"`)
		if n := len([]rune(k.Revision)); n > longestRevision {
			b.src.fault(t.Path+".revision", fmt.Sprintf("%d letters", n), "at most %d", longestRevision)
		}
	}
	if b.src.states(t.Path + ".program") {
		k.Program, _ = st.resolve(b.src, t.Path+".program", t.Program)
	}
	for i, note := range t.Notes {
		b.src.oneLine(fmt.Sprintf("%s.notes[%d]", t.Path, i), note, "words, a paragraph for each note")
		k.Notes = append(k.Notes, strings.TrimSpace(note))
	}
	return k
}

// oneLine refuses words that are empty, or have a line's end or the like in them.
func (s *source) oneLine(path, words, expected string) {
	switch {
	case strings.TrimSpace(words) == "":
		s.fault(path, quoted(words), "%s", expected)
	case strings.ContainsFunc(words, unicode.IsControl):
		s.fault(path, quoted(words), "words without a line's end or tab")
	}
}
