package pages

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"gridswing/cmd/gridswing/internal/text"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/render/ink"
	"gridswing/render/page"
	"gridswing/render/page/face"
	"gridswing/render/page/pdf"
)

// textsOf returns the texts of a page, in their order.
func textsOf(p *page.Page) (list []*page.Text) {
	for _, item := range p.Items {
		if t, ok := item.(*page.Text); ok {
			list = append(list, t)
		}
	}
	return list
}

// plain undoes how words are set: no-break spaces and minus signs are what they are in the reports.
func plain(words string) string {
	return strings.NewReplacer("\u00a0", " ", "\u2212", "-").Replace(words)
}

// said is all that pages say, between head and foot, without blanks: lines are broken anywhere.
func said(doc *page.Document) string {
	var b strings.Builder
	for _, p := range doc.Pages {
		for _, t := range textsOf(p) {
			if t.At.Y > 18 && t.At.Y < doc.Format.Height-16 {
				b.WriteString(strings.ReplaceAll(plain(t.Words), " ", ""))
			}
		}
	}
	return b.String()
}

func says(t *testing.T, doc *page.Document, all string, words ...string) {
	t.Helper()
	for _, w := range words {
		if !strings.Contains(all, strings.ReplaceAll(face.Shown(w), " ", "")) {
			t.Errorf("%s: the pages do not say %q", doc.Title, w)
		}
	}
}

// box is what a text covers, mm.
func box(t *page.Text) page.Area {
	w, em := face.Width(t.Face, t.Size, t.Words), t.Size*face.Point
	x, y := t.At.X, t.At.Y
	if t.Upward {
		switch t.Align {
		case page.Center:
			y += w / 2
		case page.Right:
			y += w
		}
		return page.Area{X0: x - face.Ascent*em, Y0: y - w, X1: x + face.Descent*em, Y1: y}
	}
	switch t.Align {
	case page.Center:
		x -= w / 2
	case page.Right:
		x -= w
	}
	return page.Area{X0: x, Y0: y - face.Ascent*em, X1: x + w, Y1: y + face.Descent*em}
}

// sound fails where words are outside of the page or over others.
func sound(t *testing.T, doc *page.Document) {
	t.Helper()
	const slack = 1e-3
	for n, p := range doc.Pages {
		all := textsOf(p)
		for i, a := range all {
			b := box(a)
			if b.X0 < 12-slack || b.Y0 < 5 || b.X1 > doc.Format.Width-12+slack || b.Y1 > doc.Format.Height-5 {
				t.Fatalf("%s, page %d: %q at %v is outside", doc.Title, n+1, a.Words, b)
			}
			for _, other := range all[:i] {
				o := box(other)
				if min(b.X1, o.X1)-max(b.X0, o.X0) > slack && min(b.Y1, o.Y1)-max(b.Y0, o.Y0) > slack {
					t.Fatalf("%s, page %d: %q at %v overlaps %q at %v", doc.Title, n+1, a.Words, b, other.Words, o)
				}
			}
		}
	}
}

// Nothing is clipped, nothing overlaps and no name is lost, on either paper, in either unit, with
// long names, 300 tools, 300 operations, 200 features, and reports of all kinds.
func TestSetupPagesAreSound(t *testing.T) {
	setups := specimens()
	setups["good"], setups["bad"], setups["large"] = demo(t, "setups/bracket-op10.toml"), demo(t, "setups/bracket-op10-one-hole-off.toml"), large()
	setups["many"] = manyFeatures(t)
	for name, s := range setups {
		for _, f := range page.Formats() {
			for _, u := range []Units{Millimetre, Inch} {
				doc := setOn(t, s, f, u)
				sound(t, doc)
				all, r := said(doc), s.Report
				says(t, doc, all, r.Setup, r.Machine, verdictWord(r.Verdict))
				for i := range r.Findings {
					says(t, doc, all, r.Findings[i].Bodies[0], r.Findings[i].Bodies[1])
				}
				for i := range r.Placed {
					says(t, doc, all, r.Placed[i].Name)
				}
				if r.Reach != nil {
					for i := range r.Reach.Operations {
						says(t, doc, all, r.Reach.Operations[i].Name, r.Reach.Operations[i].ToolName)
					}
				}
				says(t, doc, all, s.Notes...)
				for i := range s.Figures {
					if title := fmt.Sprintf("%s drawing %d", s.Figures[i].Kind, i+1); !strings.Contains(all, strings.ReplaceAll(title, " ", "")) {
						t.Errorf("%s: %s is nowhere", name, title)
					}
				}
			}
		}
	}
}

// Whatever the verdict, its word, what it means, the caution, what is not modelled, what is assumed,
// stated and left to makers are on the pages, and the caution in short with the verdict on each.
func TestSetupPagesSayWhatTheyAreWorth(t *testing.T) {
	for name, s := range specimens() {
		for _, v := range check.Verdicts() {
			r := *s.Report
			r.Verdict = v
			r.Presence = append(slices.Clone(r.Presence), check.Presence{What: "hoses", State: check.NotModelled}, check.Presence{What: "column", State: "declared absent"})
			r.Assumed, r.Stated = []string{"something is assumed"}, []string{"something is only stated"}
			r.LeftToMaker, r.Warnings = []string{"trunnion"}, []string{"a size that is not plausible"}
			with := *s
			with.Report = &r
			doc := setOn(t, &with, page.A4, Millimetre)
			all := said(doc)
			says(t, doc, all, verdictWord(v), "something is assumed", "something is only stated", "are not checked against each other: trunnion", "a size that is not plausible", "declared absent", "column")
			says(t, doc, all, r.Caution...)
			for _, l := range text.Summary(&r) {
				says(t, doc, all, strings.ReplaceAll(l.Words, "programs/bracket", "bracket"))
			}
			first := said(&page.Document{Format: doc.Format, Pages: doc.Pages[:1]})
			says(t, doc, first, verdictWord(v))
			if v != check.Clear { // no report is clear with something not modelled
				says(t, doc, first, notClear, "Not modelled and not declared absent, so that nothing is proven of the whole: hoses")
			}
			for n, p := range doc.Pages {
				var foot []string
				for _, words := range textsOf(p) {
					foot = append(foot, words.Words)
				}
				for _, want := range []string{verdictWord(v), fmt.Sprintf("Page %d of %d", n+1, len(doc.Pages)), inShort} {
					if !slices.Contains(foot, want) {
						t.Errorf("%s, %s, page %d: no %q", name, v, n+1, want)
					}
				}
			}
		}
	}
}

// Which unit the pages are in is for the file to say, unless it is asked for.
func TestUnitsAsTheFileHasThem(t *testing.T) {
	s := demo(t, "setups/bracket-op10.toml")
	if words := said(setOn(t, s, page.A4, AsFile)); strings.Contains(words, "inch") {
		t.Error("inches on the pages of a file in mm")
	}
	m := *s.Setup
	m.Unit = 25.4
	s.Setup = &m
	if words := said(setOn(t, s, page.A4, AsFile)); !strings.Contains(words, "inch,convertedfrommm") {
		t.Error("no inches on the pages of a file in inches")
	}
}

// A number is not parted from its unit, and what is negative has a minus sign; names are as they are.
func TestHowWordsAreSet(t *testing.T) {
	for words, want := range map[string]string{
		"X -12.5 to -3 mm, (-4) [-5, 6] deg": "X\u00a0\u221212.5 to \u22123\u00a0mm, (\u22124) [\u22125, 6]\u00a0deg",
		"NB-214, op-1, X-22., 54-78, X-":     "NB-214, op-1, X-22., 54-78, X-",
		"left at A +59.74, C +270":           "left at A\u00a0+59.74, C\u00a0+270",
		"86 N m, 63 lbf ft, 12 kg":           "86\u00a0N\u00a0m, 63\u00a0lbf\u00a0ft, 12\u00a0kg",
	} {
		if got := typeset(words); got != want {
			t.Errorf("%q became %q, expected %q", words, got, want)
		}
	}
}

// What is said of several things is said once.
func TestGathered(t *testing.T) {
	got := gathered([]string{"a, 1 is cut in layers", "a, 2 is cut in layers", "b", "c is cut in layers", "d is not", "e is not", "f"})
	want := []string{"a, 1; a, 2: each is cut in layers", "b", "c is cut in layers", "d; e: each is not", "f"}
	if !slices.Equal(got, want) {
		t.Errorf("found %q, expected %q", got, want)
	}
}

// The same setup gives the same bytes.
func TestSetupPagesTwice(t *testing.T) {
	for _, s := range []*Setup{demo(t, "setups/bracket-op10-one-hole-off.toml"), large()} {
		var first []byte
		for range 2 {
			var b bytes.Buffer
			if err := pdf.Write(&b, setOn(t, s, page.Letter, Inch)); err != nil {
				t.Fatal(err)
			}
			if first != nil && !bytes.Equal(first, b.Bytes()) {
				t.Fatal("not the same bytes")
			}
			first = b.Bytes()
		}
	}
}

// No kind of figure is needed, and none is lost that is there; what a drawing fails with is told.
func TestFiguresMayBeMissing(t *testing.T) {
	s := demo(t, "setups/bracket-op10-one-hole-off.toml")
	whole := s.Figures
	for i := range whole {
		s.Figures = slices.Delete(slices.Clone(whole), i, i+1)
		sound(t, setOn(t, s, page.A4, Millimetre))
	}
	s.Figures, s.Loading = nil, nil
	doc := setOn(t, s, page.A4, Millimetre)
	says(t, doc, said(doc), "The ways on which things go to their places were not looked at.", "1 put on plate", "5 put on stock")
	s.Figures = slices.Clone(whole)
	broken := errors.New("no paint")
	s.Figures[2].Draw = func(context.Context, ink.Surface) error { return broken }
	for range 2 {
		if _, err := s.Document(t.Context(), Options{Format: page.A4}); !errors.Is(err, broken) {
			t.Errorf("found %v, expected what the drawing failed with", err)
		}
	}
	ended, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := demo(t, "setups/bracket-op10.toml").Document(ended, Options{Format: page.A4}); !errors.Is(err, context.Canceled) {
		t.Errorf("found %v, expected the end of the context", err)
	}
}

// A reader of the file sees every section, on the page where it begins.
func TestContents(t *testing.T) {
	doc := setOn(t, demo(t, "setups/bracket-op10-one-hole-off.toml"), page.A4, Millimetre)
	names := ""
	for _, p := range doc.Pages {
		names += p.Name + "; "
	}
	at := -1
	for _, want := range []string{"Setup", "Not clear, worst first", "Set up, in this order", "Seats", "Screws", "Loads", "Tools", "What to key in", "Operations", "The swing", "What this rests on", "Proving run and sign-off"} {
		i := strings.Index(names, want)
		if i <= at {
			t.Errorf("%q is not in its place in %q", want, names)
		}
		at = i
	}
}

// A usual setup takes few pages, none of which is half empty but the last.
func TestUsualSetupIsShort(t *testing.T) {
	for _, f := range page.Formats() {
		doc := setOn(t, demo(t, "setups/bracket-op10.toml"), f, Millimetre)
		if n := len(doc.Pages); n < 5 || n > 11 {
			t.Errorf("%s: %d pages", f.Name, n)
		}
		for n, p := range doc.Pages[:len(doc.Pages)-1] {
			lowest := 0.0
			for _, item := range p.Items {
				switch it := item.(type) {
				case *page.Text:
					if it.At.Y < f.Height-22 {
						lowest = max(lowest, it.At.Y)
					}
				case *page.Path:
					for _, line := range it.Lines {
						for _, q := range line {
							if q.Y < f.Height-22 {
								lowest = max(lowest, q.Y)
							}
						}
					}
				}
			}
			if lowest < f.Height/2 {
				t.Errorf("%s, page %d ends at %.0f mm of %.0f", f.Name, n+1, lowest, f.Height)
			}
		}
	}
}

// Only what there is is to be ticked: rotary centres where the control has them, indexing where
// something turns.
func TestStepsOfAProvingRun(t *testing.T) {
	r := &check.Report{Offsets: &check.Offsets{}, Axes: []check.Axis{{Letter: "X", Commanded: check.Range{Unit: "mm"}}}}
	s := &sheet{Setup: &Setup{Setup: &machine.Setup{}, Report: r}, m: &machine.Setup{}}
	if words := strings.Join(s.steps(), "; "); strings.Contains(strings.ToLower(words), "rotary") || !strings.Contains(words, "Offsets measured") {
		t.Error(words)
	}
	r.Offsets.Centres = []check.RotaryCentre{{Axis: "A"}}
	r.Axes[0].Commanded.Unit = "deg"
	if words := strings.Join(s.steps(), "; "); !strings.Contains(words, "rotary centres") || !strings.Contains(words, "Rotary axes indexed") {
		t.Error(words)
	}
}

// What is declared absent stands on the first page, beside the verdict that rests on it.
func TestAbsentIsOnTheFirstPage(t *testing.T) {
	doc := setOn(t, demo(t, "setups/bracket-op10.toml"), page.A4, Millimetre)
	var words strings.Builder
	for _, w := range textsOf(doc.Pages[0]) {
		words.WriteString(plain(w.Words) + " ")
	}
	if !strings.Contains(words.String(), "Declared absent by the files, and so not looked at: hoses") {
		t.Error(words.String())
	}
}

// The list of what is placed stays below its picture on the first page, also where names take two lines.
func TestListStaysWithItsPicture(t *testing.T) {
	s := demo(t, "setups/bracket-op10.toml")
	r := *s.Report
	r.Placed = slices.Clone(r.Placed)
	for i := range r.Placed {
		r.Placed[i].Name = strings.Repeat("tilting unit with brake ", 5) + fmt.Sprint(i)
	}
	s.Report = &r
	for _, f := range page.Formats() {
		doc := setOn(t, s, f, Millimetre)
		if !slices.ContainsFunc(textsOf(doc.Pages[0]), func(w *page.Text) bool { return strings.HasPrefix(w.Words, "Numbers as in the picture") }) {
			t.Errorf("%s: the list is not on the first page", f.Name)
		}
	}
}
