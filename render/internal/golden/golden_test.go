package golden

import (
	"image"
	"testing"
)

func TestDifferencesCountsWhatExceedsTheTolerance(t *testing.T) {
	want, got := image.NewRGBA(image.Rect(0, 0, 4, 1)), image.NewRGBA(image.Rect(0, 0, 4, 1))
	got.Pix[0] = maxStep          // tolerated
	got.Pix[5] = maxStep + 1      // not
	want.Pix[10] = 2*maxStep + 50 // nor this
	n, diff := Differences(want, got)
	if n != 2 {
		t.Errorf("%d pixels differ, want 2", n)
	}
	for x, dark := range []bool{false, true, true, false} {
		if (diff.RGBAAt(x, 0).R == 0) != dark {
			t.Errorf("pixel %d is marked %v, want %v", x, !dark, dark)
		}
	}
}
