package layout_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"gridswing/render/page"
	"gridswing/render/page/layout"

	"pgregory.net/rapid"
)

// lines returns what a page says.
func lines(p *page.Page) (all []string) {
	for _, t := range texts(p) {
		all = append(all, t.Words)
	}
	return all
}

// tall is a table of so many rows, each of three lines.
func tall(rows int) layout.Table {
	t := layout.Table{Columns: []layout.Column{{Head: "Number"}, {Head: "Told", Most: 40}}, Note: "That is all."}
	for i := range rows {
		t.Rows = append(t.Rows, layout.Row{Cells: []string{fmt.Sprint(i), fmt.Sprintf("first%d\nsecond%d\nthird%d", i, i, i)}})
	}
	return t
}

// A table's head stands at the top of each page, a row is on one page with all its lines, in
// order; neither a row nor the note is on a page by itself.
func TestTableOverPages(t *testing.T) {
	for rows := 1; rows < 90; rows++ {
		f := layout.New(layout.Options{Format: page.A4})
		f.Table(tall(rows))
		d := f.Finish("", "")
		next := 0
		for n, p := range d.Pages {
			said := lines(p)
			if strings.Join(said[:2], " ") != "Number Told" {
				t.Fatalf("%d rows: page %d begins with %q", rows, n+1, said[:2])
			}
			said = said[2:]
			if n == len(d.Pages)-1 {
				if said[len(said)-1] != "That is all." {
					t.Fatalf("%d rows: page %d ends with %q", rows, n+1, said)
				}
				said = said[:len(said)-1]
			}
			if len(said) < min(rows, 2)*4 || len(said)%4 != 0 {
				t.Fatalf("%d rows: page %d has %q", rows, n+1, said)
			}
			for ; len(said) > 0; said = said[4:] {
				want := fmt.Sprintf("%d first%d second%d third%d", next, next, next, next)
				if got := strings.Join(said[:4], " "); got != want {
					t.Fatalf("%d rows: page %d: %q, want %q", rows, n+1, got, want)
				}
				next++
			}
		}
		if next != rows {
			t.Fatalf("%d rows are there, want %d", next, rows)
		}
	}
}

// More columns than fit are parted, each part with the first column.
func TestManyColumns(t *testing.T) {
	for _, columns := range []int{2, 21, 22, 23, 60, 300} {
		var tab layout.Table
		row := layout.Row{Mark: layout.Ring}
		for i := range columns {
			tab.Columns = append(tab.Columns, layout.Column{Head: fmt.Sprintf("h%d", i), Least: 5})
			row.Cells = append(row.Cells, fmt.Sprintf("c%d", i))
		}
		tab.Rows = []layout.Row{row}
		f := layout.New(layout.Options{Format: page.A4})
		f.Table(tab)
		d := f.Finish("", "")
		sound(t, d)
		said := said(d)
		for i := range columns {
			if !strings.Contains(said, fmt.Sprintf("h%d", i)) || !strings.Contains(said, fmt.Sprintf("c%d", i)) {
				t.Errorf("%d columns: column %d is missing", columns, i)
			}
		}
		rings := 0
		for _, p := range d.Pages {
			for _, it := range p.Items {
				if l, ok := it.(*page.Path); ok && l.Closed {
					rings++
				}
			}
		}
		if rings != strings.Count(said, "c0") {
			t.Errorf("%d columns: %d marks for the first column %d times", columns, rings, strings.Count(said, "c0"))
		}
	}
}

// A row that is higher than a page goes on on the next, under the head.
func TestRowHigherThanPage(t *testing.T) {
	f := layout.New(layout.Options{Format: page.Letter})
	tab := tall(1)
	tab.Rows[0].Cells[1] = strings.TrimSpace(strings.Repeat("line\n", 150))
	f.Table(tab)
	d := f.Finish("", "")
	sound(t, d)
	count := 0
	for _, p := range d.Pages {
		for i, l := range lines(p) {
			if l == "line" {
				count++
			} else if i < 2 && l != "Number" && l != "Told" {
				t.Errorf("a page begins with %q", l)
			}
		}
	}
	if count != 150 || len(d.Pages) != 3 {
		t.Errorf("%d lines on %d pages, want 150 on 3", count, len(d.Pages))
	}
}

// Wherever it falls, a heading is on the page of what follows: a paragraph's two lines, a
// table's head and row, a figure.
func TestHeadingStays(t *testing.T) {
	after := map[string]func(f *layout.Flow){
		"text":   func(f *layout.Flow) { f.Text(strings.Repeat("after ", 60)) },
		"table":  func(f *layout.Flow) { f.Table(tall(3)) },
		"figure": func(f *layout.Flow) { f.Figure(layout.Figure{Drawing: drawn("after"), Width: 50}) },
		"ticks":  func(f *layout.Flow) { f.Ticks([]string{"after"}) },
		"framed": func(f *layout.Flow) { f.Framed(true, "after") },
		"facts":  func(f *layout.Flow) { f.Facts(2, []layout.Fact{{Name: "after"}}) },
		"kept": func(f *layout.Flow) {
			f.Keep(func() { f.Text("after"); f.Figure(layout.Figure{Drawing: drawn("x"), Width: 90}) })
		},
	}
	for what, set := range after {
		for mm := 0.0; mm < 260; mm += 1.3 {
			f := layout.New(layout.Options{Format: page.A4})
			f.Text("before")
			f.Space(mm)
			f.Heading("Heading")
			f.Subheading("Subheading")
			set(f)
			for _, p := range f.Finish("", "").Pages {
				if said := lines(p); said[len(said)-1] == "Subheading" || said[len(said)-1] == "Heading" {
					t.Fatalf("%s after %v mm: a page ends with %q", what, mm, said[len(said)-1])
				}
			}
		}
	}
}

func drawn(words string) *page.Drawing {
	return &page.Drawing{Width: 100, Height: 60, Items: []page.Item{&page.Text{At: page.Point{X: 2, Y: 20}, Size: 8, Words: words}}}
}

// What is kept together is on one page, if a page is high enough, and else flows.
func TestKeep(t *testing.T) {
	for mm := 0.0; mm < 250; mm += 7 {
		f := layout.New(layout.Options{Format: page.A4})
		f.Text("before")
		f.Space(mm)
		f.Keep(func() {
			f.Text("kept 1")
			f.Keep(func() { f.Table(tall(4)) })
			f.Text("kept 2")
		})
		for n, p := range f.Finish("", "").Pages {
			said := strings.Join(lines(p), " ")
			if strings.Contains(said, "kept 1") != strings.Contains(said, "kept 2") {
				t.Fatalf("after %v mm: page %d has %q", mm, n+1, said)
			}
		}
	}
	f := layout.New(layout.Options{Format: page.A4})
	f.Keep(func() { f.Table(tall(60)) })
	if n := len(f.Finish("", "").Pages); n != 4 {
		t.Errorf("what is higher than a page is on %d pages, want 4", n)
	}
}

// Height is what is taken from Left, and lays out nothing.
func TestHeightAndLeft(t *testing.T) {
	f := layout.New(layout.Options{Format: page.A4})
	whole := f.Left()
	block := func(f *layout.Flow) {
		f.Facts(2, []layout.Fact{{Name: "a", Value: "b"}})
		f.Figure(layout.Figure{Drawing: drawn("x"), Width: 60, Caption: "caption"})
		f.Text("words")
	}
	high := f.Height(block)
	if left := f.Left(); left != whole {
		t.Errorf("%v mm are left, want %v", left, whole)
	}
	block(f)
	f.Space(0)
	if taken := whole - f.Left(); math.Abs(taken-high) > 2 { // but for the room below
		t.Errorf("%v mm are taken, want %v", taken, high)
	}
	if h := f.Height(func(f *layout.Flow) { f.Table(tall(100)) }); h != whole {
		t.Errorf("more than a page is %v mm high, want %v", h, whole)
	}
	if h := f.Height(func(*layout.Flow) {}); h != 0 {
		t.Errorf("nothing is %v mm high", h)
	}
}

// Figures side by side do not overlap, keep their proportions and stay within the margins.
func TestFigures(t *testing.T) {
	most := rapid.OneOf(rapid.Just(0.0), rapid.Float64Range(2, 200))
	rapid.Check(t, func(t *rapid.T) {
		f := layout.New(layout.Options{Format: formats.Draw(t, "format")})
		n := rapid.IntRange(1, 7).Draw(t, "figures")
		var figs []layout.Figure
		for range n {
			w, h := rapid.Float64Range(5, 400).Draw(t, "wide"), rapid.Float64Range(5, 400).Draw(t, "high")
			figs = append(figs, layout.Figure{
				Drawing: &page.Drawing{Width: w, Height: h, Items: []page.Item{&page.Image{Area: page.Area{X1: w, Y1: h}}}},
				Width:   most.Draw(t, "width"), Height: most.Draw(t, "height"),
				Caption: words().Draw(t, "caption"),
			})
		}
		f.Figures(figs)
		d := f.Finish("", "")
		k := 0
		for _, p := range d.Pages {
			var areas []page.Area
			for _, it := range p.Items {
				m, ok := it.(*page.Image)
				if !ok {
					continue
				}
				a, fig := m.Area, figs[k]
				k++
				w, h := a.X1-a.X0, a.Y1-a.Y0
				if want := fig.Drawing.Width / fig.Drawing.Height; math.Abs(w/h-want) > 1e-6*want {
					t.Fatalf("%v has not the proportions %v", a, want)
				}
				if fig.Width > 0 && w > fig.Width+1e-6 || fig.Height > 0 && h > fig.Height+1e-6 {
					t.Fatalf("%v is larger than %v x %v", a, fig.Width, fig.Height)
				}
				if a.X0 < 20-1e-6 || a.X1 > d.Format.Width-14+1e-6 || a.Y0 < 20-1e-6 || a.Y1 > d.Format.Height-20+1e-6 {
					t.Fatalf("%v leaves the margins", a)
				}
				for _, b := range areas {
					if min(a.X1, b.X1)-max(a.X0, b.X0) > 1e-6 && min(a.Y1, b.Y1)-max(a.Y0, b.Y0) > 1e-6 {
						t.Fatalf("%v overlaps %v", a, b)
					}
				}
				areas = append(areas, a)
			}
		}
		if k != n {
			t.Fatalf("%d figures, want %d", k, n)
		}
	})
}

// A row's link is as large as the row; a line's is as wide as its words.
func TestLinks(t *testing.T) {
	f := layout.New(layout.Options{Format: page.A4})
	f.Table(layout.Table{Columns: []layout.Column{{Head: "Setup"}}, Rows: []layout.Row{{Cells: []string{"one"}, Link: "a/one.pdf"}, {Cells: []string{"two"}}}})
	f.Link("the first page", "#1")
	var targets []string
	for _, it := range f.Finish("", "").Pages[0].Items {
		if l, ok := it.(*page.Link); ok {
			targets = append(targets, l.Target)
			if l.Area.X1-l.Area.X0 < 4 || l.Area.Y1-l.Area.Y0 < 4 {
				t.Errorf("%v is too small to be hit", l.Area)
			}
		}
	}
	if got := strings.Join(targets, " "); got != "a/one.pdf #1" {
		t.Errorf("%q", got)
	}
}

// A page without a name goes on from the one before; one that is empty takes the next name.
func TestNames(t *testing.T) {
	f := layout.New(layout.Options{Format: page.A4})
	f.NewPage("first")
	f.Table(tall(40))
	f.NewPage("second")
	f.Text("words")
	f.NewPage("")
	f.NewPage("third")
	var names []string
	for _, p := range f.Finish("", "").Pages {
		names = append(names, p.Name)
	}
	if got := strings.Join(names, ","); got != "first,,,second,third" {
		t.Errorf("%q", got)
	}
}

// Of a name that is too long for the head of a page both ends are seen: op 10 is told from op 20.
func TestHeadsKeepBothEnds(t *testing.T) {
	name := strings.Repeat("bearing block with flange ", 8)
	heads := map[string]bool{}
	for _, op := range []string{"op 10", "op 20"} {
		f := layout.New(layout.Options{Format: page.A4, Head: func(s *layout.Strip, number, total int) {
			s.Left(name + op)
			s.Right("revision C  inputs 9350a7c6")
		}})
		f.Text("words")
		for _, item := range f.Finish("", "").Pages[0].Items {
			if w, ok := item.(*page.Text); ok && strings.HasPrefix(w.Words, "bearing block") {
				heads[w.Words] = strings.HasSuffix(w.Words, op)
			}
		}
	}
	if len(heads) != 2 {
		t.Fatalf("%v", heads)
	}
	for head, whole := range heads {
		if !whole {
			t.Errorf("%q has lost its end", head)
		}
	}
}
