package pages

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"testing"

	"gridswing/cmd/gridswing/internal/binder"
	"gridswing/machine/check"
	"gridswing/render/page"
	"gridswing/render/page/face"
	"gridswing/render/page/html"
	"gridswing/render/page/pdf"
)

// binderOf is a binder of so many setups, of every kind, some with very long names.
func binderOf(n int) *binder.Summary {
	s := &binder.Summary{Totals: map[string]int{}, Caution: check.Caution, Gone: []binder.Gone{{Name: "line/gone", Was: "clear", Pages: []string{"line/gone.pdf"}}}}
	changes := []string{binder.Unchanged, binder.Unchanged, binder.ChangedInputs, binder.NewSetup, binder.ChangedProgram}
	for i := range n {
		v := check.Verdicts()[i%len(check.Verdicts())]
		x := binder.Setup{
			Name: fmt.Sprintf("line-%d/job-%04d", i%7, i), File: "x.toml", State: binder.MadeState, Change: changes[i%len(changes)],
			Facts: binder.Facts{
				Title: fmt.Sprintf("Job %d", i), Part: "bracket", Revision: "C", Machine: "Mill 3", Verdict: v.String(), Clear: v == check.Clear,
				Why: fmt.Sprintf("T%d holder meets vise/moving jaw at A +90, C +0", i), Hash: strings.Repeat(fmt.Sprintf("%08x", i), 8), Date: "2026-03-31",
			},
		}
		if i%11 == 0 {
			x.Title = strings.Repeat("a name without end ", 12)
			x.Name += strings.Repeat("-and-no-blank-in-it", 12)
			x.Part = strings.Repeat("part", 30)
			x.Revision, x.Machine = "revision twenty-four lett", strings.Repeat("long machine ", 9)
		}
		x.Pages = []string{x.Name + ".pdf", x.Name + ".html"}
		switch {
		case i%13 == 5:
			x.State, x.Fault = binder.FaultyState, strings.Repeat("x.toml:1:2: found this, expected that\n", i%5+1)
			x.Was = v.String()
		case i%50 == 7:
			x.State, x.Fault, x.Pages, x.Facts = binder.MissingState, "no pages were made of it", nil, binder.Facts{}
		case i%50 == 8:
			x.State, x.Fault = binder.OutdatedState, "its files are not those that its pages were made of"
		case i%9 == 4:
			x.Was = check.Clear.String()
		}
		s.Totals[x.Word()]++
		s.Setups = append(s.Setups, x)
	}
	return s
}

// wordsOf is all text of a document, page by page.
func wordsOf(d *page.Document) (list []string) {
	for _, p := range d.Pages {
		var words []string
		for _, item := range p.Items {
			if t, ok := item.(*page.Text); ok {
				words = append(words, t.Words)
			}
		}
		list = append(list, strings.Join(words, "\n"))
	}
	return list
}

// inside makes sure that no word leaves the paper, and no two stand on each other.
func inside(t *testing.T, d *page.Document) {
	t.Helper()
	for i, p := range d.Pages {
		var boxes []page.Area
		var said []string
		for _, item := range p.Items {
			x, ok := item.(*page.Text)
			if !ok || strings.TrimSpace(x.Words) == "" {
				continue
			}
			w, high := face.Width(x.Face, x.Size, x.Words), x.Size*25.4/72*0.6
			a := page.Area{X0: x.At.X, X1: x.At.X + w, Y0: x.At.Y - high, Y1: x.At.Y}
			switch x.Align {
			case page.Right:
				a.X0, a.X1 = x.At.X-w, x.At.X
			case page.Center:
				a.X0, a.X1 = x.At.X-w/2, x.At.X+w/2
			}
			if a.X0 < 5 || a.X1 > d.Format.Width-5 || a.Y0 < 5 || a.Y1 > d.Format.Height-5 {
				t.Fatalf("page %d: %q at %+v is off the paper", i+1, x.Words, a)
			}
			for k, b := range boxes {
				if a.X0 < b.X1-0.1 && b.X0 < a.X1-0.1 && a.Y0 < b.Y1-0.1 && b.Y0 < a.Y1-0.1 {
					t.Fatalf("page %d: %q stands on %q", i+1, x.Words, said[k])
				}
			}
			boxes, said = append(boxes, a), append(said, x.Words)
		}
	}
}

// A thousand setups: all are there, each with its verdict as a word, nothing is cut off, and links
// lead to the pages of the same kind.
func TestFrontOfMany(t *testing.T) {
	for _, f := range page.Formats() {
		s := binderOf(1000)
		d := Front(s, Options{Format: f}, ".html")
		inside(t, d)
		links := map[string]int{}
		for _, p := range d.Pages {
			for _, item := range p.Items {
				if l, ok := item.(*page.Link); ok {
					links[l.Target]++
				}
			}
		}
		text := strings.Join(wordsOf(d), "\n")
		for i := range s.Setups {
			x := &s.Setups[i]
			if x.Pages != nil && links[x.Name+".html"] == 0 {
				t.Errorf("no link to %s", x.Name)
			}
			if !strings.Contains(text, fmt.Sprintf("job-%04d", i)) {
				t.Errorf("%s is not there", x.Name)
			}
		}
		for _, word := range words(s) {
			if !strings.Contains(text, word) {
				t.Errorf("no word for %s", word)
			}
		}
		for target := range links {
			if !strings.HasSuffix(target, ".html") {
				t.Errorf("a link to %s", target)
			}
		}
		if last := fmt.Sprintf("Page %d of %d", len(d.Pages), len(d.Pages)); !strings.Contains(text, last) {
			t.Errorf("no %q", last)
		}
	}
}

// What is worst comes first, what could not be read before all.
func TestFrontWorstFirst(t *testing.T) {
	text := strings.Join(wordsOf(Front(binderOf(60), Options{Format: page.A4}, ".pdf")), "\n")
	_, text, found := strings.Cut(text, "Not clear, worst first")
	text, _, found2 := strings.Cut(text, "All setups")
	if !found || !found2 {
		t.Fatal("no such section")
	}
	at := -1
	for _, v := range append([]string{binder.FaultyState, binder.OutdatedState, binder.MissingState}, func() (list []string) {
		for _, v := range check.Verdicts() {
			list = append(list, v.String())
		}
		return list[:len(list)-1]
	}()...) {
		next := strings.Index(text, "\n"+v+"\n")
		if next < at {
			t.Errorf("%s comes too early, or not at all", v)
		}
		at = next
	}
	if strings.Contains(text, "\nclear\n") {
		t.Error("what is clear is among what is not")
	}
}

// The page says what changed, and from what to what.
func TestFrontChanges(t *testing.T) {
	all, anew := binderOf(60), 0
	for _, x := range all.Setups {
		if x.Change == binder.ChangedProgram && x.Was == "" { // those with another verdict are told one by one
			anew++
		}
	}
	text := strings.Join(wordsOf(Front(all, Options{Format: page.A4}, ".pdf")), "\n")
	for _, want := range []string{"line/gone", "gone: its pages are left where they are", fmt.Sprintf("%d setups made anew", anew), binder.ChangedInputs, "NOT COMPLETE"} {
		if !strings.Contains(strings.ReplaceAll(text, "\n", " "), want) {
			t.Errorf("no %q", want)
		}
	}
	clear := &binder.Summary{Totals: map[string]int{"clear": 1}, Caution: check.Caution, Setups: []binder.Setup{{
		Name: "a", State: binder.MadeState, Change: binder.NewSetup, Facts: binder.Facts{Verdict: "clear", Clear: true}}}}
	text = strings.Join(wordsOf(Front(clear, Options{Format: page.A4}, ".pdf")), "\n")
	if strings.Contains(text, "Not clear, worst first") || !strings.Contains(text, "All setups are new") || !strings.Contains(text, "CLEAR: so are all setups.") {
		t.Error(text)
	}
	for _, words := range check.Caution {
		if flat := strings.ReplaceAll(text, "\n", " "); !strings.Contains(flat, words) {
			t.Errorf("no caution %q", words)
		}
	}
}

// Whatever a file may be called on some system, the front page can be written, and leads to it.
func TestFrontOddNames(t *testing.T) {
	s := &binder.Summary{Totals: map[string]int{"clear": 5}}
	for _, name := range []string{"#1", "a:b", "50% <b>", "two\nlines\x01", "\xff"} {
		s.Setups = append(s.Setups, binder.Setup{Name: name, State: binder.MadeState, Pages: []string{name + ".html"}, Facts: binder.Facts{Title: name, Verdict: "clear", Clear: true}})
	}
	d := Front(s, Options{Format: page.A4}, ".html")
	var out bytes.Buffer
	for _, err := range []error{html.Write(&out, d), pdf.Write(&bytes.Buffer{}, d)} {
		if err != nil {
			t.Error(err)
		}
	}
	for _, want := range []string{`href="./#1.html"`, `href="./%231.html"`} {
		if strings.Contains(out.String(), want) {
			return
		}
	}
	t.Error("no link to #1")
}

// The same binder gives the same bytes, whatever order maps have.
func TestFrontSameBytes(t *testing.T) {
	var first [2][]byte
	for i := range 3 {
		d := Front(binderOf(80), Options{Format: page.Letter}, ".pdf")
		var files [2]bytes.Buffer
		if err := pdf.Write(&files[0], d); err != nil {
			t.Fatal(err)
		}
		if err := html.Write(&files[1], d); err != nil {
			t.Fatal(err)
		}
		for k := range files {
			if i == 0 {
				first[k] = slices.Clone(files[k].Bytes())
			} else if !bytes.Equal(first[k], files[k].Bytes()) {
				t.Errorf("file %d differs", k)
			}
		}
	}
}
