package pages

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"gridswing/cmd/gridswing/internal/text"
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

// rowsOf returns what stands on one base line with a text that is found, from left to right, on any page.
func rowsOf(doc *page.Document, first string) (rows [][]string) {
	for _, p := range doc.Pages {
		all := textsOf(p)
		for _, a := range all {
			if a.Words != first {
				continue
			}
			var row []*page.Text
			for _, b := range all {
				if b.At.Y-a.At.Y < 0.01 && a.At.Y-b.At.Y < 0.01 {
					row = append(row, b)
				}
			}
			slices.SortFunc(row, func(a, b *page.Text) int {
				if box(a).X0 < box(b).X0 {
					return -1
				}
				return 1
			})
			var words []string
			for _, b := range row {
				words = append(words, plain(b.Words))
			}
			rows = append(rows, words)
		}
	}
	return rows
}

// inRow reports whether a row that begins with words has all of the cells.
func inRow(doc *page.Document, first string, cells ...string) bool {
	return slices.ContainsFunc(rowsOf(doc, first), func(row []string) bool {
		return !slices.ContainsFunc(cells, func(c string) bool { return !slices.Contains(row, c) })
	})
}

// Numbers in tables are those of the report: offsets and centres with the control's decimals in the
// control's unit, lengths of tools, stick-outs, travel, gaps, loads, torques.
func TestNumbersAreTheReports(t *testing.T) {
	for _, u := range []Units{Millimetre, Inch} {
		s := large()
		doc, r := setOn(t, s, page.A4, u), s.Report
		per, pounds := 1.0, func(nm float64) string { return fmt.Sprintf("%.0f", nm) }
		decimals := 2
		if u == Inch {
			per, decimals = 25.4, 4
			pounds = func(nm float64) string { return fmt.Sprintf("%.0f (%d)", nm, int(nm/1.3558179483)) }
		}
		for i := range r.Offsets.Offsets {
			o := &r.Offsets.Offsets[i]
			if !inRow(doc, o.Number, fmt.Sprintf("%.3f", o.Linear[0].Value), fmt.Sprintf("%.3f", o.Linear[1].Value), fmt.Sprintf("%.3f", o.Linear[2].Value)) {
				t.Errorf("%v: %+v is not in %q", u, o, rowsOf(doc, o.Number))
			}
		}
		for i := range r.Reach.Operations {
			o := &r.Reach.Operations[i]
			if !inRow(doc, fmt.Sprintf("T%d", o.Tool), fmt.Sprintf("%.3f", o.LPR)) {
				t.Errorf("%v: the length %g of T%d is not in %q", u, o.LPR, o.Tool, rowsOf(doc, fmt.Sprintf("T%d", o.Tool)))
			}
			if z := o.Features[0].Travel[2]; !inRow(doc, fmt.Sprintf("T%d", o.Tool), "Z "+down(z.Margin/per, decimals)) {
				t.Errorf("%v: what T%d keeps of Z, %g mm, is not in %q", u, o.Tool, z.Margin, rowsOf(doc, fmt.Sprintf("T%d", o.Tool)))
			}
		}
		for i := range r.Fastening.Screws {
			c := &r.Fastening.Screws[i]
			if !inRow(doc, pounds(*c.Torque), "8.8", "M12") {
				t.Errorf("%v: the torque of screw %d, %q, is not there", u, i+1, pounds(*c.Torque))
			}
		}
	}
}

// down is a number rounded down to so many decimals.
func down(v float64, decimals int) string {
	words := fmt.Sprintf("%.*f", decimals+6, v)
	return words[:len(words)-6]
}

// On inch pages of the demo no length is in mm but what is keyed into its control, and what says that
// lengths are converted. The values are those of the pages in mm.
func TestInchPages(t *testing.T) {
	for _, name := range []string{"setups/bracket-op10.toml", "setups/bracket-op10-one-hole-off.toml"} {
		s := demo(t, name)
		doc := setOn(t, s, page.A4, Inch)
		length := regexp.MustCompile(`\bmm\b`)
		keying := false
		for _, p := range doc.Pages {
			for _, words := range textsOf(p) {
				switch w := plain(words.Words); {
				case words.Face == page.Bold && strings.HasPrefix(w, "What to key in"):
					keying = true
				case words.Face == page.Bold && strings.HasPrefix(w, "How far off the part can be"):
					keying = false
				case !length.MatchString(w) || keying || slices.Contains(s.Notes, w):
				case w == "mm" && words.Face == page.Bold: // of the head "LPR, mm"
				case strings.Contains(w, "25.4 mm") || strings.Contains(w, "converted from mm") || strings.Contains(w, "computed in mm"), strings.Contains(w, "The scale of clearances is in mm"):
				default:
					t.Errorf("%s: %q", name, w)
				}
			}
		}
		all := said(doc)
		for i := range s.Report.Placed {
			size := s.Report.Placed[i].Size
			says(t, doc, all, strings.TrimRight(fmt.Sprintf("%.4f", size[0]/25.4), "0"))
		}
		says(t, doc, all, "inch, converted from mm", "X -15.748 to 15.748", "Wipe the faceplate, and leave 5 mm.")
		for i := range s.Report.Reach.Operations {
			o := &s.Report.Reach.Operations[i]
			if gap := text.LeastGap(o); gap != nil && !inRow(doc, o.Name, down(*gap/25.4, 4)) {
				t.Errorf("%s: the gap of %s, %g mm, is not in %q", name, o.Name, *gap, rowsOf(doc, o.Name))
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
		"86 N m, 63 lbf ft, 12 kg":           "86\u00a0N\u00a0m, 63\u00a0lbf\u00a0ft, 12\u00a0kg",
	} {
		if got := typeset(words); got != want {
			t.Errorf("%q became %q, expected %q", words, got, want)
		}
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
