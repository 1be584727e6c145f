package proof

import (
	"image"
	"testing"

	"gridswing/render/internal/golden"
)

// Of what is compared: the luma of squares, in pixels, and how much it may differ. A print
// has its letters at other parts of pixels, so that single pixels differ much; and a shifted
// word, one that is cut off, or a pattern that is not there, changes squares by more.
const (
	square = 8

	ByUs     = 10.0 // of 100, of the mean of a square's pixels: letters are fitted to the same pixels
	ByOthers = 18.0 // they draw thin lines and the edges of letters in other ways
)

// Same compares a print with what it should look like, drawn ByUs or ByOthers. Where they differ,
// both are kept.
func Same(t *testing.T, name string, want, got *image.RGBA, most float64) {
	t.Helper()
	if want.Rect != got.Rect {
		t.Errorf("%s: the print is %v, the picture %v", name, got.Rect, want.Rect)
		return
	}
	if worst, at, off := Differ(want, got, most); off > 0 {
		t.Errorf("%s: %d squares differ, most at %v, by %.1f; see %s and %s", name, off, at, worst,
			golden.Keep(t, name+"-pixels", want), golden.Keep(t, name+"-print", got))
	}
}

// Differ counts the squares of two pictures of one size that differ by more than they may, and
// tells by how much they differ at most, and where.
func Differ(want, got *image.RGBA, most float64) (worst float64, at image.Point, off int) {
	a, b := sumsOf(want), sumsOf(got)
	for y := 0; y+square <= want.Rect.Dy(); y += square / 2 {
		for x := 0; x+square <= want.Rect.Dx(); x += square / 2 {
			d := a.mean(x, y) - b.mean(x, y)
			if d = max(d, -d); d > worst {
				worst, at = d, image.Pt(x, y)
			}
			if d > most {
				off++
			}
		}
	}
	return worst, at, off
}

// sums holds, for each corner of pixels, the sum of all pixels to the left above it.
type sums struct {
	across int
	to     []float64
}

// sumsOf sums up luma: of what is compared here it is as good as L*, from 0 to 100.
func sumsOf(img *image.RGBA) *sums {
	s := &sums{across: img.Rect.Dx() + 1}
	s.to = make([]float64, s.across*(img.Rect.Dy()+1))
	for y := range img.Rect.Dy() {
		row := 0.0
		for x := range img.Rect.Dx() {
			c := img.RGBAAt(x, y)
			row += (0.2126*float64(c.R) + 0.7152*float64(c.G) + 0.0722*float64(c.B)) / 2.55
			s.to[(y+1)*s.across+x+1] = s.to[y*s.across+x+1] + row
		}
	}
	return s
}

// mean returns the mean of a square.
func (s *sums) mean(x, y int) float64 {
	at := func(x, y int) float64 { return s.to[y*s.across+x] }
	return (at(x+square, y+square) - at(x, y+square) - at(x+square, y) + at(x, y)) / (square * square)
}
