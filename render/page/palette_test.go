package page

import (
	"image"
	"image/color"
	"math/rand/v2"
	"testing"
)

// A picture with few colours stays as it is; of one with many, those that are frequent stay, and
// no other one changes much.
func TestPalettes(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for _, colors := range []int{1, 2, 256, 257, 3000} {
		img := image.NewRGBA(image.Rect(0, 0, 300, 200))
		var used []color.RGBA // shades of a few hues, and some of which there are few pixels
		for i := range colors {
			shade := uint8(r.IntN(200))
			used = append(used, color.RGBA{shade + uint8(i%5)*10, shade + uint8(i%3)*20, shade, 255})
		}
		frequent := color.RGBA{251, 7, 90, 255}
		for y := range 200 {
			for x := range 300 {
				c := used[r.IntN(len(used))]
				if x < 100 {
					c = frequent
				}
				img.SetRGBA(x, y, c)
			}
		}
		distinctOnes := map[color.RGBA]bool{}
		for i := 0; i < len(img.Pix); i += 4 {
			distinctOnes[color.RGBA{img.Pix[i], img.Pix[i+1], img.Pix[i+2], 255}] = true
		}
		got := indexed(img)
		for y := range 200 {
			for x := range 300 {
				a, b := img.RGBAAt(x, y), got.At(x, y).(color.RGBA)
				off := max(apart(a.R, b.R), apart(a.G, b.G), apart(a.B, b.B))
				if off > 0 && (len(distinctOnes) <= 256 || x < 100) || off > 20 {
					t.Fatalf("%d colours: %v became %v", len(distinctOnes), a, b)
				}
			}
		}
		if len(got.Palette) > 256 {
			t.Errorf("%d colours in the palette", len(got.Palette))
		}
	}
}
