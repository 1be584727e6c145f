package face

import (
	"bytes"
	"slices"
	"testing"

	"gridswing/render/page"

	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/gomono"
	"golang.org/x/image/font/gofont/goregular"
)

// What is cut out of a font does not depend on what was before, and leaves the font as it is: all
// documents of a run share it.
func TestSubsetLeavesTheFont(t *testing.T) {
	var all []rune
	for r := rune(' '); r < mapped; r++ {
		all = append(all, r)
	}
	for f, font := range map[page.Face][]byte{page.Regular: goregular.TTF, page.Bold: gobold.TTF, page.Mono: gomono.TTF} {
		all := slices.DeleteFunc(slices.Clone(all), func(r rune) bool { return faces[f].metrics()[r] < 0 })
		before := slices.Clone(font)
		first := Subset(f, all)
		if second := Subset(f, all); len(first) < len(font)/2 || !bytes.Equal(first, second) {
			t.Errorf("%s: cut once more, it has other bytes: %d, then %d", Name(f), len(first), len(second))
		}
		if !bytes.Equal(font, before) {
			t.Errorf("%s: the font was changed", Name(f))
		}
	}
}
