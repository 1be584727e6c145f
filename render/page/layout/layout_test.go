package layout_test

import (
	"fmt"
	"strings"
	"testing"

	"gridswing/render/page"
	"gridswing/render/page/face"
	"gridswing/render/page/layout"

	"pgregory.net/rapid"
)

// box is what a text covers.
func box(t *page.Text) page.Area {
	w := face.Width(t.Face, t.Size, t.Words)
	x := t.At.X
	switch t.Align {
	case page.Center:
		x -= w / 2
	case page.Right:
		x -= w
	}
	em := t.Size * face.Point
	return page.Area{X0: x, Y0: t.At.Y - face.Ascent*em, X1: x + w, Y1: t.At.Y + face.Descent*em}
}

// texts returns what a page says, in its order.
func texts(p *page.Page) []*page.Text {
	var all []*page.Text
	for _, it := range p.Items {
		if t, ok := it.(*page.Text); ok {
			all = append(all, t)
		}
	}
	return all
}

type reporter interface {
	Helper()
	Fatalf(format string, args ...any)
}

// sound fails where a text overlaps another, or leaves the page or its margins.
func sound(t reporter, d *page.Document) {
	t.Helper()
	const slack = 1e-3
	inside := page.Area{X0: 20, Y0: 8, X1: d.Format.Width - 14, Y1: d.Format.Height - 7}
	for n, p := range d.Pages {
		all := texts(p)
		for i, a := range all {
			b := box(a)
			if b.X0 < inside.X0-slack || b.Y0 < inside.Y0-slack || b.X1 > inside.X1+slack || b.Y1 > inside.Y1+slack {
				t.Fatalf("page %d: %q at %v leaves %v", n+1, a.Words, b, inside)
			}
			for _, other := range all[:i] {
				o := box(other)
				if min(b.X1, o.X1)-max(b.X0, o.X0) > slack && min(b.Y1, o.Y1)-max(b.Y0, o.Y0) > slack {
					t.Fatalf("page %d: %q at %v overlaps %q at %v", n+1, a.Words, b, other.Words, o)
				}
			}
		}
	}
}

// said is all that the document says, without spaces: lines are broken anywhere.
func said(d *page.Document) string {
	var b strings.Builder
	for _, p := range d.Pages {
		for _, t := range texts(p) {
			if t.At.Y > 20 && t.At.Y < d.Format.Height-15 { // neither head nor foot
				b.WriteString(bare(t.Words))
			}
		}
	}
	return b.String()
}

func bare(words string) string {
	return strings.Map(func(r rune) rune {
		if r == ' ' {
			return -1
		}
		return r
	}, face.Shown(words))
}

// words are some words, among them long ones, none and such that the fonts lack.
func words() *rapid.Generator[string] {
	word := rapid.OneOf(
		rapid.StringMatching(`[a-z0-9.,-]{1,12}`),
		rapid.StringMatching(`[A-Za-z0-9_/.-]{30,120}`),
		rapid.StringMatching(`[WМЖ漢Ø—]{1,40}`),
		rapid.StringN(0, 8, 30))
	return rapid.Map(rapid.SliceOfN(word, 0, 12), func(w []string) string { return strings.Join(w, " ") })
}

var formats = rapid.SampledFrom(page.Formats())

// Whatever is set, nothing overlaps, nothing leaves the page and nothing is left out; each
// thing is said in the order in which it was set.
func TestNothingOverlapsOrIsLost(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		foot := rapid.SliceOfN(words(), 3, 3).Draw(t, "foot")
		f := layout.New(layout.Options{
			Format: formats.Draw(t, "format"),
			Head:   func(s *layout.Strip, number, total int) { s.Left("head"); s.Right(fmt.Sprint(number)) },
			Foot: func(s *layout.Strip, number, total int) {
				s.Left(foot[0])
				s.Right(foot[1])
				s.Below(foot[2])
			},
		})
		var want []string  // sentences in their order
		letters := count{} // of all that is set in columns, side by side
		for range rapid.IntRange(1, 12).Draw(t, "blocks") {
			want = append(want, block(t, f, letters, 0)...)
		}
		d := f.Finish("title", "")
		sound(t, d)
		all, at := said(d), 0
		for _, w := range want {
			k := strings.Index(all[at:], bare(w))
			if k < 0 {
				t.Fatalf("%q is nowhere behind %d in %q", bare(w), at, all)
			}
			at += k + len(bare(w))
			letters.add(w)
		}
		got := count{}
		got.add(all)
		for r, n := range letters {
			if got[r] < n {
				t.Fatalf("%q is there %d times, want %d", r, got[r], n)
			}
		}
	})
}

// block sets something at random and returns its sentences.
func block(t *rapid.T, f *layout.Flow, letters count, deep int) []string {
	w := words()
	some := func(most int) []string { return rapid.SliceOfN(w, 0, most).Draw(t, "lines") }
	switch rapid.IntRange(0, 12).Draw(t, "kind") {
	case 0:
		s := w.Draw(t, "heading")
		f.Heading(s)
		return []string{s}
	case 1:
		s := w.Draw(t, "text")
		f.Text(s)
		return []string{s}
	case 2:
		s := strings.Repeat(w.Draw(t, "framed")+" ", rapid.IntRange(1, 60).Draw(t, "times"))
		f.Framed(rapid.Bool().Draw(t, "heavy"), s)
		return []string{s}
	case 3:
		lines := some(20)
		f.Ticks(lines)
		return lines
	case 4:
		lines := some(8)
		f.Bullets(lines)
		return lines
	case 5:
		f.NewPage(w.Draw(t, "name"))
	case 6:
		facts(t, f, letters)
	case 7:
		blanks(t, f, letters)
	case 8:
		figures(t, f, letters)
	case 9:
		if deep < 2 {
			var all []string
			f.Keep(func() {
				for range rapid.IntRange(0, 4).Draw(t, "kept") {
					all = append(all, block(t, f, letters, deep+1)...)
				}
			})
			return all
		}
	case 10:
		s := w.Draw(t, "link")
		f.Link(s, "#1")
	default:
		table(t, f, letters)
	}
	return nil
}

// facts sets names and what belongs to them at random.
func facts(t *rapid.T, f *layout.Flow, letters count) {
	w := words()
	var list []layout.Fact
	for range rapid.IntRange(0, 9).Draw(t, "facts") {
		list = append(list, layout.Fact{Name: w.Draw(t, "name"), Value: w.Draw(t, "value"), Strong: rapid.Bool().Draw(t, "strong")})
	}
	f.Facts(rapid.IntRange(0, 4).Draw(t, "columns"), list)
	for _, fact := range list {
		letters.add(fact.Name, fact.Value)
	}
}

// blanks sets fields to fill in at random.
func blanks(t *rapid.T, f *layout.Flow, letters count) {
	w := words()
	var list []layout.Blank
	for range rapid.IntRange(0, 6).Draw(t, "blanks") {
		list = append(list, layout.Blank{Label: w.Draw(t, "label"), Width: rapid.Float64Range(0, 300).Draw(t, "width")})
	}
	f.Blanks(list)
	for _, b := range list {
		letters.add(b.Label)
	}
}

// figures sets figures at random.
func figures(t *rapid.T, f *layout.Flow, letters count) {
	w := words()
	var figs []layout.Figure
	for range rapid.IntRange(1, 4).Draw(t, "figures") {
		figs = append(figs, layout.Figure{
			Drawing: &page.Drawing{Width: rapid.Float64Range(1, 500).Draw(t, "wide"), Height: rapid.Float64Range(1, 500).Draw(t, "high")},
			Width:   rapid.Float64Range(0, 120).Draw(t, "most"), Caption: w.Draw(t, "caption"),
		})
	}
	f.Figures(figs)
	for _, fig := range figs {
		letters.add(fig.Caption)
	}
}

// table sets a table at random.
func table(t *rapid.T, f *layout.Flow, letters count) {
	var tab layout.Table
	w := words()
	for range rapid.IntRange(1, 14).Draw(t, "columns") {
		tab.Columns = append(tab.Columns, layout.Column{
			Head: w.Draw(t, "head"), Align: page.Align(rapid.IntRange(0, 2).Draw(t, "align")),
			Least: rapid.SampledFrom([]float64{0, 0, 10, 90}).Draw(t, "least"), Most: rapid.SampledFrom([]float64{0, 0, 2, 40}).Draw(t, "most"),
			Fill: rapid.IntRange(0, 5).Draw(t, "fill") == 0,
		})
	}
	for range rapid.IntRange(0, 12).Draw(t, "rows") {
		tab.Rows = append(tab.Rows, layout.Row{
			Cells: rapid.SliceOfN(w, 0, len(tab.Columns)).Draw(t, "cells"), Strong: rapid.Bool().Draw(t, "strong"),
			Mark: layout.Mark(rapid.IntRange(0, 7).Draw(t, "mark")), Group: rapid.IntRange(0, 5).Draw(t, "group") == 0,
		})
	}
	tab.Note = w.Draw(t, "note")
	f.Table(tab)
	letters.add(tab.Note)
	for _, c := range tab.Columns {
		letters.add(c.Head)
	}
	for _, r := range tab.Rows {
		if r.Group && len(r.Cells) > 0 {
			letters.add(r.Cells[0])
		} else if !r.Group {
			letters.add(r.Cells...)
		}
	}
}

// count counts letters.
type count map[rune]int

func (c count) add(words ...string) {
	for _, w := range words {
		for _, r := range bare(w) {
			c[r]++
		}
	}
}

// Fields of lines that have equally many stand below each other, whatever their labels.
func TestBlanksStandBelowEachOther(t *testing.T) {
	f := layout.New(layout.Options{Format: page.A4})
	f.Blanks([]layout.Blank{{Label: "Set up by", Width: 44}, {Label: "Date", Width: 30}, {Label: "Time", Width: 22},
		{Label: "Proving run by", Width: 44}, {Label: "Date", Width: 30}, {Label: "Part accepted", Width: 22}})
	at := map[string][]float64{}
	for _, item := range f.Finish("", "").Pages[0].Items {
		if w, ok := item.(*page.Text); ok {
			at[w.Words] = append(at[w.Words], w.At.X)
		}
	}
	if d := at["Date"]; len(d) != 2 || d[0] != d[1] || at["Time"][0] != at["Part accepted"][0] {
		t.Errorf("%v", at)
	}
}

// A row that leads somewhere is seen to: its first words are underlined, nothing of a row that does not.
func TestRowsThatLeadAreUnderlined(t *testing.T) {
	underlined := func(link string) (n int) {
		f := layout.New(layout.Options{Format: page.A4})
		f.Table(layout.Table{Columns: []layout.Column{{Head: "setup"}, {Head: "verdict"}}, Rows: []layout.Row{{Cells: []string{"bracket", "clear"}, Link: link}}})
		items := f.Finish("", "").Pages[0].Items
		for _, item := range items {
			words, ok := item.(*page.Text)
			if !ok || words.Words != "bracket" {
				continue
			}
			for _, other := range items {
				if l, ok := other.(*page.Path); ok && l.Lines[0][0].X == words.At.X && l.Lines[0][0].Y > words.At.Y && l.Lines[0][0].Y < words.At.Y+1 {
					n++
				}
			}
		}
		return n
	}
	if with, without := underlined("bracket.pdf"), underlined(""); with != 1 || without != 0 {
		t.Errorf("%d and %d lines", with, without)
	}
}
