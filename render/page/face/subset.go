package face

import (
	"slices"

	"gridswing/render/page"

	"codeberg.org/go-pdf/fpdf"
)

// Subset returns the font with no more than the given characters, as TrueType.
func Subset(f page.Face, characters []rune) []byte {
	some := slices.Clone(characters)
	slices.Sort(some)
	return fpdf.UTF8CutFont(TTF(f), string(slices.Compact(some)))
}
