package main

import (
	"bytes"
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"runtime"
	"strings"

	"gridswing/cmd/gridswing/internal/binder"
	"gridswing/cmd/gridswing/internal/pages"
	"gridswing/cmd/gridswing/internal/pictures"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/changeover"
	"gridswing/render/page"
	"gridswing/render/page/html"
	"gridswing/render/page/pdf"
)

// writer writes pages into files of one kind.
type writer struct {
	ending string
	write  func(w io.Writer, d *page.Document) error
}

// writers are those that pages are written by.
var writers = []writer{{".pdf", pdf.Write}, {".html", html.Write}}

// ours reports whether a file was written by one of the writers.
func ours(data []byte) bool { return bytes.Contains(data, []byte(page.Creator)) }

func (w *writer) written(d *page.Document) ([]byte, error) {
	var b bytes.Buffer
	err := w.write(&b, d)
	return b.Bytes(), err
}

// binderer makes the pages of setups. What they share is read, and made ready, once; what was not
// needed lately is forgotten.
type binderer struct {
	options *binderOptions
	looker  *looker
	// check looks at a setup and at the program that goes with it, whose files it adds to inputs.
	check func(ctx context.Context, l *looker, s *machine.Setup, inputs *binder.Inputs) (*looked, error)
}

// mostTreeFacets is of solids of how many facets the trees are kept for other setups: some hundred
// bytes each.
const mostTreeFacets = 1 << 21

func newBinderer(o *binderOptions) *binderer {
	return &binderer{options: o, check: withProgram,
		looker: newLooker(1, nil, check.SwingCheck, check.ReachCheck, check.StackCheck, check.DriverCheck, check.LoadsCheck)}
}

// forget drops what no setup needed lately, when one more is done.
func (b *binderer) forget() { b.looker.trees.Trim(mostTreeFacets, runtime.GOMAXPROCS(0)+1) }

// make makes the pages of one setup.
func (b *binderer) make(ctx context.Context, j binder.Job) (*binder.Made, error) {
	defer b.forget()
	l := *b.looker
	l.jobs = j.Jobs
	found, inputs, err := b.look(ctx, &l, j.File)
	if err != nil {
		return nil, err
	}
	s, r := found.setup, found.report
	loading, err := changeover.Make(ctx, nil, s, changeover.Options{Jobs: l.jobs, Trees: l.trees})
	if err != nil {
		return nil, err
	}
	scene, err := pictures.PrepareShared(ctx, s, l.trees, l.jobs)
	if err != nil {
		return nil, err
	}
	scene.In(b.options.pages.Lengths(s))
	set := &pages.Setup{Setup: s, Report: r, Loading: loading, Figures: scene.Figures(r), Date: inputs.Date(), Hash: inputs.Hash()[:hashLength]}
	if s.Binder != nil {
		set.Revision, set.Notes = s.Binder.Revision, s.Binder.Notes
	}
	made := &binder.Made{Facts: factsOf(set, b.options.pages), Inputs: inputs}
	for i, f := range b.options.formats {
		o := b.options.pages
		o.Format = f
		doc, err := set.Document(ctx, o)
		if err != nil {
			return nil, err
		}
		for _, w := range writers {
			data, err := w.written(doc)
			if err != nil {
				return nil, fmt.Errorf("%s: pages as %s: %w", j.File, strings.TrimPrefix(w.ending, "."), err)
			}
			made.Pages = append(made.Pages, binder.Page{Ending: b.options.stem(i) + w.ending, Data: data})
		}
	}
	return made, nil
}

// hashLength is how many digits of the inputs' hash pages tell.
const hashLength = 16

// factsOf is what the front page tells of a setup.
func factsOf(set *pages.Setup, o pages.Options) binder.Facts {
	s, r := set.Setup, set.Report
	f := binder.Facts{
		Title: r.Setup, Revision: set.Revision, Machine: r.Machine,
		Verdict: r.Verdict.String(), Clear: r.Verdict == check.Clear, Why: set.Why(o), Counts: map[string]int{},
	}
	var parts []string
	for i := range s.Parts {
		parts = append(parts, s.Parts[i].Name)
	}
	f.Part = strings.Join(parts, ", ")
	for i := range r.Findings {
		f.Counts[r.Findings[i].Verdict.String()]++
	}
	return f
}

// programReading looks at the program that a setup names for its pages, and notes which files it
// is read from.
type programReading struct {
	inputs *binder.Inputs
	sums   map[string][sha256.Size]byte // of the files before they were read
	order  []string
	faults []error
}

// withProgram looks at a setup, and at the program that it names for its pages.
func withProgram(ctx context.Context, l *looker, s *machine.Setup, inputs *binder.Inputs) (*looked, error) {
	p := &programReading{inputs: inputs}
	return p.look(ctx, l, s)
}

// look looks at a setup and its program, if there is one.
func (p *programReading) look(ctx context.Context, l *looker, s *machine.Setup) (*looked, error) {
	o := &programOptions{}
	if s.Binder == nil || s.Binder.Program == "" {
		return l.look(ctx, s, o)
	}
	name := s.Binder.Program
	if _, err := os.Stat(name); errors.Is(err, fs.ErrNotExist) {
		return p.without(ctx, l, s, name)
	}
	p.sums = map[string][sha256.Size]byte{}
	p.opened(name)
	o.file, o.opened = name, p.opened
	found, err := l.look(ctx, s, o)
	if err = errors.Join(append(p.faults, err)...); err != nil {
		return nil, err
	}
	return found, p.same()
}

// without looks at a setup whose program is not there as yet: that it keeps clear is not proven.
func (p *programReading) without(ctx context.Context, l *looker, s *machine.Setup, name string) (*looked, error) {
	found, err := l.look(ctx, s, &programOptions{})
	if err != nil {
		return nil, err
	}
	called, err := p.inputs.Called(name)
	if err != nil {
		return nil, err
	}
	found.report.Findings = append(found.report.Findings, check.Finding{
		Verdict: check.Unproven, Question: check.Posted, Index: [2]int{-1, -1},
		Reason: fmt.Sprintf("the program that the setup names is not there: %s", called),
	})
	found.report.Conclude()
	return found, p.inputs.Missing(name)
}

// opened notes a file that is about to be read.
func (p *programReading) opened(name string) {
	if _, known := p.sums[name]; known {
		return
	}
	sum, err := sumOf(name)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		p.faults = append(p.faults, p.inputs.Missing(name))
		return
	case err != nil:
		p.faults = append(p.faults, err)
		return
	}
	p.sums[name] = sum
	p.order = append(p.order, name)
	p.faults = append(p.faults, p.inputs.Add(name, sum))
}

// same makes sure that what was read is what was noted.
func (p *programReading) same() error {
	for _, name := range p.order {
		sum, err := sumOf(name)
		if err != nil {
			return err
		}
		if sum != p.sums[name] {
			return fmt.Errorf("%s: found another content after it was read, expected a program that nobody changes meanwhile", name)
		}
	}
	return nil
}

func sumOf(name string) (sum [sha256.Size]byte, err error) {
	f, err := os.Open(name)
	if err != nil {
		return sum, err
	}
	defer f.Close()
	h := sha256.New()
	if _, err = io.Copy(h, f); err != nil {
		return sum, err
	}
	return [sha256.Size]byte(h.Sum(nil)), nil
}
