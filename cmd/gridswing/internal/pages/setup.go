package pages

import (
	"cmp"
	"context"
	"fmt"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"gridswing/cmd/gridswing/internal/pictures"
	"gridswing/cmd/gridswing/internal/text"
	"gridswing/geom"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/changeover"
	"gridswing/render/page"
	"gridswing/render/page/layout"
)

// Setup is what the pages of one setup are made of.
type Setup struct {
	Setup  *machine.Setup
	Report *check.Report
	// Loading is how the setup gets onto the empty machine; nil: the order of Report.Fastening,
	// or else that of the setup, is all that is known.
	Loading *changeover.Plan
	Figures []pictures.Figure
	// Revision is that of what the setup makes, Date that of the inputs, Hash that of their
	// contents; "" where it is not known.
	Revision, Date, Hash string
	Notes                []string // for the first page, a paragraph each

	drawn map[drawing]*page.Drawing // for another paper, too
}

// drawing is a figure of a size, mm.
type drawing struct {
	of            *pictures.Figure
	width, height float64
}

// Units of lengths on pages.
type Units uint8

// Units.
const (
	AsFile Units = iota // as the setup file has them
	Millimetre
	Inch
)

// Options say how pages are set.
type Options struct {
	Format page.Format
	Units  Units
}

// sheet is the pages of a setup being set.
type sheet struct {
	*Setup
	m     *machine.Setup
	ctx   context.Context
	flow  flow
	u     text.Lengths
	files *strings.Replacer
	names []string     // of sections, as they came
	used  map[int]bool // figures that stand on a page, by their place in Figures
	err   error        // the first of drawing
}

// Document sets the pages. An error is that of a drawing, or of the context. The same setup
// gives the same document. Of one setup documents are made one after the other: they share drawings.
func (s *Setup) Document(ctx context.Context, o Options) (*page.Document, error) {
	sh := &sheet{Setup: s, m: s.Setup, ctx: ctx, used: map[int]bool{}, files: s.fileNames(), u: text.NewLengths(s.unit(o.Units), s.kept())}
	sh.flow = newFlow(layout.Options{Format: o.Format, Head: sh.head, Foot: sh.foot})
	for _, part := range sh.parts() {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		if part(); sh.err != nil {
			return nil, sh.err
		}
	}
	doc := sh.flow.Finish(s.Report.Setup, "Setup on "+s.Report.Machine)
	sh.contents(doc)
	return doc, nil
}

// parts lists what the pages tell, in the order of the package's comment.
func (s *sheet) parts() []func() {
	list := []func(){s.first}
	if len(s.Report.Findings) > 0 {
		list = append(list, s.findings)
	}
	return append(list, s.loadingOrder, s.plans, s.seats, s.screws, s.elevation, s.loads,
		s.tools, s.keyIn, s.location, s.operations, s.heights, s.posted, s.closest, s.swing,
		s.rest, s.limits, s.proving)
}

// words are words of a report as they stand on these pages: lengths in their unit, files by their
// names, wherever they are.
func (s *sheet) words(words string) string { return s.u.Words(s.files.Replace(words)) }

// all is words of each.
func (s *sheet) all(list []string) []string {
	list = slices.Clone(list)
	for i := range list {
		list[i] = s.words(list[i])
	}
	return list
}

// fileNames calls the setup's files and its program's by their names: the pages are the same wherever
// they are made.
func (s *Setup) fileNames() *strings.Replacer {
	list := []string{s.Report.File}
	if g := s.Report.Program; g != nil {
		list = append(list, g.File)
		if g.Fault != nil {
			list = append(list, g.Fault.File)
		}
	}
	for _, in := range s.Setup.Inputs {
		list = append(list, in.Name)
	}
	var pairs []string
	for _, file := range list {
		if file != "" {
			pairs = append(pairs, file, base(file))
		}
	}
	return strings.NewReplacer(pairs...)
}

// unit is the one that lengths are printed in.
func (s *Setup) unit(u Units) geom.Unit {
	switch {
	case u == Inch, u == AsFile && s.Setup.Unit == geom.Inch:
		return geom.Inch
	}
	return geom.Millimetre
}

// kept are the words on the pages that people look for as they are: names, lines of programs,
// reasons that the files give. The longest come first, so that one within another is found.
func (s *Setup) kept() (list []string) {
	r := s.Report
	list = append(list, r.Setup, r.Machine, r.File)
	for i := range r.Placed {
		list = append(list, r.Placed[i].Name)
	}
	for i := range s.Setup.Bodies {
		list = append(list, s.Setup.Bodies[i].Name)
	}
	for i := range s.Setup.Parts {
		list = append(list, s.Setup.Parts[i].Name)
	}
	for _, t := range s.Setup.Tools {
		list = append(list, t.Name)
		if t.Cutter != nil && t.Holder != nil {
			list = append(list, t.Cutter.Name, t.Holder.Name)
		}
	}
	if r.Reach != nil {
		for i := range r.Reach.Operations {
			o := &r.Reach.Operations[i]
			list = append(list, o.Name, o.ToolName)
			for k := range o.Features {
				list = append(list, o.Features[k].Name)
			}
		}
	}
	for _, found := range [][]check.Finding{r.Findings, r.Closest} {
		for i := range found {
			f := &found[i]
			list = append(list, f.Bodies[0], f.Bodies[1], f.Block, f.DemandReason, f.Operation, f.Feature)
		}
	}
	for i := range s.Setup.Seats {
		list = append(list, s.Setup.Seats[i].Unit)
	}
	slices.SortFunc(list, func(a, b string) int { return cmp.Or(len(b)-len(a), strings.Compare(a, b)) })
	return slices.Compact(slices.DeleteFunc(list, func(words string) bool { return words == "" }))
}

// shortHash is how many digits of the inputs' hash stand at the head of each page.
const shortHash = 8

func (s *sheet) head(strip *layout.Strip, number, total int) {
	strip.Left(s.Report.Setup)
	words := s.Date
	if s.Revision != "" {
		words = strings.TrimSpace("revision " + s.Revision + "  " + words)
	}
	if h := s.Hash; h != "" {
		words = strings.TrimSpace(words + "  inputs " + h[:min(shortHash, len(h))])
	}
	strip.Right(words)
}

func (s *sheet) foot(strip *layout.Strip, number, total int) {
	strip.Left(verdictWord(s.Report.Verdict))
	strip.Right(fmt.Sprintf("Page %d of %d", number, total))
	strip.Below(inShort)
}

// inShort is the caution in one line.
const inShort = "A geometric check of the models given. It does not replace a proving run, the builder's manual or a qualified person's judgement."

// section begins a part of the pages, on a new page where little is left of this one.
func (s *sheet) section(name string, room float64) {
	if s.flow.Left() < room {
		s.flow.NewPage("")
	}
	s.names = append(s.names, name)
	s.flow.Heading(name)
}

// contents names each page after the sections that begin on it.
func (s *sheet) contents(doc *page.Document) {
	next := 0
	for _, p := range doc.Pages {
		var names []string
		for _, item := range p.Items {
			t, ok := item.(*page.Text)
			if ok && next < len(s.names) && t.Face == page.Bold && t.Size > 10 && strings.HasPrefix(s.names[next], t.Words) {
				names = append(names, s.names[next])
				next++
			}
		}
		if p.Name == "" {
			p.Name = strings.Join(names, "; ")
		}
	}
}

// base is the last element of a path, whichever way its slashes lean.
func base(file string) string { return path.Base(filepath.ToSlash(file)) }
