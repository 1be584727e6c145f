// Package pdf writes pages as PDF: fonts embedded, text as such, lines as lines.
package pdf

import (
	"crypto/sha256"
	"fmt"
	"image/color"
	"io"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"gridswing/render/page"
	"gridswing/render/page/face"

	"codeberg.org/go-pdf/fpdf"
)

// Write writes the document. The same document gives the same bytes. An error names the page
// and what on it cannot be written.
func Write(w io.Writer, d *page.Document) error {
	p := &writer{
		pdf:    fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", Size: fpdf.SizeType{Wd: d.Format.Width, Ht: d.Format.Height}}),
		images: map[[sha256.Size]byte]string{}, faces: map[page.Face]bool{},
	}
	p.describe(d)
	for i, pg := range d.Pages {
		if err := p.page(pg); err != nil {
			return fmt.Errorf("page %d: %w", i+1, err)
		}
	}
	if len(d.Pages) == 0 {
		p.pdf.AddPage()
	}
	return p.pdf.Output(w)
}

// writer writes one document.
type writer struct {
	pdf    *fpdf.Fpdf
	images map[[sha256.Size]byte]string // names of pictures by their content
	faces  map[page.Face]bool
	pages  int // how many there are
	set    state
}

// state is what is in force on the page, so that it is written only where it changes.
type state struct {
	face         page.Face
	size         float64 // points
	text         color.RGBA
	fill, stroke color.RGBA
	width        float64 // mm
	dash         []float64
	alpha        uint8
}

// describe sets what is said of the document as a whole.
func (p *writer) describe(d *page.Document) {
	p.pages = len(d.Pages)
	p.pdf.SetCreationDate(time.Unix(0, 0).UTC()) // same document, same bytes
	p.pdf.SetModificationDate(time.Unix(0, 0).UTC())
	p.pdf.SetCatalogSort(true)
	p.pdf.SetCreator(page.Creator, false)
	p.pdf.SetTitle(known(d.Title), true)
	p.pdf.SetSubject(known(d.Subject), true)
	p.pdf.SetLang("en")
	p.pdf.SetMargins(0, 0, 0)
	p.pdf.SetAutoPageBreak(false, 0)
	p.pdf.SetLineCapStyle("round")
	p.pdf.SetLineJoinStyle("round")
}

// known is the words as the library can write them for others to show: no control or private
// characters, nothing beyond the first 65,536 characters.
func known(words string) string {
	var b []rune
	for _, r := range words {
		if r < ' ' || r >= 0x7f && r <= 0x9f || r >= 0xe000 && r <= 0xf8ff || r > 0xffff {
			r = utf8.RuneError
		}
		b = append(b, r)
	}
	return string(b)
}

// page writes one page.
func (p *writer) page(pg *page.Page) error {
	p.pdf.SetDashPattern(nil, 0) // or the library would go on with it
	p.pdf.AddPage()
	p.set = state{size: -1, width: -1, text: none, fill: none, stroke: none, alpha: 255}
	if pg.Name != "" {
		p.font(page.Regular, 10) // the library writes the name as Unicode only where such a font is set
		p.pdf.Bookmark(known(pg.Name), 0, 0)
	}
	for _, it := range pg.Items {
		var err error
		switch it := it.(type) {
		case *page.Text:
			p.text(it)
		case *page.Path:
			p.path(it)
		case *page.Image:
			err = p.image(it)
		case *page.Link:
			err = p.link(it)
		default:
			err = fmt.Errorf("found a %T, expected text, a path, an image or a link", it)
		}
		if err == nil {
			err = p.pdf.Error()
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// none is a colour that is not set yet.
var none = color.RGBA{1, 2, 3, 0}

// font chooses a face, which is embedded only if some text has it.
func (p *writer) font(f page.Face, size float64) {
	if p.set.face == f && p.set.size == size {
		return
	}
	name := strings.ReplaceAll(face.Name(f), " ", "") // it becomes a name in PDF, which has no spaces
	if !p.faces[f] {
		p.pdf.AddUTF8FontFromBytes(name, "", face.TTF(f))
		p.faces[f] = true
	}
	p.pdf.SetFont(name, "", size)
	p.set.face, p.set.size = f, size
}

// opaque sets how much is seen through what follows.
func (p *writer) opaque(alpha uint8) {
	if p.set.alpha != alpha {
		p.pdf.SetAlpha(float64(alpha)/255, "Normal")
		p.set.alpha = alpha
	}
}

// text writes a line of words.
func (p *writer) text(t *page.Text) {
	words := face.Shown(t.Words)
	if words == "" || t.Size <= 0 {
		return
	}
	p.font(t.Face, t.Size)
	if p.set.text != t.Color {
		p.pdf.SetTextColor(int(t.Color.R), int(t.Color.G), int(t.Color.B))
		p.set.text = t.Color
	}
	p.opaque(t.Color.A)
	x, y := t.At.X, t.At.Y
	wide := face.Width(t.Face, t.Size, words)
	switch t.Align {
	case page.Center:
		x -= wide / 2
	case page.Right:
		x -= wide
	}
	if !t.Upward {
		p.pdf.Text(x, y, words)
		return
	}
	p.pdf.TransformBegin()
	p.pdf.TransformRotate(90, t.At.X, t.At.Y)
	p.pdf.Text(x, y, words)
	p.pdf.TransformEnd()
}

// pen sets how lines are drawn.
func (p *writer) pen(col color.RGBA, width float64, pattern []float64) {
	if p.set.stroke != col {
		p.pdf.SetDrawColor(int(col.R), int(col.G), int(col.B))
		p.set.stroke = col
	}
	if p.set.width != width {
		p.pdf.SetLineWidth(width)
		p.set.width = width
	}
	if !slices.Equal(p.set.dash, pattern) {
		p.pdf.SetDashPattern(pattern, 0)
		p.set.dash = pattern
	}
}
