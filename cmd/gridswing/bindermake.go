package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
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
