package pdf_test

import (
	"bytes"
	"image/color"
	"regexp"
	"slices"
	"strings"
	"testing"

	"gridswing/render/page"
	"gridswing/render/page/face"
	"gridswing/render/page/internal/specimen"
	"gridswing/render/page/pdf"

	"pgregory.net/rapid"
)

// written returns the document's bytes.
func written(t fatal, d *page.Document) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := pdf.Write(&b, d); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// pdfcpu finds nothing wrong, and the text read back is what the model
// holds, page by page, in its order.
func TestTextReadBack(t *testing.T) {
	for _, format := range page.Formats() {
		d := specimen.Document(format)
		ctx := read(t, written(t, d), withLinks)
		if ctx.PageCount != len(d.Pages) {
			t.Fatalf("%d pages, want %d", ctx.PageCount, len(d.Pages))
		}
		for i, p := range d.Pages {
			var want []string
			for _, it := range p.Items {
				if text, ok := it.(*page.Text); ok {
					want = append(want, face.Shown(text.Words))
				}
			}
			got, err := shown(content(t, ctx, i+1))
			if err != nil || !slices.Equal(got, want) {
				t.Errorf("%s, page %d: %v\n%q, want\n%q", format.Name, i+1, err, got, want)
			}
		}
		if ctx.Title != known(d.Title) {
			t.Errorf("title %q, want %q", ctx.Title, d.Title)
		}
	}
}

// known is what a title of the specimens should come back as: they hold nothing else.
func known(title string) string { return title }

// The same document gives the same bytes, whatever characters and pictures it has; a
// picture that is there twice is stored once.
func TestSameBytes(t *testing.T) {
	d := specimen.Document(page.A4)
	var all []rune
	for r := range rune(0x10000) {
		if s := string(r); r >= ' ' && face.Shown(s) == s {
			all = append(all, r)
		}
	}
	p := &page.Page{}
	for i := 0; i < len(all); i += 40 {
		p.Items = append(p.Items, &page.Text{At: page.Point{X: 10, Y: 10 + float64(i)/4}, Size: 8, Words: string(all[i:min(i+40, len(all))])})
	}
	for i := range 8 {
		shade := uint8(20*i + 7)
		p.Items = append(p.Items, specimen.Chip(page.Area{X0: 10 + 10*float64(i), Y0: 200, X1: 18 + 10*float64(i), Y1: 208}, color.RGBA{shade, 0, 0, 255}))
	}
	d.Pages = append(d.Pages, p)
	first := written(t, d)
	for range 5 {
		if !bytes.Equal(first, written(t, d)) {
			t.Fatal("not the same bytes")
		}
	}
	if n, want := strings.Count(string(first), "/Subtype /Image"), 1+len(specimen.ChipShades)+8; n != want {
		t.Errorf("%d pictures are stored, want %d", n, want)
	}
	ctx := read(t, first, withLinks)
	// What a page shows by a name is stored by that name.
	for i := range d.Pages {
		for _, name := range regexp.MustCompile(`/(I\w+) Do`).FindAllStringSubmatch(content(t, ctx, i+1), -1) {
			if !strings.Contains(string(first), "/"+name[1]+" ") {
				t.Errorf("page %d: the picture %s is not stored", i+1, name[1])
			}
		}
	}
}

// Links lead to pages that there are and to files; the outline has the pages' names.
func TestLinksAndOutline(t *testing.T) {
	d := specimen.Document(page.A4)
	data := string(written(t, d))
	if !strings.Contains(data, "/URI (../binder%20%28all%29.pdf)") {
		t.Error("no link to the file")
	}
	if !strings.Contains(data, "/Dest [3 0 R /XYZ 0") {
		t.Error("no link to the first page")
	}
	if n, want := strings.Count(data, "/Title "), 1+4; n != want { // the document's and those of pages
		t.Errorf("%d titles, want %d", n, want)
	}
	for _, target := range []string{"#0", "#7", "#x", "#"} {
		d := &page.Document{Format: page.A4, Pages: []*page.Page{{Items: []page.Item{&page.Link{Target: target}}}}}
		if err := pdf.Write(&bytes.Buffer{}, d); err == nil || !strings.Contains(err.Error(), "page 1: link") {
			t.Errorf("%q: %v", target, err)
		}
	}
}

// What is no picture is an error that names it.
func TestPictureFaults(t *testing.T) {
	for _, data := range []string{"", "no picture", "\x89PNG\r\n\x1a\n"} {
		d := &page.Document{Format: page.A4, Pages: []*page.Page{{}, {Items: []page.Item{&page.Image{PNG: []byte(data), Words: "plan"}}}}}
		if err := pdf.Write(&bytes.Buffer{}, d); err == nil || !strings.Contains(err.Error(), `page 2: picture "plan"`) {
			t.Errorf("%q: %v", data, err)
		}
	}
}

// Whatever is said in titles, names, words and targets, the file is valid and says it.
func TestAnyWords(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		any := rapid.OneOf(rapid.String(), rapid.Map(rapid.SliceOf(rapid.Byte()), func(b []byte) string { return string(b) }))
		words := any.Draw(rt, "words")
		d := &page.Document{Title: any.Draw(rt, "title"), Subject: any.Draw(rt, "subject"), Format: page.Letter, Pages: []*page.Page{{
			Name: any.Draw(rt, "name"),
			Items: []page.Item{
				&page.Text{At: page.Point{X: 20, Y: 20}, Size: rapid.Float64Range(0.1, 40).Draw(rt, "size"), Words: words, Upward: rapid.Bool().Draw(rt, "upward")},
				&page.Link{Target: "x" + any.Draw(rt, "target"), Area: page.Area{X1: 1, Y1: 1}},
				&page.Path{
					Lines: [][]page.Point{{{X: 1, Y: 1}}, nil, {{X: 1, Y: 1}, {X: 2, Y: 9}}}, Stroke: &color.RGBA{A: 255}, Fill: &color.RGBA{A: 7},
					Width: rapid.Float64Range(0, 3).Draw(rt, "width"), Dash: rapid.SliceOf(rapid.Float64Range(-1, 3)).Draw(rt, "dash"), Clip: &page.Area{X0: 1, X1: 2, Y1: 9},
				},
			},
		}}}
		read(rt, written(rt, d), withLinks)
		d.Pages[0].Items = slices.Delete(d.Pages[0].Items, 1, 2)
		got, err := shown(content(rt, read(rt, written(rt, d), strict), 1))
		if err != nil {
			rt.Fatal(err)
		}
		if want := face.Shown(words); strings.Join(got, "") != want {
			rt.Fatalf("%q, want %q", got, want)
		}
	})
}

// Documents are written on many goroutines at a time, as a batch does it, and are the same.
func TestParallel(t *testing.T) { specimen.SameInParallel(t, pdf.Write) }
