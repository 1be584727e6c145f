//go:build reference

package render

import (
	"testing"

	"gridswing/render/internal/proof"
	"gridswing/render/page"
)

// A PDF of each picture, as printed by poppler, looks as its items say.
func TestReferencePrintedPictures(t *testing.T) {
	for name, p := range printable(t) {
		img, err := p.Draw(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		plate := page.NewPlate(float64(img.Rect.Dx()), float64(img.Rect.Dy()))
		if err := p.DrawOn(t.Context(), plate); err != nil {
			t.Fatal(err)
		}
		d := plate.Drawing(180)
		print, _ := proof.Poppler(t, d, img.Rect.Size())
		proof.Same(t, name+"-poppler", proof.OnPaper(t, d, img.Rect.Dx()), print, proof.ByOthers)
	}
}
