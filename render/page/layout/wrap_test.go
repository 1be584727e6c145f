package layout

import (
	"slices"
	"testing"

	"gridswing/render/page"
)

// What a no-break space holds together counts as one word: a column is wide enough for all of it.
func TestNoBreakSpace(t *testing.T) {
	s := style{face: page.Regular, size: 9, line: 4}
	together, _ := s.longestWord("Y,\u00a0mm or so")
	if whole := s.width("Y,\u00a0mm"); together != whole {
		t.Errorf("the longest word is %g mm wide, expected %g", together, whole)
	}
	if got := s.wrap("up to Y,\u00a0mm", together); !slices.Contains(got, "Y,\u00a0mm") {
		t.Errorf("%q: parted", got)
	}
}
