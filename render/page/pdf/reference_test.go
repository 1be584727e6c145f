//go:build reference

package pdf_test

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"gridswing/render/page"
	"gridswing/render/page/face"
	"gridswing/render/page/internal/specimen"
)

// run runs a program of poppler (Debian's poppler-utils; 22.12 when this was written).
func run(t *testing.T, name string, args ...string) []byte {
	t.Helper()
	var stderr bytes.Buffer
	cmd := exec.Command(name, args...)
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	if err != nil || stderr.Len() > 0 {
		t.Fatalf("%s: %v\n%s", name, err, stderr.Bytes())
	}
	return out
}

// stored stores the specimens and returns them.
func stored(t *testing.T) map[string]*page.Document {
	t.Helper()
	all := map[string]*page.Document{}
	for _, format := range page.Formats() {
		d := specimen.Document(format)
		file := filepath.Join(t.TempDir(), format.Name+".pdf")
		if err := os.WriteFile(file, written(t, d), 0o644); err != nil {
			t.Fatal(err)
		}
		all[file] = d
	}
	return all
}

// word is a word with its place, mm: where it begins, and a place on its base line.
type word struct {
	words string
	x, y  float64
}

// TestReferenceWords holds what pdftotext reads, and where, to the model: each word is there,
// within 1 mm.
func TestReferenceWords(t *testing.T) {
	for file, d := range stored(t) {
		var read struct {
			Pages []struct {
				Words []struct {
					X0    float64 `xml:"xMin,attr"`
					Y0    float64 `xml:"yMin,attr"`
					X1    float64 `xml:"xMax,attr"`
					Y1    float64 `xml:"yMax,attr"`
					Words string  `xml:",chardata"`
				} `xml:"word"`
			} `xml:"body>doc>page"`
		}
		decoder := xml.NewDecoder(bytes.NewReader(run(t, "pdftotext", "-bbox", file, "-")))
		decoder.Strict = false // poppler 22.12 names a document type
		if err := decoder.Decode(&read); err != nil {
			t.Fatal(err)
		}
		if len(read.Pages) != len(d.Pages) {
			t.Fatalf("%d pages, want %d", len(read.Pages), len(d.Pages))
		}
		for i, p := range d.Pages {
			found := map[string][]page.Area{}
			for _, w := range read.Pages[i].Words {
				found[w.Words] = append(found[w.Words], page.Area{X0: w.X0 * face.Point, Y0: w.Y0 * face.Point, X1: w.X1 * face.Point, Y1: w.Y1 * face.Point})
			}
			wanted := 0
			for _, it := range p.Items {
				text, ok := it.(*page.Text)
				if !ok {
					continue
				}
				for _, w := range split(text) {
					wanted++
					if !at(found[w.words], w, text.Upward) {
						t.Errorf("%s, page %d: %q is not at %.1f, %.1f but %.1f", d.Format.Name, i+1, w.words, w.x, w.y, found[w.words])
					}
				}
			}
			if wanted != len(read.Pages[i].Words) {
				t.Errorf("%s, page %d: %d words, want %d", d.Format.Name, i+1, len(read.Pages[i].Words), wanted)
			}
		}
	}
}

// split returns the words of a text with their places.
func split(t *page.Text) []word {
	shown := face.Shown(t.Words)
	begin := 0.0
	switch wide := face.Width(t.Face, t.Size, shown); t.Align {
	case page.Center:
		begin = -wide / 2
	case page.Right:
		begin = -wide
	}
	var all []word
	for at := 0; at < len(shown); {
		if shown[at] == ' ' {
			at++
			continue
		}
		w, _, _ := strings.Cut(shown[at:], " ")
		along := begin + face.Width(t.Face, t.Size, shown[:at])
		if t.Upward {
			all = append(all, word{w, t.At.X, t.At.Y - along})
		} else {
			all = append(all, word{w, t.At.X + along, t.At.Y})
		}
		at += len(w)
	}
	return all
}

// at reports whether one of the boxes begins where the word does and has its base line.
func at(boxes []page.Area, w word, upward bool) bool {
	for _, b := range boxes {
		begins, base := math.Abs(b.X0-w.x) < 1, b.Y0 < w.y && w.y < b.Y1+0.1
		if upward {
			begins, base = math.Abs(b.Y1-w.y) < 1, b.X0 < w.x && w.x < b.X1+0.1
		}
		if begins && base {
			return true
		}
	}
	return false
}

// TestReferenceFonts holds all fonts to be embedded, and their text to be readable.
func TestReferenceFonts(t *testing.T) {
	for file := range stored(t) {
		lines := strings.Split(strings.TrimSpace(string(run(t, "pdffonts", file))), "\n")[2:]
		if len(lines) != 3 {
			t.Errorf("%d fonts, want 3: %q", len(lines), lines)
		}
		for _, l := range lines { // name, type (two words), encoding, embedded, subset, to Unicode, object
			f := strings.Fields(l)
			if len(f) != 9 || f[4] != "yes" || f[6] != "yes" {
				t.Errorf("%q is not embedded or not readable", l)
			}
		}
	}
}

// TestReferenceInk draws the pages: there is ink where the model has words, and none close
// to the edges of the paper, where an office printer does not print.
func TestReferenceInk(t *testing.T) {
	const dpi = 100
	chips := 0
	for file, d := range stored(t) {
		prefix := strings.TrimSuffix(file, ".pdf")
		run(t, "pdftoppm", "-gray", "-r", fmt.Sprint(dpi), file, prefix)
		for i, p := range d.Pages {
			img := readPGM(t, fmt.Sprintf("%s-%d.pgm", prefix, i+1))
			for _, it := range p.Items {
				text, ok := it.(*page.Text)
				if !ok || text.Upward {
					continue
				}
				for _, w := range split(text) {
					em := text.Size * face.Point
					box := page.Area{X0: w.x, Y0: w.y - face.Ascent*em, X1: w.x + face.Width(text.Face, text.Size, w.words), Y1: w.y + face.Descent*em}
					if img.darkest(box, dpi) > 160 {
						t.Errorf("%s, page %d: no ink for %q at %.1f", d.Format.Name, i+1, w.words, box)
					}
				}
			}
			for _, it := range p.Items {
				// A chip's shade is its own, whatever else is of its size.
				if m, ok := it.(*page.Image); ok && strings.HasPrefix(m.Words, "a chip") {
					want := fmt.Sprintf("a chip of {%d ", img.darkest(page.Area{X0: m.Area.X0 + 2, Y0: m.Area.Y0 + 2, X1: m.Area.X1 - 2, Y1: m.Area.Y1 - 2}, dpi))
					if chips++; !strings.HasPrefix(m.Words, want) {
						t.Errorf("%s, page %d: %s, found %s", d.Format.Name, i+1, m.Words, want)
					}
				}
			}
			wide, high := d.Format.Width, d.Format.Height
			for _, edge := range []page.Area{{X1: wide, Y1: 5}, {Y0: high - 5, X1: wide, Y1: high}, {X1: 5, Y1: high}, {X0: wide - 5, X1: wide, Y1: high}} {
				if img.darkest(edge, dpi) < 255 {
					t.Errorf("%s, page %d: ink at the edge %v", d.Format.Name, i+1, edge)
				}
			}
		}
	}
	if want := len(page.Formats()) * len(specimen.ChipShades); chips != want {
		t.Errorf("%d chips, want %d", chips, want)
	}
}

// grey is a picture in 256 shades.
type grey struct {
	width, height int
	shades        []byte
}

func readPGM(t *testing.T, file string) grey {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	var g grey
	var most int
	r := bytes.NewReader(data)
	if _, err := fmt.Fscanf(r, "P5\n%d %d\n%d\n", &g.width, &g.height, &most); err != nil || most != 255 {
		t.Fatalf("%s: %v, most %d", file, err, most)
	}
	g.shades = data[len(data)-g.width*g.height:]
	return g
}

// darkest returns the darkest shade in an area, mm.
func (g grey) darkest(a page.Area, dpi float64) byte {
	least := byte(255)
	pixel := func(mm float64) int { return int(mm * dpi / 25.4) }
	for y := max(0, pixel(a.Y0)); y < min(g.height, pixel(a.Y1)+1); y++ {
		for x := max(0, pixel(a.X0)); x < min(g.width, pixel(a.X1)+1); x++ {
			least = min(least, g.shades[y*g.width+x])
		}
	}
	return least
}
