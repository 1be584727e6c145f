package binder

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"gridswing/cmd/gridswing/internal/files"
)

// Facts are what a summary and a front page tell of a setup whose pages were made.
type Facts struct {
	Title    string `json:"setup,omitempty"` // the setup's name
	Part     string `json:"part,omitempty"`
	Revision string `json:"revision,omitempty"`
	Machine  string `json:"machine,omitempty"`
	Verdict  string `json:"verdict,omitempty"` // a word
	Clear    bool   `json:"clear"`             // by this verdict
	// Why is the worst finding in a few words, "" if there is none.
	Why string `json:"why,omitempty"`
	// Counts says how many findings have which verdict.
	Counts map[string]int `json:"findings,omitempty"`
	// Hash and Date are those of the inputs: see Inputs.
	Hash string `json:"inputs_sha256,omitempty"`
	Date string `json:"inputs_date,omitempty"`
}

// recordFormat is the version of records; those of another one are not believed.
const recordFormat = 1

// record says what the pages of a setup were made of.
type record struct {
	Format   int     `json:"format"`
	Program  string  `json:"program_sha256"`
	Settings string  `json:"settings"`
	Inputs   []input `json:"inputs"`
	Facts
	Pages   []madePage `json:"pages"`
	Seconds float64    `json:"seconds"`
	// Fault says why no pages could be made; all but Program, Settings and Seconds is then that of
	// earlier pages, which are still there.
	Fault string `json:"fault,omitempty"`
	Stack string `json:"stack,omitempty"`
}

// madePage is a file of pages as it was written.
type madePage struct {
	File string `json:"file"` // slash-separated, from the binder's folder
	Sum  string `json:"sha256"`
}

func recordName(name string) string { return folder + "/records/" + name + ".json" }

// record reads the record of a setup. One that is not there, or that nobody can read, says nothing.
func (b *batch) record(name string) *record {
	data, err := os.ReadFile(b.path(recordName(name)))
	if err != nil {
		return nil
	}
	r := &record{}
	if json.Unmarshal(data, r) != nil || r.Format != recordFormat {
		return nil
	}
	return r
}

// Why pages are not what they should be.
const (
	notMade         = "no pages were made of it"
	inputsChanged   = "its files are not those that its pages were made of"
	programChanged  = "its pages were made by another program"
	settingsChanged = "its pages were made with other options"
	pagesChanged    = "its pages are not those that were made"
)

// outdated says why pages have to be made, "" if they do not. It believes contents, not times.
func (b *batch) outdated(it *item, r *record) string {
	switch {
	case r == nil:
		return notMade
	case r.Program != b.Program:
		return programChanged
	case r.Settings != b.Settings:
		return settingsChanged
	case r.Fault != "":
		return r.Fault
	case len(r.Pages) == 0:
		return notMade
	}
	if changed, err := b.sums.changed(it.file, r.Inputs); err != nil || changed != "" {
		return inputsChanged + ": " + changed
	}
	for _, p := range r.Pages {
		if sum, err := sumOf(b.path(p.File)); err != nil || sum != p.Sum || !strings.HasPrefix(p.File, it.name) {
			return pagesChanged
		}
	}
	return ""
}

// encode writes data for people to read, too.
func encode(v any) ([]byte, error) {
	var out bytes.Buffer
	e := json.NewEncoder(&out)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	err := e.Encode(v)
	return out.Bytes(), err
}

// write writes a file of the binder, whole or not at all.
func (b *batch) write(ctx context.Context, name string, data []byte) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	path := b.path(name)
	if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
		return err
	}
	return files.WriteBy(b.hold.dir, path, data)
}

// keep writes the pages of a setup and then its record.
func (b *batch) keep(ctx context.Context, name string, r *record, pages []Page) error {
	before := b.record(name)
	for _, p := range pages {
		if err := b.ours(name+p.Ending, before); err != nil {
			return err
		}
	}
	for _, p := range pages {
		if err := b.write(ctx, name+p.Ending, p.Data); err != nil {
			return err
		}
		sum := sha256.Sum256(p.Data)
		r.Pages = append(r.Pages, madePage{name + p.Ending, hex.EncodeToString(sum[:])})
	}
	if before != nil {
		if err := b.removeOthers(name, before); err != nil {
			return err
		}
	}
	data, err := encode(r)
	if err != nil {
		return err
	}
	return b.write(ctx, recordName(name), data)
}

// ours makes sure that a page takes no file's place that somebody else put there, such as a drawing
// that is called like the setup beside it. Of what a record has it is known.
func (b *batch) ours(file string, r *record) error {
	if b.Ours == nil || r != nil && slices.ContainsFunc(r.Pages, func(p madePage) bool { return p.File == file }) {
		return nil
	}
	data, err := os.ReadFile(b.path(file))
	if err != nil || b.Ours(data) {
		return nil // what cannot be read is told when it is to be replaced
	}
	return fmt.Errorf("%s: found a file that is no page of a binder, expected none: another folder for the binder, or another name", b.path(file))
}

// removeOthers removes pages of a setup that were made before, and are not any more: on other paper.
// Those that are another setup's by now, or never were its own, stay.
func (b *batch) removeOthers(name string, before *record) error {
	for _, p := range before.Pages {
		ending, own := strings.CutPrefix(p.File, name)
		if !own || strings.ContainsAny(ending, `/\`) || has(b.taken, strings.ToLower(p.File)) {
			continue
		}
		if err := os.Remove(b.path(p.File)); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return err
		}
	}
	return nil
}

// left lists the pages that are still there of a setup that is not.
func (b *batch) left(name string) []string {
	pages := []string{}
	if r := b.record(name); r != nil {
		for _, p := range r.Pages {
			if _, err := os.Stat(b.path(p.File)); err == nil && !has(b.taken, strings.ToLower(p.File)) {
				pages = append(pages, p.File)
			}
		}
	}
	return pages
}
