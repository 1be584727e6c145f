// Package golden compares pictures with those kept in testdata.
//
// Where they differ it keeps the picture, and one of the differences, in the folder that the
// environment variable GRIDSWING_PICTURES names, else in gridswing-pictures in the system's
// temporary folder.
package golden

import (
	"flag"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"os"
	"path/filepath"
	"testing"
)

var update = flag.Bool("update", false, "write the pictures in testdata anew instead of comparing with them")

// Tolerance: floating point may be fused on one processor and not on another,
// which moves a line by an ulp and a sample across it. So up to one pixel in
// maxDiffering, 0.1 % of them, may differ by more than maxStep of 255 in a channel.
const (
	maxStep      = 8
	maxDiffering = 1000
)

// Check compares the image with testdata/name.png. On failure it keeps the image
// and a picture of the differences and says where.
func Check(t *testing.T, name string, got *image.RGBA) {
	t.Helper()
	path := filepath.Join("testdata", name+".png")
	if *update {
		save(t, path, got)
		return
	}
	f, err := os.Open(path)
	if err != nil {
		t.Fatalf("%v (run the test with -update to make it)", err)
	}
	defer f.Close()
	decoded, err := png.Decode(f)
	if err != nil {
		t.Fatalf("%s: %v", path, err)
	}
	want := image.NewRGBA(decoded.Bounds())
	draw.Draw(want, want.Rect, decoded, image.Point{}, draw.Src)
	if want.Rect != got.Rect {
		t.Fatalf("%s is %v, the picture %v", path, want.Rect, got.Rect)
	}
	if n, diff := Differences(want, got); n*maxDiffering > len(want.Pix)/4 {
		t.Errorf("%d of %d pixels differ from %s; see %s and %s", n, len(want.Pix)/4, path, Keep(t, name, got), Keep(t, name+"-differences", diff))
	}
}

// Keep stores a picture for somebody to look at, and returns where.
func Keep(t *testing.T, name string, img image.Image) (path string) {
	t.Helper()
	dir := os.Getenv("GRIDSWING_PICTURES")
	if dir == "" {
		dir = filepath.Join(os.TempDir(), "gridswing-pictures")
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		t.Fatal(err)
	}
	path = filepath.Join(dir, name+".png")
	save(t, path, img)
	return path
}

// Differences counts the pixels that differ by more than the tolerance and marks
// them black on a pale print of what was wanted.
func Differences(want, got *image.RGBA) (int, *image.RGBA) {
	diff := image.NewRGBA(want.Rect)
	n := 0
	for i := 0; i < len(want.Pix); i += 4 {
		worst := 0
		for k := range 3 {
			d := int(want.Pix[i+k]) - int(got.Pix[i+k])
			worst = max(worst, d, -d)
		}
		c := color.RGBA{A: 255}
		if worst <= maxStep {
			pale := uint8(192 + (int(want.Pix[i])+int(want.Pix[i+1])+int(want.Pix[i+2]))/12)
			c = color.RGBA{pale, pale, pale, 255}
		} else {
			n++
		}
		copy(diff.Pix[i:i+4], []uint8{c.R, c.G, c.B, c.A})
	}
	return n, diff
}

func save(t *testing.T, path string, img image.Image) {
	t.Helper()
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := (&png.Encoder{CompressionLevel: png.BestCompression}).Encode(f, img); err != nil {
		t.Fatal(err)
	}
}
