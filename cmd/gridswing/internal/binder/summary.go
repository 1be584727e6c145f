package binder

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// summaryFormat is the version of the summary's JSON form.
const summaryFormat = 1

// Summary is what a run found out, for programs.
type Summary struct {
	Format   int     `json:"format"`
	Program  string  `json:"program_sha256"`
	Settings string  `json:"options"`
	Setups   []Setup `json:"setups"` // by name
	Gone     []Gone  `json:"gone"`   // what the front page told of before, and is no setup any more
	// Totals says how many setups have which word: see Setup.Word.
	Totals  map[string]int `json:"totals"`
	Front   []string       `json:"front"` // files of the front page
	Caution []string       `json:"caution"`
}

// States of a setup in a binder.
const (
	MadeState     = "made"        // its pages are what its files say
	FaultyState   = "fault"       // no pages could be made
	MissingState  = "missing"     // there are no pages, and nobody tried (Options.Join)
	OutdatedState = "out of date" // its pages are not what its files say (Options.Join)
)

// Setup is what a summary tells of a setup.
type Setup struct {
	Name  string `json:"name"` // slash-separated, what its pages are called without the ending
	File  string `json:"file"`
	State string `json:"state"`
	// Facts are those of the pages that are there: of earlier ones unless State is MadeState.
	Facts
	Fault string `json:"fault,omitempty"`
	Stack string `json:"stack,omitempty"` // where the program broke down
	// Pages are the files of its pages, slash-separated, from the binder's folder.
	Pages   []string `json:"pages"`
	Seconds float64  `json:"seconds"`  // how long it took to make them
	MadeNow bool     `json:"made_now"` // by this run
	// Change is what happened since the front page was written last; Was is the word it had
	// then, if that is another one now.
	Change string `json:"change,omitempty"`
	Was    string `json:"was,omitempty"`

	program, settings string
}

// Changes of a setup since the last front page.
const (
	NewSetup       = "new"
	ChangedInputs  = "inputs changed"
	ChangedProgram = "made anew" // by another program, or with other options
	Unchanged      = "unchanged"
)

// Word is the verdict of a setup, or its State where there is none.
func (s *Setup) Word() string {
	if s.State != MadeState {
		return s.State
	}
	return s.Verdict
}

// Gone is a setup that a front page told of before. It is told of again as long as there are pages of it.
type Gone struct {
	Name string `json:"name"`
	Was  string `json:"was"`
	// Pages are the files of its pages that are still there, as in Setup.
	Pages []string `json:"pages"`
}

// Whole reports whether the pages of all setups are what their files say.
func (s *Summary) Whole() bool {
	return !slices.ContainsFunc(s.Setups, func(x Setup) bool { return x.State != MadeState })
}

// Clear reports whether all is well.
func (s *Summary) Clear() bool {
	return !slices.ContainsFunc(s.Setups, func(x Setup) bool { return x.State != MadeState || !x.Clear })
}

// said is what a front page told, kept for the next one.
type said struct {
	Format int       `json:"format"`
	Setups []saidOne `json:"setups"`
	Gone   []Gone    `json:"gone"`
}

type saidOne struct {
	Name     string `json:"name"`
	Word     string `json:"word"`
	Hash     string `json:"inputs_sha256,omitempty"`
	Program  string `json:"program_sha256"`
	Settings string `json:"options"`
}

// readFront reads what the front page told last; nothing if there is none.
func readFront(root string) (*said, error) {
	data, err := os.ReadFile(filepath.Join(root, saidName))
	if errors.Is(err, fs.ErrNotExist) {
		return &said{}, nil
	}
	if err != nil {
		return nil, err
	}
	s := &said{}
	if err := json.Unmarshal(data, s); err != nil || s.Format != summaryFormat {
		return &said{}, nil // written by a later version: nothing to compare with
	}
	return s, nil
}

// front is what is kept of the front page that goes with the summary.
func (s *Summary) front() *said {
	f := &said{Format: summaryFormat, Gone: s.Gone}
	for i := range s.Setups {
		x := &s.Setups[i]
		f.Setups = append(f.Setups, saidOne{x.Name, x.Word(), x.Hash, x.program, x.settings})
	}
	return f
}

// compare says what changed since a front page. Of what is gone it asks which pages are left.
func (s *Summary) compare(last *said, left func(name string) []string) {
	before := map[string]*saidOne{}
	for i := range last.Setups {
		before[last.Setups[i].Name] = &last.Setups[i]
	}
	for i := range s.Setups {
		x := &s.Setups[i]
		was := before[x.Name]
		delete(before, x.Name)
		if was == nil {
			x.Change = NewSetup
			continue
		}
		if x.Word() != was.Word {
			x.Was = was.Word
		}
		switch {
		case x.Hash != was.Hash:
			x.Change = ChangedInputs
		case x.program != was.Program || x.settings != was.Settings:
			x.Change = ChangedProgram
		default:
			x.Change = Unchanged
		}
	}
	s.Gone = []Gone{}
	for _, was := range before {
		s.Gone = append(s.Gone, Gone{was.Name, was.Word, left(was.Name)})
	}
	for _, g := range last.Gone {
		there := slices.ContainsFunc(s.Setups, func(x Setup) bool { return x.Name == g.Name })
		if g.Pages = left(g.Name); len(g.Pages) > 0 && !there {
			s.Gone = append(s.Gone, g)
		}
	}
	slices.SortFunc(s.Gone, func(a, b Gone) int { return strings.Compare(a.Name, b.Name) })
}

// Faults are what kept pages from being made, an error for each.
func (s *Summary) Faults() (list []error) {
	for i := range s.Setups {
		x := &s.Setups[i]
		switch x.State {
		case FaultyState:
			for line := range strings.Lines(x.Fault) {
				list = append(list, errors.New(strings.TrimRight(line, "\r\n")))
			}
		case MissingState, OutdatedState:
			list = append(list, fmt.Errorf("%s: %s: %s", x.File, x.State, x.Fault))
		}
	}
	return list
}
