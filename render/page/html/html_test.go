package html_test

import (
	"bytes"
	"encoding/base64"
	"encoding/xml"
	"errors"
	"image/color"
	"io"
	"slices"
	"strings"
	"testing"

	"gridswing/render/page"
	"gridswing/render/page/face"
	"gridswing/render/page/html"
	"gridswing/render/page/internal/specimen"

	"golang.org/x/image/font/sfnt"
	"pgregory.net/rapid"
)

// fatal is a test of testing or rapid.
type fatal interface {
	Helper()
	Fatal(args ...any)
}

func written(t fatal, d *page.Document) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := html.Write(&b, d); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// element is what is read of a file.
type element struct {
	name       string
	attributes map[string]string
	words      string // of itself
}

// elements parses a file, which is XML as well as HTML, with encoding/xml in its strict mode.
func elements(t fatal, data []byte) []element {
	t.Helper()
	var all []element
	var open []int
	for d := xml.NewDecoder(bytes.NewReader(data)); ; {
		token, err := d.Token()
		switch {
		case errors.Is(err, io.EOF):
			return all
		case err != nil:
			t.Fatal(err)
		}
		switch token := token.(type) {
		case xml.StartElement:
			e := element{token.Name.Local, map[string]string{}, ""}
			for _, a := range token.Attr {
				e.attributes[a.Name.Local] = a.Value
			}
			open = append(open, len(all))
			all = append(all, e)
		case xml.EndElement:
			open = open[:len(open)-1]
		case xml.CharData:
			if len(open) > 0 {
				all[open[len(open)-1]].words += string(token)
			}
		}
	}
}

// The text of every page is the model's, in its order; nothing is fetched, nothing runs.
func TestTextReadBack(t *testing.T) {
	for _, format := range page.Formats() {
		d := specimen.Document(format)
		var want, got []string
		for i, p := range d.Pages {
			want = append(want, "page "+string(rune('1'+i)))
			for _, it := range p.Items {
				if text, ok := it.(*page.Text); ok {
					want = append(want, face.Shown(text.Words))
				}
			}
		}
		data := written(t, d)
		for _, e := range elements(t, data) {
			switch e.name {
			case "section":
				got = append(got, "page "+strings.TrimPrefix(e.attributes["id"], "p"))
			case "text":
				got = append(got, e.words)
			case "title":
				if e.words != d.Title {
					t.Errorf("title %q, want %q", e.words, d.Title)
				}
			case "html":
				if e.attributes["lang"] != "en" {
					t.Errorf("language %q", e.attributes["lang"])
				}
			case "script", "iframe", "object", "embed", "link", "base":
				t.Errorf("there is a %s", e.name)
			}
			for name, value := range e.attributes {
				if strings.HasPrefix(name, "on") || strings.Contains(value, "://") {
					t.Errorf("%s has %s=%q", e.name, name, value)
				}
			}
		}
		if !slices.Equal(got, want) {
			t.Errorf("%q, want\n%q", got, want)
		}
		if !strings.Contains(string(data), "@page{size:"+map[string]string{"A4": "210mm 297mm", "Letter": "215.9mm 279.4mm"}[format.Name]) {
			t.Error("the paper is not told")
		}
		if strings.Contains(string(data), "http") || strings.Contains(string(data), "url(\"") {
			t.Error("something is fetched")
		}
	}
}

// What a page leads to is there; a picture that is there twice is stored once, each time
// with its words.
func TestLinksAndPictures(t *testing.T) {
	d := specimen.Document(page.A4)
	there := map[string]bool{}
	var targets, pictures []string
	stored := 0
	for _, e := range elements(t, written(t, d)) {
		if id := e.attributes["id"]; id != "" {
			if there[id] {
				t.Errorf("%s is there twice", id)
			}
			there[id] = true
		}
		switch e.name {
		case "a", "use":
			targets = append(targets, e.attributes["href"])
		case "image":
			stored++
			if !strings.HasPrefix(e.attributes["href"], "data:image/png;base64,") {
				t.Errorf("picture %.40q", e.attributes["href"])
			}
		case "g":
			pictures = append(pictures, e.attributes["aria-label"])
		}
	}
	for _, to := range targets {
		if id, ok := strings.CutPrefix(to, "#"); ok && !there[id] || !ok && to != "../binder%20%28all%29.pdf" {
			t.Errorf("leads to %q", to)
		}
	}
	words := `A ramp of colours with "stripes" <20 pixels>`
	if stored != 1+len(specimen.ChipShades) || !slices.Equal(pictures[:2], []string{words, words}) {
		t.Errorf("%d pictures are stored, shown %q", stored, pictures)
	}
	for _, target := range []string{"#0", "#7", "#x"} {
		d := &page.Document{Format: page.A4, Pages: []*page.Page{{Items: []page.Item{&page.Link{Target: target}}}}}
		if err := html.Write(io.Discard, d); err == nil || !strings.Contains(err.Error(), "page 1: link") {
			t.Errorf("%q: %v", target, err)
		}
	}
	d = &page.Document{Format: page.A4, Pages: []*page.Page{{Items: []page.Item{&page.Image{PNG: []byte("none"), Words: "plan"}}}}}
	if err := html.Write(io.Discard, d); err == nil || !strings.Contains(err.Error(), `page 1: picture "plan"`) {
		t.Errorf("%v", err)
	}
}

// The fonts that are embedded have every character that is shown in them, and golang.org/x/image
// reads them.
func TestFonts(t *testing.T) {
	d := specimen.Document(page.A4)
	data := string(written(t, d))
	var fonts []*sfnt.Font
	for _, part := range strings.Split(data, "url(data:font/ttf;base64,")[1:] {
		coded, _, _ := strings.Cut(part, ")")
		ttf, err := base64.StdEncoding.DecodeString(coded)
		if err != nil {
			t.Fatal(err)
		}
		f, err := sfnt.Parse(ttf)
		if err != nil {
			t.Fatal(err)
		}
		fonts = append(fonts, f)
	}
	if len(fonts) != 3 {
		t.Fatalf("%d fonts, want 3", len(fonts))
	}
	var b sfnt.Buffer
	for _, p := range d.Pages {
		for _, it := range p.Items {
			text, ok := it.(*page.Text)
			if !ok {
				continue
			}
			for _, r := range face.Shown(text.Words) {
				if i, err := fonts[text.Face].GlyphIndex(&b, r); err != nil || i == 0 {
					t.Errorf("%q is not in the font %d: %v", r, text.Face, err)
				}
			}
		}
	}
}

// The same document gives the same bytes.
func TestSameBytes(t *testing.T) {
	first := written(t, specimen.Document(page.A4))
	for range 5 {
		if !bytes.Equal(first, written(t, specimen.Document(page.A4))) {
			t.Fatal("not the same bytes")
		}
	}
}

// Whatever is said, the file is well formed and says it.
func TestAnyWords(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		any := rapid.OneOf(rapid.String(), rapid.SampledFrom(specimen.Strange), rapid.Map(rapid.SliceOf(rapid.Byte()), func(b []byte) string { return string(b) }))
		words := any.Draw(t, "words")
		chip := specimen.Chip(page.Area{X1: 5, Y1: 5}, color.RGBA{A: 255})
		chip.Words = any.Draw(t, "picture")
		d := &page.Document{Title: any.Draw(t, "title"), Subject: any.Draw(t, "subject"), Format: page.Letter, Pages: []*page.Page{{
			Name: any.Draw(t, "name"),
			Items: []page.Item{
				&page.Text{At: page.Point{X: 20, Y: 20}, Size: 10, Words: words, Upward: rapid.Bool().Draw(t, "upward")},
				&page.Link{Target: "x" + any.Draw(t, "target"), Area: page.Area{X1: 1, Y1: 1}},
				chip,
				&page.Path{
					Lines: [][]page.Point{{{X: 1, Y: 1}}, nil, {{X: 1, Y: 1}, {X: 2, Y: 9}}}, Stroke: &color.RGBA{A: 255}, Fill: &color.RGBA{A: 7},
					Width: rapid.Float64Range(0, 3).Draw(t, "width"), Dash: rapid.SliceOf(rapid.Float64Range(-1, 3)).Draw(t, "dash"), Clip: &page.Area{X0: 1, X1: 2, Y1: 9},
				},
			},
		}}}
		got := ""
		for _, e := range elements(t, written(t, d)) {
			if e.name == "text" {
				got += e.words
			}
			if e.name == "script" {
				t.Fatal("a script")
			}
		}
		if want := face.Shown(words); got != want {
			t.Fatalf("%q, want %q", got, want)
		}
	})
}

// Documents are written on many goroutines at a time, as a batch does it, and are the same.
func TestParallel(t *testing.T) { specimen.SameInParallel(t, html.Write) }
