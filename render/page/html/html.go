// Package html writes pages as one HTML file that needs nothing else: no script, no network.
// Each page is a drawing in SVG whose words can be selected and searched; printed, each comes
// on a sheet of its own.
package html

import (
	"bufio"
	"crypto/sha256"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"gridswing/render/page"
)

// Write writes the document. The same document gives the same bytes. An error names the page
// and what on it cannot be written.
func Write(w io.Writer, d *page.Document) error {
	out := &writer{Writer: bufio.NewWriter(w), document: d, images: map[[sha256.Size]byte]placed{}, clips: map[page.Area]string{}}
	out.head()
	out.contents()
	out.put("<main>\n")
	for i, p := range d.Pages {
		if err := out.page(i+1, p); err != nil {
			return fmt.Errorf("page %d: %w", i+1, err)
		}
	}
	out.put("</main>\n</body>\n</html>\n")
	return out.Flush()
}

// writer writes one document. Errors of writing are kept until the end, by bufio.
type writer struct {
	*bufio.Writer
	document *page.Document
	images   map[[sha256.Size]byte]placed // where a picture was put first, by its content
	clips    map[page.Area]string         // names of clipping rectangles
}

// put writes strings one after the other.
func (w *writer) put(parts ...string) {
	for _, p := range parts {
		w.WriteString(p)
	}
}

// contents writes the table of contents: all pages that have a name; nothing where none has.
func (w *writer) contents() {
	if !slices.ContainsFunc(w.document.Pages, func(p *page.Page) bool { return p.Name != "" }) {
		return
	}
	w.put("<nav aria-label=\"Contents\">\n<p>", escaped(w.document.Title), "</p>\n<ol>\n")
	for i, p := range w.document.Pages {
		if p.Name != "" {
			n := strconv.Itoa(i + 1)
			w.put(`<li><a href="#p`, n, `">`, escaped(p.Name), `<span>`, n, "</span></a></li>\n")
		}
	}
	w.put("</ol>\n</nav>\n")
}

// page writes one page.
func (w *writer) page(number int, p *page.Page) error {
	n := strconv.Itoa(number)
	label := "Page " + n
	if p.Name != "" {
		label += ": " + escaped(p.Name)
	}
	size := w.document.Format
	w.put(`<section id="p`, n, `" aria-label="`, label, "\">\n", `<svg viewBox="0 0 `, unit(size.Width), " ", unit(size.Height), `" xml:space="preserve">`, "\n")
	for _, it := range p.Items {
		switch it := it.(type) {
		case *page.Text:
			w.text(it)
		case *page.Path:
			w.path(it)
		case *page.Image:
			if err := w.image(it); err != nil {
				return err
			}
		case *page.Link:
			if err := w.link(it); err != nil {
				return err
			}
		default:
			return fmt.Errorf("found a %T, expected text, a path, an image or a link", it)
		}
	}
	w.put("</svg>\n</section>\n")
	return nil
}

// unit writes a length in mm in the unit of the drawings, a tenth of a mm: type in mm would
// be smaller than what some browsers take for the least size of type. It goes to a thousandth.
func unit(mm float64) string {
	s := strconv.FormatFloat(10*mm, 'f', 2, 64)
	s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	if s == "-0" || s == "" {
		return "0"
	}
	return s
}
