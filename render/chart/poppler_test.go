//go:build reference

package chart

import (
	"strings"
	"testing"

	"gridswing/render/internal/proof"
	"gridswing/render/page"
)

// A PDF of each chart, as printed by poppler, looks as its items say, and has all words.
func TestReferencePrintedCharts(t *testing.T) {
	for name, c := range charts() {
		img, err := c.Draw(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		d := plated(t, c, img.Rect.Size(), nil)
		print, read := proof.Poppler(t, d, img.Rect.Size())
		proof.Same(t, name+"-poppler", proof.OnPaper(t, d, img.Rect.Dx()), print, proof.ByOthers)
		blank := func(s string) string { return strings.Join(strings.Fields(s), " ") }
		read = blank(read)
		for _, it := range d.Items {
			if words, is := it.(*page.Text); is && !words.Upward && !strings.Contains(read, blank(words.Words)) {
				t.Errorf("%s: pdftotext does not read %q in %q", name, words.Words, read)
			}
		}
	}
}
